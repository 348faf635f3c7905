package check

import (
	"testing"

	"rackwright/model"
)

// A part is short as its boards are too long for the load only where one that can be carried would
// do; a board sold out gives no such reason.
func TestWhyShortOfALoad(t *testing.T) {
	load := 120 * model.Length(model.UnitsPerInch)
	wood := func(l model.Length) model.Wood {
		return model.Wood{Material: "wood", Section: "2x6", Length: l * model.UnitsPerInch,
			Width: 11 * model.UnitsPerInch / 2, Thickness: 3 * model.UnitsPerInch / 2}
	}
	j := &model.Job{
		Settings: model.Settings{Units: model.Inch,
			Yards: map[string]model.YardFacts{"north": {LongestLoad: &load}}},
		Yard: []model.Offer{{Wood: wood(120), Yard: "north", Price: 12 * model.UnitsOfMoney},
			{Wood: wood(48), Yard: "north", Price: 6 * model.UnitsOfMoney}},
	}
	o := &j.Yard[0]
	long := &model.Part{Material: "wood", Length: 60 * model.UnitsPerInch, Width: o.Width,
		Thickness: o.Thickness}
	c := newChecker(j, &model.Plan{})
	why := func(what, want string) {
		t.Helper()
		if got := c.whyShort(long); got != want {
			t.Errorf("%s: %q, want %q", what, got, want)
		}
	}
	why("a board as long as the load", model.NotEnough)
	load--
	why("a board longer than the load", model.TooLongToCarry)
	long.Length = 130 * model.UnitsPerInch
	why("too long for any board", "no board is long enough")
	none := int64(0)
	o.Available, long.Length = &none, 60*model.UnitsPerInch
	why("sold out", "no board is long enough")
}

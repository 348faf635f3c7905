package model

import "testing"

// A part is short as its boards are too long for the load only where one that can be carried would
// do; a board sold out gives no such reason.
func TestWhyShortOfALoad(t *testing.T) {
	load := 120 * Length(UnitsPerInch)
	wood := func(l Length) Wood {
		return Wood{Material: "wood", Section: "2x6", Length: l * UnitsPerInch,
			Width: 11 * UnitsPerInch / 2, Thickness: 3 * UnitsPerInch / 2}
	}
	j := &Job{
		Settings: Settings{Units: Inch, Yards: map[string]YardFacts{"north": {LongestLoad: &load}}},
		Yard: []Offer{{Wood: wood(120), Yard: "north", Price: 12 * UnitsOfMoney},
			{Wood: wood(48), Yard: "north", Price: 6 * UnitsOfMoney}},
	}
	o := &j.Yard[0]
	long := &Part{Material: "wood", Length: 60 * UnitsPerInch, Width: o.Width,
		Thickness: o.Thickness}
	c := newChecker(j, &Plan{})
	why := func(what, want string) {
		t.Helper()
		if got := c.whyShort(long); got != want {
			t.Errorf("%s: %q, want %q", what, got, want)
		}
	}
	why("a board as long as the load", NotEnough)
	load--
	why("a board longer than the load", TooLongToCarry)
	long.Length = 130 * UnitsPerInch
	why("too long for any board", "no board is long enough")
	none := int64(0)
	o.Available, long.Length = &none, 60*UnitsPerInch
	why("sold out", "no board is long enough")
}

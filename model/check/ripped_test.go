package check

import (
	"testing"

	"rackwright/model"
	"rackwright/model/internal/handmade"
)

func TestCheckAcceptsARippedPlanMadeByHand(t *testing.T) {
	job, plan := handmade.Ripped()
	for _, f := range checked(job, plan) {
		t.Errorf("%s: %s", f.Where, f.What)
	}
	// 25 in of two boards, and the offcuts 120 x 30, 100 x 17, 188 x 40, 142 x 30, whose widths are
	// 16625, 9421, 22167, 16625 units of 6 in: 2 x (7.5 x 16625 + 6.25 x 9421 + 11.75 x 22167 +
	// 8.875 x 16625) / 8128 / 144.
	want := model.PlanTally{Bought: 2_083_333, Rack: 2_083_333, Returned: 1_010_871,
		Blanks: 1_264_187 + 828_604}
	if got := job.TallyOf(plan); got != want {
		t.Errorf("the tally is %+v, want %+v", got, want)
	}
}

// Whatever single value of the ripped plan is changed, and whatever row is dropped or doubled, it
// is refused.
func TestNoValueOfARippedPlanIsLeftUnjudged(t *testing.T) {
	tried := handmade.ChangeEachValue(t, handmade.Ripped, checked,
		func(_, path string) bool { return path == ".Bound" })
	if tried < 1000 {
		t.Errorf("only %d values were tried", tried)
	}
}

package model_test

import (
	"testing"

	"rackwright/model"
	"rackwright/model/internal/handmade"
)

// The wood of a plan: what is bought, used, returned and cut balances the books row by row.
func TestTallyOfAPlan(t *testing.T) {
	job, plan := handmade.Tiny()
	// In units of length of oak 6 in wide and 1 in thick: R1 and R2 60 each, offcuts 28 and 56,
	// blanks 30 + 30 + 70 and 18 + 18 + 70 + 70.
	per := func(n model.Length) int64 {
		w := plan.Rack[4].Wood
		return w.Volume(n, model.Inch).Millionths(model.Inch)
	}
	if got, want := job.TallyOf(plan),
		(model.PlanTally{Rack: per(120), Returned: per(84), Blanks: per(306)}); got != want {
		t.Errorf("%+v, want %+v", got, want)
	}
	job.Settings.Tally.Hardwood = model.ExactVolume
	if got := job.TallyOf(plan).Bought; got != per(106+206) {
		t.Errorf("bought %d, want %d", got, per(106+206))
	}
}

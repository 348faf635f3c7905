package proof

import (
	"testing"

	"rackwright/model"
	"rackwright/model/internal/handmade"
)

// On a grid of 2 all of a board of 100 is as it is but for keep: 19 of the 28 that a blank leaves
// count in place of 18. So each of two boards gives 920 + 19 x 250/53 = 1009.62, 4.62 more than it
// costs: 2760 - 9.25. A board of 200 costs 2105, more than 2 x 920 + 47 x 250/53.
func TestBoundsOnAGrid(t *testing.T) {
	on := func(job *model.Job, plan *model.Plan, s int, grid, across model.Length) (*model.Job,
		*model.Plan) {
		c := &plan.Groups[0].Certificate.Stocks[s]
		c.Grid, c.GridAcross = grid, across
		return job, plan
	}
	job, plan := handmade.Tiny()
	handmade.Want(t, bounds(on(job, plan, 4, 2, 0)), "the certificate proves 0.275")
	job, plan = handmade.Tiny()
	for _, f := range bounds(on(job, plan, 5, 2, 0)) {
		t.Errorf("%s: %s", f.Where, f.What)
	}
	for _, step := range []model.Length{-2, 1, maxGrid + 1} {
		job, plan = handmade.Tiny()
		handmade.Want(t, bounds(on(job, plan, 4, step, 0)), "no step of a coarser grid")
		job, plan = handmade.Slats()
		handmade.Want(t, bounds(on(job, plan, 0, 0, step)), "no step of a coarser grid")
	}
	job, plan = handmade.Tiny()
	handmade.Want(t, bounds(on(job, plan, 4, 2, 2)), "has a grid across, but line 2")
	job, plan = handmade.Tiny()
	handmade.Want(t, bounds(on(job, plan, 4, 20, 0)), "too coarse for what is worth keeping")
	job, plan = handmade.Slats()
	handmade.Want(t, bounds(on(job, plan, 0, 0, 4)), "too coarse for a strip worth keeping")
	job, plan = handmade.Threes()
	handmade.Want(t, bounds(on(job, plan, 1, 2, 0)),
		"has a list, but line 3 of yard.csv, of stock 1, is worked out on a coarser grid")
	job, plan = handmade.Tiny()
	plan.Groups[0].Certificate.Stocks[4].Rough = true
	handmade.Want(t, bounds(on(job, plan, 4, 2, 0)), "by area and has a grid as well")
}

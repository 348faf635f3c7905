package nest

import (
	"context"
	"slices"
	"time"

	"rackwright/model"
)

// planner makes a plan for a job.
type planner func(*model.Job, Options) (*model.Plan, error)

// solver is [Plan] as a planner.
func solver(ctx context.Context) planner {
	return func(job *model.Job, opt Options) (*model.Plan, error) { return Plan(ctx, job, opt) }
}

// oneByOne plans a job commission by commission, the earliest due first, each on the rack that the
// one before left: what a maker does who orders as each job comes in. The plans stand in the order
// in which they were made. The commissions share the work evenly, and the time.
func oneByOne(job *model.Job, opt Options, plan planner) ([]*model.Plan, error) {
	order := slices.Clone(job.Commissions)
	slices.SortStableFunc(order, func(a, b model.Commission) int {
		return earlier(a.Due, b.Due)
	})
	if opt.Work == 0 {
		opt.Work = DefaultWork
	}
	opt.Work = max(1, opt.Work/int64(max(1, len(order))))
	if opt.Clock > 0 {
		opt.Clock = max(1, opt.Clock/time.Duration(max(1, len(order))))
	}
	var plans []*model.Plan
	rack, yard := job.Rack, slices.Clone(job.Yard)
	for _, c := range order {
		one := *job
		one.Commissions, one.Parts, one.Rack, one.Yard = []model.Commission{c}, nil, rack, yard
		for i := range job.Parts {
			if job.Parts[i].Commission == c.Name {
				one.Parts = append(one.Parts, job.Parts[i])
			}
		}
		if len(one.Parts) == 0 {
			continue
		}
		made, err := plan(&one, opt)
		if err != nil {
			return nil, err
		}
		plans = append(plans, made)
		rack, yard = made.Rack, yardAfter(yard, made)
	}
	return plans, nil
}

// yardAfter is the yard after a plan's purchases.
func yardAfter(yard []model.Offer, plan *model.Plan) []model.Offer {
	bought := map[int]int64{}
	for _, p := range plan.Placements {
		if p.Offer > 0 {
			bought[p.Offer]++
		}
	}
	out := slices.Clone(yard)
	for i := range out {
		if o := &out[i]; o.Available != nil {
			n := *o.Available - bought[o.Where.Line]
			o.Available = &n
		}
	}
	return out
}

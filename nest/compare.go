package nest

import (
	"context"
	"errors"

	"rackwright/model"
	"rackwright/model/check"
	"rackwright/model/makeup"
	"rackwright/nest/baseline"
	"rackwright/nest/cutstock"
	"rackwright/nest/cutting"
)

// Entry is one way of planning and the plans that it gives: one, or one for each commission.
type Entry struct {
	Name  string
	Plans []*model.Plan
}

// Compare plans jobs that follow each other, each on the rack that the one before left, in several
// ways: by each simple rule, by the solver commission by commission, and, last, by the solver all
// at once.
//
// The rules are fair. They use up what is on hand first, the shortest board that holds; then they
// buy the length that is cheapest per length among those that hold. They rip where the solver may
// rip, by lengths and by strips, the widest blanks first, and the cheapest of these plans counts.
// Offcuts are worth the same. Every plan passes the same checker; those of the rules have no bound.
func Compare(ctx context.Context, jobs []*model.Job, opt Options) ([]Entry, error) {
	return compare(ctx, jobs, opt, solver(ctx))
}

// ByRules plans a job by each simple rule, as [Compare] does, and by nothing else. The error is the
// context's when it ended before there were all of the plans.
func ByRules(ctx context.Context, job *model.Job, date string) ([]Entry, error) {
	var out []Entry
	for _, rule := range baseline.Rules() {
		cut, err := cutByRule(ctx, job, rule)
		if err := errors.Join(err, ctx.Err()); err != nil { // one cut short is not the rule's
			return nil, err
		}
		plan, err := cut.write(ctx, date)
		if err != nil {
			return nil, err
		}
		out = append(out, Entry{rule.String(), []*model.Plan{plan}})
	}
	return out, nil
}

// compare does so, given how to plan a job with a search.
func compare(ctx context.Context, jobs []*model.Job, opt Options,
	plan planner) ([]Entry, error) {
	silent := opt
	silent.Observe = nil
	var ways []way
	for _, rule := range baseline.Rules() {
		ways = append(ways, way{rule.String(), func(job *model.Job) ([]*model.Plan, error) {
			return alone(byRule(ctx, job, rule, opt.Date))
		}})
	}
	ways = append(ways,
		way{"one commission at a time", func(job *model.Job) ([]*model.Plan, error) {
			return oneByOne(job, silent, plan)
		}},
		way{"rackwright, all at once", func(job *model.Job) ([]*model.Plan, error) {
			return alone(plan(job, opt))
		}})
	out := make([]Entry, len(ways))
	for n, w := range ways {
		out[n].Name = w.name
		rack := jobs[0].Rack
		for _, job := range jobs {
			next := *job
			next.Rack = rack
			plans, err := w.plan(&next)
			if err != nil {
				return nil, err
			}
			out[n].Plans = append(out[n].Plans, plans...)
			if len(plans) > 0 {
				rack = plans[len(plans)-1].Rack
			}
		}
	}
	return out, nil
}

// way is one way of planning a job.
type way struct {
	name string
	plan func(*model.Job) ([]*model.Plan, error)
}

// alone is one plan for all of a job.
func alone(plan *model.Plan, err error) ([]*model.Plan, error) { return []*model.Plan{plan}, err }

// byRule plans a job by a simple rule.
func byRule(ctx context.Context, job *model.Job, rule baseline.Rule,
	date string) (*model.Plan, error) {
	cut, err := cutByRule(ctx, job, rule)
	if err != nil {
		return nil, err
	}
	return cut.write(context.WithoutCancel(ctx), date)
}

// ruled is a job whose boards a simple rule has laid out.
type ruled struct {
	job     *model.Job
	worth   *model.Valuation
	groups  []*group
	results []cutstock.Result
	short   []model.Shortage
}

// cutByRule lays out the boards of a job, in a hurry once the context has ended.
func cutByRule(ctx context.Context, job *model.Job, rule baseline.Rule) (*ruled, error) {
	r := &ruled{job: makeup.Prepare(job)}
	r.worth = r.job.Valuation()
	var err error
	if r.groups, r.short, err = formulate(ctx, r.job, r.worth); err != nil {
		return nil, err
	}
	for _, g := range r.groups {
		r.results = append(r.results, g.known(ctx, [][]cutting.Use{g.byRule(ctx, rule, g.list)}))
	}
	return r, nil
}

// write writes down the plan, and has it checked, if the context has not ended by then.
func (r *ruled) write(ctx context.Context, date string) (*model.Plan, error) {
	cut := asMade(r.job, r.groups, r.results, r.short)
	out, _ := newDecoder(cut.job, r.worth).write(cut.groups, usesOf(r.results), cut.short, date)
	out.Made = cut.made
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	_, found := check.Check(cut.job, out)
	return out, rejected(found)
}

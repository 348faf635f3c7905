package nest

import (
	"context"

	"rackwright/model"
	"rackwright/nest/baseline"
)

// Entry is one way of planning and the plans that it gives: one, or one for each commission.
type Entry struct {
	Name  string
	Plans []*model.Plan
}

// Compare plans a job by each simple rule, by the solver commission by commission, and, last, by the solver all at once. The rules are
// fair: what is on hand first, the shortest board that holds; else the length that is cheapest per length among those that hold; offcuts are
// worth the same. Every plan passes the same checker; those of the rules have no bound.
func Compare(ctx context.Context, job *model.Job, opt Options) ([]Entry, error) {
	var out []Entry
	for _, rule := range baseline.Rules() {
		plan, err := byRule(job, rule, opt.Date)
		if err != nil {
			return nil, err
		}
		out = append(out, Entry{rule.String(), []*model.Plan{plan}})
	}
	plan, err := Plan(ctx, job, opt)
	if err != nil {
		return nil, err
	}
	silent := opt
	silent.Observe = nil
	one, err := OneByOne(ctx, job, silent)
	if err != nil {
		return nil, err
	}
	return append(out, Entry{"one commission at a time", one}, Entry{"rackwright, all at once", []*model.Plan{plan}}), nil
}

// byRule plans a job by a simple rule.
func byRule(job *model.Job, rule baseline.Rule, date string) (*model.Plan, error) {
	groups, short := formulate(job)
	d := newDecoder(job)
	var boards []*used
	for _, g := range groups {
		uses, _ := baseline.Plan(&g.program, g.onHand(), g.list, rule)
		b, s := d.boards(g, uses)
		boards, short = append(boards, b...), append(short, s...)
	}
	plan := d.rows(boards, date)
	plan.Shortages = inOrder(job, short)
	return plan, judge(job, plan, false)
}

package nest

import (
	"context"

	"rackwright/nest/baseline"
	"rackwright/nest/cutstock"
	"rackwright/nest/cutting"
)

// solve starts from what the simple rules give, in an order that does not depend on the input's; it
// gives no plan that is worse than what they give in the order of the list.
func (g *group) solve(ctx context.Context, work int64,
	observe func(cutstock.Event)) cutstock.Result {
	opt := cutstock.Options{Work: work, Observe: observe}
	var sorted []int
	for i := range g.program.Items {
		for range g.program.Items[i].Demand {
			sorted = append(sorted, i)
		}
	}
	for n, rule := range baseline.Rules() {
		if n > 0 && ctx.Err() != nil {
			break
		}
		opt.Starts = append(opt.Starts, g.byRule(ctx, rule, sorted))
		opt.Fallbacks = append(opt.Fallbacks, g.byRule(ctx, rule, g.list))
	}
	return cutstock.Solve(ctx, &g.program, opt)
}

// byRule fills the stocks by a simple rule, the items in the order of a list.
func (g *group) byRule(ctx context.Context, rule baseline.Rule, list []int) []cutting.Use {
	onHand := make([]bool, len(g.stocks))
	for n := range g.stocks {
		onHand[n] = g.stocks[n].onHand()
	}
	uses, _ := baseline.Plan(ctx, &g.program, onHand, list, rule)
	return uses
}

package nest

import (
	"context"

	"rackwright/nest/baseline"
	"rackwright/nest/cutting"
)

// byRules gives what the simple rules give, first those in an order that does not depend on the
// input's, from which a search starts. Then come as many in the order of the list: a search gives
// no plan that is worse. At least one of each is given, whatever ends.
func (g *group) byRules(ctx context.Context) [][]cutting.Use {
	var sorted []int
	for i := range g.fixed.Items {
		for range g.fixed.Items[i].Demand {
			sorted = append(sorted, i)
		}
	}
	var starts, fallbacks [][]cutting.Use
	for n, rule := range baseline.Rules() {
		if n > 0 && ctx.Err() != nil {
			break
		}
		starts = append(starts, g.byRule(ctx, rule, sorted))
		fallbacks = append(fallbacks, g.byRule(ctx, rule, g.list))
	}
	return append(starts, fallbacks...)
}

// byRule fills the stocks by a simple rule, the items in the order of a list.
func (g *group) byRule(ctx context.Context, rule baseline.Rule, list []int) []cutting.Use {
	onHand := make([]bool, len(g.stocks))
	for n := range g.stocks {
		onHand[n] = g.stocks[n].onHand()
	}
	uses, _ := baseline.Plan(ctx, g.fixed, onHand, list, rule)
	return uses
}

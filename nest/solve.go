package nest

import (
	"context"
	"slices"

	"rackwright/nest/baseline"
	"rackwright/nest/choosing"
	"rackwright/nest/cutstock"
	"rackwright/nest/cutting"
)

// firstByRule gives what the first simple rule gives, whatever ends.
func (g *group) firstByRule(ctx context.Context) []cutting.Use {
	return g.byRule(ctx, baseline.Rules()[0], g.sorted())
}

// byRules gives what the simple rules give, first those in an order that does not depend on the
// input's, from which a search starts; the first of these is known. Then come as many in the order
// of the list: a search gives no plan that is worse. At least one of each is given, whatever ends.
func (g *group) byRules(ctx context.Context, first []cutting.Use) [][]cutting.Use {
	starts, fallbacks := [][]cutting.Use{first}, [][]cutting.Use(nil)
	for n, rule := range baseline.Rules() {
		if n > 0 {
			if ctx.Err() != nil {
				break
			}
			starts = append(starts, g.byRule(ctx, rule, g.sorted()))
		}
		fallbacks = append(fallbacks, g.byRule(ctx, rule, g.list))
	}
	return append(starts, fallbacks...)
}

// sorted are the items, each as often as it is wanted, in an order that does not depend on the
// input's.
func (g *group) sorted() (list []int) {
	for i := range g.fixed.Items {
		for range g.fixed.Items[i].Demand {
			list = append(list, i)
		}
	}
	return list
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

// solve searches a group.
func (g *group) solve(ctx context.Context, opt cutstock.Options) cutstock.Result {
	if g.wants == nil {
		return cutstock.Solve(ctx, &g.program, opt)
	}
	return choosing.Solve(ctx, &g.program, g.rule, opt)
}

// known is what is known of a group by plans for the simple rule's choice.
func (g *group) known(ctx context.Context, plans [][]cutting.Use) cutstock.Result {
	if g.wants == nil {
		return cutstock.Known(ctx, &g.program, plans)
	}
	return choosing.Known(ctx, &g.program, g.rule, plans)
}

// free is the bound of a result that needs no search.
func (g *group) free(r *cutstock.Result) (int64, *cutstock.Proof) {
	bound, proof := cutstock.Free(&g.program)
	if g.wants != nil && bound > -1<<62 {
		bound -= g.program.Forgone(r.Chosen)
	}
	return bound, proof
}

// sameMet says whether two results meet the same, so that a bound of one is one of the other.
func sameMet(a, b *cutstock.Result) bool {
	return slices.Equal(a.Unmet, b.Unmet) && sameChosen(a.Chosen, b.Chosen)
}

// sameChosen says whether the same was chosen.
func sameChosen(a, b []cutting.Chosen) bool {
	return slices.EqualFunc(a, b, func(a, b cutting.Chosen) bool {
		return slices.Equal(a.Times, b.Times) && slices.EqualFunc(a.Covers, b.Covers,
			func(a, b cutting.Covered) bool {
				return a.Cover == b.Cover && slices.Equal(a.Counts, b.Counts)
			})
	})
}

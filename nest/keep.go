package nest

import (
	"context"
	"slices"

	"rackwright/nest/baseline"
	"rackwright/nest/cutstock"
	"rackwright/nest/cutting"
)

// Which layouts of the plan before are kept. Of a group, with L the layouts that stand, each of one
// board, and c what a board counts that is not cut as before:
//
//	min   value(uses) - c x kept(uses)
//
// where kept is how many of L are among the uses, each once. What counts for boards whose layouts
// do not stand is the same in every plan. The search goes so:
//
//	(a)  all of L is kept, and the solver plans what is left;
//	(b)  the solver plans all, and its uses are exchanged for layouts of L with the same pieces,
//	     where that costs less than c;
//	(c)  from the better of the two on some uses are opened, again and again, and what they hold is
//	     planned anew; the others stay, as in a large neighbourhood search (P. Shaw, 1998). Or a
//	     layout of L is put back, and the uses that it takes pieces or its board from are opened.
//
// With B a bound of (a), and b one on the value of any plan, no plan counts less than
//
//	min( B - c x |L|,  b - c x (|L| - 1) )
//
// where (c) ends. The solver's certificate is of (b), so it is for what that one meets.

// Shares of the work of a group.
const (
	restShare   = 8 // (a) has one part of so many
	reopenShare = 8 // and so has (c)
)

// keeping is the search for the rest of one group.
type keeping struct {
	p      *cutting.Problem
	laid   []laid
	change int64 // in ticks
	coin   int64
	opt    cutstock.Options
	ctx    context.Context
}

func (p *planning) keeping(n int, opt cutstock.Options) *keeping {
	g := p.groups[n]
	return &keeping{p: &g.program, laid: p.prior.laidIn(n), change: p.worth.Ticks(p.prior.Change),
		coin: max(1, g.program.Coin), opt: opt, ctx: p.search}
}

// begin is what is known of a group before the search.
func (p *planning) begin(n int, g *group) cutstock.Result {
	if len(p.prior.laidIn(n)) == 0 {
		return g.known(p.search, p.starts[n])
	}
	k := p.keeping(n, cutstock.Options{})
	first := slices.Concat(k.all(), g.leftByRule(p.search, k.all()))
	r := cutstock.Known(p.search, &g.program, [][]cutting.Use{first})
	p.starts[n] = slices.Concat([][]cutting.Use{first}, p.starts[n], [][]cutting.Use{first})
	return r
}

// leftByRule fills what some uses leave of the stocks with what they leave of the items.
func (g *group) leftByRule(ctx context.Context, uses []cutting.Use) []cutting.Use {
	left := residual(&g.program, uses)
	var list []int
	for i := range left.Items {
		for range left.Items[i].Demand {
			list = append(list, i)
		}
	}
	onHand := make([]bool, len(g.stocks))
	for n := range g.stocks {
		onHand[n] = g.stocks[n].onHand()
	}
	out, _ := baseline.Plan(ctx, left, onHand, list, baseline.BestFitDecreasing)
	return out
}

// solveGroup searches a group for the plan that is wanted.
func (p *planning) solveGroup(n int, g *group, opt cutstock.Options) cutstock.Result {
	if len(p.prior.laidIn(n)) == 0 {
		return g.solve(p.search, opt)
	}
	k := p.keeping(n, opt)
	if all := k.choice(k.all()); !slices.ContainsFunc(all.unmet, aboveZero) {
		return k.asItIs(all)
	}
	return k.search(g)
}

func aboveZero(n int64) bool { return n > 0 }

// all are the layouts that stand, as uses.
func (k *keeping) all() (out []cutting.Use) {
	for n := range k.laid {
		out = append(out, cutting.Use{Pattern: k.laid[n].pattern, Times: 1})
	}
	return out
}

// asItIs keeps a group in which all layouts stand and give all that is wanted. It is searched for
// the sake of the bound.
func (k *keeping) asItIs(all choice) cutstock.Result {
	opt := k.opt
	opt.Starts = slices.Concat([][]cutting.Use{all.uses}, opt.Starts)
	opt.Found = func(r cutstock.Result) { k.opt.Found(with(r, all)) }
	opt.Observe = k.tells(&all)
	return with(cutstock.Solve(k.ctx, k.p, opt), all)
}

// tells makes what the solver tells be of the plan that is chosen.
func (k *keeping) tells(best *choice) func(cutstock.Event) {
	return func(e cutstock.Event) {
		e.Value = best.value
		k.opt.Observe(e)
	}
}

// with is a result with another plan that meets the same.
func with(r cutstock.Result, c choice) cutstock.Result {
	r.Uses, r.Value = c.uses, c.value
	return r
}

// search looks for the plan of a group.
func (k *keeping) search(g *group) cutstock.Result {
	part := k.opt
	part.Work = max(1, k.opt.Work/restShare)
	part.Starts, part.Fallbacks = [][]cutting.Use{g.leftByRule(k.ctx, k.all())}, nil
	part.Observe, part.Found = nil, nil
	if k.change == 0 { // all that counts is the value
		part.Work = 1
	}
	left := cutstock.Solve(k.ctx, residual(k.p, k.all()), part)
	all := k.choice(slices.Concat(k.all(), left.Uses))
	all.unmet = left.Unmet
	below := k.p.Value(k.all()) + left.Bound - k.change*int64(len(k.laid))

	best := all
	free := k.opt
	if free.Work -= part.Work; k.change > 0 {
		free.Work = max(1, free.Work-k.opt.Work/reopenShare)
	}
	free.Starts = slices.Concat([][]cutting.Use{all.uses}, free.Starts)
	free.Observe = k.tells(&best)
	free.Found = func(r cutstock.Result) {
		best = k.better(best, r)
		if slices.Equal(best.unmet, r.Unmet) {
			r = with(r, best)
		}
		k.opt.Found(r)
	}
	r := cutstock.Solve(k.ctx, k.p, free)
	if r, best = k.sameUnmet(r, best, free); !slices.Equal(r.Unmet, best.unmet) {
		return r
	}
	met := *k.p
	met.Items = slices.Clone(met.Items)
	for i, n := range r.Unmet {
		met.Items[i].Demand -= n
	}
	k.p = &met
	if changed := r.Bound - k.change*int64(len(k.laid)-1); changed < below ||
		!slices.Equal(all.unmet, best.unmet) {
		below = changed
	}
	best = k.reopen(best, below, dualsOf(r.Certificate))
	return with(r, best)
}

// better takes in what the solver found.
func (k *keeping) better(best choice, r cutstock.Result) choice {
	now := k.choice(r.Uses)
	short, was := k.short(now.unmet), k.short(best.unmet)
	if short < was || short == was && now.cost < best.cost && slices.Equal(now.unmet, best.unmet) {
		return now
	}
	return best
}

// short is how long unmet pieces are together.
func (k *keeping) short(unmet []int64) (sum int64) {
	for i, n := range unmet {
		sum += n * k.p.Items[i].Size
	}
	return sum
}

// sameUnmet settles which pieces go short where it is as long either way: those that let all
// layouts stay. The solver's bound is then for what is met so.
func (k *keeping) sameUnmet(r cutstock.Result, best choice,
	opt cutstock.Options) (cutstock.Result, choice) {
	best = k.better(best, r)
	if slices.Equal(best.unmet, r.Unmet) {
		return r, best
	}
	met := *k.p
	met.Items, met.Stocks = slices.Clone(met.Items), slices.Clone(met.Stocks)
	for i, n := range best.unmet {
		met.Items[i].Demand -= n
	}
	met = *residual(&met, nil)
	opt.Starts, opt.Fallbacks, opt.Found = [][]cutting.Use{best.uses}, nil, nil
	again := cutstock.Solve(k.ctx, &met, opt)
	if slices.ContainsFunc(again.Unmet, aboveZero) {
		return r, best // the context ended
	}
	again.Unmet = best.unmet
	if now := k.choice(again.Uses); now.cost < best.cost {
		best = now
	}
	return again, best
}

// dualsOf are the prices of a proof, of its first leaf.
func dualsOf(p *cutstock.Proof) []int64 {
	for p.Split != nil {
		p = p.Split.Low
	}
	return p.Leaf.Duals
}

package nest

import (
	"context"
	"math/rand/v2"
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
	mostRounds  = 48
	mostFailed  = 16 // in a row
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

// choice is a plan of a group: single uses, and for each layout which of them it is, or -1.
type choice struct {
	uses  []cutting.Use
	kept  []int
	value int64
	cost  int64 // what is minimised
	unmet []int64
}

func (p *planning) keeping(n int, opt cutstock.Options) *keeping {
	g := p.groups[n]
	return &keeping{p: &g.program, laid: p.prior.laidIn(n), change: p.worth.Ticks(p.prior.Change),
		coin: max(1, g.program.Coin), opt: opt, ctx: p.search}
}

// begin is what is known of a group before the search.
func (p *planning) begin(n int, g *group) cutstock.Result {
	if len(p.prior.laidIn(n)) == 0 {
		return cutstock.Known(p.search, &g.program, p.starts[n])
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
		return cutstock.Solve(p.search, &g.program, opt)
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

// residual is what some uses leave of a program. What is not wanted any more no stock holds, and no
// more does a stock that is used up.
func residual(p *cutting.Problem, uses []cutting.Use) *cutting.Problem {
	left := *p
	left.Items, left.Stocks = slices.Clone(p.Items), slices.Clone(p.Stocks)
	for _, u := range uses {
		for _, pl := range u.Pattern.Places {
			left.Items[pl.Item].Demand -= u.Times
		}
		if s := &left.Stocks[u.Pattern.Stock]; s.Supply != cutting.Any {
			s.Supply -= u.Times
		}
	}
	for n := range left.Stocks {
		s := &left.Stocks[n]
		s.Holds = slices.DeleteFunc(slices.Clone(s.Holds), func(i int) bool {
			return s.Supply == 0 || left.Items[i].Demand <= 0
		})
	}
	return &left
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

// choice is a plan of some uses, in which layouts that stand are kept where that counts less.
func (k *keeping) choice(uses []cutting.Use) choice {
	var c choice
	for _, u := range uses {
		t := k.p.Normal(u.Pattern)
		t.Worth = k.p.Worth(&t)
		for range u.Times {
			c.uses = append(c.uses, cutting.Use{Pattern: t, Times: 1})
		}
	}
	c.kept = matched(k.p, k.laid, c.uses)
	k.exchange(&c)
	c.value = k.p.Value(c.uses)
	c.cost = c.value
	c.unmet = make([]int64, len(k.p.Items))
	for i := range c.unmet {
		c.unmet[i] = k.p.Items[i].Demand
	}
	for _, u := range c.uses {
		for _, pl := range u.Pattern.Places {
			c.unmet[pl.Item]--
		}
	}
	for _, of := range c.kept {
		if of >= 0 {
			c.cost -= k.change
		}
	}
	return c
}

// exchange puts layouts that stand in the place of uses with the same pieces: of the same stock, or
// of another where one of theirs is free. It takes the dearest use of those that may go.
func (k *keeping) exchange(c *choice) {
	left, free := make([]int64, len(k.p.Stocks)), map[int]bool{}
	for s := range left {
		left[s] = k.p.Stocks[s].Supply
	}
	for n, u := range c.uses {
		free[n] = true
		if left[u.Pattern.Stock] != cutting.Any {
			left[u.Pattern.Stock]--
		}
	}
	for _, of := range c.kept {
		delete(free, of)
	}
	for n := range k.laid {
		if c.kept[n] >= 0 {
			continue
		}
		l, at := &k.laid[n].pattern, -1
		items, counts := cutting.Tally(l.Places)
		for i := range c.uses {
			t := &c.uses[i].Pattern
			if !free[i] || t.Stock != l.Stock && left[l.Stock] == 0 ||
				len(t.Places) != len(l.Places) ||
				k.p.Cost(l)-k.p.Cost(t) > k.change ||
				at >= 0 && k.p.Cost(t) <= k.p.Cost(&c.uses[at].Pattern) {
				continue
			}
			if other, many := cutting.Tally(t.Places); slices.Equal(items, other) &&
				slices.Equal(counts, many) {
				at = i
			}
		}
		if at < 0 {
			continue
		}
		if was := c.uses[at].Pattern.Stock; left[was] != cutting.Any {
			left[was]++
		}
		if left[l.Stock] != cutting.Any {
			left[l.Stock]--
		}
		c.uses[at].Pattern, c.kept[n] = *l, at
		delete(free, at)
	}
}

// reopen is (c): it plans some uses anew, again and again.
func (k *keeping) reopen(best choice, below int64, duals []int64) choice {
	rng := rand.New(rand.NewPCG(3, 1))
	opt := k.opt
	opt.Work = max(1, k.opt.Work/reopenShare/mostRounds)
	opt.Memory = max(1, k.opt.Memory/8)
	opt.Observe, opt.Found, opt.Fallbacks = nil, nil, nil
	for round, failed := 0, 0; k.change > 0 && round < mostRounds && failed < mostFailed; round++ {
		if best.cost-k.coin < below || k.ctx.Err() != nil {
			break
		}
		var open []bool
		var back []cutting.Use
		if lost := k.lost(&best); round%2 == 1 && len(lost) > 0 {
			rng.Shuffle(len(lost), func(i, j int) { lost[i], lost[j] = lost[j], lost[i] })
			for _, n := range lost[:min(len(lost), 1+round/2%mostPutBack)] {
				back = append(back, cutting.Use{Pattern: k.laid[n].pattern, Times: 1})
			}
			open = k.inTheWay(&best, back)
			if more := k.around(rng, &best, duals, 0); round/2%2 == 1 && open != nil {
				for n := range more {
					open[n] = open[n] || more[n]
				}
			}
		} else {
			open = k.around(rng, &best, duals, 1+round/2%6)
		}
		if open == nil {
			failed++
			continue
		}
		if now, ok := k.planned(&best, open, back, opt); ok && now.cost < best.cost {
			best, failed = now, 0
		} else {
			failed++
		}
	}
	return best
}

// lost are the layouts that are not kept.
func (k *keeping) lost(c *choice) (out []int) {
	for n, of := range c.kept {
		if of < 0 {
			out = append(out, n)
		}
	}
	return out
}

// planned plans anew what some uses hold, less what is put back.
func (k *keeping) planned(c *choice, open []bool, back []cutting.Use,
	opt cutstock.Options) (choice, bool) {
	stay, start := slices.Clone(back), []cutting.Use(nil)
	for n, u := range c.uses {
		if open[n] {
			start = append(start, u)
		} else {
			stay = append(stay, u)
		}
	}
	left := residual(k.p, stay)
	for i := range left.Items {
		if left.Items[i].Demand < 0 {
			return choice{}, false
		}
	}
	if opt.Starts = nil; len(back) == 0 {
		opt.Starts = [][]cutting.Use{start}
	}
	r := cutstock.Solve(k.ctx, left, opt)
	if slices.ContainsFunc(r.Unmet, aboveZero) {
		return choice{}, false
	}
	return k.choice(slices.Concat(stay, r.Uses)), true
}

// mostOpened is how many uses that are not as before are opened together.
const mostOpened = 8

// around opens the uses that are not as before, of many some that hold the same items, and so many
// of those that are: sooner such as hold the same items, and such as cost more than the duals say
// that their pieces are worth. It gives nil where there is nothing to open.
func (k *keeping) around(rng *rand.Rand, c *choice, duals []int64, asBefore int) []bool {
	open, kept := make([]bool, len(c.uses)), make([]bool, len(c.uses))
	for _, of := range c.kept {
		if of >= 0 {
			kept[of] = true
		}
	}
	wanted := make([]bool, len(k.p.Items))
	any := false
	draw := func(of bool) bool {
		var weights []float64
		var sum float64
		for n := range c.uses {
			var w float64
			if kept[n] == of && !open[n] {
				w = k.weight(&c.uses[n].Pattern, duals, wanted)
			}
			weights, sum = append(weights, w), sum+w
		}
		at := rng.Float64() * sum
		for n, w := range weights {
			if at -= w; w > 0 && at < 0 {
				open[n], any = true, true
				for _, pl := range c.uses[n].Pattern.Places {
					wanted[pl.Item] = true
				}
				return true
			}
		}
		return false
	}
	for range mostOpened {
		if !draw(false) {
			break
		}
	}
	for range asBefore {
		draw(true)
	}
	if !any {
		return nil
	}
	return open
}

// weight is how soon a use is opened.
func (k *keeping) weight(t *cutting.Pattern, duals []int64, wanted []bool) float64 {
	excess, shared := float64(k.p.Cost(t)), 1.0
	for _, pl := range t.Places {
		excess -= float64(duals[pl.Item])
		if wanted[pl.Item] {
			shared++
		}
	}
	return (max(0, excess)/float64(max(1, k.change)) + 0.25) * shared
}

// mostPutBack is how many layouts are put back together.
const mostPutBack = 3

// inTheWay opens the uses that hold the pieces of layouts, first those that are not as before, and
// those that have their boards; nil where that is not all.
func (k *keeping) inTheWay(c *choice, back []cutting.Use) []bool {
	open, kept := make([]bool, len(c.uses)), make([]bool, len(c.uses))
	for _, of := range c.kept {
		if of >= 0 {
			kept[of] = true
		}
	}
	need := make([]int64, len(k.p.Items)) // pieces
	over := make([]int64, len(k.p.Stocks))
	for s := range over {
		over[s] = -k.p.Stocks[s].Supply
	}
	for _, u := range slices.Concat(back, c.uses) {
		over[u.Pattern.Stock] += u.Times
	}
	for _, u := range back {
		for _, pl := range u.Pattern.Places {
			need[pl.Item]++
		}
	}
	opened := func(n int) {
		open[n] = true
		for _, pl := range c.uses[n].Pattern.Places {
			need[pl.Item]--
		}
		over[c.uses[n].Pattern.Stock]--
	}
	for _, asBefore := range []bool{false, true} {
		for n := range c.uses {
			if s := c.uses[n].Pattern.Stock; kept[n] == asBefore && over[s] > 0 &&
				k.p.Stocks[s].Supply != cutting.Any {
				opened(n)
			}
		}
	}
	for slices.ContainsFunc(need, aboveZero) {
		n := k.holdsMost(c, need, open, kept)
		if n < 0 {
			return nil
		}
		opened(n)
	}
	return open
}

// holdsMost is the use not open that holds most of the pieces needed; one that is not as before
// counts for more. It is -1 where none holds any.
func (k *keeping) holdsMost(c *choice, need []int64, open, kept []bool) int {
	best, most := -1, 0
	for n := range c.uses {
		if open[n] {
			continue
		}
		has := 0
		for _, pl := range c.uses[n].Pattern.Places {
			if need[pl.Item] > 0 {
				has++
			}
		}
		if !kept[n] {
			has *= 4
		}
		if has > most {
			best, most = n, has
		}
	}
	return best
}

package cutstock

import (
	"cmp"
	"context"
	"math"
	"math/big"
	"slices"

	"rackwright/nest/cutstock/covers"
	"rackwright/nest/cutstock/cuts"
	"rackwright/nest/cutting"
)

// Wants: what is made of pieces, in one of several ways. In the linear program
//
//	y_jw    how many times way w makes g_w copies of want j, of k_w pieces of item i_w
//	x       patterns, as ever
//
//	item i    sum a_i x - sum of k_w y_jw over the ways of i_w = i  >=  d_i
//	want j    sum g_w y_jw + forgone_j  >=  D_j                          forgone costs F_j a copy
//
// A cover is a way for each set of staves that comes to its need; such columns are priced: the
// least sum of the duals of staves that comes to the need is a knapsack. So a want has a dual, but
// the bound asks for those of the items alone. With
//
//	kappa_w = k_w pi_i_w     of a cover its layers times the least sum
//
// every plan that uses each way between lo_w and hi_w times pays for want j at least
//
//	W_j = sum lo_w kappa_w + the least cost of  D_j - sum lo_w g_w  copies more
//
// of which each way gives at most (hi_w - lo_w) g_w, at kappa_w / g_w a copy. It is reckoned with
// fractions of a copy, and the sum is rounded up to a whole tick, as what plans pay is whole. W_j
// stands beside sum pi_i d_i in the bound (bound.go). The patterns know nothing of all this: an
// item's price is the dual of its own row.

// Range is how many times a way may be used; Most may be [cutting.Any].
type Range struct{ Least, Most int64 }

// Limits are the ranges of the ways, by want.
type Limits [][]Range

// NoLimits are those of a program in which nothing is chosen yet.
func NoLimits(p *cutting.Problem) Limits {
	out := make(Limits, len(p.Wants))
	for j := range out {
		for range p.Wants[j].Ways {
			out[j] = append(out[j], Range{0, cutting.Any})
		}
	}
	return out
}

// Clone is a copy.
func (l Limits) Clone() Limits {
	out := make(Limits, len(l))
	for j := range l {
		out[j] = slices.Clone(l[j])
	}
	return out
}

// Choosing solves relaxations in which it is open how what is wanted is made. It keeps the patterns
// that it finds.
type Choosing struct {
	k      *solver
	p      *cutting.Problem
	covers []coverColumn
	duals  []int64 // of the first relaxation
}

// coverColumn is a set of staves for a cover of a want.
type coverColumn struct {
	want int
	cutting.Covered
}

// Relaxed is a solved relaxation, and what it proves.
type Relaxed struct {
	Duals   []int64     // of the items
	Bound   int64       // proven, with what is forgone; MinInt64: nothing
	Proof   *Proof      // a leaf
	Times   [][]float64 // by want and way
	Covers  [][]float64 // by want, of the sets of staves in Sets
	Sets    [][]cutting.Covered
	Forgone []float64 // by want, copies

	m *master // solved
}

// NewChoosing begins with the patterns of plans that are known, and with the sets of staves of a
// choice. Of each cover it has the set of the fewest staves, so that no limits leave a want without
// columns.
func NewChoosing(ctx context.Context, p *cutting.Problem, chosen []cutting.Chosen,
	opt Options) *Choosing {
	// to the pricers an item is wanted as often as any choice may want it
	useful := p.Direct()
	useful.Items = slices.Clone(p.Items)
	for i, n := range p.Useful() {
		useful.Items[i].Demand = n
	}
	opt.Observe, opt.Found, opt.Fallbacks, opt.up, opt.asFew = nil, nil, nil, nil, true
	if up, ok := RoundedUp(useful); ok {
		opt.up = up
	}
	c := &Choosing{k: newSolver(ctx, useful, opt), p: p}
	c.k.hasty = math.MaxInt64 // it has no dives
	c.k.patient = true
	for _, uses := range opt.Starts {
		c.Know(uses)
	}
	for j := range p.Wants {
		for at := range p.Wants[j].Covers {
			_, fewest := covers.Cheapest(&p.Wants[j].Covers[at], func(int) float64 { return 1 })
			c.know(coverColumn{j, cutting.Covered{Cover: at, Counts: fewest}})
		}
		for _, set := range chosen[j].Covers {
			c.know(coverColumn{j, set})
		}
	}
	return c
}

// know takes in a set of staves; false where it is known already.
func (c *Choosing) know(one coverColumn) bool {
	if slices.ContainsFunc(c.covers, func(had coverColumn) bool {
		return had.want == one.want && had.Cover == one.Cover &&
			slices.Equal(had.Counts, one.Counts)
	}) {
		return false
	}
	c.covers = append(c.covers, one)
	return true
}

// Steps is the work done so far.
func (c *Choosing) Steps() int64 { return c.k.meter.Steps }

// Until lets it work up to so many steps in all.
func (c *Choosing) Until(steps int64) { c.k.opt.Work = steps }

// Inexact says whether the bound of some stock is not exact, so that nothing can be branched on.
func (c *Choosing) Inexact() bool { return c.k.anyInexact() }

// Relax solves the relaxation under limits, and proves its bound; false where there is no plan, or
// the search is over before. No plan need cost more than a goal.
func (c *Choosing) Relax(limits Limits, boards Boards, goal int64) (r Relaxed, ok bool) {
	k := c.k
	k.rootDuals, k.rootEstimate = nil, math.Inf(-1)
	m := newMasterOf(k.p, k.costs, &k.pool, boards.together)
	m.wants = c.addTo(m, limits)
	m.limitTo(boards.limits)
	if boards.Split {
		m.cheapenUnmet(goal)
	}
	at, done := k.generate(m)
	if at == nil || !done && k.rootDuals == nil {
		return r, false
	}
	c.read(m, &r)
	r.m = m
	if r.Duals = k.rootDuals; r.Duals == nil || done && boards.Split {
		r.Duals = at // the others are reckoned without limits of all boards bought
	}
	if boards.Split {
		m.shrink(r.Duals, goal)
	}
	if c.duals == nil {
		c.duals = r.Duals
	}
	k.vouching = 0
	k.grids.begin()
	proven, _ := k.prove(m, r.Duals)
	k.grids.begin() // the pricers are not needed for long
	r.Bound = proven.bound
	r.Proof = k.withBounds(&Proof{Leaf: &Leaf{Duals: proven.duals}})
	return r, true
}

// wanting is how the wants stand in a master.
type wanting struct {
	*Choosing
	limits  Limits
	row     int     // of the first want
	ways    [][]int // by want, the columns of the ways
	forgone []int   // by want; -1: all copies have to be made
	sets    []int   // the columns of the covers that are known
}

// addTo adds the wants to a master under limits.
func (c *Choosing) addTo(m *master, limits Limits) *wanting {
	w := &wanting{Choosing: c, limits: limits}
	for i := range c.p.Items {
		m.lp.SetRow(i, float64(c.p.Items[i].Demand), math.Inf(1))
	}
	for j := range c.p.Wants {
		want := &c.p.Wants[j]
		row := m.lp.AddRow(float64(want.Demand), math.Inf(1))
		if j == 0 {
			w.row = row
		}
		var cols []int
		for at, way := range want.Ways {
			l := limits[j][at]
			cols = append(cols, m.lp.AddColumn(0, float64(l.Least), upper(l.Most),
				[]int{way.Item, row}, []float64{-float64(way.Pieces), float64(way.Copies)}))
		}
		forgone := -1
		if want.Forgo != cutting.Any {
			forgone = m.lp.AddColumn(float64(want.Forgo)/m.unit, 0, math.Inf(1), []int{row},
				[]float64{1})
		}
		w.ways, w.forgone = append(w.ways, cols), append(w.forgone, forgone)
	}
	w.sync(m)
	return w
}

// sync adds the sets of staves that are known by now.
func (w *wanting) sync(m *master) {
	for _, c := range w.Choosing.covers[len(w.sets):] {
		v := &w.p.Wants[c.want].Covers[c.Cover]
		rows, coefs := []int{}, []float64{}
		for at, n := range c.Counts {
			if n > 0 {
				rows = append(rows, v.Staves[at].Item)
				coefs = append(coefs, -float64(n*v.Layers))
			}
		}
		w.sets = append(w.sets, m.lp.AddColumn(0, 0, math.Inf(1), append(rows, w.row+c.want),
			append(coefs, 1)))
	}
}

// covers adds the sets of staves that the duals of a solved master ask for; nil adds none.
func (w *wanting) covers(m *master) (found int) {
	if w == nil {
		return 0
	}
	w.sync(m)
	for j := range w.p.Wants {
		mu := m.lp.Dual(w.row + j)
		for at := range w.p.Wants[j].Covers {
			v := &w.p.Wants[j].Covers[at]
			cost, counts := covers.Cheapest(v, func(i int) float64 { return m.lp.Dual(i) })
			if mu-float64(v.Layers)*cost > 1e-7*max(1, math.Abs(mu)) &&
				w.know(coverColumn{j, cutting.Covered{Cover: at, Counts: counts}}) {
				found++
			}
		}
	}
	w.sync(m)
	return found
}

// read reads off a solved master how wants are met.
func (c *Choosing) read(m *master, r *Relaxed) {
	w := m.wants
	for j := range c.p.Wants {
		var times []float64
		for _, col := range w.ways[j] {
			times = append(times, m.lp.X(col))
		}
		r.Times = append(r.Times, times)
		forgone := 0.0
		if w.forgone[j] >= 0 {
			forgone = m.lp.X(w.forgone[j])
		}
		r.Forgone = append(r.Forgone, forgone)
		var x []float64
		var sets []cutting.Covered
		for at, col := range w.sets {
			if one := &c.covers[at]; one.want == j && m.lp.X(col) > 1e-9 {
				x, sets = append(x, m.lp.X(col)), append(sets, one.Covered)
			}
		}
		r.Covers, r.Sets = append(r.Covers, x), append(r.Sets, sets)
	}
}

// add adds to a sum what all that is wanted pays at least, at duals of the items.
func (w *wanting) add(sum *total, pi []int64) {
	for i, d := range pi {
		sum.add(d, w.p.Items[i].Demand)
	}
	for j := range w.p.Wants {
		sum.sum.Add(&sum.sum, leastCost(&w.p.Wants[j], w.limits[j], pi))
	}
}

// about is that sum, not exactly.
func (w *wanting) about(pi []int64) float64 {
	var sum total
	w.add(&sum, pi)
	f, _ := new(big.Float).SetInt(&sum.sum).Float64()
	return f
}

// leastCost is W of a want. Its ranges can meet it.
func leastCost(w *cutting.Want, limits []Range, pi []int64) *big.Int {
	type way struct {
		cost   *big.Int
		copies int64
		most   int64 // more than Least; Any: no limit
	}
	sum, need := new(big.Int), w.Demand
	var ways []way
	for at, v := range w.Ways {
		cost := new(big.Int).Mul(big.NewInt(v.Pieces), big.NewInt(pi[v.Item]))
		l := limits[at]
		sum.Add(sum, new(big.Int).Mul(cost, big.NewInt(l.Least)))
		need -= l.Least * v.Copies
		if l.Most != cutting.Any {
			l.Most -= l.Least
		}
		ways = append(ways, way{cost, v.Copies, l.Most})
	}
	for at := range w.Covers {
		ways = append(ways, way{covers.Least(&w.Covers[at], pi), 1, cutting.Any})
	}
	if w.Forgo != cutting.Any {
		ways = append(ways, way{big.NewInt(w.Forgo), 1, cutting.Any})
	}
	slices.SortStableFunc(ways, func(a, b way) int {
		return new(big.Int).Mul(a.cost, big.NewInt(b.copies)).Cmp(
			new(big.Int).Mul(b.cost, big.NewInt(a.copies)))
	})
	for _, v := range ways {
		if need <= 0 {
			break
		}
		all := need // copies of this way
		if v.most != cutting.Any {
			all = min(all, v.most*v.copies)
		}
		need -= all
		part := new(big.Int).Mul(v.cost, big.NewInt(all))
		part.Add(part, big.NewInt(v.copies-1)) // rounded up, where it is no whole number
		sum.Add(sum, part.Quo(part, big.NewInt(v.copies)))
	}
	return sum
}

// Likely are the patterns found that are likeliest in a plan of a program in which all is chosen:
// of those within its demands the ones that cost least beyond the duals of the first relaxation, at
// most so many. Others would make its relaxation weaker.
func (c *Choosing) Likely(p *cutting.Problem, most int) (out []cutting.Pattern) {
	type known struct {
		*column
		excess int64
	}
	var some []known
	for _, col := range c.k.pool.cols {
		e, within := col.cost, true
		for n, i := range col.items {
			e -= col.counts[n] * c.duals[i]
			within = within && col.counts[n] <= p.Items[i].Demand
		}
		if within {
			some = append(some, known{col, e})
		}
	}
	c.k.meter.Add(int64(len(c.k.pool.cols)) * 16)
	slices.SortStableFunc(some, func(a, b known) int { return cmp.Compare(a.excess, b.excess) })
	for _, k := range some[:min(most, len(some))] {
		out = append(out, k.Pattern)
	}
	return out
}

// Sets are the sets of staves for a want that relaxations have found.
func (c *Choosing) Sets(want int) (out []cutting.Covered) {
	for n := range c.covers {
		if c.covers[n].want == want {
			out = append(out, c.covers[n].Covered)
		}
	}
	return out
}

// Among is a proof in which item i has the index at[i] of n; the others have nothing to do with it.
func (p *Proof) Among(at []int, n int) *Proof {
	if p == nil {
		return nil
	}
	out := *p
	if s := p.Split; s != nil {
		out.Split = &Split{s.Stock, s.AtMost, s.Low.Among(at, n), s.High.Among(at, n)}
	}
	if l := p.Leaf; l != nil {
		out.Leaf = &Leaf{cuts.Spread(l.Duals, at, n), l.Within, l.List.Among(at, n)}
	}
	return &out
}

// Under is the bound that the duals of a relaxation prove under other limits than it was solved
// under.
func (c *Choosing) Under(r *Relaxed, were, are Limits) int64 {
	pi, sum := r.Proof.Leaf.Duals, big.NewInt(r.Bound)
	for j := range c.p.Wants {
		if !slices.Equal(were[j], are[j]) {
			w := &c.p.Wants[j]
			sum.Add(sum, leastCost(w, are[j], pi))
			sum.Sub(sum, leastCost(w, were[j], pi))
		}
	}
	if !sum.IsInt64() {
		return math.MaxInt64
	}
	return sum.Int64()
}

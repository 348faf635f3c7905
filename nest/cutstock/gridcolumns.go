package cutstock

import (
	"math"
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/lp"
	"rackwright/nest/price/rough"
)

// The relaxation on coarser grids. On a grid a stock gives a little more than in truth, and where
// patterns of the relaxation fit just so, much more at its prices. So where stocks are bounded on
// grids, their columns are looked for there as well, until there are none that gain. Such a column
// need not be a pattern. But at the prices found then the bound is as good as it can be on these
// grids. Columns of the other stocks are patterns, and stay.

const (
	// fewColumns is how many columns of the stocks worked out are too few to go on with them alone.
	fewColumns = 48
	// gridOpeners is how many items are tried first on one of the others.
	gridOpeners = 4
)

// relaxOnGrids solves that relaxation, and proves a bound at its prices. Then it halves the steps
// of stocks without Across, as long as that takes few of the steps left.
func (k *solver) relaxOnGrids(root *master) {
	k.observe("coarser grids")
	for k.relaxOnThese(root) && k.finer() {
	}
	k.grids.finest = k.grids.first
}

// finerRounds is about how many rounds of pricing it takes to solve the relaxation once more.
const finerRounds = 16

// finer goes on to the next finer grid; false where there is none, where it takes too long, or
// where no stock is on the finest one.
func (k *solver) finer() bool {
	g := k.grids
	steps, onFinest := int64(0), false
	if g.finest == 0 {
		return false
	}
	for s, b := range k.bounds {
		if b.on && b.rung == g.finest && !k.p.Stocks[s].Rippable() {
			onFinest = true
			if one := g.guess(s, rough.Grid{Along: g.rungs[g.finest-1].Along}); one <= g.pricing {
				steps += one
			}
		}
	}
	if !onFinest || steps > g.steps/finerRounds {
		return false
	}
	g.finest--
	for s := range k.bounds {
		if b := &k.bounds[s]; b.rung == g.finest+1 && !k.p.Stocks[s].Rippable() {
			b.on = false
		}
	}
	return true
}

// relaxOnThese solves it on the grids for now; false where the work is done.
func (k *solver) relaxOnThese(root *master) bool {
	some := &pool{seen: map[string]*column{}}
	for _, c := range k.pool.cols {
		own := *c
		some.add(&own)
	}
	m := newMaster(k.p, k.costs, some)
	duals := make([]float64, len(k.p.Items))
	var at []int64
	for found := 1; found > 0; {
		m.sync()
		begun := m.lp.Work()
		status := k.solve(m.lp)
		if k.meter.Add(m.lp.Work() - begun); status != lp.Optimal {
			return false
		}
		for i := range duals {
			duals[i] = m.lp.Dual(i)
		}
		at = k.wholeDuals(duals, m.unit)
		if k.over() {
			break
		}
		found = k.columnsOnGrids(m, at)
	}
	k.certifyAt(root, at)
	return !k.over()
}

// columnsOnGrids adds columns that gain at some duals: of the stocks worked out, and of the others
// where these have few.
func (k *solver) columnsOnGrids(m *master, duals []int64) (found int) {
	ask := k.ask(duals, m.demand)
	for s, r := range k.pricers {
		if !k.bounds[s].inexact && k.ctx.Err() == nil {
			found += k.columns(m, s, duals, r.Price(ask))
		}
	}
	if found >= fewColumns {
		return found
	}
	for s := range k.pricers {
		if !k.bounds[s].inexact || k.over() {
			continue
		}
		if r := k.gridPricer(s); r != nil && float64(r.Price(ask)) > k.threshold(m, s) {
			found += k.columnsOf(m, s, r, duals)
		}
	}
	return found
}

// columnsOf adds those columns of a stock that its pricer has just found on its grid.
func (k *solver) columnsOf(m *master, s int, r *gridPricer, duals []int64) (found int) {
	holds := k.p.Stocks[s].Holds
	openers := []int{-1}
	for n := range min(gridOpeners, len(holds)) {
		openers = append(openers, holds[(k.turn+n)%len(holds)])
	}
	k.turn += gridOpeners
	for _, opener := range openers {
		t := r.Walk(nil, opener)
		if t == nil || len(t.Places) > mostPieces {
			continue
		}
		c := &column{Pattern: *t, rips: math.MaxInt64} // a pattern of the same counts is better
		c.Worth, c.Stock = r.program.Worth(t), s
		c.cost = k.p.Stocks[s].Cost - c.Worth
		c.items, c.counts = cutting.Tally(t.Places)
		v := c.Worth
		for n, i := range c.items {
			v += duals[i] * c.counts[n]
		}
		if float64(v) > k.threshold(m, s) && m.pool.add(c) {
			found++
		}
	}
	return found
}

// anyInexact says whether the bound of any stock is not worked out.
func (k *solver) anyInexact() bool {
	return slices.ContainsFunc(k.bounds, func(b bounded) bool { return b.inexact })
}

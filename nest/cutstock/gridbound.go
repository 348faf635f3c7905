package cutstock

import (
	"math"
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/lp"
	"rackwright/nest/price"
	"rackwright/nest/price/rough"
)

// Bounds on coarser grids. Where exact tables of a stock would be too large, or an exact pricing
// takes too long, what the stock gives is bounded on a coarser grid ([rough.OnGrid]), or by area
// where that is less. The finest grid is tried that may do, and a coarser one where a pricing on it
// takes too long.

// bounded says by what the bound of a stock goes; the zero value: what it gives is worked out.
type bounded struct {
	inexact bool // it is not
	area    bool // of these: by area; else on a coarser grid, or by area where that is less
	on      bool // there is such a grid
	rung    int  // its number
}

// onGrid bounds a stock on a coarser grid, or by area where that is less or no grid will do. In a
// tree the grid stays: false where a pricing takes too long there.
func (k *solver) onGrid(s int, duals, wanted []int64, floor int64) (int64, bool) {
	b, area := &k.bounds[s], rough.ByArea(k.p, s, duals)
	b.inexact = true
	for r := k.gridPricer(s); r != nil; r = k.coarser(s) {
		f := floor
		if f < r.Bare() {
			f = price.Never
		}
		before := k.meter.Steps
		v, ok := r.Vouch(k.ask(duals, wanted), f)
		took := k.meter.Steps - before
		if !k.opt.ForPlan { // its share of the work is beside, until that is spent
			k.meter.Steps -= min(took, max(0, k.grids.steps))
		}
		k.grids.steps -= took
		switch {
		case ok:
			return min(v, area), true
		case k.tree || k.ctx.Err() != nil:
			return area, false
		}
	}
	return area, true
}

// gridPricer gives the pricer of a stock on its grid; nil where it is bounded by area.
func (k *solver) gridPricer(s int) *gridPricer {
	b, g := &k.bounds[s], k.grids
	switch {
	case b.area || !b.on && g.steps <= 0:
		b.area = true
		return nil
	case b.on:
		return g.at(s, b.rung)
	}
	return k.onRung(s, g.next(s, 0))
}

// coarser gives that on a coarser one.
func (k *solver) coarser(s int) *gridPricer {
	return k.onRung(s, k.grids.next(s, k.bounds[s].rung+1))
}

// onRung notes the grid of a stock.
func (k *solver) onRung(s int, r *gridPricer) *gridPricer {
	b := &k.bounds[s]
	if b.on, b.area = r != nil, r == nil; r != nil {
		b.rung = r.rung
	}
	return r
}

// bareOf is what a stock is worth without a piece, by its bound.
func (k *solver) bareOf(s int) int64 {
	if b := k.bounds[s]; b.inexact && b.on {
		if r := k.grids.at(s, b.rung); r != nil {
			return max(k.bare[s], r.Bare())
		}
	}
	return k.bare[s]
}

// gridOf is the grid by which a stock is bounded; zero where there is none.
func (k *solver) gridOf(s int) (g rough.Grid) {
	if b := k.bounds[s]; b.inexact && b.on {
		if g = k.grids.rungs[b.rung]; !k.p.Stocks[s].Rippable() {
			g.Across = 0
		}
	}
	return g
}

// The bound by area. It needs no pricer, and so it is there from the start and for stocks for which
// no exact pricing is made ([rough.ByArea]).
//
//	c_s      cost of stock s
//	share    what a piece takes of a stock's room, as a part of it
//	pi_i     the least of  c_s x share  over the stocks of any number that hold item i, or where
//	         there is none the greatest over the others
//
// At these duals no stock of which there is any number gives more than it costs. The other stocks
// may, and the bound is the less for it. So the duals are tried at theta pi for the best theta in
// [0, 1]: the bound is concave in theta, with a breakpoint at c_s / (what s gives at pi) of each
// such stock.

// areaDuals are those duals.
func areaDuals(p *cutting.Problem) []int64 {
	duals := make([]float64, len(p.Items))
	set := make([]bool, len(p.Items)) // by a stock of any number
	for s := range p.Stocks {
		stock := &p.Stocks[s]
		long := stock.To - stock.From
		room := float64(long + p.Kerf)
		if stock.Across != nil {
			room *= float64(stock.Across.Width + p.Rip)
		}
		for _, i := range stock.Holds {
			if p.Items[i].Size > long || p.Items[i].Demand == 0 {
				continue
			}
			v := float64(stock.Cost) * float64(rough.Taken(p, s, i)) / room
			any := stock.Supply == cutting.Any
			switch {
			case any && !set[i]:
				duals[i], set[i] = v, true
			case any:
				duals[i] = min(duals[i], v)
			case !set[i]:
				duals[i] = max(duals[i], v)
			}
		}
	}
	whole := func(theta float64) []int64 {
		out := make([]int64, len(duals))
		for i, d := range duals {
			out[i] = max(0, int64(theta*d)-1)
		}
		return out
	}
	all := whole(1)
	var sum float64
	for i, d := range all {
		sum += float64(d) * float64(p.Items[i].Demand)
	}
	gives := make([]float64, len(p.Stocks))
	for s := range p.Stocks {
		gives[s] = float64(rough.ByArea(p, s, all))
	}
	best, most := 1.0, math.Inf(-1)
	try := func(theta float64) {
		b := theta * sum
		for s := range p.Stocks {
			if stock := &p.Stocks[s]; stock.Supply != cutting.Any {
				b += float64(stock.Supply) * min(0, float64(stock.Cost)-theta*gives[s])
			}
		}
		if b > most {
			best, most = theta, b
		}
	}
	try(1)
	for s := range p.Stocks {
		if c := float64(p.Stocks[s].Cost); c < gives[s] {
			try(c / gives[s])
		}
	}
	return whole(best)
}

// byArea is the bound by area, with its proof; no proof where it proves nothing.
func byArea(p *cutting.Problem) (int64, *Proof) {
	pi := areaDuals(p)
	var sum total
	for i, d := range pi {
		sum.add(d, p.Items[i].Demand)
	}
	all := make([]bool, len(p.Stocks))
	for s := range p.Stocks {
		all[s] = true
		stock := &p.Stocks[s]
		switch r := stock.Cost - rough.ByArea(p, s, pi); {
		case r >= 0:
		case stock.Supply == cutting.Any:
			return math.MinInt64, nil
		default:
			sum.add(r, stock.Supply)
		}
	}
	return sum.bound(), &Proof{Leaf: &Leaf{Duals: pi}, Rough: all}
}

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
		m.readDuals(duals)
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

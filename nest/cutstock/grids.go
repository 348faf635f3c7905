package cutstock

import (
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
	"rackwright/nest/price/across"
	"rackwright/nest/price/along"
	"rackwright/nest/price/rough"
)

// Coarser grids, on which stocks are bounded (gridbound.go), and the pricers on them.

// grids makes the pricers on coarser grids of one program. They are kept for one proof.
type grids struct {
	p       *cutting.Problem
	many    bool // it is of many items (many.go)
	meter   *price.Meter
	memory  int64        // bytes for the pricers of one proof
	steps   int64        // left for pricings
	rungs   []rough.Grid // from fine to coarse
	first   int          // the rung that stocks begin with
	finest  int          // the finest one for now; below first for stocks without Across alone
	pricing int64        // steps of one pricing
	on      map[rough.Grid]*rough.OnGrid
	budget  *price.Budget
	makers  map[gridKey]*gridMaker
	kept    map[int]*gridPricer // by stock
}

// gridPricer prices a stock on a coarser grid.
type gridPricer struct {
	price.Pricer
	rung    int
	program *cutting.Problem // of which it prices a stock
}

// gridKey is what stocks have in common that share a maker.
type gridKey struct {
	grid    rough.Grid
	ripCost int64
}

// gridMaker makes pricers on one grid, of a program that grows by their stocks.
type gridMaker struct {
	program *cutting.Problem
	maker   *across.Maker
}

// gridShare is by what part of all work one pricing on a coarser grid is limited, gridsShare all
// of them: so much they may take beside the work of a search. Where a plan matters and no bound
// does, one pricing has less, and all is of that work.
const gridShare, gridShareOfPlans, gridsShare = 64, 1024, 8

func newGrids(p *cutting.Problem, meter *price.Meter, opt *Options, many bool) *grids {
	g := &grids{p: p, many: many, meter: meter, memory: opt.Memory / 8,
		steps: opt.Work / gridsShare, pricing: opt.Work / gridShare,
		on: map[rough.Grid]*rough.OnGrid{}}
	if opt.ForPlan {
		g.pricing = opt.Work / gridShareOfPlans
	}
	g.rungs, g.first = rungsOf(p, many)
	g.finest = g.first
	g.begin()
	return g
}

// begin begins a proof: pricers of the last one are forgotten.
func (g *grids) begin() {
	g.makers, g.kept = map[gridKey]*gridMaker{}, map[int]*gridPricer{}
	g.budget = &price.Budget{Memory: g.memory, Pricing: g.pricing, Round: 1 << 60, Checked: true,
		Many: g.many}
}

// A stock has steps along of 1/finestAlong of its length, or more, up to 1/coarsestAlong; from
// 1/middleAlong on those across grow too. A board of 8 ft has steps of 1/64, 3/8 and 1 1/2 in.
// Stocks without Across may have finer ones: halved again and again.
const (
	finestAlong, middleAlong, coarsestAlong = 6144, 256, 64
	finestAcross                            = 128
)

// rungsOf gives the grids for a program, from fine to coarse, and which is the first that stocks
// with Across may have. Steps along are parts or multiples of what the sizes share, so that with an
// awkward kerf little is lost.
func rungsOf(p *cutting.Problem, many bool) (out []rough.Grid, first int) {
	var long, wide, share int64
	for s := range p.Stocks {
		stock := &p.Stocks[s]
		long = max(long, stock.To-stock.From)
		if stock.Across != nil {
			wide = max(wide, stock.Across.Width)
		}
	}
	for i := range p.Items {
		share = price.GCD(share, p.Items[i].Size)
	}
	for finest := max(2, long/finestAlong); share > finest && share%2 == 0; {
		share /= 2
	}
	step := max(2, long/finestAlong)
	switch {
	case share > 1 && share <= step:
		step = step / share * share
	case share < 2*step:
		step = max(step, share)
	}
	for finer := step / 2; finer > 1; finer /= 2 {
		out = append(out, rough.Grid{Along: finer})
	}
	slices.Reverse(out)
	first = len(out)
	for h := int64(0); step <= long/coarsestAlong; step *= 2 {
		if h *= 2; wide > 0 && !many && step > long/middleAlong {
			h = max(2, h, wide/finestAcross)
		}
		out = append(out, rough.Grid{Along: step, Across: h})
	}
	return out, first
}

// finestOf is the finest rung that a stock may have for now.
func (g *grids) finestOf(stock int) int {
	if g.p.Stocks[stock].Rippable() {
		return g.first
	}
	return g.finest
}

// next gives the pricer of a stock on the finest grid from a rung on that may do; nil where there
// is none.
func (g *grids) next(stock, rung int) *gridPricer {
	for rung = max(rung, g.finestOf(stock)); rung < len(g.rungs); rung++ {
		if g.guess(stock, g.rungs[rung]) > g.pricing {
			continue
		}
		if r := g.at(stock, rung); r != nil {
			return r
		}
	}
	return nil
}

// guessedTooMany is how many times fewer of these an exact pricing looks at. Of the starts across
// hardly more count than so many, however fine the grid.
const guessedTooMany, startsAcross = 3, 128

// guess is about how many steps an exact pricing of a stock takes on a grid: where spots are, for
// each length at each start as many as a row across has widths and starts.
func (g *grids) guess(stock int, grid rough.Grid) int64 {
	s, on := &g.p.Stocks[stock], g.onto(grid)
	var lens, widths []int64
	for _, i := range s.Holds {
		lens, widths = append(lens, on.Items[i].Size), append(widths, on.Items[i].Width)
	}
	distinct := func(of []int64) int64 {
		slices.Sort(of)
		return int64(len(slices.Compact(of)))
	}
	starts := (s.To - s.From) / max(1, grid.Along)
	n := float64(starts) * float64(distinct(lens)) * float64(min(3, len(s.Spots))) / 3
	if s.Across != nil {
		n *= float64(min(startsAcross, s.Across.Width/max(1, grid.Across))) *
			float64(distinct(widths))
	}
	if g.many {
		n /= guessedTooMany
	}
	return int64(min(n, 1<<60))
}

// at gives the pricer of a stock on a grid; nil where the grid is too coarse or too fine.
func (g *grids) at(stock, rung int) *gridPricer {
	if r := g.kept[stock]; r != nil && r.rung == rung {
		return r
	}
	on, s, ripCost, ok := g.stockOn(stock, rung)
	if !ok {
		return nil
	}
	r := &gridPricer{rung: rung}
	if g.p.Stocks[stock].Rippable() {
		m := g.maker(on, ripCost)
		r.program, r.Pricer = m.program, m.add(s)
	} else {
		one := on.Problem
		one.Stocks = []cutting.Stock{s}
		r.program = &one
		r.Pricer = along.NewMaker(&one, g.meter).Pricer(0)
	}
	if r.Pricer == nil && g.many && len(g.kept) > 0 { // there may be room without the others
		g.begin()
		return g.at(stock, rung)
	}
	if r.Pricer == nil {
		return nil
	}
	g.kept[stock] = r
	return r
}

// stockOn puts a stock on a grid, and says what it costs to rip there; false where the grid is too
// coarse or too fine.
func (g *grids) stockOn(stock, rung int) (on *rough.OnGrid, s cutting.Stock, ripCost int64,
	ok bool) {
	grid := g.rungs[rung]
	if !g.p.Stocks[stock].Rippable() {
		grid.Across = 0
	}
	on = g.onto(grid)
	s, ripCost, ok = on.Stock(stock)
	return on, s, ripCost, ok && reckonable(&on.Problem, &s, grid)
}

// onto gives the items and kerfs on a grid.
func (g *grids) onto(grid rough.Grid) *rough.OnGrid {
	on := g.on[grid]
	if on == nil {
		on = rough.Onto(g.p, grid)
		g.on[grid] = on
	}
	return on
}

// maker gives the one of a grid, for stocks that cost so much to rip.
func (g *grids) maker(on *rough.OnGrid, ripCost int64) *gridMaker {
	key := gridKey{on.Grid, ripCost}
	m := g.makers[key]
	if m == nil {
		program := on.Problem
		program.RipCost = ripCost
		m = &gridMaker{&program, across.NewMaker(&program, g.meter, g.budget)}
		g.makers[key] = m
	}
	return m
}

// add makes the pricer of one more stock; nil where it would be too large.
func (m *gridMaker) add(s cutting.Stock) price.Pricer {
	m.program.Stocks = append(m.program.Stocks, s)
	return m.maker.Pricer(len(m.program.Stocks) - 1)
}

// reckonable says whether duals that can be reckoned with on a stock can be on the grid: no piece
// and no strip becomes much less there.
func reckonable(p *cutting.Problem, s *cutting.Stock, g rough.Grid) bool {
	const times = 4
	for _, i := range s.Holds {
		if it := &p.Items[i]; it.Size < times*g.Along || s.Across != nil &&
			it.Width < times*g.Across && !slices.Contains(s.Across.Whole, i) {
			return false
		}
	}
	return s.Across == nil || min(s.Across.Keep, s.Across.Width) >= times*g.Across
}

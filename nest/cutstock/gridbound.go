package cutstock

import (
	"math"

	"rackwright/nest/cutting"
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

package cutstock

import (
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
		k.grids.steps -= k.meter.Steps - before
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

package cutstock

import (
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
	"rackwright/nest/price/across"
	"rackwright/nest/price/along"
	"rackwright/nest/price/rough"
)

// Refining. Where a round of pricing takes long, stocks with spots of which there are few are
// bounded on coarser grids. How long that takes differs a hundredfold from stock to stock. So each
// begins with its bound by area. Then one after the other goes on to a grid, to the next finer one,
// at last to none: always that which is likely to give most for its steps, until these are spent.
// Measured: with halved steps a stock gives less by 0.3 to 0.5 of what the last halving took off,
// and takes 2 to 4 times as long.

const (
	// dropFirst is how much less a stock is likely to give on its first grid than by area, as a
	// part of that; dropSecond, on the next one; dropNext, on one after these, as a part of what
	// the last one took off.
	dropFirst, dropSecond, dropNext = 0.1, 0.03, 0.4
	// longerNext is how many times as long the next finer grid is likely to take, longerMost how
	// many times as long it may.
	longerNext, longerMost = 2.5, 8
	// firstShare is which part of the steps may go into first grids alone. The coarsest is left
	// out: it often gives more than the area.
	firstShare = 2
	// leastRefined is the least work of which some goes into refining.
	leastRefined = 1 << 28
)

// refined is what refining has come to.
type refined struct {
	duals []int64
	gives map[int]int64 // by stock
}

// at gives what a stock gives at some duals, if these are the ones.
func (f *refined) at(s int, duals []int64) (v int64, ok bool) {
	if f == nil || !slices.Equal(f.duals, duals) {
		return 0, false
	}
	v, ok = f.gives[s]
	return v, ok
}

// refining is a stock under way to finer grids.
type refining struct {
	stock, rung int
	gives       int64
	drop, steps float64 // likely, on the next finer grid
}

// exactly is the rung of no grid.
const exactly = -1

// onGrids says whether a stock is bounded on grids where a round of pricing takes long.
func (k *solver) onGrids(s int) bool {
	return !k.exact[s] ||
		k.p.Stocks[s].Supply != cutting.Any && len(k.p.Stocks[s].Spots) > 0
}

// hurried says whether exact pricing of a stock takes too long for now.
func (k *solver) hurried(s int) bool {
	if k.refines() {
		return !k.tree && k.onGrids(s)
	}
	return k.long && !k.tree && !k.lists && k.p.Stocks[s].Supply != cutting.Any
}

// refines says whether stocks are refined. With little work plans gain more by what that would
// take: such programs are parts of others, planned again and again.
func (k *solver) refines() bool {
	return k.long && !k.lists && (k.many || k.opt.Work >= leastRefined)
}

// refine finds for each such stock a grid, by so many steps of pricing at some duals.
func (k *solver) refine(duals []int64, steps int64) {
	ask, limit := k.ask(duals, k.demands()), k.meter.Steps+steps
	known := &refined{slices.Clone(duals), map[int]int64{}}
	least := steps / firstShare / int64(len(k.p.Stocks))
	first := max(k.grids.first+1, len(k.grids.rungs)-1)
	var under []refining
	for s := range k.p.Stocks {
		if k.onGrids(s) {
			k.bounds[s] = bounded{inexact: true, area: true}
			known.gives[s] = rough.ByArea(k.p, s, duals)
			under = append(under, refining{s, first, known.gives[s],
				float64(known.gives[s]) * dropFirst, float64(least)})
		}
	}
	for k.meter.Steps < limit && k.ctx.Err() == nil {
		o := k.mostLikely(under)
		if o == nil {
			break
		}
		left := limit - k.meter.Steps
		most := min(left, max(least, int64(o.steps*longerMost/longerNext)))
		finer := o.rung - 1
		if finer < k.grids.finestOf(o.stock) {
			finer = exactly
		}
		v, taken, ok := k.priceOn(o.stock, finer, ask, most)
		switch {
		case ok && v <= o.gives:
			o.rung = finer
			o.drop, o.steps = float64(o.gives-v)*dropNext, float64(taken)*longerNext
			if k.bounds[o.stock].area {
				o.drop = float64(v) * dropSecond
			}
			o.gives, known.gives[o.stock] = v, v
			k.bounds[o.stock] = bounded{}
			if o.rung != exactly {
				k.bounds[o.stock] = bounded{inexact: true, on: true, rung: o.rung}
			}
		case ok || taken == 0 && k.bounds[o.stock].area: // no better, or too coarse
			o.rung = finer
			o.drop, o.steps = o.drop*dropNext, max(o.steps, float64(taken)*longerNext)
		case taken > 0 && most < left:
			o.steps = float64(most) * longerNext
		default: // too long, or too fine
			o.rung = exactly
		}
	}
	k.refined = known
}

// mostLikely is the stock that is likely to give most for its steps on the next finer grid; nil:
// there is none. What a stock gives matters no more once it costs as much.
func (k *solver) mostLikely(under []refining) (best *refining) {
	for n := range under {
		o := &under[n]
		last := k.grids.finestOf(o.stock)
		if (o.rung > last || o.rung == last && k.exact[o.stock]) &&
			o.gives > k.p.Stocks[o.stock].Cost &&
			(best == nil || o.drop*best.steps > best.drop*o.steps) {
			best = o
		}
	}
	return best
}

// priceOn prices a stock on a grid, or exactly; and the steps taken. False where these are too
// many, or where there is no such grid, by which none are taken.
func (k *solver) priceOn(s, rung int, ask *price.Ask, most int64) (v, taken int64, ok bool) {
	before := k.meter.Steps
	r := k.pricers[s]
	if rung != exactly {
		r = k.grids.apart(s, rung, most)
	}
	if r == nil {
		return 0, 0, false
	}
	floor := k.floorOf(s, limits{})
	if floor < r.Bare() {
		floor = price.Never
	}
	v, ok = r.Vouch(ask, floor)
	return v, k.meter.Steps - before, ok
}

// apart makes a pricer of a stock on a grid that shares nothing and is not kept; nil where the grid
// is too coarse or too fine.
func (g *grids) apart(stock, rung int, most int64) price.Pricer {
	on, s, ripCost, ok := g.stockOn(stock, rung)
	if !ok {
		return nil
	}
	one := on.Problem
	one.Stocks = []cutting.Stock{s}
	if !g.p.Stocks[stock].Rippable() {
		return along.NewMaker(&one, g.meter).Pricer(0)
	}
	one.RipCost = ripCost
	return across.NewMaker(&one, g.meter, &price.Budget{Memory: g.memory, Pricing: most,
		Round: 1 << 60, Pending: fewPending, Checked: true, Many: g.many}).Pricer(0)
}

// affordable makes duals smaller until no stock of any number gives more than it costs.
func (k *solver) affordable(duals []int64) []int64 {
	pi, demand := slices.Clone(duals), k.demands()
	for i, n := range demand {
		if n == 0 {
			pi[i] = 0
		}
	}
	for s := 0; s < len(k.p.Stocks) && k.ctx.Err() == nil; s++ {
		cost := k.p.Stocks[s].Cost
		if k.p.Stocks[s].Supply != cutting.Any ||
			!slices.ContainsFunc(pi, func(d int64) bool { return d > 0 }) {
			continue
		}
		if best, ok := k.vouch(s, pi, demand, k.floorOf(s, limits{})); ok && best > cost {
			v := k.bareOf(s)
			lower(pi, float64(cost-v)/float64(best-v))
			s = -1
		}
	}
	return pi
}

// demands are those of the items.
func (k *solver) demands() []int64 {
	demand := make([]int64, len(k.p.Items))
	for i := range demand {
		demand[i] = k.p.Items[i].Demand
	}
	return demand
}

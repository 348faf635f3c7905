package cutstock

import (
	"context"
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
	"rackwright/nest/price/across"
	"rackwright/nest/price/along"
	"rackwright/nest/price/coarse"
	"rackwright/nest/price/rough"
)

// pricing is the pricers of a problem's stocks, and what a search must know of all of them.
type pricing struct {
	p        *cutting.Problem
	meter    *price.Meter
	pricers  []price.Pricer // by stock
	bare     []int64        // by stock, what it is worth without a piece
	bounds   []bounded      // by stock, by what its bound goes
	exact    []bool         // by stock, its pricer knows the best layout
	grids    *grids         // for bounds
	lists    bool           // all of them list, and count the copies
	mayList  bool           // all of them list
	copies   bool           // some count any number of copies
	coarse   bool           // some have a coarse way
	many     bool           // of so many items that many.go may apply
	thin     bool           // some never know the best layout
	fine     bool           // which is not asked for now
	perRound int64          // steps that each round takes for what pricers share
	asked    *price.Ask     // the last round
	longest  int64          // of the stocks
	widest   int64          // of those that are more than one piece wide
}

// newPricing makes the pricer of every stock: across where pieces may lie beside each other, else
// along; and rough where its tables would not fit in so much memory, or one round of pricing would
// take too much of the work. Where up is not nil columns are first looked for with its kerfs.
func newPricing(p *cutting.Problem, opt Options) *pricing {
	up, work, memory := opt.up, opt.Work, opt.Memory
	out := &pricing{p: p, meter: &price.Meter{}, mayList: true,
		bounds: make([]bounded, len(p.Stocks))}
	out.many = len(p.Items) >= manyItems && !opt.asFew &&
		slices.ContainsFunc(p.Stocks, func(s cutting.Stock) bool { return s.Rippable() })
	out.grids = newGrids(p, out.meter, &opt, out.many)
	budget := &price.Budget{Memory: memory, Pricing: work / 8, Round: work / 2,
		Checked: true}
	if out.many {
		budget.Cells, budget.Pending = mostCells, fewPending
		budget.Many = len(p.Items) < veryMany // what it keeps of more would take too much memory
	}
	plain, rippable := along.NewMaker(p, out.meter), across.NewMaker(p, out.meter, budget)
	var coarser *across.Maker
	if up != nil {
		coarser = across.NewMaker(up, out.meter, budget)
	}
	for s := range p.Stocks {
		stock := &p.Stocks[s]
		out.longest = max(out.longest, stock.To-stock.From)
		var r price.Pricer
		if stock.Rippable() {
			out.widest = max(out.widest, stock.Across.Width)
			if q := rippable.Pricer(s); q != nil {
				r = q
			}
			if r != nil && up != nil {
				if q := coarser.Pricer(s); q != nil {
					r, out.coarse = coarse.NewPricer(p, up, q, r), true
				}
			}
		} else {
			r = plain.Pricer(s)
		}
		if r == nil {
			r = rough.NewPricer(p, s, out.meter)
			out.bounds[s].inexact = true
		}
		if r.Traits().Thin {
			out.bounds[s].inexact, out.thin = true, true
		}
		out.exact = append(out.exact, !out.bounds[s].inexact)
		out.pricers, out.bare = append(out.pricers, r), append(out.bare, r.Bare())
		out.mayList = out.mayList && r.Traits().Lists
		out.copies = out.copies || r.Traits().Copies
	}
	out.lists = out.mayList && !out.copies
	out.perRound = plain.PerRound
	return out
}

// copiesOn is at least how many copies of an item the largest stock may have.
func (r *pricing) copiesOn(i int) int64 {
	it := &r.p.Items[i]
	return (r.longest/(it.Size+r.p.Kerf) + 1) * (r.widest/max(1, it.Width+r.p.Rip) + 1)
}

// ask gives a round of pricing at duals with so many copies wanted: the last one, if it was of the
// same.
func (r *pricing) ask(duals, wanted []int64) *price.Ask {
	if r.asked != nil && r.asked.Fine == r.fine && slices.Equal(r.asked.Duals, duals) &&
		slices.Equal(r.asked.Demand, wanted) {
		return r.asked
	}
	round := 1
	if r.asked != nil {
		round = r.asked.Round + 1
	}
	r.meter.Add(r.perRound)
	r.asked = &price.Ask{Duals: slices.Clone(duals), Demand: slices.Clone(wanted),
		Fine: r.fine, Round: round}
	return r.asked
}

// Awkward kerfs. A kerf of 2.8 mm shares next to nothing with sizes in sixteenths of an inch. Then
// pieces may start at as many points as there are sums of sizes and numbers of cuts, and pricing
// takes several times the steps. With the kerf rounded up to what the sizes share they start at as
// many points as there are sums.
//
// So a plan is looked for with kerfs rounded up, first. What is found is legal with the true kerfs,
// and is laid out with them. The rest of the work goes into the program as it is: that proves the
// bound, and finds the patterns that only fit with the true kerfs. Most of its columns are again
// found with kerfs rounded up (package coarse).

const (
	// mostMore is by what part of itself a kerf is rounded up at most: one in so many.
	mostMore = 2
	// leastGain is how many times coarser the measure must become.
	leastGain = 8
)

// RoundedUp is the problem with its kerfs rounded up to a measure that the sizes of its items
// share. Along it may be one that most of them share: then the others are rounded up too. It is
// false where that would gain little, or waste much.
func RoundedUp(p *cutting.Problem) (*cutting.Problem, bool) {
	sizes, widths := make([]int64, len(p.Items)), make([]int64, len(p.Items))
	rippable := slices.ContainsFunc(p.Stocks, func(s cutting.Stock) bool { return s.Rippable() })
	for i := range p.Items {
		sizes[i], widths[i] = p.Items[i].Size, p.Items[i].Width
	}
	up, along, across := *p, false, false
	size, width := shared(sizes), shared(widths)
	var measure int64
	if up.Kerf, measure, along = kerfUp(p.Kerf, size, size); !along {
		up.Kerf, measure, along = kerfUp(p.Kerf, mostShared(sizes), size)
	}
	if along {
		up.Items = slices.Clone(p.Items)
		for i := range up.Items {
			up.Items[i].Size = upTo(measure, sizes[i])
		}
	}
	up.Rip, _, across = kerfUp(p.Rip, width, width)
	return &up, rippable && (along || across)
}

// kerfUp is a kerf rounded up to a measure, or to half of it, a quarter and so on, and that
// measure; the kerf itself and false where that gains little against what all sizes share, or
// wastes much.
func kerfUp(kerf, measure, all int64) (up, to int64, ok bool) {
	if kerf == 0 || measure == 0 {
		return kerf, 0, false
	}
	for least := leastGain * price.GCD(kerf, all); measure >= least; measure /= 2 {
		up := upTo(measure, kerf)
		if (up-kerf)*mostMore <= kerf {
			return up, measure, true
		}
		if measure%2 != 0 {
			break
		}
	}
	return kerf, 0, false
}

// upTo is a size rounded up to a measure.
func upTo(measure, size int64) int64 { return (size + measure - 1) / measure * measure }

// shared is the greatest measure that all sizes share.
func shared(sizes []int64) (all int64) {
	for _, x := range sizes {
		all = price.GCD(all, x)
	}
	return all
}

// mostShared is the greatest measure of two neighbours that three quarters of the sizes share; 0:
// there is none. Gang blanks have a kerf in their sizes, which so share little with others.
func mostShared(sizes []int64) (most int64) {
	for n := 1; n < len(sizes); n++ {
		measure := price.GCD(sizes[n-1], sizes[n])
		if measure <= most {
			continue
		}
		share := 0
		for _, x := range sizes {
			if x%measure == 0 {
				share++
			}
		}
		if share*4 >= len(sizes)*3 {
			most = measure
		}
	}
	return most
}

// LaidOut are uses, made for a program with kerfs rounded up, as they are laid out with those of p.
func LaidOut(p, up *cutting.Problem, uses []cutting.Use) []cutting.Use {
	out, apart := make([]cutting.Use, len(uses)), coarse.Apart(p, up)
	for n, u := range uses {
		out[n] = cutting.Use{Pattern: p.Closed(u.Pattern, apart), Times: u.Times}
	}
	return out
}

// The first search may take half as much work as the second.
//
// A plan of wider kerfs is not the best of the true ones. Strips that fill a board exactly then
// leave a shaving, which takes a rip. So the second search begins with planning stocks anew.

// coarsely looks for a plan with kerfs rounded up. It gives the options of the search that follows,
// for which the plan is a start. What is known before stays the bound meanwhile.
func coarsely(ctx context.Context, p, up *cutting.Problem, known Result, opt Options) Options {
	laidOut := func(uses []cutting.Use) []cutting.Use { return LaidOut(p, up, uses) }
	first := Options{Work: opt.Work / 2, Memory: opt.Memory}
	if observe := opt.Observe; observe != nil {
		first.Observe = func(e Event) {
			e.Value, e.Bound, e.Proven, e.Done = min(e.Value, known.Value), known.Bound, true, false
			observe(e)
		}
	}
	if opt.Found != nil {
		first.Found = func(r Result) {
			opt.Found(Known(ctx, p, [][]cutting.Use{known.Uses, laidOut(r.Uses)}))
		}
	}
	k := newSolver(ctx, up, first)
	k.search()
	opt.Starts = append([][]cutting.Use{laidOut(k.incumbent.uses)}, opt.Starts...)
	opt.up = up
	return opt
}

package cutstock

import (
	"context"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

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

// roundedUp is the problem with its kerfs rounded up to a measure that the sizes of its items
// share; false where that would gain little, or waste much.
func roundedUp(p *cutting.Problem) (*cutting.Problem, bool) {
	var size, width int64
	for i := range p.Items {
		size = price.GCD(size, p.Items[i].Size)
		width = price.GCD(width, p.Items[i].Width)
	}
	up := *p
	along, across := false, false
	up.Kerf, along = kerfUp(p.Kerf, size)
	up.Rip, across = kerfUp(p.Rip, width)
	rippable := false
	for s := range p.Stocks {
		rippable = rippable || p.Stocks[s].Rippable()
	}
	return &up, rippable && (along || across)
}

// kerfUp is a kerf rounded up to a measure, or to half of it, a quarter and so on; the kerf itself
// and false where that is not worth it.
func kerfUp(kerf, measure int64) (int64, bool) {
	if kerf == 0 || measure == 0 {
		return kerf, false
	}
	for least := leastGain * price.GCD(kerf, measure); measure >= least; measure /= 2 {
		up := (kerf + measure - 1) / measure * measure
		if (up-kerf)*mostMore <= kerf {
			return up, true
		}
		if measure%2 != 0 {
			break
		}
	}
	return kerf, false
}

// The first search may take half as much work as the second.
//
// A plan of wider kerfs is not the best of the true ones. Strips that fill a board exactly then
// leave a shaving, which takes a rip. So the second search begins with planning stocks anew.

// coarsely looks for a plan with kerfs rounded up. It gives the options of the search that follows,
// for which the plan is a start. What is known before stays the bound meanwhile.
func coarsely(ctx context.Context, p, up *cutting.Problem, known Result, opt Options) Options {
	laidOut := func(uses []cutting.Use) []cutting.Use {
		out := make([]cutting.Use, len(uses))
		for n, u := range uses {
			closed := p.Closed(u.Pattern, [2]int64{up.Kerf, up.Rip})
			out[n] = cutting.Use{Pattern: closed, Times: u.Times}
		}
		return out
	}
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

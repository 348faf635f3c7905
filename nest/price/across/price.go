package across

import (
	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// rounds is how often the outer recursion of the quick way runs.
const quickRounds = 3

func (r *pricer) Price(a *price.Ask) int64 {
	best := r.find(a, quickRounds)
	r.countSteps()
	return best
}

// Vouch gives the greatest value of any pattern exactly, divided by Fine and rounded up; where no
// piece has a place, that of the bare stock.
func (r *pricer) Vouch(a *price.Ask) int64 {
	best := r.find(a, 0)
	r.countSteps()
	return best
}

func (r *pricer) Traits() price.Traits {
	return price.Traits{Fine: Fine, Quick: true, Copies: true}
}

// List has no answer: there are too many ways across.
func (r *pricer) List(*price.Listing, int64, int64) ([]price.Listed, bool) { return nil, false }

// Fill prices what is left as if all were worth their size.
func (r *pricer) Fill(left []int64, ask price.Asker) *cutting.Pattern {
	duals := make([]int64, len(left))
	for i, n := range left {
		if it := &r.p.Items[i]; n > 0 {
			duals[i] = it.Size / 64 * max(1, it.Width/64)
		}
	}
	r.countSteps()
	r.find(ask(duals, left), quickRounds)
	t := r.Walk(left, -1)
	if t == nil {
		return nil
	}
	for _, pl := range t.Places {
		left[pl.Item]--
	}
	t.Worth = r.p.Worth(t)
	return t
}

// find prices both kinds, each in at most so many rounds; 0: until it is exact.
func (r *pricer) find(a *price.Ask, rounds int) int64 {
	r.reset(a)
	r.searchLengths(rounds)
	best := r.lengths.best
	if r.mayRipFirst() {
		r.searchStrips(rounds, best)
		if r.strips.best > best {
			best, r.kind = r.strips.best, cutting.RipFirst
		}
	}
	if best < 0 && rounds > 0 { // nothing found so far
		return r.find(a, 0)
	}
	if best < 0 {
		best = worthOfBands(r.fullBands, r.clear.s0, r.stock.Keep, 0, r.extent)
	}
	return roundUp(best)
}

// start begins a pricing, of which nothing is known yet.
func (r *pricer) reset(a *price.Ask) {
	r.ask = a
	r.pass++
	r.steps += r.clear.update(a)
	for _, run := range r.fills {
		run.stale = true
	}
	r.lengths.best, r.strips.best = price.Never, price.Never
	r.lengths.route, r.strips.route = r.lengths.route[:0], r.strips.route[:0]
	r.kind = cutting.CrosscutFirst
}

// mayRip says whether the stock may be ripped first.
func (r *pricer) mayRipFirst() bool {
	return r.extent >= r.across.ShortestRip && len(r.clear.widths) > 0
}

// count puts the steps since the last count on the meter: each takes longer than those of the
// linear program.
func (r *pricer) countSteps() {
	r.meter.Add(2*r.steps + 1)
	r.steps = 0
}

// Bare is what the stock is worth without any piece, money x scale, rounded up.
func (r *pricer) Bare(scale int64) int64 {
	return roundUp(worthOfBands(r.fullBands, unitSlope(r.stock.Rate, scale, r.clear.step, r.across.Width), r.stock.Keep, 0,
		r.extent))
}

// roundUp gives a value in money x scale.
func roundUp(v int64) int64 { return (v + Fine - 1) / Fine }

package across

import (
	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// rounds is how often the outer recursion of the quick way runs.
const rounds = 3

func (r *pricer) Price(a *price.Ask) int64 {
	best := r.find(a, rounds)
	r.count()
	return best
}

// Vouch gives the greatest value of any pattern exactly, divided by Fine and rounded up; where no
// piece has a place, that of the bare stock.
func (r *pricer) Vouch(a *price.Ask) int64 {
	best := r.find(a, 0)
	r.count()
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
	r.count()
	r.find(ask(duals, left), rounds)
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
	r.start(a)
	r.priceCross(rounds)
	best := r.cross.value
	if r.mayRip() {
		r.priceRip(rounds, best)
		if r.rip.value > best {
			best, r.best = r.rip.value, cutting.RipFirst
		}
	}
	if best < 0 && rounds > 0 { // nothing found so far
		return r.find(a, 0)
	}
	if best < 0 {
		best = worthOf(r.all, r.t.s0, r.s.Keep, 0, r.span)
	}
	return roundUp(best)
}

// start begins a pricing, of which nothing is known yet.
func (r *pricer) start(a *price.Ask) {
	r.asked = a
	r.pass++
	r.steps += r.t.fill(a)
	for _, run := range r.strips {
		run.stale = true
	}
	r.cross.value, r.rip.value = price.Never, price.Never
	r.cross.route, r.rip.route = r.cross.route[:0], r.rip.route[:0]
	r.best = cutting.CrosscutFirst
}

// mayRip says whether the stock may be ripped first.
func (r *pricer) mayRip() bool { return r.span >= r.a.ShortestRip && len(r.t.widths) > 0 }

// count puts the steps since the last count on the meter: each takes longer than those of the
// linear program.
func (r *pricer) count() {
	r.m.Add(2*r.steps + 1)
	r.steps = 0
}

// Bare is what the stock is worth without any piece, money x scale, rounded up.
func (r *pricer) Bare(scale int64) int64 {
	return roundUp(worthOf(r.all, slopeOf(r.s.Rate, scale, r.t.step, r.a.Width), r.s.Keep, 0,
		r.span))
}

// roundUp gives a value in money x scale.
func roundUp(v int64) int64 { return (v + Fine - 1) / Fine }

package across

import (
	"rackwright/nest/cutting"
	"rackwright/nest/price"
	"rackwright/nest/price/across/rows"
)

// ownRounds is the number of rounds that price nothing but what they chose.
const ownRounds = 8

// stripSearch finds the best pattern that is ripped first: strips across the stock, and gaps
// between them. In acrossFill each strip has full size, and its any and full are the same.
type stripSearch struct {
	acrossFill
	incumbent[stripAt]
	priced [][]bool // by k and n: the strip has its value there, not only a bound
}

// stripAt is the strip of width k at start n.
type stripAt struct{ k, n int }

// searchStrips finds the best strips in at most so many rounds; 0: until none can be better. The
// search ends as well when no strips can be worth more than beat.
//
// Each round takes the best route by what is known. It prices the strips of the route of which only
// a bound is known.
func (r *pricer) searchStrips(rounds int, beat int64) {
	s, begun := &r.strips, r.work
	r.resetStrips()
	for round := 1; ; round++ {
		s.solve(r)
		if price.None(s.f1[0]) || s.f1[0] <= max(beat, s.best) {
			r.below = r.below || !price.None(s.f1[0])
			return
		}
		route := r.traceStrips(0, false, false)
		value, known, possible := s.f1[0], true, true
		for _, at := range route {
			if s.priced[at.k][at.n] {
				continue
			}
			value -= s.any[at.k][at.n]
			r.priceStrip(at)
			if value += s.any[at.k][at.n]; price.None(s.any[at.k][at.n]) {
				value, possible = 0, false
			}
			known = false
		}
		if possible {
			s.improve(value, route)
		}
		if known {
			return
		}
		if rounds > 0 && round >= rounds || rounds == 0 && r.longer(begun) {
			break
		}
		if round > ownRounds {
			r.priceNeighbours(route)
		}
	}
	for k := range s.any { // what is left is the best of what is priced
		for n := range s.any[k] {
			if !s.priced[k][n] {
				s.any[k][n], s.full[k][n] = price.Never, price.Never
			}
		}
	}
	s.solve(r)
	s.improve(s.f1[0], r.traceStrips(0, false, false))
}

// resetStrips gives each strip what it is worth where no spot is. That is the strip's value if no
// spot reaches into it, else a bound.
func (r *pricer) resetStrips() {
	s := &r.strips
	s.allocate(r)
	s.rip = r.p.RipCost * r.extent
	s.gaps.Set(r.ys, r.clear.step, r.clear.strip, r.bandsOver(r.allAlong(), nil))
	if s.priced == nil {
		for range r.clear.widths {
			s.any = append(s.any, make([]int64, len(r.ys)))
			s.full = append(s.full, make([]int64, len(r.ys)))
			s.priced = append(s.priced, make([]bool, len(r.ys)))
		}
	}
	for k, width := range r.clear.widths {
		bound, _ := r.clear.bestAlong(r.clear.alongStrip[k].f1, r.clear.slope(width), r.extent)
		for n := range r.ys {
			value, priced := bound, !r.spotted[k][n]
			if !r.strippable[k][n] {
				value, priced = price.Never, true
			}
			s.any[k][n], s.full[k][n], s.priced[k][n] = value, value, priced
		}
	}
}

// priceStrip gives a strip its value, raised so far above price.Never that sums do not overflow.
func (r *pricer) priceStrip(at stripAt) {
	s, v := &r.strips, max(r.solvedStrip(at).best, price.Never/4)
	s.any[at.k][at.n], s.full[at.k][at.n], s.priced[at.k][at.n] = v, v, true
}

// priceNeighbours prices strips at starts ever farther from those of a route, for about as much
// work as one solve. Where starts are many, the next rounds would choose such strips one by one.
func (r *pricer) priceNeighbours(route []stripAt) {
	starts := len(r.ys)
	most := r.work + int64(starts*(len(r.clear.widths)+2))
	for d := 1; d < starts; d++ {
		for _, at := range route {
			for _, n := range [2]int{at.n - d, at.n + d} {
				if n < 0 || n >= starts || r.strips.priced[at.k][n] {
					continue
				}
				if r.work >= most {
					return
				}
				r.priceStrip(stripAt{at.k, n})
			}
		}
	}
}

// traceStrips gives the strips that the tables choose from start n on. full: there is one already;
// touching: the start is just a kerf behind it. Of equally good choices it takes the first of
// these: no strip, a narrower strip, a wider one, a gap.
func (r *pricer) traceStrips(n int, full, touching bool) (route []stripAt) {
	s := &r.strips
	for n < len(r.ys) {
		f := s.table(full)
		left := s.ripLeft(r, n)
		if touching {
			left = 0
		}
		best, strip := f[n+1], -1
		for k := range s.any {
			if v := s.any[k][n] + s.follows(r, k, n, true) - left; v > best {
				best, strip = v, k
			}
		}
		touching = false
		if f[n] > best {
			if to := rows.GapTo(s.gaps, f, n, f[n]); to >= 0 {
				n = to
				continue
			}
		}
		if strip < 0 || price.None(best) {
			n++
			continue
		}
		route = append(route, stripAt{strip, n})
		end := r.ys[n] + r.clear.widths[strip]
		n, full = r.after(strip, n), true
		touching = r.touches(n, end)
	}
	return route
}

// ripper prices the patterns of a stock that are ripped first over one span of its length. They are
// those of a stock that is just the span, with the worth of the ends that are crosscut off before.
type ripper struct {
	*pricer
	over cutting.Span // zero: all of the stock, whose own pricer this is
	ends int64
}

// setUpRippers makes the rippers of a stock; false where the budget is too small.
func (r *pricer) setUpRippers(k *Maker) bool {
	if len(r.clear.widths) == 0 {
		return true
	}
	for _, on := range r.stock.RippedSpans() {
		if on.From == r.stock.From && on.To == r.stock.To {
			r.rippers = append(r.rippers, ripper{pricer: r})
			continue
		}
		span := *r.stock
		span.From, span.To = on.From, on.To
		near := cutting.Span{To: on.From - r.stock.From - r.p.Kerf}
		far := cutting.Span{From: on.To - r.stock.From + r.p.Kerf, To: r.extent}
		over := k.newStripPricer(&span, r.index)
		if over == nil {
			return false
		}
		r.rippers = append(r.rippers, ripper{over: on, pricer: over,
			ends: r.worthOfBands(r.stockBands, near, r.clear.whole) +
				r.worthOfBands(r.stockBands, far, r.clear.whole)})
	}
	return true
}

// searchRipped finds the best pattern that is ripped first, in at most so many rounds; 0: until it
// is exact. It says whether that is worth more than beat, and its value.
func (r *pricer) searchRipped(rounds int, beat int64) (best int64, better bool) {
	for n := range r.rippers {
		rip := &r.rippers[n]
		if rip.pricer != r {
			rip.begin(r.ask)
		}
		rip.searchStrips(rounds, beat-rip.ends)
		if v := rip.strips.best; !price.None(v) && v+rip.ends > beat {
			beat, better, r.ripper = v+rip.ends, true, rip
		}
	}
	return beat, better
}

// likeliest is the ripper that may give most by the last pricing; nil: none gives anything.
func (r *pricer) likeliest() (best *ripper) {
	for n := range r.rippers {
		rip := &r.rippers[n]
		if v := rip.strips.f1[0]; !price.None(v) &&
			(best == nil || v+rip.ends > best.strips.f1[0]+best.ends) {
			best = rip
		}
	}
	return best
}

package across

import (
	"rackwright/nest/price"
	"rackwright/nest/price/across/offcuts"
	"rackwright/nest/price/across/rows"
)

// lengthSearch finds the best pattern that is crosscut first: lengths along the stock, and gaps
// between them.
//
//	f[t]        the most from start t on; 0 at the stock's end
//	leading[t]  the most from start t on with a length at t
//	bound       the most that any pattern gives
//
//	f(t) = max of
//	   f(next t)           nothing starts at t
//	   leading[t]
//	   u of [x, z) + f(y)  a gap from t, at x, to a kerf before start y, or to the stock's end
//	leading[t] = max over j of  value[t, j] + f(first start a kerf or more after length j)
//	bound = max over t of  u of the gap before t + leading[t]
//
// So a pattern has a length, and before its first length one gap or none.
type lengthSearch struct {
	incumbent[lengthAt]
	value        []int64  // by t and j: the length, or a bound; price.Never: it may not lie there
	priced       []bool   // by t and j: value is the length's value
	clearOptions []option // the lengths to consider where no spot is near
	f, leading   []int64
	gaps         *offcuts.Along
	bound        int64
	lead         int // the t that gives bound

	before  []int64         // by t: a bound of what precedes t
	pending []pendingLength // best first
	least   int64           // what one more of them must pass
}

// lengthAt is length j at x, which is start t; -1 on a stock without spots.
type lengthAt struct {
	j, t int
	x    int64
}

// slot is the index of start t and length j in slices by t and j.
func (r *pricer) slot(t, j int) int { return t*len(r.clear.lens) + j }

// searchLengths finds the best lengths in at most so many rounds; 0: until none can be better.
//
// Each round takes the best route by what is known. It prices the lengths of the route of which
// only a bound is known, and others that are likely to be next.
func (r *pricer) searchLengths(rounds int) {
	s := &r.lengths
	if len(r.spots) == 0 {
		r.searchClearLengths()
		return
	}
	r.resetLengths()
	changed, begun := len(r.xs)-1, r.work
	for round := 1; ; round++ {
		r.solveLengths(changed)
		if price.None(s.bound) || s.bound <= max(s.best, r.floor) {
			r.below = r.below || !price.None(s.bound)
			return
		}
		route := r.traceLengths(s.lead, true)
		value, open := s.bound, []lengthAt(nil)
		for _, at := range route {
			if c := r.slot(at.t, at.j); !s.priced[c] {
				value -= s.value[c]
				open = append(open, at)
			}
		}
		changed = 0
		possible := true // each length of the route has a place
		for _, at := range open {
			changed = max(changed, r.priceLength(at))
			v := s.value[r.slot(at.t, at.j)]
			if value += v; price.None(v) {
				value, possible = 0, false
			}
		}
		if possible {
			s.improve(value, route)
		}
		if len(open) == 0 {
			return
		}
		if rounds > 0 && round >= rounds || rounds == 0 && r.longer(begun) {
			break
		}
		changed = max(changed, r.pricePending())
	}
	for c := range s.value { // what is left is the best of what is priced
		if !s.priced[c] {
			s.value[c] = price.Never
		}
	}
	r.solveLengths(len(r.xs) - 1)
	if !price.None(s.bound) {
		s.improve(s.bound, r.traceLengths(s.lead, true))
	}
}

// resetLengths gives each length what it is worth where no spot is. That is the length's value if
// no spot reaches into it, else a bound.
func (r *pricer) resetLengths() {
	s, lens, n := &r.lengths, r.clear.lens, len(r.xs)
	s.clearOptions = undominated(r.clear.lengthValues, lens, r.extent)
	if r.thin {
		r.maker.lend(s, n*len(lens))
	} else if s.value == nil {
		s.value, s.priced = make([]int64, n*len(lens)), make([]bool, n*len(lens))
	}
	if s.f == nil {
		s.f, s.leading = make([]int64, n+1), make([]int64, n)
	}
	for t, x := range r.xs {
		for j, length := range lens {
			c := r.slot(t, j)
			s.value[c], s.priced[c] = r.clear.q[j], !r.met(t, j)
			if x+length > r.extent {
				s.value[c], s.priced[c] = price.Never, true
			}
		}
	}
	if r.clear.boundsAmong() {
		r.boundLengths()
	}
}

// solveLengths computes f and leading up to start last, and bound. What follows has not changed.
func (r *pricer) solveLengths(last int) {
	s, lens, n := &r.lengths, len(r.clear.lens), len(r.xs)
	s.f[n] = 0
	s.gaps.Begin(s.f)
	for t := last; t >= 0; t-- {
		next, value := r.nextAlong[t*lens:(t+1)*lens], s.value[t*lens:(t+1)*lens]
		noSpot, best := int(r.clearLens[t]), int64(price.Never)
		for m := range s.clearOptions {
			o := &s.clearOptions[m]
			if o.n >= noSpot {
				break
			}
			best = max(best, o.any+s.f[next[o.n]])
		}
		for j := noSpot; j < int(r.fitLens[t]); j++ {
			best = max(best, value[j]+s.f[next[j]])
		}
		s.leading[t] = best
		best = max(best, s.f[t+1])
		s.f[t] = max(best, s.gaps.Best(t, best))
	}
	s.lead, s.bound = 0, price.Never
	for t, v := range s.leading {
		if v += r.leadGap[t]; v > s.bound {
			s.lead, s.bound = t, v
		}
	}
	r.work += int64((last + 1) * (lens + r.stockGaps.Size()) / quick)
}

// traceLengths gives the lengths that the tables choose from start t on; with lead, one starts at
// t. Of equally good choices it takes the first of these: no length, a shorter length, a longer
// one, a gap.
func (r *pricer) traceLengths(t int, lead bool) (route []lengthAt) {
	s, lens := &r.lengths, len(r.clear.lens)
	for t < len(r.xs) {
		best, length := s.f[t+1], -1
		if lead {
			best = price.Never
		}
		for j, v := range s.value[t*lens : (t+1)*lens] {
			if v += s.f[r.nextAlong[r.slot(t, j)]]; v > best {
				best, length = v, j
			}
		}
		if s.f[t] > best && !lead {
			if to := rows.GapTo(s.gaps, s.f, t, s.f[t]); to >= 0 {
				t = to
				continue
			}
		}
		lead = false
		if length < 0 || price.None(best) {
			t++
			continue
		}
		route = append(route, lengthAt{length, t, r.xs[t]})
		t = int(r.nextAlong[r.slot(t, length)])
	}
	return route
}

// searchClearLengths finds the best lengths of a stock without spots. They follow each other with
// one gap behind them: the worth of a gap is convex in its length, so that one long gap is best.
func (r *pricer) searchClearLengths() {
	best, total := r.clear.bestAlong(r.clear.alongStock.f1, r.stockSlope(), r.extent)
	if !price.None(best) {
		r.lengths.improve(best, r.traceClearLengths(total, 0))
	}
}

// traceClearLengths gives the lengths of the best row of a total of alongStock, from x on, longer
// ones first.
func (r *pricer) traceClearLengths(total, x int64) (route []lengthAt) {
	f := r.clear.alongStock.f1
	for total > 0 {
		value := f.at(total)
		j := len(r.clear.lens) - 1
		for ; j >= 0; j-- {
			v, before := r.clear.q[j], total-r.clear.lens[j]-r.p.Kerf
			if price.None(v) || before < 0 {
				continue
			}
			if b := f.at(before); before == 0 && v == value || !price.None(b) && b+v == value {
				break
			}
		}
		if j < 0 {
			panic("across: a best row of lengths is no sum of lengths")
		}
		route = append(route, lengthAt{j, -1, x})
		x += r.clear.lens[j] + r.p.Kerf
		total -= r.clear.lens[j] + r.p.Kerf
	}
	return route
}

// stockSlope is the worth of one unit of length of a gap over the whole width.
func (r *pricer) stockSlope() int64 { return r.clear.slope(r.across.Width) }

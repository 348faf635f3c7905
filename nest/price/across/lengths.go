package across

import "rackwright/nest/price"

// lengthSearch finds the best pattern that is crosscut first: lengths along the stock, and gaps
// between them.
//
//	f[t]  the most from start t on, where the kerf before t is paid; the last, the stock's end: 0
//
//	f(t) = max of
//	   f(next t)                                   nothing starts at t
//	   value[t, j] + f(first start after length j) length j, a kerf behind it paid
//	   u of [x, z) + f(y)                          a gap up to z, a kerf before start y or the end
//
// A pattern has a length, and before its first at most one gap:
//
//	bound = max of  u of the gap before t + leading[t]
//
// where leading[t] is the most from t on with a length at t.
type lengthSearch struct {
	incumbent[lengthAt]
	value        []int64  // by t and j: at most what the length gives; Never: none may lie there
	priced       []bool   // the same: value is what it gives
	clearOptions []option // the best lengths where no spot is near
	f, leading   []int64
	scan         gapScan
	bound        int64
	opening      int // the t that gives bound

	before  []int64         // by t: at most what precedes it
	pending []pendingLength // best first
	least   int64           // what the next of them must pass
}

// lengthAt is length j at x, start t; t is -1 on a stock without spots.
type lengthAt struct {
	j, t int
	x    int64
}

// slot is the index of start t and length j in what is kept by both.
func (r *pricer) slot(t, j int) int { return t*len(r.clear.lens) + j }

// searchLengths finds the best lengths in at most so many rounds; 0: until none can be better.
//
// Each round takes the best route by what is known. It prices those lengths of the route of which
// only a bound is known, and others that are likely to be next.
func (r *pricer) searchLengths(rounds int) {
	u := &r.lengths
	if len(r.spots) == 0 {
		r.searchClearLengths()
		return
	}
	r.resetLengths()
	changed := len(r.xs) - 1
	for round := 1; ; round++ {
		r.solveLengths(changed)
		if u.bound < 0 || u.bound <= u.best {
			return
		}
		route := r.traceLengths(u.opening, true)
		value, open := u.bound, []lengthAt(nil)
		for _, at := range route {
			if c := r.slot(at.t, at.j); !u.priced[c] {
				value -= u.value[c]
				open = append(open, at)
			}
		}
		changed = 0
		possible := true // each length of the route has a place
		for _, at := range open {
			changed = max(changed, r.priceLength(at))
			v := u.value[r.slot(at.t, at.j)]
			value, possible = value+max(v, 0), possible && v >= 0
		}
		if possible {
			u.improve(value, route)
		}
		if len(open) == 0 {
			return
		}
		if rounds > 0 && round >= rounds {
			break
		}
		changed = max(changed, r.pricePending())
	}
	for c := range u.value { // the best of what is priced
		if !u.priced[c] {
			u.value[c] = price.Never
		}
	}
	r.solveLengths(len(r.xs) - 1)
	if u.bound >= 0 {
		u.improve(u.bound, r.traceLengths(u.opening, true))
	}
}

// resetLengths gives each length its value without spots. Where no spot reaches into it, that is
// its value; elsewhere it is a bound.
func (r *pricer) resetLengths() {
	u, lens, n := &r.lengths, r.clear.lens, len(r.xs)
	u.clearOptions = undominated(r.clear.lengthValues, lens, r.extent)
	if u.value == nil {
		u.value, u.priced = make([]int64, n*len(lens)), make([]bool, n*len(lens))
		u.f, u.leading = make([]int64, n+1), make([]int64, n)
	}
	for t, x := range r.xs {
		for j, length := range lens {
			c := r.slot(t, j)
			u.value[c], u.priced[c] = r.clear.q[j], r.groupOf[c] < 0
			if x+length > r.extent {
				u.value[c], u.priced[c] = price.Never, true
			}
		}
	}
}

// solveLengths computes f and leading from start last on backwards; what follows has not changed.
func (r *pricer) solveLengths(last int) {
	u, lens, n := &r.lengths, len(r.clear.lens), len(r.xs)
	u.f[n] = 0
	u.scan.reset(&r.fullGaps, r.clear.s0, r.xs, r.gapEnds, u.f)
	for t := last; t >= 0; t-- {
		next, value := r.nextAlong[t*lens:(t+1)*lens], u.value[t*lens:(t+1)*lens]
		clear, best := int(r.clearLens[t]), int64(price.Never)
		for m := range u.clearOptions {
			o := &u.clearOptions[m]
			if o.n >= clear {
				break
			}
			best = max(best, o.any+u.f[next[o.n]])
		}
		for j := clear; j < int(r.fitLens[t]); j++ {
			best = max(best, value[j]+u.f[next[j]])
		}
		u.leading[t] = best
		best = max(best, u.f[t+1])
		u.f[t] = max(best, u.scan.best(t, best))
	}
	u.opening, u.bound = 0, price.Never
	for t, v := range u.leading {
		if v += r.clear.s0 * r.openingGap[t]; v > u.bound {
			u.opening, u.bound = t, v
		}
	}
	r.steps += int64((last + 1) * (lens + len(r.fullGaps.edges)))
}

// traceLengths follows the table from start t on, and gives the lengths. With leading a length
// begins at t. Where things are equally good it takes no length before a length, a short one before
// a long one, and any of them before a gap.
func (r *pricer) traceLengths(t int, leading bool) (route []lengthAt) {
	u, lens := &r.lengths, len(r.clear.lens)
	for t < len(r.xs) {
		best, length := u.f[t+1], -1
		if leading {
			best = price.Never
		}
		for j, v := range u.value[t*lens : (t+1)*lens] {
			if v += u.f[r.nextAlong[r.slot(t, j)]]; v > best {
				best, length = v, j
			}
		}
		if u.f[t] > best && !leading {
			if to := u.scan.trace(t, u.f[t]); to >= 0 {
				t = to
				continue
			}
		}
		leading = false
		if length < 0 || best < 0 {
			t++
			continue
		}
		route = append(route, lengthAt{length, t, r.xs[t]})
		t = int(r.nextAlong[r.slot(t, length)])
	}
	return route
}

// searchClearLengths finds the best lengths of a stock without spots, all behind each other, and a
// gap behind them: worth is convex in the length of a gap.
func (r *pricer) searchClearLengths() {
	best, total := r.clear.bestAlong(r.clear.alongStock.f1, r.fullSlope(), r.extent)
	if best >= 0 {
		r.lengths.improve(best, r.traceClearLengths(total, 0))
	}
}

// traceClearLengths gives lengths of the best row of a total of so many steps, longest first, from
// x on.
func (r *pricer) traceClearLengths(total int, x int64) (route []lengthAt) {
	f := r.clear.alongStock.f1
	for total > 0 {
		j := len(r.clear.lens) - 1
		for ; j >= 0; j-- {
			v, before := r.clear.q[j], total-r.clear.steps(r.clear.lens[j])
			if v >= 0 && (before == 0 && v == f[total] ||
				before >= 0 && f[before] >= 0 && f[before]+v == f[total]) {
				break
			}
		}
		if j < 0 {
			panic("across: a best row of lengths is no sum of lengths")
		}
		route = append(route, lengthAt{j, -1, x})
		x += r.clear.lens[j] + r.p.Kerf
		total -= r.clear.steps(r.clear.lens[j])
	}
	return route
}

// fullSlope is the worth of one unit of length of a gap over the whole width.
func (r *pricer) fullSlope() int64 { return r.clear.slope(r.across.Width) }

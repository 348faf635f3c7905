package across

import "rackwright/nest/price"

// ownRounds is the number of rounds that price nothing but what they chose.
const ownRounds = 8

// stripSearch finds the best pattern that is ripped first: strips across the stock, and gaps between
// them. Each strip has full size, so that its any and full are alike.
type stripSearch struct {
	acrossFill
	incumbent[stripAt]
	priced [][]bool // by k and n: the value there is that of the strip, not only a bound
}

// stripAt is the strip of width k at start n.
type stripAt struct{ k, n int }

// searchStrips finds the best strips in at most so many rounds; 0: until none can be better. It ends
// as well when none can be worth more than beat.
//
// Each round takes the best route by what is known. It prices those strips of the route of which
// only a bound is known.
func (r *pricer) searchStrips(rounds int, beat int64) {
	u := &r.strips
	r.resetStrips()
	for round := 1; ; round++ {
		u.solve(r)
		if u.f1[0] < 0 || u.f1[0] <= max(beat, u.best) {
			return
		}
		route := r.traceStrips(0, u.f1)
		value, known, possible := u.f1[0], true, true
		for _, at := range route {
			if u.priced[at.k][at.n] {
				continue
			}
			value -= u.any[at.k][at.n]
			r.priceStrip(at)
			value += max(u.any[at.k][at.n], 0)
			known, possible = false, possible && u.any[at.k][at.n] >= 0
		}
		if possible {
			u.improve(value, route)
		}
		if known {
			return
		}
		if rounds > 0 && round >= rounds {
			break
		}
		if round > ownRounds {
			r.priceNeighbours(route)
		}
	}
	for k := range u.any { // the best of what is priced
		for n := range u.any[k] {
			if !u.priced[k][n] {
				u.any[k][n], u.full[k][n] = price.Never, price.Never
			}
		}
	}
	u.solve(r)
	u.improve(u.f1[0], r.traceStrips(0, u.f1))
}

// resetStrips gives each strip its value without spots. Where no spot reaches into it, that is its
// value; elsewhere it is a bound.
func (r *pricer) resetStrips() {
	u := &r.strips
	u.allocate(len(r.clear.widths), len(r.ys))
	u.setGaps(r, r.bandsOver(r.fullLength(), nil))
	if u.priced == nil {
		for range r.clear.widths {
			u.priced = append(u.priced, make([]bool, len(r.ys)))
		}
	}
	for k, width := range r.clear.widths {
		bound, _ := r.clear.bestAlong(r.clear.alongStrip[k].f1, r.clear.slope(width), r.extent)
		for n, y := range r.ys {
			value, priced := bound, !r.spotted[k][n]
			if !r.insideInset(y, width) {
				value, priced = price.Never, true
			}
			u.any[k][n], u.full[k][n], u.priced[k][n] = value, value, priced
		}
	}
}

// priceStrip gives a strip its value. It is kept so far above price.Never that sums do not overflow.
func (r *pricer) priceStrip(at stripAt) {
	u, v := &r.strips, max(r.solvedStrip(at).best, price.Never/4)
	u.any[at.k][at.n], u.full[at.k][at.n], u.priced[at.k][at.n] = v, v, true
}

// priceNeighbours prices strips at starts ever farther from those of a route, for as much work as a
// solve takes. Where starts are many, the next rounds would choose these one by one.
func (r *pricer) priceNeighbours(route []stripAt) {
	starts := len(r.ys)
	most := r.steps + int64(starts*(len(r.clear.widths)+2))
	for d := 1; d < starts; d++ {
		for _, at := range route {
			for _, n := range [2]int{at.n - d, at.n + d} {
				if n < 0 || n >= starts || r.strips.priced[at.k][n] {
					continue
				}
				if r.steps >= most {
					return
				}
				r.priceStrip(stripAt{at.k, n})
			}
		}
	}
}

// traceStrips follows the tables from start n on, from f (f0 or f1), and gives the strips. Where
// things are equally good it takes no strip before a strip, a narrow one before a wide one, and any
// of them before a gap.
func (r *pricer) traceStrips(n int, f []int64) (route []stripAt) {
	u := &r.strips
	for n < len(r.ys) {
		best, strip := f[n+1], -1
		for k := range u.any {
			if v := u.any[k][n] + u.f0[r.nextAcross[k][n]]; v > best {
				best, strip = v, k
			}
		}
		if f[n] > best {
			if to := u.traceGap(r, n, f); to >= 0 {
				n = to
				continue
			}
		}
		if strip < 0 || best < 0 {
			n++
			continue
		}
		route = append(route, stripAt{strip, n})
		n, f = r.nextAcross[strip][n], u.f0
	}
	return route
}

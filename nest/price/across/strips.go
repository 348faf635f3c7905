package across

import "rackwright/nest/price"

// acrossRun is a recursion across the stock, over strips or over the pieces of a ripped length, by
// width and start: f0 with, f1 without one that is what it must have (a strip; a piece as long as
// the length). any is the value of what may lie there at most, exact that of what it must have;
// never: none.
//
//	f(y) = max( f(next y); value + f(y + w + kr) for each width; u of the gap to each later start, at least kw wide )
type acrossFill struct {
	any, full  [][]int64
	f0, f1     []int64
	areaAt     []int64 // u of [0, start)
	areaBefore []int64 // u of [0, start - kerf); the last: of the whole width
	areas      areaSums
}

func (u *acrossFill) allocate(widths, n int) {
	if u.f0 != nil {
		return
	}
	u.f0, u.f1, u.areaAt, u.areaBefore = make([]int64, n+1), make([]int64, n+1), make([]int64, n+1),
		make([]int64, n+1)
	for range widths {
		u.any, u.full = append(u.any, make([]int64, n)), append(u.full, make([]int64, n))
	}
}

// measure sets the worth of gaps.
func (u *acrossFill) measure(r *pricer, lines []clearBand) {
	c := &u.areas
	c.set(r, lines)
	for n, y := range r.ys {
		u.areaAt[n], u.areaBefore[n] = c.upTo(y), c.upTo(max(0, y-r.p.Rip))
	}
	n := len(r.ys)
	u.areaAt[n] = c.upTo(r.across.Width)
	u.areaBefore[n] = u.areaAt[n] // no kerf at the edge
}

func (u *acrossFill) solve(r *pricer) {
	n := len(r.ys)
	u.f0[n], u.f1[n] = 0, price.Never
	// the best after a gap that ends before start to or later
	gap0, gap1, to := int64(price.Never), int64(price.Never), n+1
	for t := n - 1; t >= 0; t-- {
		y := r.ys[t]
		b0, b1 := u.f0[t+1], u.f1[t+1]
		for k := range u.any {
			if v := u.any[k][t]; v >= 0 {
				next := r.nextAcross[k][t]
				b0, b1 = max(b0, v+u.f0[next]), max(b1, v+u.f1[next], u.full[k][t]+u.f0[next])
			}
		}
		for to > t+1 && r.gapEndAcross(to-1)-y >= r.across.Keep {
			to--
			gap0, gap1 = max(gap0, u.f0[to]+u.areaBefore[to]), max(gap1, u.f1[to]+u.areaBefore[to])
		}
		u.f0[t], u.f1[t] = max(b0, gap0-u.areaAt[t]), max(b1, gap1-u.areaAt[t])
	}
	r.steps += int64(n * (len(u.any) + 2))
}

// gap finds where the gap from start t on leads that is worth f(t); -1: none.
func (u *acrossFill) gapFrom(r *pricer, t int, f []int64) int {
	for to := len(r.ys); to > t; to-- {
		if r.gapEndAcross(to)-r.ys[t] >= r.across.Keep && f[to] > price.Never/2 &&
			f[to]+u.areaBefore[to]-u.areaAt[t] == f[t] {
			return to
		}
	}
	return -1
}

// endBefore is where a gap across ends before a start; the last is the stock's edge.
func (r *pricer) gapEndAcross(t int) int64 {
	if t == len(r.ys) {
		return r.across.Width
	}
	return r.ys[t] - r.p.Rip
}

// ripRun is the recursion over strips. Their values are those of any and exact alike.
type stripSearch struct {
	acrossFill
	priced [][]bool // by width and start: whether the value there is not only a bound
	best   int64    // what route gives
	route  []stripAt
}

// stripAt is the strip of width k at start n.
type stripAt struct{ k, n int }

func (r *pricer) searchStrips(rounds int, beat int64) {
	u := &r.strips
	r.resetStrips()
	for n := 1; ; n++ {
		u.solve(r)
		if u.f1[0] < 0 || u.f1[0] <= max(beat, u.best) {
			return
		}
		// none: a strip of it has no place
		route, open, none := r.traceStrips(0, u.f1, nil), false, false
		value := u.f1[0]
		for _, at := range route {
			if !u.priced[at.k][at.n] {
				value -= u.any[at.k][at.n]
				r.priceStrip(at)
				value += max(u.any[at.k][at.n], 0)
				none = none || u.any[at.k][at.n] < 0
				open = true
			}
		}
		if open && n > ownRounds {
			r.priceNeighbours(route)
		}
		if value > u.best && !none {
			u.best = value
			u.route = append(u.route[:0], route...)
		}
		if !open {
			return
		}
		if rounds > 0 && n >= rounds {
			break
		}
	}
	for k := range u.any { // the best of what is priced
		for t := range u.any[k] {
			if !u.priced[k][t] {
				u.any[k][t], u.full[k][t] = price.Never, price.Never
			}
		}
	}
	u.solve(r)
	if u.f1[0] > u.best {
		u.best = u.f1[0]
		u.route = r.traceStrips(0, u.f1, u.route[:0])
	}
}

func (r *pricer) priceStrip(at stripAt) {
	v := max(r.fill(at.k, at.n).best, price.Never/4)
	r.strips.any[at.k][at.n], r.strips.full[at.k][at.n], r.strips.priced[at.k][at.n] = v, v, true
}

// patience is the number of rounds that price nothing but what they chose.
const ownRounds = 8

// priceBeside prices strips at starts ever farther from those of a route, for as much work as a
// round of the recursion takes: where starts are many, the next rounds would choose their
// neighbours one by one.
func (r *pricer) priceNeighbours(route []stripAt) {
	n := len(r.ys)
	most := r.steps + int64(n*(len(r.clear.widths)+2))
	for d := 1; d < n; d++ {
		for _, at := range route {
			for _, to := range [2]int{at.n - d, at.n + d} {
				if to < 0 || to >= n || r.strips.priced[at.k][to] {
					continue
				}
				if r.steps >= most {
					return
				}
				r.priceStrip(stripAt{at.k, to})
			}
		}
	}
}

// clearRow is the best of a row of pieces of h, and one gap, in so much length; and its T/step.
func (r *pricer) bestClearRow(h []int64, slope, room int64) (best int64, end int) {
	best = price.Never
	if room+r.p.Kerf < 0 {
		return best, 0
	}
	for at, v := range h[:min(int64(len(h)), (room+r.p.Kerf)/r.clear.grid+1)] {
		if v >= 0 {
			if v += slope * max(0, room-int64(at)*r.clear.grid-r.stock.Keep); v > best {
				best, end = v, at
			}
		}
	}
	return best, end
}

func (r *pricer) resetStrips() {
	u := &r.strips
	u.allocate(len(r.clear.widths), len(r.ys))
	u.measure(r, r.bandsOver(0, r.extent, nil))
	if u.priced == nil {
		for range r.clear.widths {
			u.priced = append(u.priced, make([]bool, len(r.ys)))
		}
	}
	for k, w := range r.clear.widths {
		v, _ := r.bestClearRow(r.clear.strip1[k], r.clear.slope(w), r.extent)
		for m, y := range r.ys {
			at := v
			u.priced[k][m] = !r.spotted[k][m]
			if y < r.across.Inset || y+w > r.across.Width-r.across.Inset {
				at, u.priced[k][m] = price.Never, true
			}
			u.any[k][m], u.full[k][m] = at, at
		}
	}
}

// stripsFrom follows the recursion from start t. Where values have fallen since it ran, it takes
// the best that there is.
func (r *pricer) traceStrips(t int, f []int64, route []stripAt) []stripAt {
	u := &r.strips
	for t < len(r.ys) {
		best, strip := f[t+1], -1
		for k := range u.any {
			if v := u.any[k][t] + u.f0[r.nextAcross[k][t]]; v > best {
				best, strip = v, k
			}
		}
		if f[t] > best {
			if to := u.gapFrom(r, t, f); to >= 0 {
				t = to
				continue
			}
		}
		if strip < 0 || best < 0 {
			t++
			continue
		}
		route = append(route, stripAt{strip, t})
		t, f = r.nextAcross[strip][t], u.f0
	}
	return route
}

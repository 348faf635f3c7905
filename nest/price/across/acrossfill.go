package across

import "rackwright/nest/price"

// acrossFill fills the width of a stock from its left edge: with strips (rip first), or with the
// pieces of one ripped length.
//
// A row counts only if one thing in it has full size: a strip always has, a piece has if it is as
// long as its length. So there are two tables, by the start y:
//
//	f0[y]  the most from y on, where the row has its full-size thing already
//	f1[y]  the most from y on, where it is still to come; minus infinity at the right edge
//
//	f(y) = max of
//	   f(next y)                            nothing starts at y
//	   value[k][y] + f(y + width k + kerf)  a thing of width k; one of full size leads from f1 to f0
//	   u of [y, z) + f(z + kerf)            a gap, where z - y >= Across.Keep
//	   u of [y, W)                          the last gap, in f0 only
type acrossFill struct {
	any, full [][]int64 // by k and n: value of the best thing, and of the best of full size; Never
	f0, f1    []int64   // by n; the last: the right edge
	areas     areaSums
	at        []int64 // by n: u of [0, y)
	before    []int64 // by n: u of [0, y - kerf); the last: of the whole width, no kerf at the edge
}

// allocate makes the tables at first use.
func (u *acrossFill) allocate(widths, starts int) {
	if u.f0 != nil {
		return
	}
	u.f0, u.f1 = make([]int64, starts+1), make([]int64, starts+1)
	u.at, u.before = make([]int64, starts+1), make([]int64, starts+1)
	for range widths {
		u.any = append(u.any, make([]int64, starts))
		u.full = append(u.full, make([]int64, starts))
	}
}

// setGaps sets what gaps are worth, by the bands of the length that is filled.
func (u *acrossFill) setGaps(r *pricer, bands []clearBand) {
	u.areas.set(r.clear, bands)
	for n, y := range r.ys {
		u.at[n], u.before[n] = u.areas.upTo(y), u.areas.upTo(max(0, y-r.p.Rip))
	}
	last := len(r.ys)
	u.at[last] = u.areas.upTo(r.across.Width)
	u.before[last] = u.at[last]
}

// solve computes f0 and f1.
//
// The worth of a gap is before[to] - at[n], so that the best gap needs no loop: gap0 and gap1 are
// the greatest f0[to] + before[to] and f1[to] + before[to] of all starts to that a gap wide enough
// may lead to.
func (u *acrossFill) solve(r *pricer) {
	last := len(r.ys)
	u.f0[last], u.f1[last] = 0, price.Never
	gap0, gap1, to := int64(price.Never), int64(price.Never), last+1
	for n := last - 1; n >= 0; n-- {
		best0, best1 := u.f0[n+1], u.f1[n+1]
		for k := range u.any {
			if v := u.any[k][n]; v >= 0 {
				next := r.nextAcross[k][n]
				best0 = max(best0, v+u.f0[next])
				best1 = max(best1, v+u.f1[next], u.full[k][n]+u.f0[next])
			}
		}
		for to > n+1 && r.gapEndAcross(to-1)-r.ys[n] >= r.across.Keep {
			to--
			gap0, gap1 = max(gap0, u.f0[to]+u.before[to]), max(gap1, u.f1[to]+u.before[to])
		}
		u.f0[n], u.f1[n] = max(best0, gap0-u.at[n]), max(best1, gap1-u.at[n])
	}
	r.steps += int64(last * (len(u.any) + 2))
}

// table is f0 for a row that has its full-size thing, f1 for one that has not.
func (u *acrossFill) table(full bool) []int64 {
	if full {
		return u.f0
	}
	return u.f1
}

// traceGap finds the start to which a gap from start n on leads that gives f[n]; -1: there is none.
func (u *acrossFill) traceGap(r *pricer, n int, f []int64) int {
	for to := len(r.ys); to > n; to-- {
		if r.gapEndAcross(to)-r.ys[n] >= r.across.Keep && f[to] > price.Never/2 &&
			f[to]+u.before[to]-u.at[n] == f[n] {
			return to
		}
	}
	return -1
}

// gapEndAcross is where a gap before start n ends: a kerf before it; the right edge for the last.
func (r *pricer) gapEndAcross(n int) int64 {
	if n == len(r.ys) {
		return r.across.Width
	}
	return r.ys[n] - r.p.Rip
}

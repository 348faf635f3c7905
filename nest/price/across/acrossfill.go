package across

import "rackwright/nest/price"

// acrossFill fills the width of a stock from its left edge: with strips (rip first), or with the
// pieces of one ripped length.
//
// A row counts only if one thing in it has full size: a strip always has, a piece has if it is as
// long as its length. So there are two tables, by the start y:
//
//	f0[y]  the most from y on, where the row has its full-size thing already
//	f1[y]  the most from y on, where that is still to come; minus infinity at the right edge
//
//	f(y) = max of
//	   f(next y)                            nothing starts at y
//	   value[k][y] + f(y + width k + kerf)  a thing of width k; full size leads from f1 to f0
//	   u of [y, z) + f(z + kerf)            a gap, where z - y >= kw
//	   u of [y, W)                          the last gap, in f0 only, where W - y >= kw
//
// For the code y is start n.
type acrossFill struct {
	any, full   [][]int64 // by k and n: the best thing, the best of full size; price.Never: none
	f0, f1      []int64   // by n; last, the right edge
	areas       areaSums
	worthTo     []int64 // by n: u of [0, y); last, of the whole width
	worthBefore []int64 // by n: u of [0, y - kerf); last, of the whole width
}

// allocate makes the tables at first use.
func (f *acrossFill) allocate(widths, starts int) {
	if f.f0 != nil {
		return
	}
	f.f0, f.f1 = make([]int64, starts+1), make([]int64, starts+1)
	f.worthTo, f.worthBefore = make([]int64, starts+1), make([]int64, starts+1)
	for range widths {
		f.any = append(f.any, make([]int64, starts))
		f.full = append(f.full, make([]int64, starts))
	}
}

// setGaps sets what gaps are worth, by the bands of what is filled. Beside a thing no gap is as
// wide as the stock.
func (f *acrossFill) setGaps(r *pricer, bands []clearBand) {
	f.areas.setBands(r.clear.step, r.clear.strip, bands)
	for n, y := range r.ys {
		f.worthTo[n], f.worthBefore[n] = f.areas.upTo(y), f.areas.upTo(max(0, y-r.p.Rip))
	}
	last := len(r.ys)
	f.worthTo[last] = f.areas.upTo(r.across.Width)
	f.worthBefore[last] = f.worthTo[last]
}

// solve computes f0 and f1.
//
// A gap from start n to start next is worth worthBefore[next] - worthTo[n]. So the best gap needs
// no loop of its own. A gap wide enough leads to all starts from far on. gap0 is the greatest
// f0[next] + worthBefore[next] of these, gap1 the same of f1.
func (f *acrossFill) solve(r *pricer) {
	last := len(r.ys)
	f.f0[last], f.f1[last] = 0, price.Never
	gap0, gap1, far := int64(price.Never), int64(price.Never), last+1
	for n := last - 1; n >= 0; n-- {
		best0, best1 := f.f0[n+1], f.f1[n+1]
		for k := range f.any {
			if v := f.any[k][n]; v >= 0 {
				next := r.nextAcross[k][n]
				best0 = max(best0, v+f.f0[next])
				best1 = max(best1, v+f.f1[next], f.full[k][n]+f.f0[next])
			}
		}
		for far > n+1 && r.gapEndAcross(far-1)-r.ys[n] >= r.across.Keep {
			far--
			gap0 = max(gap0, f.f0[far]+f.worthBefore[far])
			gap1 = max(gap1, f.f1[far]+f.worthBefore[far])
		}
		f.f0[n], f.f1[n] = max(best0, gap0-f.worthTo[n]), max(best1, gap1-f.worthTo[n])
	}
	r.work += int64(last * (len(f.any) + 2))
}

// table is f0 for a row that has its full-size thing, f1 for one that has not.
func (f *acrossFill) table(full bool) []int64 {
	if full {
		return f.f0
	}
	return f.f1
}

// traceGap gives the last start to which a gap from start n on leads that gives table[n]; -1: there
// is none.
func (f *acrossFill) traceGap(r *pricer, n int, table []int64) int {
	for to := len(r.ys); to > n; to-- {
		if r.gapEndAcross(to)-r.ys[n] >= r.across.Keep && table[to] > price.Never/2 &&
			table[to]+f.worthBefore[to]-f.worthTo[n] == table[n] {
			return to
		}
	}
	return -1
}

// gapEndAcross is where a gap before start n ends: a kerf before the start. A last gap ends at the
// right edge.
func (r *pricer) gapEndAcross(n int) int64 {
	if n == len(r.ys) {
		return r.across.Width
	}
	return r.ys[n] - r.p.Rip
}

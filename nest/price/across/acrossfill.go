package across

import (
	"rackwright/nest/price"
	"rackwright/nest/price/across/offcuts"
)

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
//	   f(next y)                  nothing starts at y
//	   p(y) - rip                 a thing at y, with the rip on its left; at the stock's edge none
//	   u of [y, z) + f(z + kerf)  a gap, where z - y >= kw
//	   u of [y, W)                the last gap, in f0 only, where W - y >= kw
//
//	p(y) = max over k of  value[k][y] - rip + t(y + width k + kerf)
//	                      a thing of width k with the rip on its right; at the stock's edge none;
//	                      full size leads from f1 to f0
//	t(y) = max of f(y), p(y)      just a kerf behind a thing: the next one shares the rip
//
// For the code y is start n. Where no start is just a kerf behind a thing, f of the next one
// follows.
type acrossFill struct {
	any, full [][]int64       // by k and n: the best thing, the best of full size; Never: none
	f0, f1    []int64         // by n; last, the right edge
	t0, t1    []int64         // likewise, of t
	rip       int64           // what each rip costs
	gaps      *offcuts.Across // none is as wide as the stock
}

// allocate makes the tables at first use.
func (f *acrossFill) allocate(r *pricer) {
	if f.f0 != nil {
		return
	}
	starts := len(r.ys)
	f.gaps = offcuts.NewAcross(r.p.Rip, r.across)
	f.f0, f.f1 = make([]int64, starts+1), make([]int64, starts+1)
	f.t0, f.t1 = make([]int64, starts+1), make([]int64, starts+1)
}

// begin begins at the right edge, and gives the gaps before what f0 and f1 have from a start on.
func (f *acrossFill) begin(r *pricer) (gaps [2]offcuts.Across) {
	last := len(r.ys)
	f.f0[last], f.f1[last] = 0, price.Never
	f.t0[last], f.t1[last] = 0, price.Never
	gaps[0], gaps[1] = *f.gaps, *f.gaps
	gaps[0].Begin(f.f0)
	gaps[1].Begin(f.f1)
	return gaps
}

// settle computes the tables at start n, of which p is known.
func (f *acrossFill) settle(r *pricer, n int, p0, p1 int64, gaps *[2]offcuts.Across) {
	left := f.ripLeft(r, n)
	best0, best1 := max(f.f0[n+1], p0-left), max(f.f1[n+1], p1-left)
	f.f0[n], f.f1[n] = max(best0, gaps[0].Best(n, best0)), max(best1, gaps[1].Best(n, best1))
	f.t0[n], f.t1[n] = max(f.f0[n], p0), max(f.f1[n], p1)
}

// solve computes f0 and f1.
func (f *acrossFill) solve(r *pricer) {
	last, gaps := len(r.ys), f.begin(r)
	for n := last - 1; n >= 0; n-- {
		p0, p1 := int64(price.Never), int64(price.Never)
		for k := range f.any {
			if v := f.any[k][n]; !price.None(v) {
				then0, then1, rip := f.after(r, k, n)
				p0 = max(p0, v+then0-rip)
				p1 = max(p1, v+then1-rip, f.full[k][n]+then0-rip)
			}
		}
		f.settle(r, n, p0, p1, &gaps)
	}
	r.work += int64(last * (len(f.any) + 2))
}

// after gives what may follow a thing of width k at start n in a row that has its full-size thing,
// and in one that has not; and what the rip on the right of the thing costs.
func (f *acrossFill) after(r *pricer, k, n int) (then0, then1, rip int64) {
	next := r.after(k, n)
	if f.rip == 0 {
		return f.f0[next], f.f1[next], 0
	}
	end := r.ys[n] + r.clear.widths[k]
	if end < r.across.Width {
		rip = f.rip
	}
	if r.touches(next, end) {
		return f.t0[next], f.t1[next], rip
	}
	return f.f0[next], f.f1[next], rip
}

// follows is after for a row that has its full-size thing, or has not, less the rip.
func (f *acrossFill) follows(r *pricer, k, n int, full bool) int64 {
	then0, then1, rip := f.after(r, k, n)
	if full {
		return then0 - rip
	}
	return then1 - rip
}

// ripLeft is what the rip on the left of a thing at start n costs where it shares none.
func (f *acrossFill) ripLeft(r *pricer, n int) int64 {
	if r.ys[n] == 0 {
		return 0
	}
	return f.rip
}

// touches says whether a start is just a kerf behind a thing that ends at a point.
func (r *pricer) touches(start int, end int64) bool {
	return start < len(r.ys) && r.ys[start] == end+r.p.Rip
}

// table is f0 for a row that has its full-size thing, f1 for one that has not.
func (f *acrossFill) table(full bool) []int64 {
	if full {
		return f.f0
	}
	return f.f1
}

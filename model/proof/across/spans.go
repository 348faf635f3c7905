package across

import (
	"cmp"
	"iter"
	"slices"
)

// Boards that are ripped first over a span of their own: no rip runs into a weak defect outside it.
//
//	[p, q)   the span: p is S or where a weak defect ends, q is U or where one begins
//	the most = what a board that is only [p, q) long gives, ripped first over all of it
//	         + u of [S, p - k) where p > S  +  u of [q + k, U) where q < U
//
// k is the crosscut kerf, and the ends are as wide as the board. The span from S to U is none of
// its own. All places of p and q are edges of defects, so they are on the grid.
//
// A span is not searched at all where even strips without a defect would give no more than is
// known: a clear strip over the last q - p of the board gives what A(U - (q - p)) is in the row
// along the whole of it (rowalong.go). That is a little too much where the strip is better left
// whole.

// ownSpan is a span, and what the two ends beside it are worth.
type ownSpan struct {
	gridSpan
	ends int64
}

// spans finds the spans of the board that are long enough to be ripped.
func (r *boardSearch) spans() []ownSpan {
	starts, ends := []int{0}, []int{r.n}
	for _, s := range r.spots {
		if !s.weak {
			continue
		}
		if s.to < r.n {
			starts = append(starts, s.to)
		}
		if s.from > 0 {
			ends = append(ends, s.from)
		}
	}
	for _, list := range []*[]int{&starts, &ends} {
		slices.Sort(*list)
		*list = slices.Compact(*list)
	}
	var out []ownSpan
	for _, p := range starts {
		for _, q := range ends {
			if q <= p || q-p == r.n || !r.canRip(q-p) {
				continue
			}
			out = append(out, ownSpan{gridSpan{p, q}, r.endWorth(0, p-r.kerf) +
				r.endWorth(q+r.kerf, r.n)})
		}
	}
	slices.SortStableFunc(out, func(a, b ownSpan) int {
		return cmp.Compare(b.to-b.from, a.to-a.from)
	})
	return out
}

// endWorth is u of [from, to) over the whole width.
func (r *boardSearch) endWorth(from, to int) int64 {
	if from >= to {
		return 0
	}
	return r.rectWorth(from, to, 0, r.m)
}

// eachSpan clips the board to each span of its own, and searches the layouts that are ripped first
// over it. The board was searched ripped first.
func (r *boardSearch) eachSpan() iter.Seq2[ownSpan, kindSearch] {
	return func(yield func(ownSpan, kindSearch) bool) {
		if len(r.ownSpans) == 0 || len(r.widths) == 0 {
			return
		}
		n, spots := r.n, slices.Clone(r.spots)
		defer r.clip(spots, gridSpan{0, n})
		r.stripGuesses.rough = true
		for k, s := range r.ownSpans {
			r.clip(spots, s.gridSpan)
			r.reachSpan()
			if !yield(s, r.ripRows(func(width int) int64 { return r.clearStrips[width][k] })) {
				return
			}
		}
	}
}

// ripSpans is the most of all layouts that are ripped first over a span of their own, or floor
// where they give no more.
func (r *boardSearch) ripSpans(floor int64) int64 {
	for s, search := range r.eachSpan() {
		for {
			v := search.find()
			if v <= impossible || v+s.ends <= floor {
				break
			}
			if !search.learn() {
				floor = v + s.ends
				break
			}
		}
	}
	return floor
}

// clip makes a span all there is of the board.
func (r *boardSearch) clip(spots []gridPatch, to gridSpan) {
	r.n, r.spots = to.to-to.from, r.spots[:0]
	for _, s := range spots {
		s.from, s.to = max(s.from, to.from)-to.from, min(s.to, to.to)-to.from
		if s.from < s.to {
			r.spots = append(r.spots, s)
		}
	}
	slices.SortStableFunc(r.spots, func(a, b gridPatch) int { return cmp.Compare(a.from, b.from) })
	r.cutLines()
}

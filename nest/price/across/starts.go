package across

import (
	"math/bits"
	"slices"

	"rackwright/nest/price"
)

// Where lengths, strips and pieces may start. Why no other starts are needed, doc.go proves: each
// block of touching things leans on an anchor.

// anchors are the points of one axis where things start or end that lean on something.
type anchors struct {
	from, to, grid int64 // the points are from, from + grid, ... up to to
	kerf           int64
	starts, ends   []uint64 // a bit for each point: things may start there, or end there
}

// newAnchors makes an axis without anchors.
func newAnchors(from, to, grid, kerf int64) *anchors {
	grid = max(1, grid)
	words := (to-from)/grid/64 + 1
	return &anchors{from: from, to: to, grid: grid, kerf: kerf,
		starts: make([]uint64, words), ends: make([]uint64, words)}
}

// mark sets the bit of x, if x is in [from, to].
func (a *anchors) mark(set []uint64, x int64) {
	if i := (x - a.from) / a.grid; x >= a.from && x <= a.to {
		set[i/64] |= 1 << (i % 64)
	}
}

// addStart lets things start at x, and things before these end a kerf before x.
func (a *anchors) addStart(x int64) {
	a.mark(a.starts, x)
	a.mark(a.ends, x-a.kerf)
}

// addEnd lets things end at x, and things after these start a kerf after x.
func (a *anchors) addEnd(x int64) {
	a.mark(a.ends, x)
	a.mark(a.starts, x+a.kerf)
}

// mostStarts is how many starts an axis may have.
const mostStarts = 1 << 17

// closure gives all starts before to, ascending; false where they are too many. They are of two
// sorts:
//
//   - starts of anchors, plus a sum of parts;
//   - ends of anchors, minus a sum of parts, minus the size of the thing that ends there.
//
// A part is a size + kerf, or one of gaps.
func (a *anchors) closure(sizes, gaps []int64) (out []int64, ok bool) {
	parts := slices.Clone(gaps)
	for _, size := range sizes {
		parts = append(parts, size+a.kerf)
	}
	count := 0
	for w := range a.starts {
		for done := uint64(0); a.starts[w]&^done != 0; {
			if count++; count > mostStarts {
				return nil, false
			}
			bit := bits.TrailingZeros64(a.starts[w] &^ done)
			done |= 1 << bit
			x := a.from + a.grid*int64(64*w+bit)
			for _, part := range parts {
				a.mark(a.starts, x+part)
			}
		}
	}
	count = 0
	for w := len(a.ends) - 1; w >= 0; w-- {
		for done := uint64(0); a.ends[w]&^done != 0; {
			if count++; count > mostStarts {
				return nil, false
			}
			bit := 63 - bits.LeadingZeros64(a.ends[w]&^done)
			done |= 1 << bit
			x := a.from + a.grid*int64(64*w+bit)
			for _, part := range parts {
				a.mark(a.ends, x-part)
			}
			for _, size := range sizes {
				a.mark(a.starts, x-size)
			}
		}
	}
	for w, word := range a.starts {
		for ; word != 0; word &= word - 1 {
			if x := a.from + a.grid*int64(64*w+bits.TrailingZeros64(word)); x < a.to {
				out = append(out, x)
			}
		}
	}
	return out, true
}

// startsAcross gives the starts across, ascending; false where they are too many. The first is 0,
// where a gap at the left edge starts.
func (r *pricer) startsAcross() ([]int64, bool) {
	p, c := r.p, r.across
	a := newAnchors(0, c.Width, r.clear.step, p.Rip)
	a.addStart(c.Inset)
	a.addStart(c.Keep + p.Rip)
	a.addEnd(c.Width - c.Inset)
	a.addEnd(c.Width - c.Keep - p.Rip)
	for _, o := range r.spots {
		a.addSpot(o.Left, o.Right, r.clear.widths, c.Trim)
		if o.Weak {
			a.addWeak(o.Left, o.Right, c.Width, r.clear.widths, c.Trim)
		}
	}
	out, ok := a.closure(r.clear.widths, []int64{c.Keep + p.Rip})
	if len(out) == 0 || out[0] > 0 {
		out = slices.Insert(out, 0, 0)
	}
	return out, ok
}

// startsAlong gives the starts along, ascending; false where they are too many. The first is 0.
func (r *pricer) startsAlong() ([]int64, bool) {
	a := newAnchors(0, r.extent, r.gridAlong(), r.p.Kerf)
	a.mark(a.starts, 0)
	a.mark(a.ends, r.extent)
	for _, o := range r.spots {
		a.addSpot(o.From, o.To, r.clear.lens, r.across.Trim)
	}
	return a.closure(r.clear.lens, nil)
}

// gridAlong is the greatest measure of which everything along the stock is a multiple.
func (r *pricer) gridAlong() int64 {
	grid := price.GCD(r.p.Kerf, r.extent)
	for _, size := range r.clear.lens {
		grid = price.GCD(grid, size)
	}
	for _, o := range r.spots {
		grid = price.GCD(price.GCD(grid, o.From), o.To)
	}
	return max(1, grid)
}

// addSpot adds the anchors of a spot [near, far). Things lean on its edges. With trim, a piece of
// any of the sizes may be shorter (narrower) than its length (strip). That then leans on the spot
// by the piece, or by the remainder a kerf from the piece.
func (a *anchors) addSpot(near, far int64, sizes []int64, trim bool) {
	a.addStart(far)
	a.addEnd(near)
	if !trim {
		return
	}
	for _, size := range sizes {
		a.addStart(near - size)
		a.addStart(far - a.kerf - size)
		a.addEnd(far + size)
		a.addEnd(near + a.kerf + size)
	}
}

// addWeak adds the anchors of a weak spot [near, far) across. A rip on either side of a thing leans
// on it, or the one that trims a narrower piece in a strip. None goes beyond the edge of the stock.
func (a *anchors) addWeak(near, far, edge int64, sizes []int64, trim bool) {
	if !trim {
		sizes = nil
	}
	if far < edge {
		a.addStart(far + a.kerf)
		for _, size := range sizes {
			a.addStart(far - size)
			a.addEnd(far + a.kerf + size)
		}
	}
	if near > 0 {
		a.addEnd(near - a.kerf)
		for _, size := range sizes {
			a.addStart(near - a.kerf - size)
			a.addEnd(near + size)
		}
	}
}

// successors gives by start the index of the first start that is so far or farther behind it.
func successors(starts []int64, far int64) []int {
	out := make([]int, len(starts))
	next := 0
	for n, x := range starts {
		for next < len(starts) && starts[next] < x+far {
			next++
		}
		out[n] = next
	}
	return out
}

// firstFrom is the index of the first of ascending values that is at least x.
func firstFrom(values []int64, x int64) int {
	n, _ := slices.BinarySearch(values, x)
	return n
}

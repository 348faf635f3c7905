// Package starts says where on an axis of a stock lengths, strips and pieces may start. Why no
// other starts are needed, packages along and across prove: each block of touching things leans on
// an anchor.
package starts

import (
	"math/bits"
)

// Anchors are the points of one axis where things start or end that lean on something.
type Anchors struct {
	from, to, grid int64 // the points are from, from + grid, ... up to to
	kerf           int64
	starts, ends   []uint64 // a bit for each point: things may start there, or end there

	// MayLie says whether a thing of a size, by index, may start at a point; nil: anywhere.
	MayLie func(size int, x int64) bool
	Most   int // starts of one sort that there may be; 0: any number
}

// New makes an axis without anchors.
func New(from, to, grid, kerf int64) *Anchors {
	grid = max(1, grid)
	words := (to-from)/grid/64 + 1
	return &Anchors{from: from, to: to, grid: grid, kerf: kerf,
		starts: make([]uint64, words), ends: make([]uint64, words)}
}

// mark sets the bit of x, if x is in [from, to].
func (a *Anchors) mark(set []uint64, x int64) {
	if i := (x - a.from) / a.grid; x >= a.from && x <= a.to {
		set[i/64] |= 1 << (i % 64)
	}
}

// AddEdges lets things start at the near end, and end at the far one.
func (a *Anchors) AddEdges() {
	a.mark(a.starts, a.from)
	a.mark(a.ends, a.to)
}

// AddStart lets things start at x, and things before these end a kerf before x.
func (a *Anchors) AddStart(x int64) {
	a.mark(a.starts, x)
	a.mark(a.ends, x-a.kerf)
}

// AddEnd lets things end at x, and things after these start a kerf after x.
func (a *Anchors) AddEnd(x int64) {
	a.mark(a.ends, x)
	a.mark(a.starts, x+a.kerf)
}

// Closure gives all starts before to, ascending; false where they are too many. They are of two
// sorts:
//
//   - starts of anchors, plus a sum of parts;
//   - ends of anchors, minus a sum of parts, minus the size of the thing that ends there.
//
// A part is one of gaps, or a size + kerf where a thing so large may lie.
func (a *Anchors) Closure(sizes, gaps []int64) (out []int64, ok bool) {
	mayLie := func(n int, x int64) bool { return a.MayLie == nil || a.MayLie(n, x) }
	count := 0
	for w := range a.starts {
		for done := uint64(0); a.starts[w]&^done != 0; {
			if count++; a.Most > 0 && count > a.Most {
				return nil, false
			}
			bit := bits.TrailingZeros64(a.starts[w] &^ done)
			done |= 1 << bit
			x := a.from + a.grid*int64(64*w+bit)
			for n, size := range sizes {
				if mayLie(n, x) {
					a.mark(a.starts, x+size+a.kerf)
				}
			}
			for _, gap := range gaps {
				a.mark(a.starts, x+gap)
			}
		}
	}
	count = 0
	for w := len(a.ends) - 1; w >= 0; w-- {
		for done := uint64(0); a.ends[w]&^done != 0; {
			if count++; a.Most > 0 && count > a.Most {
				return nil, false
			}
			bit := 63 - bits.LeadingZeros64(a.ends[w]&^done)
			done |= 1 << bit
			x := a.from + a.grid*int64(64*w+bit)
			for n, size := range sizes {
				if mayLie(n, x-size) {
					a.mark(a.starts, x-size)
					a.mark(a.ends, x-size-a.kerf)
				}
			}
			for _, gap := range gaps {
				a.mark(a.ends, x-gap)
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

// AddSpot adds the anchors of a spot [near, far). Things lean on its edges. With trim, a piece of
// any of the sizes may be shorter (narrower) than its length (strip). That then leans on the spot
// by the piece, or by the remainder a kerf from the piece.
func (a *Anchors) AddSpot(near, far int64, sizes []int64, trim bool) {
	a.AddStart(far)
	a.AddEnd(near)
	if !trim {
		return
	}
	for _, size := range sizes {
		a.AddStart(near - size)
		a.AddStart(far - a.kerf - size)
		a.AddEnd(far + size)
		a.AddEnd(near + a.kerf + size)
	}
}

// AddWeak adds the anchors of a weak spot [near, far) across. A rip on either side of a thing leans
// on it, or the one that trims a narrower piece in a strip. None goes beyond the edge of the stock.
func (a *Anchors) AddWeak(near, far, edge int64, sizes []int64, trim bool) {
	if !trim {
		sizes = nil
	}
	if far < edge {
		a.AddStart(far + a.kerf)
		for _, size := range sizes {
			a.AddStart(far - size)
			a.AddEnd(far + a.kerf + size)
		}
	}
	if near > 0 {
		a.AddEnd(near - a.kerf)
		for _, size := range sizes {
			a.AddStart(near - a.kerf - size)
			a.AddEnd(near + size)
		}
	}
}

// Successors gives by start the index of the first start that is so far or farther behind it.
func Successors[N int | int32](starts []int64, far int64) []N {
	out := make([]N, len(starts))
	next := 0
	for n, x := range starts {
		for next < len(starts) && starts[next] < x+far {
			next++
		}
		out[n] = N(next)
	}
	return out
}

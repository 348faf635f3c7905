package across

import (
	"cmp"
	"math/bits"
	"slices"

	"rackwright/nest/price"
)

// leaning finds starts from anchors: see sheet.go. Positions are multiples of grid in [from, to].
type anchors struct {
	from, to, grid int64
	kerf           int64
	starts, ends   []uint64
}

func newAnchors(from, to, grid, kerf int64) *anchors {
	n := (to-from)/max(1, grid)/64 + 1
	return &anchors{from: from, to: to, grid: max(1, grid), kerf: kerf, starts: make([]uint64, n),
		ends: make([]uint64, n)}
}

func (l *anchors) mark(of []uint64, x int64) {
	if i := (x - l.from) / l.grid; x >= l.from && x <= l.to {
		of[i/64] |= 1 << (i % 64)
	}
}

// start and end add an anchor; what leans on it from the other side is a kerf away, so that
// start(x) is end(x - kerf).
func (l *anchors) addStart(x int64) {
	l.mark(l.starts, x)
	l.mark(l.ends, x-l.kerf)
}

func (l *anchors) addEnd(x int64) {
	l.mark(l.ends, x)
	l.mark(l.starts, x+l.kerf)
}

// close gives all starts, ascending: forward sums, and those whose ends are backward sums; gaps are
// further steps without a piece.
func (l *anchors) closure(sizes, gaps []int64) (out []int64) {
	steps := slices.Clone(gaps)
	for _, s := range sizes {
		steps = append(steps, s+l.kerf)
	}
	for i := int64(0); i < int64(len(l.starts))*64; i++ {
		if l.starts[i/64]>>(i%64)&1 != 0 {
			for _, s := range steps {
				l.mark(l.starts, l.from+i*l.grid+s)
			}
		}
	}
	for i := int64(len(l.ends))*64 - 1; i >= 0; i-- {
		if l.ends[i/64]>>(i%64)&1 == 0 {
			continue
		}
		x := l.from + i*l.grid
		for _, s := range steps {
			l.mark(l.ends, x-s)
		}
		for _, s := range sizes {
			l.mark(l.starts, x-s)
		}
	}
	for w, word := range l.starts {
		for ; word != 0; word &= word - 1 {
			if x := l.from + l.grid*int64(64*w+bits.TrailingZeros64(word)); x < l.to {
				out = append(out, x)
			}
		}
	}
	return out
}

// startsAcross gives the starts across; the first is 0, for the gap before the first piece.
func (r *pricer) startsAcross() (out []int64) {
	p, a := r.p, r.across
	l := newAnchors(0, a.Width, r.clear.step, p.Rip)
	l.addStart(a.Inset)
	l.addStart(a.Keep + p.Rip)
	l.addEnd(a.Width - a.Inset)
	l.addEnd(a.Width - a.Keep - p.Rip)
	for _, s := range r.spots {
		l.addStart(s.Right)
		l.addEnd(s.Left)
		for _, w := range r.clear.widths {
			if a.Trim {
				l.addStart(s.Left - w)
				l.addStart(s.Right - p.Rip - w)
				l.addEnd(s.Right + w)
				l.addEnd(s.Left + p.Rip + w)
			}
		}
	}
	out = l.closure(r.clear.widths, []int64{a.Keep + p.Rip})
	if len(out) == 0 || out[0] > 0 {
		out = slices.Insert(out, 0, 0)
	}
	return out
}

// startsAlong gives the starts along; the first is 0.
func (r *pricer) startsAlong() []int64 {
	k := r.p.Kerf
	g := price.GCD(k, r.extent)
	for _, size := range r.clear.lens {
		g = price.GCD(g, size)
	}
	for _, s := range r.spots {
		g = price.GCD(price.GCD(g, s.From), s.To)
	}
	l := newAnchors(0, r.extent, g, k)
	l.mark(l.starts, 0)
	l.mark(l.ends, r.extent)
	for _, s := range r.spots {
		l.addStart(s.To)
		l.addEnd(s.From)
		for _, size := range r.clear.lens {
			if r.across.Trim {
				l.addStart(s.From - size)
				l.addStart(s.To - k - size)
				l.addEnd(s.To + size)
				l.addEnd(s.From + k + size)
			}
		}
	}
	return l.closure(r.clear.lens, nil)
}

// after is the first of the starts at or after x.
func firstFrom(starts []int64, x int64) int {
	n, _ := slices.BinarySearchFunc(starts, x, cmp.Compare[int64])
	return n
}

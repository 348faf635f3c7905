package across

import (
	"cmp"
	"math/bits"
	"slices"

	"rackwright/nest/price"
)

// leaning finds starts from anchors: see sheet.go. Positions are multiples of grid in [from, to].
type leaning struct {
	from, to, grid int64
	kerf           int64
	starts, ends   []uint64
}

func newLeaning(from, to, grid, kerf int64) *leaning {
	n := (to-from)/max(1, grid)/64 + 1
	return &leaning{from: from, to: to, grid: max(1, grid), kerf: kerf, starts: make([]uint64, n),
		ends: make([]uint64, n)}
}

func (l *leaning) set(of []uint64, x int64) {
	if i := (x - l.from) / l.grid; x >= l.from && x <= l.to {
		of[i/64] |= 1 << (i % 64)
	}
}

// start and end add an anchor; what leans on it from the other side is a kerf away, so that
// start(x) is end(x - kerf).
func (l *leaning) start(x int64) {
	l.set(l.starts, x)
	l.set(l.ends, x-l.kerf)
}

func (l *leaning) end(x int64) {
	l.set(l.ends, x)
	l.set(l.starts, x+l.kerf)
}

// close gives all starts, ascending: forward sums, and those whose ends are backward sums; gaps are
// further steps without a piece.
func (l *leaning) close(sizes, gaps []int64) (out []int64) {
	steps := slices.Clone(gaps)
	for _, s := range sizes {
		steps = append(steps, s+l.kerf)
	}
	for i := int64(0); i < int64(len(l.starts))*64; i++ {
		if l.starts[i/64]>>(i%64)&1 != 0 {
			for _, s := range steps {
				l.set(l.starts, l.from+i*l.grid+s)
			}
		}
	}
	for i := int64(len(l.ends))*64 - 1; i >= 0; i-- {
		if l.ends[i/64]>>(i%64)&1 == 0 {
			continue
		}
		x := l.from + i*l.grid
		for _, s := range steps {
			l.set(l.ends, x-s)
		}
		for _, s := range sizes {
			l.set(l.starts, x-s)
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
	p, a := r.p, r.a
	l := newLeaning(0, a.Width, r.t.step, p.Rip)
	l.start(a.Inset)
	l.start(a.Keep + p.Rip)
	l.end(a.Width - a.Inset)
	l.end(a.Width - a.Keep - p.Rip)
	for _, s := range r.spots {
		l.start(s.Right)
		l.end(s.Left)
		for _, w := range r.t.widths {
			if a.Trim {
				l.start(s.Left - w)
				l.start(s.Right - p.Rip - w)
				l.end(s.Right + w)
				l.end(s.Left + p.Rip + w)
			}
		}
	}
	out = l.close(r.t.widths, []int64{a.Keep + p.Rip})
	if len(out) == 0 || out[0] > 0 {
		out = slices.Insert(out, 0, 0)
	}
	return out
}

// startsAlong gives the starts along; the first is 0.
func (r *pricer) startsAlong() []int64 {
	k := r.p.Kerf
	g := price.GCD(k, r.span)
	for _, size := range r.t.lens {
		g = price.GCD(g, size)
	}
	for _, s := range r.spots {
		g = price.GCD(price.GCD(g, s.From), s.To)
	}
	l := newLeaning(0, r.span, g, k)
	l.set(l.starts, 0)
	l.set(l.ends, r.span)
	for _, s := range r.spots {
		l.start(s.To)
		l.end(s.From)
		for _, size := range r.t.lens {
			if r.a.Trim {
				l.start(s.From - size)
				l.start(s.To - k - size)
				l.end(s.To + size)
				l.end(s.From + k + size)
			}
		}
	}
	return l.close(r.t.lens, nil)
}

// after is the first of the starts at or after x.
func after(starts []int64, x int64) int {
	n, _ := slices.BinarySearchFunc(starts, x, cmp.Compare[int64])
	return n
}

package along

import (
	"cmp"
	"math/bits"
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// Where a piece may start on a linked stock. A block is a row of pieces just a kerf apart. A layout
// can be shifted until every block leans on something: on an end of the stock, or with a piece or
// its kerf on an edge of a spot. Between these points its worth is convex in the shift, so that no
// worth is lost in one of the two directions. So two sets of starts are enough, and both are made
// of sums of (size + kerf):
//
//	forward    from the stock's start, each spot's end, and each spot's start + kerf:
//	           the sums are starts
//	backward   from the stock's end, each spot's start, and each spot's end - kerf:
//	           the differences are ends of pieces

// gridOf is the greatest step that divides the kerf, every size, the stock's length, and every
// spot's distance from the stock's start.
func gridOf(p *cutting.Problem, s *cutting.Stock) int64 {
	g := price.GCD(p.Kerf, s.To-s.From)
	for _, i := range s.Holds {
		g = price.GCD(g, p.Items[i].Size)
	}
	for _, spot := range s.Spots {
		g = price.GCD(price.GCD(g, spot.From-s.From), spot.To-s.From)
	}
	return g
}

// startsOf gives the starts that an exact pricing needs, ascending; the first is From.
func startsOf(p *cutting.Problem, s *cutting.Stock) []int64 {
	g := gridOf(p, s)
	f := startFinder{p: p, s: s, grid: g, n: (s.To - s.From) / max(1, g), clear: clearOf(p, s)}
	set := f.forward()
	for w, bits := range f.backward() {
		set[w] |= bits
	}
	var starts []int64
	for w, word := range set {
		for ; word != 0; word &= word - 1 {
			starts = append(starts, s.From+g*int64(64*w+bits.TrailingZeros64(word)))
		}
	}
	return starts
}

// startFinder finds the starts of one stock, as sets of bits: one for each step of the grid.
type startFinder struct {
	p     *cutting.Problem
	s     *cutting.Stock
	grid  int64 // length of a step
	n     int64 // steps of the stock
	clear clearFor
}

// mark puts a point into a set of starts where it lies inside the stock.
func (f *startFinder) mark(set []uint64, x int64) {
	if i := (x - f.s.From) / f.grid; x >= f.s.From && i < f.n {
		set[i/64] |= 1 << (i % 64)
	}
}

// forward goes over the starts from the near end on; behind a piece that may start there, its kerf
// paid, is the next one.
func (f *startFinder) forward() []uint64 {
	set := make([]uint64, f.n/64+1)
	f.mark(set, f.s.From)
	for _, spot := range f.s.Spots {
		f.mark(set, spot.To)
		f.mark(set, spot.From+f.p.Kerf)
	}
	for i := int64(0); i < f.n; i++ {
		if set[i/64]>>(i%64) == 0 {
			i |= 63
			continue
		}
		if set[i/64]>>(i%64)&1 == 0 {
			continue
		}
		x := f.s.From + i*f.grid
		for _, item := range f.s.Holds {
			if size := f.p.Items[item].Size; x+size <= f.clear.reach(f.p.Items[item].Class, x) {
				f.mark(set, x+size+f.p.Kerf)
			}
		}
	}
	return set
}

// backward goes over the ends of pieces from the far end on. A piece that may end there gives a
// start, and a kerf before it the next end.
func (f *startFinder) backward() []uint64 {
	starts, ends := make([]uint64, f.n/64+1), make([]uint64, f.n/64+2)
	end := func(x int64) {
		if i := (x - f.s.From) / f.grid; x > f.s.From && i <= f.n {
			ends[i/64] |= 1 << (i % 64)
		}
	}
	end(f.s.To)
	for _, spot := range f.s.Spots {
		end(spot.From)
		end(spot.To - f.p.Kerf)
	}
	for i := f.n; i > 0; i-- {
		if ends[i/64]<<(63-i%64) == 0 {
			i &^= 63
			continue
		}
		if ends[i/64]>>(i%64)&1 == 0 {
			continue
		}
		x := f.s.From + i*f.grid
		for _, item := range f.s.Holds {
			at := x - f.p.Items[item].Size
			if at >= f.s.From && x <= f.clear.reach(f.p.Items[item].Class, at) {
				f.mark(starts, at)
				end(at - f.p.Kerf)
			}
		}
	}
	return starts
}

// clearFor holds for each class the spans of a stock that no spot bars to it, ascending.
type clearFor [cutting.Classes][]cutting.Span

func clearOf(p *cutting.Problem, s *cutting.Stock) (c clearFor) {
	for q := range c {
		c[q] = slices.Collect(
			cutting.ClearRuns(s.Spots, s.From, s.To, func(o *cutting.Spot) bool {
				return !o.Tolerated[q]
			}))
	}
	return c
}

// reach gives how far a piece of a class may reach that starts at x: x itself where it may not
// start there.
func (c *clearFor) reach(class int, x int64) int64 {
	spans := c[class]
	n, _ := slices.BinarySearchFunc(spans, x+1, func(span cutting.Span, x int64) int {
		return cmp.Compare(span.To, x)
	})
	if n < len(spans) && spans[n].From <= x {
		return spans[n].To
	}
	return x
}

// buckets part the way from the first start to the last into equal lengths, hardly more than there
// are starts, and say of each which start is the first in it or behind it.
type buckets struct {
	shift uint // a bucket is 2^shift long
	first []int32
}

func newBuckets(starts []int64) buckets {
	if len(starts) == 0 {
		return buckets{}
	}
	from, long := starts[0], starts[len(starts)-1]-starts[0]
	b := buckets{shift: uint(bits.Len64(uint64(long / int64(len(starts))))), first: []int32{0}}
	for t, x := range starts {
		for n := (x - from) >> b.shift; int64(len(b.first)) <= n; {
			b.first = append(b.first, int32(t))
		}
	}
	b.first = append(b.first, int32(len(starts)))
	return b
}

// find gives the first start at or after x.
func (b *buckets) find(starts []int64, x int64) int {
	if len(starts) == 0 || x <= starts[0] {
		return 0
	}
	n := (x - starts[0]) >> b.shift
	if n >= int64(len(b.first)-1) {
		return len(starts)
	}
	lo, hi := int(b.first[n]), int(b.first[n+1])
	for hi-lo > 8 {
		if mid := (lo + hi) / 2; starts[mid] < x {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	for lo < hi && starts[lo] < x {
		lo++
	}
	return lo
}

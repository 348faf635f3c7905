package along

import (
	"cmp"
	"math/bits"
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
	"rackwright/nest/price/starts"
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

// startsOf gives the starts that an exact pricing needs, ascending; the first is From. Pieces lie
// in the spans that are clear for their class.
func startsOf(p *cutting.Problem, s *cutting.Stock, clear clearFor) []int64 {
	var sizes []int64
	for _, i := range s.Holds {
		sizes = append(sizes, p.Items[i].Size)
	}
	a := starts.New(s.From, s.To, gridOf(p, s), p.Kerf)
	a.AddEdges()
	for _, spot := range s.Spots {
		a.AddSpot(spot.From, spot.To, sizes, false)
	}
	a.MayLie = func(n int, x int64) bool {
		return x+sizes[n] <= clear.reach(p.Items[s.Holds[n]].Class, x)
	}
	out, _ := a.Closure(sizes, nil)
	return out
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

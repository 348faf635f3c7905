package along

import (
	"cmp"
	"math/bits"
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// Where may a piece start? Any layout can be shifted, without losing more worth than the bonus of
// price.go allows for, until every block of touching pieces leans on something: an end of the
// stock, or the edge of a spot, by a piece or by its kerf. Hence two sets of starts:
//
//   - all forward sums of (size + kerf) from the stock's start, from each spot's end, and from each spot's start + kerf;
//   - all starts whose end is a backward sum of (size + kerf) from the stock's end, from each spot's start, and
//     from each spot's end - kerf.
//
// The chains of list.go go on where a gap just reaches a run or just leaves one: for them each
// spot's end + kerf is a start as well, and each spot's start - kerf an end.

// tradable says whether a piece can trade clear wood on its one side for clear wood on its other:
// see price.go.
func tradable(p *cutting.Problem, s *cutting.Stock) bool {
	var classes [cutting.Classes]bool
	for _, i := range s.Holds {
		classes[p.Items[i].Class] = true
	}
	for _, spot := range s.Spots {
		if spot.To-spot.From < p.Kerf {
			return true
		}
		for q, has := range classes {
			if has && spot.Tolerated[q] {
				return true
			}
		}
	}
	return false
}

// gridOf is the greatest step of which every size, the kerf, the span and every spot's edge is a
// multiple, counted from the stock's start.
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

// everyStart gives all multiples of the grid in [From, To).
func everyStart(p *cutting.Problem, s *cutting.Stock) []int64 {
	g := gridOf(p, s)
	pos := make([]int64, 0, (s.To-s.From)/max(1, g))
	for x := s.From; x < s.To; x += g {
		pos = append(pos, x)
	}
	return pos
}

// startsOf gives the starts that an exact pricing needs, ascending; the first is From.
func startsOf(p *cutting.Problem, s *cutting.Stock) []int64 {
	g := gridOf(p, s)
	n := (s.To - s.From) / max(1, g)
	b := builder{p: p, s: s, g: g, n: n, limits: limitsOf(p, s)}
	starts := b.forward()
	for w, bits := range b.backward() {
		starts[w] |= bits
	}
	var pos []int64
	for w, word := range starts {
		for ; word != 0; word &= word - 1 {
			pos = append(pos, s.From+g*int64(64*w+bits.TrailingZeros64(word)))
		}
	}
	return pos
}

type builder struct {
	p      *cutting.Problem
	s      *cutting.Stock
	g, n   int64 // grid step, and how many steps the span has
	limits limits
}

// mark sets the bit of position x where it lies inside the span.
func (b *builder) mark(set []uint64, x int64) {
	if i := (x - b.s.From) / b.g; x >= b.s.From && i < b.n {
		set[i/64] |= 1 << (i % 64)
	}
}

func (b *builder) forward() []uint64 {
	set := make([]uint64, b.n/64+1)
	b.mark(set, b.s.From)
	for _, spot := range b.s.Spots {
		b.mark(set, spot.To)
		b.mark(set, spot.From+b.p.Kerf)
		b.mark(set, spot.To+b.p.Kerf)
	}
	for i := int64(0); i < b.n; i++ {
		if set[i/64]>>(i%64) == 0 {
			i |= 63
			continue
		}
		if set[i/64]>>(i%64)&1 == 0 {
			continue
		}
		x := b.s.From + i*b.g
		for _, item := range b.s.Holds {
			if size := b.p.Items[item].Size; x+size <= b.limits.of(b.p.Items[item].Class, x) {
				b.mark(set, x+size+b.p.Kerf)
			}
		}
	}
	return set
}

// backward walks over the places where a piece may end, from the far end on; the start of one is, a
// kerf before it, the end of the next.
func (b *builder) backward() []uint64 {
	starts, ends := make([]uint64, b.n/64+1), make([]uint64, b.n/64+2)
	end := func(x int64) {
		if i := (x - b.s.From) / b.g; x > b.s.From && i <= b.n {
			ends[i/64] |= 1 << (i % 64)
		}
	}
	end(b.s.To)
	for _, spot := range b.s.Spots {
		end(spot.From)
		end(spot.To - b.p.Kerf)
		end(spot.From - b.p.Kerf)
	}
	for i := b.n; i > 0; i-- {
		if ends[i/64]>>(i%64)&1 == 0 {
			continue
		}
		x := b.s.From + i*b.g
		for _, item := range b.s.Holds {
			at := x - b.p.Items[item].Size
			if at >= b.s.From && x <= b.limits.of(b.p.Items[item].Class, at) {
				b.mark(starts, at)
				end(at - b.p.Kerf)
			}
		}
	}
	return starts
}

// limits holds for each class the stretches that it may use, ascending.
type limits [cutting.Classes][]cutting.Span

func limitsOf(p *cutting.Problem, s *cutting.Stock) (l limits) {
	for q := range l {
		l[q] = slices.Collect(
			cutting.ClearRuns(s.Spots, s.From, s.To, func(o *cutting.Spot) bool {
				return !o.Tolerated[q]
			}))
	}
	return l
}

// of gives how far a piece of a class may reach that starts at x; x itself where it may not start.
func (l *limits) of(class int, x int64) int64 {
	runs := l[class]
	n, _ := slices.BinarySearchFunc(runs, x+1, func(run cutting.Span, x int64) int {
		return cmp.Compare(run.To, x)
	})
	if n < len(runs) && runs[n].From <= x {
		return runs[n].To
	}
	return x
}

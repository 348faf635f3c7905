package across

import (
	"slices"

	"rackwright/nest/cutting"
)

// stripShape is what a strip with spots looks like, whatever the duals: the strip of width k at
// start y.
type stripShape struct {
	width, y int64
	spots    []*cutting.Spot // the spots that meet it
	offcuts  bool            // whether its gaps can be worth anything
	gaps     gapTable
	items    []stripItem // by size
	sides    []stripSide
	most     []int64 // by item, its value with what is trimmed off at its best
}

// stripSide is a span of the strip's width that pieces may take.
type stripSide struct {
	left   int64
	spots  []*cutting.Spot
	beside []band // beside it, nil where that is worth nothing
	limit  [cutting.Classes]int64
}

// stripItem is a sawn item at one side of the strip.
type stripItem struct {
	*sawnItem
	side int
	full bool
}

func (r *pricer) shape(k, n int) *stripShape {
	if s := r.shapes[[2]int{k, n}]; s != nil {
		return s
	}
	s := &stripShape{width: r.clear.widths[k], y: r.ys[n]}
	r.shapes[[2]int{k, n}] = s
	s.spots = r.reaching(s.y, s.y+s.width)
	s.offcuts = r.stock.Wide(cutting.Span{From: s.y, To: s.y + s.width})
	if s.offcuts {
		s.gaps = r.newGapTable(r.makeBands(s.y, s.y+s.width))
	}
	sides := map[[2]int64]int{}
	for m := range r.clear.sawn {
		i := &r.clear.sawn[m]
		if !r.clear.fitsStrip(i, s.width) || i.size > r.extent {
			continue
		}
		far := s.y + s.width - i.width
		for _, at := range slices.Compact([]int64{s.y, far}) {
			key := [2]int64{i.width, at}
			if _, ok := sides[key]; !ok {
				sides[key] = len(s.sides)
				s.sides = append(s.sides, r.newSide(s, i.width, at))
			}
			s.items = append(s.items, stripItem{i, sides[key], i.width == s.width})
		}
	}
	return s
}

func (r *pricer) newSide(s *stripShape, width, at int64) stripSide {
	from, to := at+width+r.p.Rip, s.y+s.width
	if at > s.y {
		from, to = s.y, at-r.p.Rip
	}
	side := stripSide{left: at, spots: r.reaching(at, at+width)}
	if r.stock.Wide(cutting.Span{From: from, To: to}) {
		side.beside = r.makeBands(from, to)
	}
	return side
}

// reaching gives the spots that reach into [left, right) of the width.
func (r *pricer) reaching(left, right int64) (out []*cutting.Spot) {
	for n := range r.spots {
		if s := &r.spots[n]; s.Left < right && s.Right > left {
			out = append(out, s)
		}
	}
	return out
}

// clearTo is where the first spot starts that is not over at x.
func clearTo(spots []*cutting.Spot, x, span int64) int64 {
	for _, s := range spots {
		if s.To > x {
			span = min(span, s.From)
		}
	}
	return span
}

// look brings the limits of a strip's sides to x.
func (s *stripShape) setLimits(x, span int64) {
	for n := range s.sides {
		side := &s.sides[n]
		for q := range side.limit {
			side.limit[q] = span
			for _, spot := range side.spots {
				if spot.To > x && !spot.Tolerated[q] {
					side.limit[q] = min(side.limit[q], spot.From)
				}
			}
		}
	}
}

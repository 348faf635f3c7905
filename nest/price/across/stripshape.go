package across

import (
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price/across/offcuts"
)

// stripShape is what a strip into which spots reach looks like, whatever the duals.
type stripShape struct {
	width, y int64
	spots    offcuts.Spots  // those that reach into the strip
	gaps     *offcuts.Table // nil: it is too narrow for gaps in it to be worth anything
	items    []stripItem    // by size, then index, then side
	sides    []stripSide
}

// stripSide is a part of the strip's width, at its left or right edge, that pieces may take.
type stripSide struct {
	left   int64
	bars   [cutting.Classes]offcuts.Spots // by class: the spots that keep its pieces off
	limit  [cutting.Classes]int64         // by class: how far its pieces may reach from the last x
	beside []offcuts.Band                 // of what is trimmed off; none if that is worth nothing
	// what each unit of length costs of the rip that trims a piece; 0 where it is as wide as the
	// strip
	trimming int64
}

// stripItem is a sawn item at one side of the strip.
type stripItem struct {
	*sawnItem
	side int
	full bool
}

// mostShapeItems is about how many items the shapes have that all pricers of a maker keep: at 64
// bytes each, and four times that of a side.
const mostShapeItems = 1 << 20

// shape gives the shape of a strip, made at first use.
func (r *pricer) shape(at stripAt) *stripShape {
	if s := r.shapes[at]; s != nil {
		return s
	}
	if r.maker.shapeItems > mostShapeItems { // none is kept for good
		r.maker.shapeItems = 0
		for _, other := range r.maker.pricers {
			clear(other.shapes)
		}
	}
	s := &stripShape{width: r.clear.widths[at.k], y: r.ys[at.n]}
	r.shapes[at] = s
	defer func() { r.maker.shapeItems += 16 + len(s.items) + 4*len(s.sides) }()
	across := cutting.Span{From: s.y, To: s.y + s.width}
	s.spots = r.spots.In(r.allAlong(), across)
	if r.clear.s0(s.width) > 0 {
		s.gaps = offcuts.NewTable(r.bandsOf(across), r.extent, r.stock.Keep)
	}
	sides := map[cutting.Span]int{}
	for m := range r.clear.sawn {
		i := &r.clear.sawn[m]
		if !r.clear.fitsStrip(i, s.width) || i.size > r.extent {
			continue
		}
		for _, left := range slices.Compact([]int64{across.From, across.To - i.width}) {
			part := cutting.Span{From: left, To: left + i.width}
			side, ok := sides[part]
			if !ok {
				side = len(s.sides)
				sides[part] = side
				s.sides = append(s.sides, r.newSide(part, across))
			}
			s.items = append(s.items, stripItem{i, side, i.width == s.width})
		}
	}
	return s
}

// newSide makes the side that is a part of a strip's width.
func (r *pricer) newSide(part, strip cutting.Span) stripSide {
	side := stripSide{left: part.From}
	rip := cutting.Span{From: part.To, To: part.To + r.p.Rip}
	beside := cutting.Span{From: rip.To, To: strip.To}
	if part.From > strip.From {
		rip = cutting.Span{From: part.From - r.p.Rip, To: part.From}
		beside = cutting.Span{From: strip.From, To: rip.From}
	}
	trimmed := part != strip
	if trimmed {
		side.trimming = r.p.RipCost
	}
	for class := range side.bars {
		for _, o := range r.spots {
			if !o.Tolerated[class] && o.Meets(r.allAlong(), part) ||
				trimmed && o.Weak && o.Meets(r.allAlong(), rip) {
				side.bars[class] = append(side.bars[class], o)
			}
		}
	}
	if r.clear.s0(beside.To-beside.From) > 0 {
		side.beside = r.bandsOf(beside)
	}
	return side
}

// setLimits sets the limits of all sides for pieces that start at x. end is the strip's far end.
func (s *stripShape) setLimits(x, end int64) {
	for n := range s.sides {
		side := &s.sides[n]
		for class := range side.limit {
			side.limit[class] = side.bars[class].ClearTo(x, end)
		}
	}
}

package cutting

import (
	"cmp"
	"slices"
)

// Axis is a direction of a stock.
type Axis int

// The directions.
const (
	Along     Axis = iota // its length
	Crosswise             // its width
)

// Outer is the direction in which slabs follow each other: lengths along a stock that is crosscut
// first, strips across one that is ripped first.
func (f FirstCut) Outer() Axis {
	if f == RipFirst {
		return Crosswise
	}
	return Along
}

// Inner is the direction in which the pieces of a slab follow each other.
func (f FirstCut) Inner() Axis { return f.Outer().Other() }

// Other is the other direction.
func (a Axis) Other() Axis { return Along + Crosswise - a }

// Span is [From, To) in a direction.
type Span struct{ From, To int64 }

// On is the span that a place has in a direction.
func (p *Problem) On(a Axis, pl Place) Span {
	if a == Crosswise {
		return Span{pl.Left, pl.Right}
	}
	return Span{pl.At, pl.At + p.Items[pl.Item].Size}
}

// Put is a place moved in a direction so that it starts at a point.
func (pl Place) Put(a Axis, at int64) Place {
	if a == Crosswise {
		pl.Left, pl.Right = at, at+pl.Right-pl.Left
	} else {
		pl.At = at
	}
	return pl
}

// KerfOn is what a cut takes that parts things which follow each other in a direction.
func (p *Problem) KerfOn(a Axis) int64 {
	if a == Crosswise {
		return p.Rip
	}
	return p.Kerf
}

// extent is all of a stock with Across in a direction, offcuts included.
func (s *Stock) extent(a Axis) Span {
	if a == Crosswise {
		return Span{0, s.Across.Width}
	}
	return Span{s.From, s.To}
}

// Sawable is what pieces may take of a stock in a direction, sawn ones where it has Across.
func (s *Stock) Sawable(a Axis) Span {
	if a == Crosswise {
		return Span{s.Across.Inset, s.Across.Width - s.Across.Inset}
	}
	return Span{s.From, s.To}
}

// On is the span that a spot has in a direction.
func (o *Spot) On(a Axis) Span {
	if a == Crosswise {
		return Span{o.Left, o.Right}
	}
	return Span{o.From, o.To}
}

// earliest gives the first point in a direction, not before from, where something fits: from itself
// or the end of a spot. False where it fits at none of them.
func (s *Stock) earliest(a Axis, from int64, fits func(at int64) bool) (int64, bool) {
	if fits(from) {
		return from, true
	}
	best, found := int64(0), false
	for n := range s.Spots {
		if end := s.Spots[n].On(a).To; end > from && (!found || end < best) && fits(end) {
			best, found = end, true
		}
	}
	return best, found
}

// area is a rectangle of a stock: a span in each direction.
type area [2]Span

// over is the area over a span of one direction and a span of the other.
func (a Axis) over(on, other Span) (out area) {
	out[a], out[a.Other()] = on, other
	return out
}

// sortOn puts places in order in a direction.
func (p *Problem) sortOn(a Axis, places []Place) {
	slices.SortStableFunc(places, func(x, y Place) int {
		return cmp.Compare(p.On(a, x).From, p.On(a, y).From)
	})
}

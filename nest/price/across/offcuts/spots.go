package offcuts

import (
	"iter"

	"rackwright/nest/cutting"
)

// Spots are areas that some classes may not overlap, ascending by From. They count along from the
// stock's usable start, and do not reach past its edges.
type Spots []cutting.Spot

// Meet says whether a spot reaches into an area.
func (s Spots) Meet(along, across cutting.Span) bool {
	for n := range s {
		if s[n].Meets(along, across) {
			return true
		}
	}
	return false
}

// Allow says whether a piece of a class may take an area: no spot that the class does not tolerate
// reaches into it.
func (s Spots) Allow(class int, along, across cutting.Span) bool {
	for n := range s {
		if !s[n].Tolerated[class] && s[n].Meets(along, across) {
			return false
		}
	}
	return true
}

// In gives the spots that reach into an area.
func (s Spots) In(along, across cutting.Span) (out Spots) {
	for n := range s {
		if s[n].Meets(along, across) {
			out = append(out, s[n])
		}
	}
	return out
}

// Barring adds to out the spots that keep a class out of an area.
func (s Spots) Barring(out Spots, class int, along, across cutting.Span) Spots {
	for n := range s {
		if !s[n].Tolerated[class] && s[n].Meets(along, across) {
			out = append(out, s[n])
		}
	}
	return out
}

// ClearTo gives how far a piece that starts at x may reach until a spot begins, and at most end. It
// is no more than x if x is in a spot.
func (s Spots) ClearTo(x, end int64) int64 {
	for n := range s {
		if s[n].To > x {
			return min(end, s[n].From)
		}
	}
	return end
}

// EndedBy is where the last spot ends that ends at or before x; 0 where none does.
func (s Spots) EndedBy(x int64) (end int64) {
	for n := range s {
		if s[n].To <= x {
			end = max(end, s[n].To)
		}
	}
	return end
}

// clearRuns gives the stretches of a span of the length that no spot reaches into anywhere in a
// span of the width, in order.
func (s Spots) clearRuns(along, across cutting.Span) iter.Seq[cutting.Span] {
	return cutting.ClearRuns(s, along.From, along.To, func(o *cutting.Spot) bool {
		return o.Left < across.To && o.Right > across.From
	})
}

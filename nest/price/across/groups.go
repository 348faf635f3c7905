package across

import (
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// lengthGroup is a set of neighbouring starts of one length: at each of them the same pieces, at
// either end of the length, meet the same spots. Over these starts the worth of each clear run is a
// convex function. So it is at most the greater of its values at the first and at the last start,
// and one bound serves for all.
//
// Where lengths are many there would be as many groups as starts. There the starts of a group lie
// up to a span apart, and have the spots in common that reach into the length. A piece is taken to
// meet a spot only if it does at all of these starts.
type lengthGroup struct {
	j, first, last int // the length, its first and its last start
	bounded        int // the pass in which the group was bounded last
}

// groupSpans is how many spans of a group are in a stock. None is shorter than leastSpan grids.
const groupSpans, leastSpan = 64, 2

// groupLengths finds the groups, and which lengths fit and are clear at each start. A length that
// no spot reaches into is in no group.
func (r *pricer) groupLengths() {
	lens, n := r.clear.lens, len(r.xs)
	r.fitLens, r.clearLens = make([]int32, n), make([]int32, n)
	if r.thin { // only columns are asked of it
		r.countClear()
		return
	}
	r.groupOf = make([]int32, n*len(lens))
	span := max(r.extent/groupSpans, leastSpan*r.gridAlong())
	for j, length := range lens {
		var key, last []int
		from := int64(0) // where the last group begins
		for t, x := range r.xs {
			c := r.slot(t, j)
			r.groupOf[c] = -1
			key = key[:0]
			if x+length <= r.extent {
				key = r.appendSpotKey(key, x, x+length)
				r.fitLens[t] = int32(j + 1)
				if len(key) == 0 {
					r.clearLens[t] = int32(j + 1)
				}
			}
			if len(key) > 0 {
				if !slices.Equal(key, last) || r.clear.many && x > from+span {
					from = x
					r.groups = append(r.groups, lengthGroup{j: j, first: t})
				}
				g := len(r.groups) - 1
				r.groups[g].last, r.groupOf[c] = t, int32(g)
			}
			last = append(last[:0], key...)
		}
	}
}

// countClear counts by start how many of the lengths fit, and are clear.
func (r *pricer) countClear() {
	for t, x := range r.xs {
		r.fitLens[t] = int32(firstFrom(r.clear.lens, r.extent-x+1))
		limit := r.extent
		for _, o := range r.spots {
			if o.To > x {
				limit = min(limit, max(x, o.From))
			}
		}
		r.clearLens[t] = int32(firstFrom(r.clear.lens, limit-x+1))
	}
}

// met says whether a spot reaches into length j at start t, or the stock ends there.
func (r *pricer) met(t, j int) bool { return j >= int(r.clearLens[t]) }

// groupAt is the group of a length at a start, by its slot; -1: it is in none.
func (r *pricer) groupAt(c int) int32 {
	if r.thin {
		return -1
	}
	return r.groupOf[c]
}

// appendSpotKey adds to key what the starts of a group have in common. For each spot that reaches
// into the length [x, end), these are its index and two numbers of sizes. One is of pieces at the
// near end that end before the spot. The other is of pieces at the far end that begin behind the
// spot. Where lengths are many it is its index alone.
func (r *pricer) appendSpotKey(key []int, x, end int64) []int {
	for m := range r.spots {
		if o := &r.spots[m]; o.From < end && o.To > x {
			if key = append(key, m); !r.clear.many {
				key = append(key, firstFrom(r.clear.lens, o.From-x+1),
					firstFrom(r.clear.lens, end-o.To+1))
			}
		}
	}
	return key
}

// priceLength gives a length its value, and its group a bound. It gives the last start at which
// anything has changed.
func (r *pricer) priceLength(at lengthAt) (last int) {
	s, c := &r.lengths, r.slot(at.t, at.j)
	last = at.t
	if n := r.groupAt(c); n >= 0 && r.groups[n].bounded != r.pass {
		last = r.boundGroup(&r.groups[n])
	}
	if !s.priced[c] {
		s.value[c] = max(r.priceRipped(at.j, at.x), r.bestPlain(at.j, at.x))
		s.priced[c] = true
	}
	return last
}

// boundGroup bounds the values of a length at all starts of a group. Where no offcut of the length
// can be worth anything, the bounds are the values, but for a group of many lengths that has more
// than one start. It gives the last start at which anything has changed.
func (r *pricer) boundGroup(g *lengthGroup) (last int) {
	s := &r.lengths
	g.bounded = r.pass
	bound := r.boundRipped(g.j, r.xs[g.first], r.xs[g.last])
	exact := (!r.clear.many || g.first == g.last) &&
		(r.clear.lens[g.j] <= r.stock.Keep || r.clear.whole == 0)
	for t := g.first; t <= g.last; t++ {
		if c := r.slot(t, g.j); !s.priced[c] {
			s.value[c] = min(s.value[c], max(bound, r.bestPlain(g.j, r.xs[t])))
			s.priced[c] = exact
		}
	}
	return g.last
}

// bestPlain is the most that length j at x is worth as one piece over the whole width; price.Never:
// no such piece may lie there.
func (r *pricer) bestPlain(j int, x int64) int64 {
	best := int64(price.Never)
	along := cutting.Span{From: x, To: x + r.clear.lens[j]}
	for class, v := range r.clear.plain[j] {
		if v > best && r.spots.Allow(class, along, r.allAcross()) {
			best = v
		}
	}
	return best
}

package across

import (
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// lengthGroup is a set of neighbouring starts of one length into which spots reach, alike in all:
// at each of these starts the same pieces, at either end of the length, meet the same spots. Over
// such starts the worth of each clear run is convex, and so at most the greater of its values at
// the first and the last start. One bound then serves for all.
type lengthGroup struct {
	j, first, last int // the length, and its first and last start t
	bounded        int // the pricing in which it was bounded last
}

// groupLengths finds the groups, and which lengths fit and are clear at each start.
func (r *pricer) groupLengths() {
	lens, n := r.clear.lens, len(r.xs)
	r.fitLens, r.clearLens = make([]int32, n), make([]int32, n)
	r.groupOf = make([]int32, n*len(lens))
	for j, length := range lens {
		var key, last []int
		for t, x := range r.xs {
			c := r.slot(t, j)
			r.groupOf[c] = -1
			key = key[:0]
			if x+length <= r.extent {
				key = r.lieOfSpots(key, x, x+length)
				r.fitLens[t] = int32(j + 1)
				if len(key) == 0 {
					r.clearLens[t] = int32(j + 1)
				}
			}
			if len(key) > 0 {
				if !slices.Equal(key, last) {
					r.groups = append(r.groups, lengthGroup{j: j, first: t})
				}
				g := len(r.groups) - 1
				r.groups[g].last, r.groupOf[c] = t, int32(g)
			}
			last = append(last[:0], key...)
		}
	}
}

// lieOfSpots adds to key which spots reach into a length [x, end), and for each how many sizes of
// pieces end before it at the near end, and begin behind it at the far end.
func (r *pricer) lieOfSpots(key []int, x, end int64) []int {
	for m := range r.spots {
		if o := &r.spots[m]; o.From < end && o.To > x {
			key = append(key, m, firstFrom(r.clear.lens, o.From-x+1),
				firstFrom(r.clear.lens, end-o.To+1))
		}
	}
	return key
}

// priceLength gives a length its value, and its group a bound. It gives the last start at which
// anything has changed.
func (r *pricer) priceLength(at lengthAt) (last int) {
	u, c := &r.lengths, r.slot(at.t, at.j)
	last = at.t
	if g := &r.groups[r.groupOf[c]]; g.bounded != r.pass {
		g.bounded = r.pass
		last = g.last
		r.boundGroup(g)
	}
	if !u.priced[c] {
		u.value[c] = max(r.priceRipped(at.j, at.x), r.bestPlain(at.j, at.x))
		u.priced[c] = true
	}
	return last
}

// boundGroup bounds the values of a length at all starts of a group. Where nothing in the length can
// have worth, these are its values.
func (r *pricer) boundGroup(g *lengthGroup) {
	u := &r.lengths
	bound := r.boundRipped(g.j, r.xs[g.first], r.xs[g.last])
	exact := r.clear.lens[g.j] <= r.stock.Keep || r.clear.s0 == 0
	for t := g.first; t <= g.last; t++ {
		if c := r.slot(t, g.j); !u.priced[c] {
			u.value[c] = min(u.value[c], max(bound, r.bestPlain(g.j, r.xs[t])))
			u.priced[c] = exact
		}
	}
}

// bestPlain is the most that length j at x is worth as one piece over the whole width; price.Never:
// no piece may lie there so.
func (r *pricer) bestPlain(j int, x int64) int64 {
	best := int64(price.Never)
	along := cutting.Span{From: x, To: x + r.clear.lens[j]}
	for class, v := range r.clear.plain[j] {
		if v > best && r.spots.allow(class, along, r.fullWidth()) {
			best = v
		}
	}
	return best
}

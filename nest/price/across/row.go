package across

import (
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// lengthRun is the recursion across one ripped length.
type lengthRun struct {
	acrossRun
	a     int
	x     int64
	sides []lengthSide // by width
	first []int        // by width, its first side; one more entry

	lines, others []line
}

// lengthSide is a sawn item at one end of the length.
type lengthSide struct {
	*sawn
	far   bool
	at    int64 // along the stock
	value int64 // without its remainder
	over  []*cutting.Spot
	rest  areas // what is trimmed off; no edges: not known yet
	best  int64 // that without spots
}

// worth is u of what is trimmed off a piece at y.
func (s *lengthSide) worth(r *pricer, y int64) int64 {
	if s.best == 0 {
		return 0
	}
	if u := &r.length; len(s.rest.edges) == 0 {
		from, to := s.at+s.size+r.p.Kerf, u.x+r.t.lens[u.a]
		if s.far {
			from, to = u.x, s.at-r.p.Kerf
		}
		u.others = r.lines(from, to, u.others)
		s.rest.set(r, u.others)
	}
	return s.rest.at(y+s.width) - s.rest.at(y)
}

func (s *lengthSide) may(y int64) bool {
	for _, o := range s.over {
		if o.Left < y+s.width && o.Right > y {
			return false
		}
	}
	return true
}

// runLength prices length a at x, ripped. With upper it gives a bound for all starts of a group, of
// which x and last are the first and the last: which pieces may lie where is the same for all of
// them.
func (r *pricer) runLength(a int, x, last int64, upper bool) int64 {
	u, l := &r.length, r.t.lens[a]
	if l < r.a.ShortestRip || len(r.t.widths) == 0 {
		return price.Never
	}
	u.size(len(r.t.widths), len(r.ys))
	u.lines = r.lines(x, x+l, u.lines)
	if last != x {
		u.others = r.lines(last, last+l, u.others)
		for n, o := range u.others {
			u.lines[n].clear = max(u.lines[n].clear, o.clear)
		}
	}
	u.measure(r, u.lines)
	r.lay(a, x)
	for k, w := range r.t.widths {
		for n, y := range r.ys {
			v := pick{price.Never, price.Never}
			if y >= r.a.Inset && y+w <= r.a.Width-r.a.Inset {
				if r.meets(cutting.Span{From: x, To: x + l}, cutting.Span{From: y, To: y + w}) {
					for m := u.first[k]; m < u.first[k+1]; m++ {
						s := &u.sides[m]
						if s.value+s.best <= v.any && (s.size != l || s.value+s.best <= v.exact) ||
							!s.may(y) {
							continue
						}
						rest := s.best
						if !upper && rest > 0 {
							rest = s.worth(r, y)
						}
						v.take(s.value+rest, s.size == l)
					}
				} else {
					v = r.t.across[a][k]
				}
			}
			u.any[k][n], u.exact[k][n] = v.any, v.exact
		}
	}
	u.recur(r)
	r.steps += int64(len(r.ys) * (len(u.sides) + len(r.t.widths)))
	return u.f1[0]
}

// lay finds the sides of all items that may lie in length a at x.
func (r *pricer) lay(a int, x int64) {
	u, l := &r.length, r.t.lens[a]
	u.a, u.x = a, x
	u.sides, u.first = u.sides[:0], u.first[:0]
	for k := range r.t.widths {
		u.first = append(u.first, len(u.sides))
		for n := range r.t.sawn {
			i := &r.t.sawn[n]
			if i.k != k || !r.t.inLength(i, l) {
				continue
			}
			for _, far := range []bool{false, true} {
				// what it held before keeps its room
				u.sides = slices.Grow(u.sides, 1)[:len(u.sides)+1]
				s := &u.sides[len(u.sides)-1]
				*s = lengthSide{sawn: i, far: far, at: x, value: Fine * r.asked.Duals[i.item],
					best: r.t.beyondLength(i, l), over: s.over[:0], rest: s.rest}
				s.rest.edges = s.rest.edges[:0]
				if far {
					s.at = x + l - i.size
				}
				for m := range r.spots {
					if o := &r.spots[m]; !o.Tolerated[i.class] && o.From < s.at+i.size &&
						o.To > s.at {
						s.over = append(s.over, o)
					}
				}
				if i.size == l {
					break
				}
			}
		}
	}
	u.first = append(u.first, len(u.sides))
}

package across

import (
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// lengthRun is the recursion across one ripped length.
type rippedFill struct {
	acrossFill
	j         int
	x         int64
	sides     []lengthSide // by width
	sidesFrom []int        // by width, its first side; one more entry

	bands, spare []clearBand
}

// lengthSide is a sawn item at one end of the length.
type lengthSide struct {
	*sawnItem
	far        bool
	start      int64 // along the stock
	dual       int64 // without its remainder
	bars       []*cutting.Spot
	behind     areaSums // what is trimmed off; no edges: not known yet
	behindMost int64    // that without spots
}

// worth is u of what is trimmed off a piece at y.
func (s *lengthSide) worthBehind(r *pricer, y int64) int64 {
	if s.behindMost == 0 {
		return 0
	}
	if u := &r.ripped; len(s.behind.edges) == 0 {
		from, to := s.start+s.size+r.p.Kerf, u.x+r.clear.lens[u.j]
		if s.far {
			from, to = u.x, s.start-r.p.Kerf
		}
		u.spare = r.bandsOver(from, to, u.spare)
		s.behind.set(r, u.spare)
	}
	return s.behind.upTo(y+s.width) - s.behind.upTo(y)
}

func (s *lengthSide) mayLie(y int64) bool {
	for _, o := range s.bars {
		if o.Left < y+s.width && o.Right > y {
			return false
		}
	}
	return true
}

// runLength prices length a at x, ripped. With upper it gives a bound for all starts of a group, of
// which x and last are the first and the last: which pieces may lie where is the same for all of
// them.
func (r *pricer) priceRipped(a int, x, last int64, upper bool) int64 {
	u, l := &r.ripped, r.clear.lens[a]
	if l < r.across.ShortestRip || len(r.clear.widths) == 0 {
		return price.Never
	}
	u.allocate(len(r.clear.widths), len(r.ys))
	u.bands = r.bandsOver(x, x+l, u.bands)
	if last != x {
		u.spare = r.bandsOver(last, last+l, u.spare)
		for n, o := range u.spare {
			u.bands[n].clear = max(u.bands[n].clear, o.clear)
		}
	}
	u.measure(r, u.bands)
	r.setSides(a, x)
	for k, w := range r.clear.widths {
		for n, y := range r.ys {
			v := pieceValue{price.Never, price.Never}
			if y >= r.across.Inset && y+w <= r.across.Width-r.across.Inset {
				if r.meets(cutting.Span{From: x, To: x + l}, cutting.Span{From: y, To: y + w}) {
					for m := u.sidesFrom[k]; m < u.sidesFrom[k+1]; m++ {
						s := &u.sides[m]
						if s.dual+s.behindMost <= v.any && (s.size != l || s.dual+s.behindMost <= v.full) ||
							!s.mayLie(y) {
							continue
						}
						rest := s.behindMost
						if !upper && rest > 0 {
							rest = s.worthBehind(r, y)
						}
						v.raise(s.dual+rest, s.size == l)
					}
				} else {
					v = r.clear.inLength[a][k]
				}
			}
			u.any[k][n], u.full[k][n] = v.any, v.full
		}
	}
	u.solve(r)
	r.steps += int64(len(r.ys) * (len(u.sides) + len(r.clear.widths)))
	return u.f1[0]
}

// lay finds the sides of all items that may lie in length a at x.
func (r *pricer) setSides(a int, x int64) {
	u, l := &r.ripped, r.clear.lens[a]
	u.j, u.x = a, x
	u.sides, u.sidesFrom = u.sides[:0], u.sidesFrom[:0]
	for k := range r.clear.widths {
		u.sidesFrom = append(u.sidesFrom, len(u.sides))
		for n := range r.clear.sawn {
			i := &r.clear.sawn[n]
			if i.k != k || !r.clear.fitsLength(i, l) {
				continue
			}
			for _, far := range []bool{false, true} {
				// what it held before keeps its room
				u.sides = slices.Grow(u.sides, 1)[:len(u.sides)+1]
				s := &u.sides[len(u.sides)-1]
				*s = lengthSide{sawnItem: i, far: far, start: x, dual: Fine * r.ask.Duals[i.item],
					behindMost: r.clear.worthBehind(i, l), bars: s.bars[:0], behind: s.behind}
				s.behind.edges = s.behind.edges[:0]
				if far {
					s.start = x + l - i.size
				}
				for m := range r.spots {
					if o := &r.spots[m]; !o.Tolerated[i.class] && o.From < s.start+i.size &&
						o.To > s.start {
						s.bars = append(s.bars, o)
					}
				}
				if i.size == l {
					break
				}
			}
		}
	}
	u.sidesFrom = append(u.sidesFrom, len(u.sides))
}

package across

import (
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// rippedFill fills the width of one ripped length with a row of pieces. Full size: as long as the
// length. A shorter piece lies at one end of the length, and leaves a remainder at the other.
type rippedFill struct {
	acrossFill
	along     cutting.Span // the length
	sides     []lengthSide // by width
	sidesFrom []int        // by k: its first side; one more entry

	bands, spare []clearBand
}

// lengthSide is a sawn item at one end of the length.
type lengthSide struct {
	*sawnItem
	along      cutting.Span // of the piece
	remainder  cutting.Span // behind it or before it, a kerf away
	full       bool         // it is as long as the length
	dual       int64        // x Fine
	bars       spots        // those that may keep it off
	behindMost int64        // worth of its remainder where no spot is
	behind     areaSums     // worth of its remainder; no edges: not known yet
}

// mayLie says whether the piece may start at y.
func (s *lengthSide) mayLie(y int64) bool {
	return !s.bars.meet(s.along, cutting.Span{From: y, To: y + s.width})
}

// worthBehind is u of the remainder of the piece at y.
func (s *lengthSide) worthBehind(r *pricer, y int64) int64 {
	if s.behindMost == 0 {
		return 0
	}
	if len(s.behind.edges) == 0 {
		r.ripped.spare = r.bandsOver(s.remainder, r.ripped.spare)
		s.behind.set(r.clear, r.ripped.spare)
	}
	return s.behind.upTo(y+s.width) - s.behind.upTo(y)
}

// priceRipped is the most that length j at x is worth if it is ripped; price.Never: it may not be,
// or no row has a place.
func (r *pricer) priceRipped(j int, x int64) int64 { return r.fillRipped(j, x, x, false) }

// boundRipped is no less than that at all starts of a group, whose first and last are at x and last.
func (r *pricer) boundRipped(j int, x, last int64) int64 { return r.fillRipped(j, x, last, true) }

// fillRipped values the best row in length j at x. With upper it takes each gap and remainder at its
// most over the starts of a group, from x to last. Which pieces may lie where is the same for all.
func (r *pricer) fillRipped(j int, x, last int64, upper bool) int64 {
	u, length := &r.ripped, r.clear.lens[j]
	if length < r.across.ShortestRip || len(r.clear.widths) == 0 {
		return price.Never
	}
	u.allocate(len(r.clear.widths), len(r.ys))
	u.along = cutting.Span{From: x, To: x + length}
	u.bands = r.bandsOver(u.along, u.bands)
	if last != x {
		u.spare = r.bandsOver(cutting.Span{From: last, To: last + length}, u.spare)
		for n, b := range u.spare {
			u.bands[n].clear = max(u.bands[n].clear, b.clear)
		}
	}
	u.setGaps(r, u.bands)
	r.setSides(length)
	for k, width := range r.clear.widths {
		for n, y := range r.ys {
			v := noPiece
			switch {
			case !r.insideInset(y, width):
			case r.spots.meet(u.along, cutting.Span{From: y, To: y + width}):
				v = r.bestSide(k, y, upper)
			default:
				v = r.clear.inLength[j][k]
			}
			u.any[k][n], u.full[k][n] = v.any, v.full
		}
	}
	u.solve(r)
	r.steps += int64(len(r.ys) * (len(u.sides) + len(r.clear.widths)))
	return u.f1[0]
}

// bestSide is the most that a piece of width k at y may be worth, where a spot reaches into the
// length.
func (r *pricer) bestSide(k int, y int64, upper bool) pieceValue {
	u, v := &r.ripped, noPiece
	for m := u.sidesFrom[k]; m < u.sidesFrom[k+1]; m++ {
		s := &u.sides[m]
		most := s.dual + s.behindMost
		if most <= v.any && (!s.full || most <= v.full) || !s.mayLie(y) {
			continue
		}
		if !upper {
			most = s.dual + s.worthBehind(r, y)
		}
		v.raise(most, s.full)
	}
	return v
}

// setSides lists the sides of all items that may lie in the length.
func (r *pricer) setSides(length int64) {
	u := &r.ripped
	u.sides, u.sidesFrom = u.sides[:0], u.sidesFrom[:0]
	for k := range r.clear.widths {
		u.sidesFrom = append(u.sidesFrom, len(u.sides))
		for m := range r.clear.sawn {
			i := &r.clear.sawn[m]
			if i.k != k || !r.clear.fitsLength(i, length) {
				continue
			}
			near := cutting.Span{From: u.along.From, To: u.along.From + i.size}
			r.addSide(i, near, cutting.Span{From: near.To + r.p.Kerf, To: u.along.To})
			if i.size < length {
				far := cutting.Span{From: u.along.To - i.size, To: u.along.To}
				r.addSide(i, far, cutting.Span{From: u.along.From, To: far.From - r.p.Kerf})
			}
		}
	}
	u.sidesFrom = append(u.sidesFrom, len(u.sides))
}

// addSide adds an item at one end. It uses the memory of the side that stood there before.
func (r *pricer) addSide(i *sawnItem, along, remainder cutting.Span) {
	u := &r.ripped
	u.sides = slices.Grow(u.sides, 1)[:len(u.sides)+1]
	s := &u.sides[len(u.sides)-1]
	length := u.along.To - u.along.From
	bars, behind := s.bars[:0], s.behind
	behind.edges = behind.edges[:0]
	*s = lengthSide{sawnItem: i, along: along, remainder: remainder, full: i.size == length,
		dual: Fine * r.ask.Duals[i.item], behindMost: r.clear.worthBehind(i, length),
		bars: r.spots.barring(bars, i.class, along, r.fullWidth()), behind: behind}
}

// firstPlace is the first place of an item in the length valued last: its side and start; -1: it has
// none.
func (r *pricer) firstPlace(item int) (side, start int) {
	u := &r.ripped
	for m := range u.sides {
		s := &u.sides[m]
		if s.item != item {
			continue
		}
		for n, y := range r.ys {
			if r.insideInset(y, s.width) && s.mayLie(y) {
				return m, n
			}
		}
		return -1, 0
	}
	return -1, 0
}

package across

import (
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
	"rackwright/nest/price/across/offcuts"
)

// rippedFill fills the width of one ripped length with a row of pieces. A piece shorter than the
// length lies at one end, and leaves a remainder at the other.
type rippedFill struct {
	acrossFill
	of        *clearTable  // of the stock
	starts    int          // how many there are across
	along     cutting.Span // the length
	sides     []lengthSide // by width
	sidesFrom []int        // by k: the first side of the width; one more entry

	bands, spare []offcuts.ClearBand // memory for bands of the length, and of something else
}

// lengthSide is a sawn item at one end of the length.
type lengthSide struct {
	*sawnItem
	along      cutting.Span  // the piece
	remainder  cutting.Span  // from a kerf beyond the piece to the other end
	full       bool          // the piece is as long as the length
	dual       int64         // of the item
	bars       offcuts.Spots // those that may keep the piece off
	behindMost int64         // worth of the remainder where no spot is
	behind     offcuts.Areas // worth of the remainder; without edges as long as not known
}

// mayLie says whether the piece may start at y.
func (s *lengthSide) mayLie(y int64) bool {
	return !s.bars.Meet(s.along, cutting.Span{From: y, To: y + s.width})
}

// worthBehind is u of the remainder of the piece that starts at y.
func (s *lengthSide) worthBehind(r *pricer, y int64) int64 {
	if s.behindMost == 0 {
		return 0
	}
	if !s.behind.Known() {
		r.ripped.spare = r.bandsOver(s.remainder, r.ripped.spare)
		s.behind.SetBands(r.clear.step, r.clear.s0(s.width), r.ripped.spare)
	}
	return s.behind.UpTo(y+s.width) - s.behind.UpTo(y)
}

// priceRipped is the most that length j at x is worth ripped; price.Never: it may not be ripped, or
// no row has a place.
func (r *pricer) priceRipped(j int, x int64) int64 { return r.fillRipped(j, x, x, false) }

// boundRipped is no less than priceRipped at all starts of a group. The first of these is at x, the
// last one at last.
func (r *pricer) boundRipped(j int, x, last int64) int64 { return r.fillRipped(j, x, last, true) }

// fillRipped gives the value of the best row in length j at x. With upper it gives a bound for all
// starts of a group, from x to last: each gap and remainder is taken at its most over these starts.
// Which pieces may lie where is the same at all of them.
func (r *pricer) fillRipped(j int, x, last int64, upper bool) int64 {
	row, length := r.ripped, r.clear.lens[j]
	if length < r.across.ShortestRip || len(r.clear.widths) == 0 {
		return price.Never
	}
	row.allocate(r)
	row.along, row.rip = cutting.Span{From: x, To: x + length}, r.p.RipCost*length
	row.bands = r.bandsOver(row.along, row.bands)
	if last != x {
		row.spare = r.bandsOver(cutting.Span{From: last, To: last + length}, row.spare)
		for n, b := range row.spare {
			row.bands[n].Clear = max(row.bands[n].Clear, b.Clear)
		}
	}
	row.gaps.Set(r.ys, r.clear.step, r.clear.strip, row.bands)
	r.setSides(length)
	for k, width := range r.clear.widths {
		for n, y := range r.ys {
			v := noPiece
			switch {
			case !r.maySaw(row.along, y, width):
			case r.spots.Meet(row.along, cutting.Span{From: y, To: y + width}):
				v = r.bestSide(k, y, upper)
			default:
				v = r.clear.inLength[j][k]
			}
			row.any[k][n], row.full[k][n] = v.any, v.full
		}
	}
	row.solve(r)
	r.work += int64(len(r.ys) * (len(row.sides) + len(r.clear.widths)))
	return row.f1[0]
}

// bestSide is the most that a piece of width k at y may be worth. A spot is in that part of the
// length.
func (r *pricer) bestSide(k int, y int64, upper bool) pieceValue {
	row, v := r.ripped, noPiece
	for m := row.sidesFrom[k]; m < row.sidesFrom[k+1]; m++ {
		s := &row.sides[m]
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

// bestOfSides is the most that an item at y is worth, and at which side.
func (r *pricer) bestOfSides(sides []lengthSide, y int64) (best int64, side int) {
	best = price.Never
	for m := range sides {
		s := &sides[m]
		if s.dual+s.behindMost <= best || !s.mayLie(y) {
			continue
		}
		if v := s.dual + s.worthBehind(r, y); v > best {
			best, side = v, m
		}
	}
	return best, side
}

// setSides makes the sides of all items that may lie in the length, by width.
func (r *pricer) setSides(length int64) {
	row := r.ripped
	row.sides, row.sidesFrom = row.sides[:0], row.sidesFrom[:0]
	for k := range r.clear.widths {
		row.sidesFrom = append(row.sidesFrom, len(row.sides))
		for m := range r.clear.sawn {
			i := &r.clear.sawn[m]
			if i.k != k || !r.clear.fitsLength(i, length) {
				continue
			}
			near := cutting.Span{From: row.along.From, To: row.along.From + i.size}
			r.addSide(i, near, cutting.Span{From: near.To + r.p.Kerf, To: row.along.To})
			if i.size < length {
				far := cutting.Span{From: row.along.To - i.size, To: row.along.To}
				r.addSide(i, far, cutting.Span{From: row.along.From, To: far.From - r.p.Kerf})
			}
		}
	}
	row.sidesFrom = append(row.sidesFrom, len(row.sides))
}

// addSide adds an item at one end of the length, in the memory of a side of the length before.
func (r *pricer) addSide(i *sawnItem, along, remainder cutting.Span) {
	row := r.ripped
	row.sides = slices.Grow(row.sides, 1)[:len(row.sides)+1]
	s := &row.sides[len(row.sides)-1]
	length := row.along.To - row.along.From
	bars, behind := s.bars[:0], s.behind
	behind.Forget()
	*s = lengthSide{sawnItem: i, along: along, remainder: remainder, full: i.size == length,
		dual: r.ask.Duals[i.item], behindMost: r.clear.worthBehind(i, length),
		bars: r.spots.Barring(bars, i.class, along, r.allAcross()), behind: behind}
}

// firstPlace is the first place of an item in the length valued last, by side and start across; -1:
// there is none.
func (r *pricer) firstPlace(item int) (side, start int) {
	row := r.ripped
	for m := range row.sides {
		s := &row.sides[m]
		if s.item != item {
			continue
		}
		for n, y := range r.ys {
			if r.maySaw(row.along, y, s.width) && s.mayLie(y) {
				return m, n
			}
		}
		return -1, 0
	}
	return -1, 0
}

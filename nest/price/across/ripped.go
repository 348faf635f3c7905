package across

import (
	"cmp"
	"math"
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
	"rackwright/nest/price/across/offcuts"
)

// rippedFill fills the width of one ripped length with a row of pieces. A piece shorter than the
// length lies at one end, and leaves a remainder at the other.
type rippedFill struct {
	acrossFill
	of       *clearTable  // of the stock
	starts   int          // how many there are across
	along    cutting.Span // the length; of a group, at its first start
	common   cutting.Span // of a group: what the lengths at all its starts have in common
	sides    []widthSides // by k
	some     []int        // the widths of which there are pieces
	spotFrom []int64      // by n: the first left edge of spots that end behind y; none: the most
	value    []int64      // by n and k: the best piece; Never: none
	fits     []int        // by n: how many of the widths there are pieces of fit
	tried    int          // how often a side was tried at a start

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
// starts of a group, from x to last: each gap and remainder is taken at its most over these starts,
// and a piece may lie where it may at one of them.
func (r *pricer) fillRipped(j int, x, last int64, upper bool) int64 {
	row, length := r.ripped, r.clear.lens[j]
	if length < r.across.ShortestRip || len(r.clear.widths) == 0 {
		return price.Never
	}
	row.allocate(r)
	row.common = cutting.Span{From: last, To: x + length}
	row.along, row.rip = cutting.Span{From: x, To: x + length}, r.p.RipCost*length
	row.bands = r.bandsOver(row.along, row.bands)
	if last != x {
		row.spare = r.bandsOver(cutting.Span{From: last, To: last + length}, row.spare)
		for n, b := range row.spare {
			row.bands[n].Clear = max(row.bands[n].Clear, b.Clear)
		}
	}
	row.gaps.Set(r.ys, r.clear.step, r.clear.strip, row.bands)
	row.beginLength(r, j)
	row.fill(r, j, upper)
	r.work += r.stepsOfRow(r.clear.sidesIn[j])
	return row.f1[0]
}

// stepsOfRow is how many steps it took to fill a length of so many sides. Where items are many most
// of the time goes into the sides: making them, and trying them at a start. Where they are more
// than inCache they no longer fit into the processor's cache, and it takes about as long as looking
// at each side at each start. So it does where they are few.
func (r *pricer) stepsOfRow(sides int) int64 {
	const eachSide, eachTried, inCache = 40, 2, 1024
	starts, widths := len(r.ys), len(r.clear.widths)
	if r.clear.many || r.maker.budget.Cells > 0 && len(r.clear.sawn) <= inCache {
		return int64(starts*(widths+2) + eachSide*sides + eachTried*r.ripped.tried)
	}
	return int64(starts * (sides + 2*widths + 2))
}

// beginLength begins with length j: none of its sides is made, and its spots are found.
func (row *rippedFill) beginLength(r *pricer, j int) {
	if row.sides == nil {
		row.sides = make([]widthSides, len(r.clear.widths))
		row.value = make([]int64, len(r.clear.widths)*len(r.ys))
		row.fits = make([]int, len(r.ys))
		row.spotFrom = make([]int64, len(r.ys))
	}
	row.some, row.tried = row.some[:0], 0
	for k := range row.sides {
		row.sides[k].made = false
		if !price.None(r.clear.inLength[j][k].any) {
			row.some = append(row.some, k)
		}
	}
	for n := range row.spotFrom {
		row.spotFrom[n] = math.MaxInt64
	}
	for m := range r.spots {
		o := &r.spots[m]
		if o.From >= row.common.To || o.To <= row.common.From {
			continue
		}
		for n, y := range r.ys {
			if o.Right <= y {
				break
			}
			row.spotFrom[n] = min(row.spotFrom[n], o.Left)
		}
	}
}

// fill computes the tables of the length valued last, which is length j, from the right edge on.
func (row *rippedFill) fill(r *pricer, j int, upper bool) {
	wide, gaps := len(r.clear.widths), row.begin(r)
	clear, left, right := r.clear.inLength[j], r.across.Inset, r.across.Width-r.across.Inset
	for n := len(r.ys) - 1; n >= 0; n-- {
		y, from, fits := r.ys[n], row.spotFrom[n], 0
		p0, p1 := int64(price.Never), int64(price.Never)
		values, nexts := row.value[n*wide:(n+1)*wide], r.nextAcross[n*wide:(n+1)*wide]
		for _, k := range row.some {
			end := y + r.clear.widths[k]
			if y < left || end > right {
				break
			}
			fits++
			v := clear[k]
			switch {
			case len(r.weak) > 0 && !r.maySaw(row.common, y, r.clear.widths[k]):
				v = noPiece
			case from < end:
				v = r.bestSide(k, y, upper)
			}
			if values[k] = v.any; price.None(v.any) {
				continue
			}
			then0, then1, rip := row.f0[nexts[k]], row.f1[nexts[k]], int64(0)
			if row.rip > 0 {
				then0, then1, rip = row.after(r, k, n)
			}
			p0 = max(p0, v.any+then0-rip)
			p1 = max(p1, v.any+then1-rip, v.full+then0-rip)
		}
		row.fits[n] = fits
		row.settle(r, n, p0, p1, &gaps)
	}
}

// bestSide is the most that a piece of width k at y may be worth. A spot is in that part of the
// length.
func (r *pricer) bestSide(k int, y int64, upper bool) pieceValue {
	v, sides := noPiece, r.sidesOf(k)
	for _, m := range sides.full {
		if s := &sides.all[m]; s.dual > v.full && s.mayLie(y) {
			v.raise(s.dual, true)
		}
	}
	for _, m := range sides.byMost {
		s := &sides.all[m]
		most := s.dual + s.behindMost
		if most <= v.any {
			break
		}
		r.ripped.tried++
		if s.full || !s.mayLie(y) {
			continue
		}
		if !upper {
			most = s.dual + s.worthBehind(r, y)
		}
		v.any = max(v.any, most)
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

// widthSides are the sides of all items of one width that may lie in the length.
type widthSides struct {
	made   bool
	all    []lengthSide // by size, then item
	full   []int32      // those of full size
	byMost []int32      // all, those that may be worth most first
}

// sidesOf gives the sides of width k in the length valued last. They are made when first asked for:
// where items are many, few widths matter in a length.
func (r *pricer) sidesOf(k int) *widthSides {
	row := r.ripped
	w := &row.sides[k]
	if w.made {
		return w
	}
	length := row.along.To - row.along.From
	w.made, w.all, w.full, w.byMost = true, w.all[:0], w.full[:0], w.byMost[:0]
	for _, m := range r.clear.ofWidth[k] {
		i := &r.clear.sawn[m]
		if !r.clear.fitsLength(i, length) {
			continue
		}
		near := cutting.Span{From: row.along.From, To: row.along.From + i.size}
		r.addSide(w, i, near, cutting.Span{From: near.To + r.p.Kerf, To: row.along.To})
		if i.size < length {
			far := cutting.Span{From: row.along.To - i.size, To: row.along.To}
			r.addSide(w, i, far, cutting.Span{From: row.along.From, To: far.From - r.p.Kerf})
		}
	}
	for m := range w.all {
		w.byMost = append(w.byMost, int32(m))
		if w.all[m].full {
			w.full = append(w.full, int32(m))
		}
	}
	slices.SortStableFunc(w.byMost, func(a, b int32) int {
		return cmp.Compare(w.all[b].dual+w.all[b].behindMost, w.all[a].dual+w.all[a].behindMost)
	})
	return w
}

// addSide adds an item at one end of the length, in the memory of a side of the length before.
func (r *pricer) addSide(w *widthSides, i *sawnItem, along, remainder cutting.Span) {
	row := r.ripped
	w.all = slices.Grow(w.all, 1)[:len(w.all)+1]
	s := &w.all[len(w.all)-1]
	length := row.along.To - row.along.From
	bars, behind := s.bars[:0], s.behind
	common := cutting.Span{From: along.From + row.common.From - row.along.From, To: along.To}
	behind.Forget()
	*s = lengthSide{sawnItem: i, along: along, remainder: remainder, full: i.size == length,
		dual: r.ask.Duals[i.item], behindMost: r.clear.worthBehind(i, length),
		bars: r.spots.Barring(bars, i.class, common, r.allAcross()), behind: behind}
}

// firstPlace is the first place of an item in the length valued last, its side and start across;
// nil: there is none.
func (r *pricer) firstPlace(i *sawnItem) (side *lengthSide, start int) {
	row, sides := r.ripped, r.sidesOf(i.k)
	for m := range sides.all {
		s := &sides.all[m]
		if s.item != i.item {
			continue
		}
		for n, y := range r.ys {
			if r.maySaw(row.along, y, s.width) && s.mayLie(y) {
				return s, n
			}
		}
		return nil, 0
	}
	return nil, 0
}

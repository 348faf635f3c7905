package across

import (
	"rackwright/nest/cutting"
	"rackwright/nest/price"
	"rackwright/nest/price/across/rows"
)

// fillLength puts pieces into length j at x: one over the whole width, or a row across if that is
// worth more. An opener that is not negative goes first. It says whether any piece was put.
func (w *walker) fillLength(j int, x int64, opener int) bool {
	r := w.r
	plain, value := w.plainPiece(j, x, opener)
	if opener >= 0 {
		if !price.None(r.priceRipped(j, x)) {
			side, n := r.placeFirst(opener)
			if side != nil && r.ask.Duals[opener]+r.ripped.besideFirst(r, side, n) > value &&
				w.fillRow(side, n) {
				return true
			}
		}
	} else if r.clear.ripped[j] > value && r.priceRipped(j, x) > value && w.fillRow(nil, 0) {
		return true
	}
	if plain >= 0 {
		w.place(plain, x, 0, r.across.Width)
	}
	return plain >= 0
}

// plainPiece is the best item to take all of length j at x, and its value; -1: there is none. With
// an opener that is not negative no other item is looked at.
func (w *walker) plainPiece(j int, x int64, opener int) (item int, value int64) {
	r := w.r
	item, value = -1, price.Never
	along := cutting.Span{From: x, To: x + r.clear.lens[j]}
	for n, i := range r.clear.holds {
		if v := r.ask.Duals[i]; r.clear.lenOf[n] == j && v > value && w.mayUse(i) &&
			(opener < 0 || i == opener) &&
			r.spots.Allow(r.p.Items[i].Class, along, r.allAcross()) {
			item, value = i, v
		}
	}
	return item, value
}

// besideFirst is about what there is to be had beside a side that goes first, at start n, less its
// rips.
func (f *rippedFill) besideFirst(r *pricer, side *lengthSide, n int) int64 {
	return f.follows(r, side.k, n, true) - f.ripLeft(r, n)
}

// fillRow puts the best row of pieces into the length valued last. A side of full size goes first,
// at start n, if it is not negative. fillRow says whether there is a row: where the tables lead to
// none with an allowed piece of full size, the best of those goes first.
func (w *walker) fillRow(side *lengthSide, n int) bool {
	done, full, touching := len(w.places), side != nil, false
	if full {
		n, touching = w.placeSide(side, n)
	}
	for n < len(w.r.ys) {
		s, next := w.nextInRow(n, full, touching)
		touching = false
		if s != nil {
			full = full || s.full
			next, touching = w.placeSide(s, n)
		}
		n = next
	}
	if full {
		return true
	}
	w.takeBack(done)
	if side, n = w.bestOpener(); side == nil {
		return false
	}
	return w.fillRow(side, n)
}

// placeSide puts the piece of a side at start n. It gives the start after it, and whether that is
// just a kerf behind it.
func (w *walker) placeSide(s *lengthSide, n int) (next int, touching bool) {
	r := w.r
	w.place(s.item, s.along.From, r.ys[n], r.ys[n]+s.width)
	next = r.after(s.k, n)
	return next, r.touches(next, r.ys[n]+s.width)
}

// nextInRow is the best choice at start n of the length valued last: the piece of a side, or none,
// nil; and the start that follows. full: the row has its piece of full size already; touching: the
// start is just a kerf behind a piece. Of equally good choices it is the first of these: no piece,
// a piece, a gap.
func (w *walker) nextInRow(n int, full, touching bool) (side *lengthSide, next int) {
	r, row := w.r, w.r.ripped
	f := row.table(full)
	best, y, left := f[n+1], r.ys[n], row.ripLeft(r, n)
	if touching {
		left = 0
	}
	next = n + 1
	for _, k := range row.some[:row.fits[n]] {
		any := row.value[n*len(r.clear.widths)+k]
		if price.None(any) || any+row.follows(r, k, n, true)-left <= best {
			continue
		}
		sides := r.sidesOf(k).all
		for m := range sides {
			s := &sides[m]
			if !w.mayUse(s.item) || !s.mayLie(y) {
				continue
			}
			follows := row.follows(r, k, n, full || s.full) - left
			if v := s.dual + s.worthBehind(r, y) + follows; v > best && !price.None(v) {
				best, side, next = v, s, r.after(k, n)
			}
		}
	}
	if f[n] > best {
		if to := rows.GapTo(row.gaps, f, n, f[n]); to >= 0 {
			return nil, to
		}
	}
	return side, next
}

// placeFirst is the first place of an item in the length valued last; nil: there is none.
func (r *pricer) placeFirst(item int) (side *lengthSide, start int) {
	m := r.clear.sawnIndex(item)
	if m < 0 {
		return nil, 0
	}
	return r.firstPlace(&r.clear.sawn[m])
}

// bestOpener is the first place, by side and start, of the best allowed item that is as long as the
// length valued last; nil: there is none.
func (w *walker) bestOpener() (side *lengthSide, start int) {
	row, length := w.r.ripped, w.r.ripped.along.To-w.r.ripped.along.From
	for _, k := range row.some {
		for _, m := range w.r.clear.ofWidth[k] {
			i := &w.r.clear.sawn[m]
			if i.size == length && w.mayUse(i.item) &&
				(side == nil || w.r.ask.Duals[i.item] > side.dual) {
				if at, n := w.r.firstPlace(i); at != nil {
					side, start = at, n
				}
			}
		}
	}
	return side, start
}

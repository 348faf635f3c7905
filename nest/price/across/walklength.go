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
			side, n := r.firstPlace(opener)
			if side >= 0 && r.ask.Duals[opener]+r.ripped.besideFirst(r, side, n) > value &&
				w.fillRow(side, n) {
				return true
			}
		}
	} else if r.clear.ripped[j] > value && r.priceRipped(j, x) > value && w.fillRow(-1, 0) {
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
func (f *rippedFill) besideFirst(r *pricer, side, n int) int64 {
	return f.follows(r, f.sides[side].k, n, true) - f.ripLeft(r, n)
}

// fillRow puts the best row of pieces into the length valued last. A side of full size goes first,
// at start n, if it is not negative. fillRow says whether there is a row: where the tables lead to
// none with an allowed piece of full size, the best of those goes first.
func (w *walker) fillRow(side, n int) bool {
	done, full, touching := len(w.places), side >= 0, false
	if full {
		n, touching = w.placeSide(side, n)
	}
	for n < len(w.r.ys) {
		m, next := w.nextInRow(n, full, touching)
		touching = false
		if m >= 0 {
			full = full || w.r.ripped.sides[m].full
			next, touching = w.placeSide(m, n)
		}
		n = next
	}
	if full {
		return true
	}
	w.takeBack(done)
	if side, n = w.bestOpener(); side < 0 {
		return false
	}
	return w.fillRow(side, n)
}

// placeSide puts the piece of a side at start n. It gives the start after it, and whether that is
// just a kerf behind it.
func (w *walker) placeSide(side, n int) (next int, touching bool) {
	r, s := w.r, w.r.ripped.sides[side]
	w.place(s.item, s.along.From, r.ys[n], r.ys[n]+s.width)
	next = r.nextAcross[s.k][n]
	return next, r.touches(next, r.ys[n]+s.width)
}

// nextInRow is the best choice at start n of the length valued last: the piece of a side, or none,
// -1; and the start that follows. full: the row has its piece of full size already; touching: the
// start is just a kerf behind a piece. Of equally good choices it is the first of these: no piece,
// a piece, a gap.
func (w *walker) nextInRow(n int, full, touching bool) (side, next int) {
	r, row := w.r, w.r.ripped
	f := row.table(full)
	best, y, left := f[n+1], r.ys[n], row.ripLeft(r, n)
	if touching {
		left = 0
	}
	side, next = -1, n+1
	for k := range r.clear.widths {
		if price.None(row.any[k][n]) {
			continue
		}
		for m := row.sidesFrom[k]; m < row.sidesFrom[k+1]; m++ {
			s := &row.sides[m]
			if !w.mayUse(s.item) || !s.mayLie(y) {
				continue
			}
			follows := row.follows(r, k, n, full || s.full) - left
			if v := s.dual + s.worthBehind(r, y) + follows; v > best && !price.None(v) {
				best, side, next = v, m, r.nextAcross[k][n]
			}
		}
	}
	if f[n] > best {
		if to := rows.GapTo(row.gaps, f, n, f[n]); to >= 0 {
			return -1, to
		}
	}
	return side, next
}

// bestOpener is the first place, by side and start, of the best allowed item that is as long as the
// length valued last; -1: there is none.
func (w *walker) bestOpener() (side, start int) {
	row := w.r.ripped
	side = -1
	for m := range row.sides {
		s := &row.sides[m]
		if s.full && w.mayUse(s.item) && (side < 0 || s.dual > row.sides[side].dual) {
			if at, n := w.r.firstPlace(s.item); at >= 0 {
				side, start = at, n
			}
		}
	}
	return side, start
}

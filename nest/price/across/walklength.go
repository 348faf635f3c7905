package across

import "rackwright/nest/cutting"

// fillLength puts pieces into length j at x, one plain or a row if that is worth more; an opener
// that is not negative goes first. It says whether it has put any.
func (w *walker) fillLength(j int, x int64, opener int) bool {
	r := w.r
	plain, value := w.plainPiece(j, x, opener)
	if opener >= 0 {
		if r.priceRipped(j, x) >= 0 {
			side, n := r.firstPlace(opener)
			if side >= 0 && r.worthFrom(side, n) > value && w.fillRow(side, n) {
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

// plainPiece is the best item for all of length j at x, or the opener, and its value; -1: none.
func (w *walker) plainPiece(j int, x int64, opener int) (item int, value int64) {
	r := w.r
	item, value = -1, -1
	along := cutting.Span{From: x, To: x + r.clear.lens[j]}
	for n, i := range r.clear.holds {
		if v := Fine * r.ask.Duals[i]; r.clear.lenOf[n] == j && v > value && w.mayUse(i) &&
			(opener < 0 || i == opener) &&
			r.spots.allow(r.p.Items[i].Class, along, r.fullWidth()) {
			item, value = i, v
		}
	}
	return item, value
}

// worthFrom is about what the length valued last is worth with a piece of full size first.
func (r *pricer) worthFrom(side, n int) int64 {
	s := &r.ripped.sides[side]
	return s.dual + r.ripped.f0[r.nextAcross[s.k][n]]
}

// fillRow puts the best row of pieces into the length valued last, with a side of full size at start
// n first if it is not negative. It says whether it has put any: one of full size must be there.
func (w *walker) fillRow(side, n int) bool {
	done, full := len(w.places), side >= 0
	if full {
		n = w.placeSide(side, n)
	}
	for n < len(w.r.ys) {
		m, next := w.bestStep(n, full)
		if m >= 0 {
			full = full || w.r.ripped.sides[m].full
			w.placeSide(m, n)
		}
		n = next
	}
	if full {
		return true
	}
	w.takeBack(done)
	if side, n = w.bestFull(); side < 0 {
		return false
	}
	return w.fillRow(side, n)
}

// placeSide puts the piece of a side at start n, and gives the start after it.
func (w *walker) placeSide(side, n int) int {
	r, s := w.r, &w.r.ripped.sides[side]
	w.place(s.item, s.along.From, r.ys[n], r.ys[n]+s.width)
	return r.nextAcross[s.k][n]
}

// bestStep is the best that may be at start n of the length valued last: the piece of a side, or
// none, -1; and the start after it. full: the row has its piece of full size already. Where things are equally good it takes no piece before a piece, and either
// before a gap.
func (w *walker) bestStep(n int, full bool) (side, next int) {
	r, u := w.r, &w.r.ripped
	f := u.table(full)
	best, y := f[n+1], r.ys[n]
	side, next = -1, n+1
	for k := range r.clear.widths {
		if u.any[k][n] < 0 {
			continue
		}
		for m := u.sidesFrom[k]; m < u.sidesFrom[k+1]; m++ {
			s := &u.sides[m]
			if !w.mayUse(s.item) || !s.mayLie(y) {
				continue
			}
			follows := u.table(full || s.full)[r.nextAcross[k][n]]
			if v := s.dual + s.worthBehind(r, y) + follows; v > best && v >= 0 {
				best, side, next = v, m, r.nextAcross[k][n]
			}
		}
	}
	if f[n] > best {
		if to := u.traceGap(r, n, f); to >= 0 {
			return -1, to
		}
	}
	return side, next
}

// bestFull is the first place of the best allowed item that is as long as the length valued last:
// its side and start; -1: none has a place.
func (w *walker) bestFull() (side, start int) {
	u := &w.r.ripped
	side = -1
	for m := range u.sides {
		s := &u.sides[m]
		if s.full && w.mayUse(s.item) && (side < 0 || s.dual > u.sides[side].dual) {
			if at, n := w.r.firstPlace(s.item); at >= 0 {
				side, start = at, n
			}
		}
	}
	return side, start
}

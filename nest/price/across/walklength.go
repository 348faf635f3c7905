package across

import (
	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// length fills length a at x, with an item first if it is not negative, plain or ripped, whichever
// is worth more.
func (w *walker) fillLength(a int, x int64, first int) bool {
	r := w.r
	plain, value := -1, int64(-1)
	for n, i := range r.clear.holds {
		if v := Fine * r.ask.Duals[i]; r.clear.lenOf[n] == a && w.mayUse(i) &&
			(first < 0 || i == first) && v > value &&
			r.free(r.p.Items[i].Class, cutting.Span{From: x, To: x + r.clear.lens[a]}, r.fullWidth()) {
			plain, value = i, v
		}
	}
	ripped := r.clear.ripped[a] // without spots
	if ripped > value || first >= 0 {
		ripped = r.priceRipped(a, x, x, false)
	}
	if ripped > value || first >= 0 && ripped >= 0 {
		side, start := -1, 0
		if first >= 0 {
			side, start = r.firstPlace(first)
		}
		if first >= 0 && side < 0 {
			ripped = price.Never
		} else if first >= 0 {
			ripped = Fine*r.ask.Duals[first] + r.ripped.f0[r.nextAcross[r.ripped.sides[side].k][start]]
		}
		if ripped > value && w.fillRow(side, start) {
			return true
		}
	}
	if plain >= 0 {
		w.place(plain, x, 0, r.across.Width)
	}
	return plain >= 0
}

// row puts the pieces of the ripped length priced last, from a side at a start on if it is not
// negative. It puts none where no allowed piece is as long as the length.
func (w *walker) fillRow(side, start int) bool {
	r, u := w.r, &w.r.ripped
	done := len(w.places)
	t, f := 0, u.f1
	if side >= 0 {
		s := &u.sides[side]
		w.place(s.item, s.start, r.ys[start], r.ys[start]+s.width)
		t, f = r.nextAcross[s.k][start], u.f0
	}
	for t < len(r.ys) {
		best, piece, to, g := f[t+1], -1, t+1, f
		for k := range r.clear.widths {
			if u.any[k][t] < 0 {
				continue
			}
			for m := u.sidesFrom[k]; m < u.sidesFrom[k+1]; m++ {
				s := &u.sides[m]
				if !w.mayUse(s.item) || !s.mayLie(r.ys[t]) {
					continue
				}
				next := r.nextAcross[k][t]
				after := f
				if s.size == r.clear.lens[u.j] {
					after = u.f0
				}
				if v := s.dual + s.worthBehind(r, r.ys[t]) + after[next]; v > best && v >= 0 {
					best, piece, to, g = v, m, next, after
				}
			}
		}
		if f[t] > best {
			if next := u.gapFrom(r, t, f); next >= 0 {
				t = next
				continue
			}
		}
		if piece >= 0 {
			s := &u.sides[piece]
			w.place(s.item, s.start, r.ys[t], r.ys[t]+s.width)
		}
		t, f = to, g
	}
	if len(w.places) > done && &f[0] == &u.f0[0] {
		return true
	}
	w.takeBack(done)
	if side < 0 { // what was priced is not allowed: the best that is, first
		for m := range u.sides {
			if s := &u.sides[m]; s.size == r.clear.lens[u.j] && w.mayUse(s.item) &&
				(side < 0 || s.dual > u.sides[side].dual) {
				if at, n := r.firstPlace(s.item); at >= 0 {
					side, start = at, n
				}
			}
		}
		return side >= 0 && w.fillRow(side, start)
	}
	return false
}

// undo takes back what was put after the first n places.
func (w *walker) takeBack(n int) {
	for _, pl := range w.places[n:] {
		if w.allowed != nil {
			w.allowed[pl.Item]++
		}
	}
	w.places = w.places[:n]
}

package across

import (
	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// length fills length a at x, with an item first if it is not negative, plain or ripped, whichever
// is worth more.
func (w *walker) length(a int, x int64, first int) bool {
	r := w.r
	plain, value := -1, int64(-1)
	for n, i := range r.t.holds {
		if v := Fine * r.asked.Duals[i]; r.t.lenOf[n] == a && w.allowed(i) &&
			(first < 0 || i == first) && v > value &&
			r.free(r.p.Items[i].Class, cutting.Span{From: x, To: x + r.t.lens[a]}, r.whole()) {
			plain, value = i, v
		}
	}
	ripped := r.t.ripped[a] // without spots
	if ripped > value || first >= 0 {
		ripped = r.runLength(a, x, x, false)
	}
	if ripped > value || first >= 0 && ripped >= 0 {
		side, start := -1, 0
		if first >= 0 {
			side, start = r.firstSide(first)
		}
		if first >= 0 && side < 0 {
			ripped = price.Never
		} else if first >= 0 {
			ripped = Fine*r.asked.Duals[first] + r.length.f0[r.nexty[r.length.sides[side].k][start]]
		}
		if ripped > value && w.row(side, start) {
			return true
		}
	}
	if plain >= 0 {
		w.put(plain, x, 0, r.a.Width)
	}
	return plain >= 0
}

// row puts the pieces of the ripped length priced last, from a side at a start on if it is not
// negative. It puts none where no allowed piece is as long as the length.
func (w *walker) row(side, start int) bool {
	r, u := w.r, &w.r.length
	done := len(w.places)
	t, f := 0, u.f1
	if side >= 0 {
		s := &u.sides[side]
		w.put(s.item, s.at, r.ys[start], r.ys[start]+s.width)
		t, f = r.nexty[s.k][start], u.f0
	}
	for t < len(r.ys) {
		best, piece, to, g := f[t+1], -1, t+1, f
		for k := range r.t.widths {
			if u.any[k][t] < 0 {
				continue
			}
			for m := u.first[k]; m < u.first[k+1]; m++ {
				s := &u.sides[m]
				if !w.allowed(s.item) || !s.may(r.ys[t]) {
					continue
				}
				next := r.nexty[k][t]
				after := f
				if s.size == r.t.lens[u.a] {
					after = u.f0
				}
				if v := s.value + s.worth(r, r.ys[t]) + after[next]; v > best && v >= 0 {
					best, piece, to, g = v, m, next, after
				}
			}
		}
		if f[t] > best {
			if next := u.gap(r, t, f); next >= 0 {
				t = next
				continue
			}
		}
		if piece >= 0 {
			s := &u.sides[piece]
			w.put(s.item, s.at, r.ys[t], r.ys[t]+s.width)
		}
		t, f = to, g
	}
	if len(w.places) > done && &f[0] == &u.f0[0] {
		return true
	}
	w.undo(done)
	if side < 0 { // what was priced is not allowed: the best that is, first
		for m := range u.sides {
			if s := &u.sides[m]; s.size == r.t.lens[u.a] && w.allowed(s.item) &&
				(side < 0 || s.value > u.sides[side].value) {
				if at, n := r.firstSide(s.item); at >= 0 {
					side, start = at, n
				}
			}
		}
		return side >= 0 && w.row(side, start)
	}
	return false
}

// undo takes back what was put after the first n places.
func (w *walker) undo(n int) {
	for _, pl := range w.places[n:] {
		if w.left != nil {
			w.left[pl.Item]++
		}
	}
	w.places = w.places[:n]
}

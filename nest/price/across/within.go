package across

import "rackwright/nest/cutting"

// With room, a pattern of either kind is filled from the near end on: each time the length or strip
// that would be worth most with what the last pricing says may follow, of those that an allowed
// piece makes as long or wide as they are.

// within makes a pattern of both kinds in the room left, after an item that goes first if it is not
// negative, and keeps the one whose pieces are worth more.
func (w *walker) within(first int) cutting.FirstCut {
	r := w.r
	var best []cutting.Place
	value, kind := int64(-1), r.best
	left := w.left
	for k, may := range []bool{true, r.rip.f0 != nil && r.mayRip()} {
		if !may {
			continue
		}
		w.left, w.places = append([]int64(nil), left...), nil
		if cutting.FirstCut(k) == cutting.CrosscutFirst {
			w.someLengths(first)
		} else {
			w.someStrips(first)
		}
		sum := int64(0)
		for _, pl := range w.places {
			sum += r.asked.Duals[pl.Item]
		}
		if len(w.places) > 0 && sum > value {
			best, value, kind = w.places, sum, cutting.FirstCut(k)
		}
	}
	w.places = best
	return kind
}

// lengthsLeft says of which lengths a piece is allowed.
func (w *walker) lengthsLeft() []bool {
	out := make([]bool, len(w.r.t.lens))
	for n, i := range w.r.t.holds {
		out[w.r.t.lenOf[n]] = out[w.r.t.lenOf[n]] || w.allowed(i)
	}
	return out
}

func (w *walker) someLengths(first int) {
	r := w.r
	x, t := int64(0), 0
	if first >= 0 && w.allowed(first) {
		if at, value := r.beginCross(first); value >= 0 && w.length(at.a, at.x, first) {
			x = at.x + r.t.lens[at.a] + r.p.Kerf
			t = after(r.xs, x)
		}
	}
	may := w.lengthsLeft()
	for {
		best, a := int64(-1), -1
		if len(r.xs) > 0 {
			if t >= len(r.xs) {
				return
			}
			x = r.xs[t]
		}
		for b, l := range r.t.lens {
			if !may[b] || x+l > r.span {
				continue
			}
			v := r.t.q[b]
			if len(r.xs) > 0 {
				c := t*len(r.t.lens) + b
				if v = r.cross.at[c]; v >= 0 {
					v += r.cross.f[r.next[c]]
				}
			} else if v >= 0 {
				v += r.t.mcross[(r.span-x-l)/r.t.hstep]
			}
			if v > best {
				best, a = v, b
			}
		}
		switch {
		case a >= 0 && w.length(a, x, -1):
			x += r.t.lens[a] + r.p.Kerf
			t = after(r.xs, x)
			may = w.lengthsLeft()
		case a >= 0:
			may[a] = false
		case len(r.xs) == 0:
			return
		default:
			t++
			may = w.lengthsLeft()
		}
	}
}

func (w *walker) widthsLeft() []bool {
	out := make([]bool, len(w.r.t.widths))
	for n := range w.r.t.sawn {
		i := &w.r.t.sawn[n]
		out[i.k] = out[i.k] || i.size <= w.r.span && w.allowed(i.item)
	}
	return out
}

func (w *walker) someStrips(first int) {
	r := w.r
	n := 0
	for m := range r.t.sawn {
		i := &r.t.sawn[m]
		if i.item != first || !w.allowed(first) {
			continue
		}
		if at, value := r.beginRip(i); value >= 0 && w.strip(i.k, at, m) {
			n = r.nexty[i.k][at]
		}
	}
	may := w.widthsLeft()
	for n < len(r.ys) {
		best, k := int64(-1), -1
		for b := range r.t.widths {
			if v := r.rip.any[b][n]; may[b] && v >= 0 && v+r.rip.f0[r.nexty[b][n]] > best {
				best, k = v+r.rip.f0[r.nexty[b][n]], b
			}
		}
		switch {
		case k >= 0 && w.strip(k, n, -1):
			n = r.nexty[k][n]
			may = w.widthsLeft()
		case k >= 0:
			may[k] = false
		default:
			n++
			may = w.widthsLeft()
		}
	}
}

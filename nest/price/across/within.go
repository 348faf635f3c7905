package across

import "rackwright/nest/cutting"

// With room, a pattern of either kind is filled from the near end on: each time the length or strip
// that would be worth most with what the last pricing says may follow, of those that an allowed
// piece makes as long or wide as they are.

// within makes a pattern of both kinds in the room left, after an item that goes first if it is not
// negative, and keeps the one whose pieces are worth more.
func (w *walker) chooseKind(first int) cutting.FirstCut {
	r := w.r
	var best []cutting.Place
	value, kind := int64(-1), r.kind
	left := w.allowed
	for k, may := range []bool{true, r.strips.f0 != nil && r.mayRipFirst()} {
		if !may {
			continue
		}
		w.allowed, w.places = append([]int64(nil), left...), nil
		if cutting.FirstCut(k) == cutting.CrosscutFirst {
			w.chooseLengths(first)
		} else {
			w.chooseStrips(first)
		}
		sum := int64(0)
		for _, pl := range w.places {
			sum += r.ask.Duals[pl.Item]
		}
		if len(w.places) > 0 && sum > value {
			best, value, kind = w.places, sum, cutting.FirstCut(k)
		}
	}
	w.places = best
	return kind
}

// lengthsLeft says of which lengths a piece is allowed.
func (w *walker) usableLengths() []bool {
	out := make([]bool, len(w.r.clear.lens))
	for n, i := range w.r.clear.holds {
		out[w.r.clear.lenOf[n]] = out[w.r.clear.lenOf[n]] || w.mayUse(i)
	}
	return out
}

func (w *walker) chooseLengths(first int) {
	r := w.r
	x, t := int64(0), 0
	if first >= 0 && w.mayUse(first) {
		if at, value := r.openingLength(first); value >= 0 && w.fillLength(at.j, at.x, first) {
			x = at.x + r.clear.lens[at.j] + r.p.Kerf
			t = firstFrom(r.xs, x)
		}
	}
	may := w.usableLengths()
	for {
		best, a := int64(-1), -1
		if len(r.xs) > 0 {
			if t >= len(r.xs) {
				return
			}
			x = r.xs[t]
		}
		for b, l := range r.clear.lens {
			if !may[b] || x+l > r.extent {
				continue
			}
			v := r.clear.q[b]
			if len(r.xs) > 0 {
				c := t*len(r.clear.lens) + b
				if v = r.lengths.value[c]; v >= 0 {
					v += r.lengths.f[r.nextAlong[c]]
				}
			} else if v >= 0 {
				v += r.clear.sumsUpTo[(r.extent-x-l)/r.clear.grid]
			}
			if v > best {
				best, a = v, b
			}
		}
		switch {
		case a >= 0 && w.fillLength(a, x, -1):
			x += r.clear.lens[a] + r.p.Kerf
			t = firstFrom(r.xs, x)
			may = w.usableLengths()
		case a >= 0:
			may[a] = false
		case len(r.xs) == 0:
			return
		default:
			t++
			may = w.usableLengths()
		}
	}
}

func (w *walker) usableWidths() []bool {
	out := make([]bool, len(w.r.clear.widths))
	for n := range w.r.clear.sawn {
		i := &w.r.clear.sawn[n]
		out[i.k] = out[i.k] || i.size <= w.r.extent && w.mayUse(i.item)
	}
	return out
}

func (w *walker) chooseStrips(first int) {
	r := w.r
	n := 0
	for m := range r.clear.sawn {
		i := &r.clear.sawn[m]
		if i.item != first || !w.mayUse(first) {
			continue
		}
		if at, value := r.openingStrip(i); value >= 0 && w.fillStrip(i.k, at, m) {
			n = r.nextAcross[i.k][at]
		}
	}
	may := w.usableWidths()
	for n < len(r.ys) {
		best, k := int64(-1), -1
		for b := range r.clear.widths {
			if v := r.strips.any[b][n]; may[b] && v >= 0 && v+r.strips.f0[r.nextAcross[b][n]] > best {
				best, k = v+r.strips.f0[r.nextAcross[b][n]], b
			}
		}
		switch {
		case k >= 0 && w.fillStrip(k, n, -1):
			n = r.nextAcross[k][n]
			may = w.usableWidths()
		case k >= 0:
			may[k] = false
		default:
			n++
			may = w.usableWidths()
		}
	}
}

package across

// strip fills the strip of width k at start n, with a sawn item as wide as the strip first if it is
// not negative.
func (w *walker) fillStrip(k, n, first int) bool {
	r := w.r
	try := func(first int) bool {
		done := len(w.places)
		ok := false
		switch {
		case r.spotted[k][n]:
			ok = w.fillSpotted(r.fill(k, n), first)
		case w.allowed == nil:
			ok = w.fillClear(k, r.ys[n], first)
		default:
			ok = w.fillAllowed(k, r.ys[n], first)
		}
		if !ok {
			w.takeBack(done)
		}
		return ok
	}
	if try(first) || first >= 0 {
		return first < 0 || len(w.places) > 0
	}
	best := -1
	for m := range r.clear.sawn {
		if i := &r.clear.sawn[m]; i.k == k && i.size <= r.extent && w.mayUse(i.item) &&
			(best < 0 || r.ask.Duals[i.item] > r.ask.Duals[r.clear.sawn[best].item]) {
			best = m
		}
	}
	return best >= 0 && try(best)
}

// spotted follows the recursion along a strip with spots.
func (w *walker) fillSpotted(run *stripFill, first int) bool {
	r, s, lens := w.r, run.shape, len(w.r.clear.lens)
	t, f, scan := 0, run.f1, &run.scans[1]
	if first >= 0 {
		i := &r.clear.sawn[first]
		if t = r.firstStart(s, i); t < 0 {
			return false
		}
		w.place(i.item, r.xs[t], s.y, s.y+s.width)
		t, f, scan = int(r.nextAlong[t*lens+i.j]), run.f0, &run.scans[0]
	}
	for t < len(r.xs) {
		best, piece := f[t+1], -1
		if f[t] == best {
			t++
			continue
		}
		x := r.xs[t]
		s.setLimits(x, r.extent)
		for m := range s.items {
			it := &s.items[m]
			if x+it.size > s.sides[it.side].limit[it.class] || !w.mayUse(it.item) {
				continue
			}
			to := r.nextAlong[t*lens+it.j]
			v := f[to]
			if it.full {
				v = run.f0[to]
			}
			v += Fine * r.ask.Duals[it.item]
			if rest := s.sides[it.side].beside; rest != nil {
				v += worthOfBands(rest, r.clear.s0, r.stock.Keep, x, x+it.size)
			}
			if v > best && v >= 0 {
				best, piece = v, m
			}
		}
		if f[t] > best && s.offcuts {
			if to := scan.trace(t, f[t]); to >= 0 {
				t = to
				continue
			}
		}
		if piece < 0 {
			t++
			continue
		}
		it := &s.items[piece]
		at := s.sides[it.side].left
		w.place(it.item, x, at, at+it.width)
		if it.full {
			f, scan = run.f0, &run.scans[0]
		}
		t = int(r.nextAlong[t*lens+it.j])
	}
	return &f[0] == &run.f0[0]
}

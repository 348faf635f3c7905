package across

// strip fills the strip of width k at start n, with a sawn item as wide as the strip first if it is
// not negative.
func (w *walker) strip(k, n, first int) bool {
	r := w.r
	try := func(first int) bool {
		done := len(w.places)
		ok := false
		switch {
		case r.over[k][n]:
			ok = w.spotted(r.runStrip(k, n), first)
		case w.left == nil:
			ok = w.clear(k, r.ys[n], first)
		default:
			ok = w.limited(k, r.ys[n], first)
		}
		if !ok {
			w.undo(done)
		}
		return ok
	}
	if try(first) || first >= 0 {
		return first < 0 || len(w.places) > 0
	}
	best := -1
	for m := range r.t.sawn {
		if i := &r.t.sawn[m]; i.k == k && i.size <= r.span && w.allowed(i.item) &&
			(best < 0 || r.asked.Duals[i.item] > r.asked.Duals[r.t.sawn[best].item]) {
			best = m
		}
	}
	return best >= 0 && try(best)
}

// spotted follows the recursion along a strip with spots.
func (w *walker) spotted(run *stripRun, first int) bool {
	r, s, lens := w.r, run.shape, len(w.r.t.lens)
	t, f, scan := 0, run.f1, &run.scans[1]
	if first >= 0 {
		i := &r.t.sawn[first]
		if t = r.firstIn(s, i); t < 0 {
			return false
		}
		w.put(i.item, r.xs[t], s.y, s.y+s.width)
		t, f, scan = int(r.next[t*lens+i.a]), run.f0, &run.scans[0]
	}
	for t < len(r.xs) {
		best, piece := f[t+1], -1
		if f[t] == best {
			t++
			continue
		}
		x := r.xs[t]
		s.look(x, r.span)
		for m := range s.items {
			it := &s.items[m]
			if x+it.size > s.sides[it.side].limit[it.class] || !w.allowed(it.item) {
				continue
			}
			to := r.next[t*lens+it.a]
			v := f[to]
			if it.exact {
				v = run.f0[to]
			}
			v += Fine * r.asked.Duals[it.item]
			if rest := s.sides[it.side].rest; rest != nil {
				v += worthOf(rest, r.t.s0, r.s.Keep, x, x+it.size)
			}
			if v > best && v >= 0 {
				best, piece = v, m
			}
		}
		if f[t] > best && s.wide {
			if to := scan.follow(t, f[t]); to >= 0 {
				t = to
				continue
			}
		}
		if piece < 0 {
			t++
			continue
		}
		it := &s.items[piece]
		at := s.sides[it.side].at
		w.put(it.item, x, at, at+it.width)
		if it.exact {
			f, scan = run.f0, &run.scans[0]
		}
		t = int(r.next[t*lens+it.a])
	}
	return &f[0] == &run.f0[0]
}

package across

// clear follows the tables along a strip without spots.
func (w *walker) clear(k int, y int64, first int) bool {
	r, t := w.r, w.r.t
	h, x := t.h1[k], int64(0)
	if first >= 0 {
		i := &t.sawn[first]
		w.put(i.item, 0, y, y+i.width)
		h, x = t.h0[k], i.size+r.p.Kerf
	}
	best, end := r.clearRow(h, t.slope(t.widths[k]), r.span-x)
	if best < 0 {
		return first >= 0
	}
step:
	for end > 0 {
		for m := range t.sawn {
			i := &t.sawn[m]
			before := end - int((i.size+r.p.Kerf)/t.hstep)
			if before < 0 || !t.inStrip(i, t.widths[k]) {
				continue
			}
			v, from := Fine*r.asked.Duals[i.item]+t.besideStrip(i, t.widths[k]), h
			if i.k == k {
				from = t.h0[k]
			}
			if from[before] >= 0 && from[before]+v == h[end] {
				w.put(i.item, x, y, y+i.width)
				x += i.size + r.p.Kerf
				end, h = before, from
				continue step
			}
		}
		panic("cutstock: a piece leads nowhere")
	}
	return true
}

// limited fills a strip without spots with what is allowed.
func (w *walker) limited(k int, y int64, first int) bool {
	r, t := w.r, w.r.t
	x, full, width := int64(0), false, t.widths[k]
	put := func(i *sawn) {
		w.put(i.item, x, y, y+i.width)
		x += i.size + r.p.Kerf
		full = full || i.k == k
	}
	if first >= 0 {
		put(&t.sawn[first])
	}
	for {
		room, best, piece := r.span-x, int64(-1), -1
		if full {
			best = t.slope(width) * t.run(room)
		}
		for m := range t.sawn {
			i := &t.sawn[m]
			if i.size > room || !w.allowed(i.item) || !t.inStrip(i, width) {
				continue
			}
			rest := t.m0
			if !full && i.k != k {
				rest = t.m1
			}
			v := Fine*r.asked.Duals[i.item] + t.besideStrip(i, width) +
				rest[k][(room-i.size)/t.hstep]
			if v > best {
				best, piece = v, m
			}
		}
		if piece < 0 {
			return full
		}
		put(&t.sawn[piece])
	}
}

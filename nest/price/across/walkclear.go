package across

// clear follows the tables along a strip without spots.
func (w *walker) fillClear(k int, y int64, first int) bool {
	r, t := w.r, w.r.clear
	h, x := t.strip1[k], int64(0)
	if first >= 0 {
		i := &t.sawn[first]
		w.place(i.item, 0, y, y+i.width)
		h, x = t.strip0[k], i.size+r.p.Kerf
	}
	best, end := r.bestClearRow(h, t.slope(t.widths[k]), r.extent-x)
	if best < 0 {
		return first >= 0
	}
step:
	for end > 0 {
		for m := range t.sawn {
			i := &t.sawn[m]
			before := end - int((i.size+r.p.Kerf)/t.grid)
			if before < 0 || !t.fitsStrip(i, t.widths[k]) {
				continue
			}
			v, from := Fine*r.ask.Duals[i.item]+t.worthBeside(i, t.widths[k]), h
			if i.k == k {
				from = t.strip0[k]
			}
			if from[before] >= 0 && from[before]+v == h[end] {
				w.place(i.item, x, y, y+i.width)
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
func (w *walker) fillAllowed(k int, y int64, first int) bool {
	r, t := w.r, w.r.clear
	x, full, width := int64(0), false, t.widths[k]
	put := func(i *sawnItem) {
		w.place(i.item, x, y, y+i.width)
		x += i.size + r.p.Kerf
		full = full || i.k == k
	}
	if first >= 0 {
		put(&t.sawn[first])
	}
	for {
		room, best, piece := r.extent-x, int64(-1), -1
		if full {
			best = t.slope(width) * t.beyondKeep(room)
		}
		for m := range t.sawn {
			i := &t.sawn[m]
			if i.size > room || !w.mayUse(i.item) || !t.fitsStrip(i, width) {
				continue
			}
			rest := t.strip0UpTo
			if !full && i.k != k {
				rest = t.strip1UpTo
			}
			v := Fine*r.ask.Duals[i.item] + t.worthBeside(i, width) +
				rest[k][(room-i.size)/t.grid]
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

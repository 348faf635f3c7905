package across

import "rackwright/nest/price"

// fillClear puts the best row into a strip without spots. Sawn item m, which is as wide as the
// strip, goes first if m is not negative. fillClear says whether there is a row.
func (w *walker) fillClear(at stripAt, m int) bool {
	r, t, full := w.r, w.r.clear, m >= 0
	x, y := int64(0), r.ys[at.n]
	put := func(i *sawnItem) {
		w.place(i.item, x, y, y+i.width)
		x += i.size + r.p.Kerf
	}
	if full {
		put(&t.sawn[m])
	}
	f := t.alongStrip[at.k].table(full)
	best, total := t.bestAlong(f, t.slope(t.widths[at.k]), r.extent-x)
	if price.None(best) {
		return full
	}
	for total > 0 {
		i := r.lastPiece(at.k, total, full)
		put(i)
		total -= i.size + r.p.Kerf
		full = full || i.k == at.k
	}
	return true
}

// lastPiece is a piece with which the best row of a total of alongStrip may end in a strip of width
// k. full: a piece of full size is elsewhere in the strip.
func (r *pricer) lastPiece(k int, total int64, full bool) *sawnItem {
	t := r.clear
	rows, width := &t.alongStrip[k], t.widths[k]
	value := rows.table(full).at(total)
	for m := range t.sawn {
		i := &t.sawn[m]
		before := total - i.size - r.p.Kerf
		if before < 0 || !t.fitsStrip(i, width) {
			continue
		}
		v := rows.table(full || i.k == k).at(before)
		if !price.None(v) && v+r.ask.Duals[i.item]+t.worthTrimmed(i, width) == value {
			return i
		}
	}
	panic("across: a best row of pieces is no sum of pieces")
}

// fillAllowed puts allowed pieces into a strip without spots, from the near end on. Sawn item m,
// which is as wide as the strip, goes first if m is not negative. fillAllowed says whether a piece
// of full size was put.
//
// Each next piece is the one that is worth most together with the best row that fits behind it.
func (w *walker) fillAllowed(at stripAt, m int) bool {
	r, t, full := w.r, w.r.clear, m >= 0
	x, y := int64(0), r.ys[at.n]
	for {
		if m >= 0 {
			i := &t.sawn[m]
			w.place(i.item, x, y, y+i.width)
			x += i.size + r.p.Kerf
			full = full || i.k == at.k
		}
		if m = w.nextAllowed(at.k, r.extent-x, full); m < 0 {
			return full
		}
	}
}

// nextAllowed is the best allowed sawn item to go next into a strip of width k without spots, where
// so much length is free; -1: a gap is as good. full: the strip has its piece of full size already.
func (w *walker) nextAllowed(k int, free int64, full bool) int {
	t := w.r.clear
	rows, width := &t.alongStrip[k], t.widths[k]
	best, next := int64(price.Never), -1
	if full {
		best = t.slope(width) * t.beyondKeep(free)
	}
	for m := range t.sawn {
		i := &t.sawn[m]
		if i.size > free || !w.mayUse(i.item) || !t.fitsStrip(i, width) {
			continue
		}
		v := w.r.ask.Duals[i.item] + t.worthTrimmed(i, width) +
			rows.table(full || i.k == k).upTo(free-i.size)
		if v > best && !price.None(v) {
			best, next = v, m
		}
	}
	return next
}

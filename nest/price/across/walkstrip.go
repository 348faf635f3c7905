package across

import (
	"rackwright/nest/cutting"
	"rackwright/nest/price"
	"rackwright/nest/price/across/rows"
)

// fillStrip puts pieces into a strip. If m is not negative, sawn item m goes first, which is as
// wide as the strip. fillStrip says whether any piece was put.
func (w *walker) fillStrip(at stripAt, m int) bool {
	if m >= 0 {
		return w.tryStrip(at, m)
	}
	if w.tryStrip(at, -1) {
		return true
	}
	best := w.bestOfWidth(at.k)
	return best >= 0 && w.tryStrip(at, best)
}

// tryStrip puts the best row into a strip, and says whether that has a piece of full size; if not,
// nothing is put. Sawn item m goes first if m is not negative.
func (w *walker) tryStrip(at stripAt, m int) bool {
	done, ok := len(w.places), false
	switch {
	case w.r.spotted[at.k][at.n]:
		ok = w.fillSpotted(w.r.solvedStrip(at), m)
	case w.allowed == nil:
		ok = w.fillClear(at, m)
	default:
		ok = w.fillAllowed(at, m)
	}
	if !ok {
		w.takeBack(done)
	}
	return ok
}

// bestOfWidth is the allowed sawn item of width k with the greatest dual, by index; -1: there is
// none.
func (w *walker) bestOfWidth(k int) int {
	best, sawn, duals := -1, w.r.clear.sawn, w.r.ask.Duals
	for m := range sawn {
		if i := &sawn[m]; i.k == k && i.size <= w.r.extent && w.mayUse(i.item) &&
			(best < 0 || duals[i.item] > duals[sawn[best].item]) {
			best = m
		}
	}
	return best
}

// fillSpotted puts what the tables of a strip choose into which spots reach. Sawn item m goes first
// if m is not negative. fillSpotted says whether a piece of full size was put.
func (w *walker) fillSpotted(f *stripFill, m int) bool {
	r, t, full := w.r, 0, m >= 0
	if full {
		i, s := &r.clear.sawn[m], f.shape
		if t = r.firstStart(s, i); t < 0 {
			return false
		}
		w.place(i.item, r.xs[t], s.y, s.y+s.width)
		t = int(r.nextAlong[r.slot(t, i.j)])
	}
	for t < len(r.xs) {
		it, next := w.nextInStrip(f, t, full)
		if it != nil {
			left := f.shape.sides[it.side].left
			w.place(it.item, r.xs[t], left, left+it.width)
			full = full || it.full
		}
		t = next
	}
	return full
}

// nextInStrip is the best choice at start t of a strip: an item at a side, or none, nil; and the
// start that follows. full: the row has its piece of full size already. Of equally good choices it
// is the first of these: no piece, a shorter piece, a longer one, a gap.
func (w *walker) nextInStrip(f *stripFill, t int, full bool) (item *stripItem, next int) {
	r, s := w.r, f.shape
	table := f.table(full)
	best := table[t+1]
	next = t + 1
	if table[t] == best {
		return nil, next
	}
	s.setLimits(r.xs[t], r.extent)
	for m := range s.items {
		it := &s.items[m]
		side, along := &s.sides[it.side], cutting.Span{From: r.xs[t], To: r.xs[t] + it.size}
		if along.To > side.limit[it.class] || !w.mayUse(it.item) {
			continue
		}
		after := int(r.nextAlong[r.slot(t, it.j)])
		follows := f.table(full || it.full)
		if v := r.valueBeside(it, side, along) + follows[after]; v > best && !price.None(v) {
			best, item, next = v, it, after
		}
	}
	if table[t] > best {
		if to := rows.GapTo(f.gaps0, table, t, table[t]); to >= 0 {
			return nil, to
		}
	}
	return item, next
}

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

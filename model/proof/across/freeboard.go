package across

// What meets no defect: the rows in a clear length, along a clear strip, and on a clear board.
//
// Along, a gap as wide as its row is worth slope x max(0, run - keep). Two gaps are worth no more
// than one as long as both, so all are merged into the one at the far end, behind the last kerf.
//
// Across, d is what one rip costs, r the rip kerf, and room what there is for n pieces, each with a
// kerf, less the insets. What is left of the room, and how many rips there are:
//
//	no inset, nothing left      n - 1 rips: the first and the last piece lie at the edges
//	no inset, some is left      n rips; one gap at an edge, r narrower than what is left
//	an inset                    n + 1 rips; two gaps, at both edges, each with an inset and a part
//	                            of what is left, r narrower
//
// A gap between two pieces in place of one at an edge is narrower, and asks for no fewer rips. A
// gap is worth nothing below kw. So of two gaps one takes all that is left, or just what makes it
// kw wide.

// gapAcross is what a gap across is worth that is so wide and so long.
func (r *boardSearch) gapAcross(width, long int) int64 {
	if width <= 0 {
		return 0
	}
	return r.slopeOf(width) * int64(width) * r.runKept(long)
}

// restAcross is what is left of a row across is worth, less what its rips cost beyond one for each
// piece.
func (r *boardSearch) restAcross(rest, long int) int64 {
	d := r.ripCost(long)
	if r.edge == 0 {
		if rest == 0 {
			return d
		}
		return r.gapAcross(rest-r.rip, long)
	}
	both := func(part int) int64 {
		return r.gapAcross(r.edge+part-r.rip, long) + r.gapAcross(r.edge+rest-part-r.rip, long)
	}
	best := both(0)
	if part := r.narrow + r.rip - r.edge; part > 0 && part <= rest {
		best = max(best, both(part))
	}
	return best - d
}

// restAlong is what is left of a row along is worth that is so wide.
func (r *boardSearch) restAlong(rest, width int) int64 {
	if rest <= r.kerf {
		return 0
	}
	return r.slopeOf(width) * int64(width) * r.runKept(rest-r.kerf)
}

// acrossRoom is the room of a row across.
func (r *boardSearch) acrossRoom() int { return r.m - 2*r.edge + r.rip }

// canRip says whether a piece so long may be ripped.
func (r *boardSearch) canRip(long int) bool { return int64(long)*r.gx >= int64(r.shortest) }

// freeLength makes the row of blanks across a clear ripped length; false where there is none. Then
// why may say that it takes too much.
func (l *Lister) freeLength(index int) bool {
	r, f := &l.search, &l.inFree
	long, some := r.lengths[index], false
	f.room, f.kinds = r.acrossRoom(), f.kinds[:0]
	if f.room <= 0 || !r.canRip(long) {
		return false
	}
	for k := range l.blanks {
		i := &l.blanks[k]
		if !r.goesInLength(&i.blank, index) {
			continue
		}
		short, w, v := r.lengths[i.length], r.widths[i.width], i.value-r.ripCost(long)
		if short < long {
			v += r.restAlong(long-short, w)
		}
		some = some || short == long
		f.kinds = append(f.kinds, freeKind{w + r.rip, i.demand, v, short == long, k})
	}
	return some && l.filled(f, func(rest int) int64 { return r.restAcross(rest, long) })
}

// freeStrip makes the row of blanks along a clear strip, likewise.
func (l *Lister) freeStrip(index int) bool {
	r, f := &l.search, &l.inFree
	wide, some := r.widths[index], false
	f.room, f.kinds = r.n+r.kerf, f.kinds[:0]
	for k := range l.blanks {
		i := &l.blanks[k]
		if !r.goesInStrip(&i.blank, index) {
			continue
		}
		long, w, v := r.lengths[i.length], r.widths[i.width], i.value
		if w < wide {
			v += r.gapAcross(wide-w-r.rip, long) - r.ripCost(long)
		}
		some = some || w == wide
		f.kinds = append(f.kinds, freeKind{long + r.kerf, i.demand, v, w == wide, k})
	}
	return some && l.filled(f, func(rest int) int64 { return r.restAlong(rest, wide) })
}

// filled fills a row; false where that takes too much, which it then says.
func (l *Lister) filled(f *freeRow, end func(rest int) int64) bool {
	if !f.fill(end) {
		l.why = tooLong
		return false
	}
	return l.step(int64(f.places.n) * int64(len(f.kinds)+1))
}

// freeLengths makes the row of lengths along a clear board, each worth the most that it can give;
// false where there is none.
func (l *Lister) freeLengths() bool {
	r, f := &l.search, &l.outFree
	f.room, f.kinds = r.n+r.kerf, f.kinds[:0]
	for k, long := range r.lengths {
		kind := freeKind{size: long + r.kerf, value: l.plain[k], what: k}
		if l.freeLength(k) {
			kind.value = max(kind.value, l.inFree.of(1, 0)[0])
		}
		f.kinds = append(f.kinds, kind)
	}
	return l.filledOuter(func(i *wantedBlank) int { return i.length },
		func(rest int) int64 { return r.restAlong(rest, r.m) })
}

// freeStrips makes the row of strips across a clear board, likewise.
func (l *Lister) freeStrips() bool {
	r, f := &l.search, &l.outFree
	f.room, f.kinds = r.acrossRoom(), f.kinds[:0]
	if f.room <= 0 || !r.canRip(r.n) {
		return false
	}
	for k, w := range r.widths {
		if !l.freeStrip(k) {
			continue
		}
		kind := freeKind{size: w + r.rip, value: l.inFree.of(1, 0)[0] - r.ripCost(r.n), what: k}
		if kind.value > impossible/2 {
			f.kinds = append(f.kinds, kind)
		}
	}
	return l.filledOuter(func(i *wantedBlank) int { return i.width },
		func(rest int) int64 { return r.restAcross(rest, r.n) })
}

// filledOuter is filled for the row of the board. No kind has more things than there is room for,
// nor than blanks are wanted of its size, which sizeOf says.
func (l *Lister) filledOuter(sizeOf func(i *wantedBlank) int, end func(rest int) int64) bool {
	f := &l.outFree
	for k := range f.kinds {
		kind := &f.kinds[k]
		for b := range l.blanks {
			if i := &l.blanks[b]; sizeOf(i) == kind.what {
				kind.most += i.demand
			}
		}
		if kind.most = min(kind.most, int64(f.room/kind.size)); kind.most >= 1<<freeBits {
			l.why = tooMany
		}
	}
	return l.why == "" && len(f.kinds) > 0 && l.filled(f, end)
}

// listClear lists a clear board: the row of the board is ready, and contents adds what a thing of
// one kind can have in it. Each of these is worth less than its value by its rip.
func (l *Lister) listClear(sizes int, contents func(what int, need int64) []content) {
	f := &l.outFree
	lists := make([][]content, sizes)
	for j := range f.kinds {
		k := &f.kinds[j]
		if p := f.next[f.places.n*j]; p >= 0 && f.f[0][p] > impossible {
			lists[k.what] = contents(k.what, l.need-f.f[0][p])
			sortContents(lists[k.what])
		}
	}
	l.combine(f, lists)
}

// inLength gives what a clear length can have in it.
func (l *Lister) inLength(index int, need int64) (out []content) {
	for k := range l.blanks {
		if i := &l.blanks[k]; i.length == index && i.value >= need {
			out = append(out, content{i.value, i.one})
		}
	}
	if l.freeLength(index) {
		out = l.rows(&l.inFree, need, out)
	}
	return out
}

// inStrip gives what a clear strip can have in it.
func (l *Lister) inStrip(index int, need int64) (out []content) {
	if l.freeStrip(index) {
		out = l.rows(&l.inFree, need, out)
	}
	return out
}

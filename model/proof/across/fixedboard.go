package across

// A board with defects. What a length or strip gives at a place is looked at only where it may be
// in a layout that reaches the need:
//
//	before the place    no more than what fits there without defects (freerow.go)
//	at it               no more than without defects, nor than is guessed (guess.go)
//	behind it           the most that follows, by these values
//
// Where all that comes to the need, it is worked out, and what follows is worked out once more with
// these values, and nothing elsewhere. Its rows are listed as far as they reach what is then
// missing.

// listFixed lists a board with defects.
func (l *Lister) listFixed() {
	r := &l.search
	crosscut, ripped := r.crosscutFirst(), r.ripFirst()
	bestOfBoth(crosscut, ripped)
	if r.stopped {
		return
	}
	if l.freeLengths() && l.outFree.f[0][0] >= l.need {
		l.fixedLengths()
	}
	if l.why == "" && l.freeStrips() && l.outFree.f[0][0] >= l.need {
		l.fixedStrips(0)
	}
	if l.why == "" {
		l.fixedSpans()
	}
}

// fixedRow is a row of lengths, or of strips.
type fixedRow struct {
	at     *places
	sizes  []int     // each with a kerf
	values [][]int64 // by size and place what one gives at most that is looked at there
	alike  func(index, x int) (k *known, clear bool)
	most   func(index, x int) int64                 // that one gives there
	clear  func(index int, need int64) []content    // what one can have in it that is clear
	fixed  func(index, x int, need int64) []content // what one can have in it there
}

// lengthRow is the row of lengths.
func (l *Lister) lengthRow() *fixedRow {
	r, g := &l.search, &l.search.lengthGuesses
	g.values = makeRows(nil, len(r.lengths), r.ofLengths.n)
	for k := range r.lengths {
		g.fillValues(k)
	}
	return &fixedRow{&r.ofLengths, withKerf(nil, r.lengths, r.kerf), g.values,
		l.length, l.lengthAt, l.inLength, l.inLengthAt}
}

// stripRow is the row of strips.
func (l *Lister) stripRow() *fixedRow {
	r := &l.search
	return &fixedRow{&r.ofBoard, withKerf(nil, r.widths, r.rip),
		r.stripGuesses.values[:len(r.widths)], l.strip, l.stripAt, l.inStrip, l.inStripAt}
}

// lower lets nothing give more than a thing of its kind gives in the free row, and so much more.
func (l *Lister) lower(f *fixedRow, more int64) {
	caps := noValues(len(f.sizes))
	for _, k := range l.outFree.kinds {
		caps[k.what] = k.value + more
	}
	for k, values := range f.values {
		for n := range values {
			values[n] = min(values[n], caps[k])
		}
	}
}

// look works out what things give where they may be in a layout that reaches the need, and leaves
// out all others: before gives the most that lies before a position, after that behind a place.
func (l *Lister) look(f *fixedRow, before func(x int) int64, after []int64, need int64) {
	for n := 0; n < f.at.n && l.why == ""; n++ {
		x := int(f.at.at[n])
		first := before(x)
		for k, size := range f.sizes {
			v := f.values[k][n]
			f.values[k][n] = impossible
			if v <= impossible {
				continue
			}
			next, is := f.at.is(x + size)
			if !is || after[next] <= impossible {
				continue
			}
			if lacks := need - first - after[next]; v >= lacks {
				one, clear := f.alike(k, x)
				if !clear { // else it is known
					v = min(v, one.most(func() int64 { return f.most(k, x) }))
				}
				if v >= lacks {
					f.values[k][n] = v
				}
			}
		}
	}
}

// listRow lists a row of the board by what is looked at; all that it comes to is worth so much
// more.
func (l *Lister) listRow(f *fixedRow, rules rowRules, need, more int64) {
	rules.things = func(n int, out []thing) []thing {
		for k, size := range f.sizes {
			if v := f.values[k][n]; v > impossible {
				next, _ := f.at.is(int(f.at.at[n]) + size)
				out = append(out, thing{next, true, v, k})
			}
		}
		return out
	}
	rules.contents = func(n, k int, need int64) []content {
		x := int(f.at.at[n])
		one, clear := f.alike(k, x)
		return one.contents(need, func(need int64) []content {
			if clear {
				return f.clear(k, need)
			}
			return f.fixed(k, x, need)
		})
	}
	l.outer.prepare(l, rules)
	l.outer.list(l, need)
	for _, c := range l.outer.whole(nil) {
		l.found(c.vec, c.value+more)
	}
}

// fixedLengths lists the layouts that are crosscut first.
func (l *Lister) fixedLengths() {
	r, f := &l.search, l.lengthRow()
	l.known = map[string]*known{}
	l.lower(f, 0)
	row := &r.row
	row.options = row.options[:0]
	for k, long := range r.lengths {
		for _, one := range r.lengthGuesses.bySize[k] {
			n, _ := f.at.is(one.a)
			row.offer(k, long, one.a, one.b, f.values[k][n])
		}
	}
	row.fill(r.n)
	l.step(int64(len(r.lengths) * f.at.n))
	l.look(f, l.outFree.within, row.a[0], l.need)
	row.options = row.options[:0]
	for k, long := range r.lengths {
		for n, v := range f.values[k] {
			row.offer(k, long, int(f.at.at[n]), int(f.at.at[n]), v)
		}
	}
	if l.why != "" || len(row.options) == 0 {
		return
	}
	row.fill(r.n)
	l.listRow(f, l.rulesAlong(row, f.at, r.findBands(0, r.m, 0, 0, nil)), l.need, 0)
}

// fixedStrips lists the layouts that are ripped first over all of the board, or of the span that it
// is clipped to; what lies outside is worth ends.
func (l *Lister) fixedStrips(ends int64) {
	r, f, need := &l.search, l.stripRow(), l.need-ends
	c, d := &r.board, r.ripCost(r.n)
	l.known = map[string]*known{}
	l.lower(f, d)
	c.best()
	rip := int64(0)
	if r.edge > 0 {
		rip = d
	}
	l.look(f, func(y int) int64 { return l.outFree.within(max(0, y-r.edge+r.rip)) + rip }, c.a[0],
		need)
	if l.why != "" {
		return
	}
	c.best()
	l.listRow(f, l.rulesAcross(c), need, ends)
}

// fixedSpans lists the layouts that are ripped first over spans of their own.
func (l *Lister) fixedSpans() {
	for s := range l.search.eachSpan() {
		if l.freeStrips() && l.outFree.f[0][0]+s.ends >= l.need {
			l.fixedStrips(s.ends)
		}
		if l.why != "" || l.search.stopped {
			break
		}
	}
}

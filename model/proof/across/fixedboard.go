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

// caps gives by size the most that a thing of the free row gives.
func (l *Lister) caps(sizes int) []int64 {
	out := make([]int64, sizes)
	for k := range out {
		out[k] = impossible
	}
	for _, k := range l.outFree.kinds {
		out[k.what] = k.value
	}
	return out
}

// fixedLengths lists the layouts that are crosscut first.
func (l *Lister) fixedLengths() {
	r, caps := &l.search, l.caps(len(l.search.lengths))
	l.known = map[string]*known{}
	row, at := &r.row, &r.ofLengths
	values := makeRows(nil, len(r.lengths), at.n)
	row.options = row.options[:0]
	for k, long := range r.lengths {
		for n := range values[k] {
			values[k][n] = impossible
		}
		for _, one := range r.lengthGuesses.bySize[k] {
			v := min(one.value, caps[k])
			if v <= impossible {
				continue
			}
			row.options = append(row.options,
				option{length: long, a: one.a, b: one.b, exact: true, value: v, kind: k})
			for n, end := at.within(one.a, one.b); n < end; n++ {
				values[k][n] = v
			}
		}
	}
	row.fill(r.n)
	l.step(int64(len(r.lengths) * at.n))
	row.options = row.options[:0]
	for n := 0; n < at.n && l.why == ""; n++ {
		x := int(at.at[n])
		before := l.outFree.within(x)
		for k, long := range r.lengths {
			v := values[k][n]
			values[k][n] = impossible
			if v <= impossible {
				continue
			}
			next, is := at.is(x + long + r.kerf)
			if lacks := l.need - before - row.a[0][next]; is && v >= lacks {
				one, clear := l.length(k, x)
				if !clear { // else it is known
					v = min(v, one.most(func() int64 { return l.lengthAt(k, x) }))
				}
				if v >= lacks {
					values[k][n] = v
					row.options = append(row.options,
						option{length: long, a: x, b: x, exact: true, value: v, kind: k})
				}
			}
		}
	}
	if l.why != "" || len(row.options) == 0 {
		return
	}
	row.fill(r.n)
	bands := r.findBands(0, r.m, 0, 0, nil)
	rules := l.rulesAlong(row, at, bands)
	rules.things = func(n int, add func(thing)) {
		for k, long := range r.lengths {
			if v := values[k][n]; v > impossible {
				next, _ := at.is(int(at.at[n]) + long + r.kerf)
				add(thing{next, true, v, k})
			}
		}
	}
	rules.contents = func(n, k int, need int64) []content {
		x := int(at.at[n])
		one, clear := l.length(k, x)
		return one.contents(need, func(need int64) []content {
			if clear {
				return l.inLength(k, need)
			}
			return l.inLengthAt(k, x, need)
		})
	}
	l.listRow(rules, l.need, 0)
}

// listRow lists a row of the board; all that it comes to is worth so much more.
func (l *Lister) listRow(rules rowRules, need, more int64) {
	l.outer.prepare(l, rules)
	l.outer.list(l, need)
	for k := range l.outer.done.all {
		l.found(l.outer.done.all[k].vec, l.outer.done.all[k].value+more)
	}
}

// fixedStrips lists the layouts that are ripped first over all of the board, or of the span that it
// is clipped to; what lies outside is worth ends.
func (l *Lister) fixedStrips(ends int64) {
	r, caps, need := &l.search, l.caps(len(l.search.widths)), l.need-ends
	c, d, at := &r.board, r.ripCost(r.n), &r.ofBoard
	l.known = map[string]*known{}
	for k := range r.widths {
		for n := range c.exact[k] {
			c.exact[k][n] = min(c.exact[k][n], capped(caps[k], d))
		}
	}
	c.best()
	rip := int64(0)
	if r.edge > 0 {
		rip = d
	}
	values := makeRows(nil, len(r.widths), at.n)
	for n := 0; n < at.n && l.why == ""; n++ {
		y := int(at.at[n])
		before := l.outFree.within(max(0, y-r.edge+r.rip)) + rip
		for k, w := range r.widths {
			values[k][n] = impossible
			v := c.exact[k][n]
			if v <= impossible || y+w > r.m-r.edge {
				continue
			}
			next, is := at.is(y + w + r.rip)
			if !is || c.a[0][next] <= impossible {
				continue
			}
			if lacks := need - before - c.a[0][next]; v >= lacks {
				one, clear := l.strip(k, y)
				if !clear {
					v = min(v, one.most(func() int64 { return l.stripAt(k, y) }))
				}
				if v >= lacks {
					values[k][n] = v
				}
			}
		}
	}
	if l.why != "" {
		return
	}
	for k := range values {
		copy(c.exact[k], values[k])
	}
	c.best()
	rules := l.rulesAcross(c)
	rules.things = func(n int, add func(thing)) {
		for k, w := range r.widths {
			if v := values[k][n]; v > impossible {
				next, _ := at.is(int(at.at[n]) + w + r.rip)
				add(thing{next, true, v, k})
			}
		}
	}
	rules.contents = func(n, k int, need int64) []content {
		y := int(at.at[n])
		one, clear := l.strip(k, y)
		return one.contents(need, func(need int64) []content {
			if clear {
				return l.inStrip(k, need)
			}
			return l.inStripAt(k, y, need)
		})
	}
	l.listRow(rules, need, ends)
}

// capped is what a strip gives without its rip.
func capped(v, rip int64) int64 {
	if v <= impossible {
		return impossible
	}
	return v + rip
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

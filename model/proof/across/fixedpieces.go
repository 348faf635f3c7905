package across

// The rules of rows among the defects, and the rows of blanks in a length and along a strip that
// lie at one place there. The tables of the best row of them (length.go, strip.go) say what can
// still follow.

// rulesAlong are those of a row along whose tables are filled.
func (l *Lister) rulesAlong(row *rowAlong, at *places, bands []band) rowRules {
	gap := func(from, to int) int64 {
		if to <= from {
			return 0
		}
		return row.bandsWorth(bands, from, to)
	}
	return rowRules{places: at, layers: row.layers,
		after: func(layer, n int) int64 { return row.a[layer][n] },
		begin: func(n int) int64 { return gap(0, int(at.at[n])-row.kerf) },
		gap: func(n, to int) int64 {
			return gap(int(at.at[n]), int(at.at[to])-row.kerf)
		},
		end:    func(n int) int64 { return gap(int(at.at[n]), row.n) },
		sooner: func(int) bool { return true }}
}

// rulesAcross are those of a row across whose tables are filled.
func (l *Lister) rulesAcross(c *rowAcross) rowRules {
	at := c.places
	wide := func(width int) bool { return width > 0 && width >= c.keep }
	return rowRules{places: at, layers: c.layers, extra: c.line,
		sooner: func(n int) bool { return !c.shut[n] },
		after:  func(layer, n int) int64 { return c.a[layer][n] },
		begin: func(n int) int64 {
			q := int(at.at[n])
			switch {
			case q == 0:
				return 0
			case c.shut[n]:
				return impossible
			case wide(q - c.kerf):
				return c.before[n] - c.line
			}
			return -c.line
		},
		gap: func(n, to int) int64 {
			s := int(at.at[n])
			switch {
			case s-c.kerf == c.m || c.shut[n]:
				return impossible
			case to == n:
				return -c.line
			case c.shut[to]:
				return impossible
			case wide(int(at.at[to]) - c.kerf - s):
				return c.before[to] - c.sum[n] - 2*c.line
			}
			return -2 * c.line
		},
		end: func(n int) int64 {
			s := int(at.at[n])
			switch {
			case s-c.kerf == c.m:
				return 0
			case c.shut[n]:
				return impossible
			case wide(c.m - s):
				return c.sum[at.n] - c.sum[n] - c.line
			}
			return -c.line
		}}
}

// lengthAt is the most that a length gives at a place.
func (l *Lister) lengthAt(index, x int) int64 {
	r := &l.search
	l.step(int64(len(r.blanks)*(len(r.lines)+r.ofColumn.n) + r.ofColumn.n*len(r.widths)))
	return r.lengthMost(index, x, x)
}

// inLengthAt gives what a length can have in it at a place, as far as it reaches the need.
func (l *Lister) inLengthAt(index, x int, need int64) (out []content) {
	r := &l.search
	long := r.lengths[index]
	for k := range l.blanks {
		i := &l.blanks[k]
		if i.length == index && i.value >= need && !r.barred(i.face, x+long, x) {
			out = append(out, content{i.value, i.one})
		}
	}
	if !r.canRip(long) || len(r.widths) == 0 {
		return out
	}
	l.lengthAt(index, x)
	c := &r.column
	if c.most < need || c.most <= impossible {
		return out
	}
	values := l.blanksAcross(index, x)
	rules := l.rulesAcross(c)
	rules.things = func(n int, things []thing) []thing {
		for k := range l.blanks {
			if values[k] == nil || values[k][n] <= impossible {
				continue
			}
			i := &l.blanks[k]
			to := int(c.places.at[n]) + r.widths[i.width] + r.rip
			if next, is := c.places.is(to); is {
				things = append(things,
					thing{next, i.length == index, values[k][n], int(i.one)})
			}
		}
		return things
	}
	l.inner.prepare(l, rules)
	l.inner.list(l, need)
	return l.inner.whole(out)
}

// blanksAcross gives by blank and place across what it gives there in a length at a place; nil for
// one that may not be in it.
func (l *Lister) blanksAcross(index, x int) [][]int64 {
	r := &l.search
	out, long := make([][]int64, len(l.blanks)), r.lengths[index]
	for k := range l.blanks {
		i := &l.blanks[k]
		if !r.goesInLength(&i.blank, index) {
			continue
		}
		out[k] = noValues(r.ofColumn.n)
		for _, s := range r.placesIn(r.lengths[i.length], long, r.kerf) {
			r.raiseAcross(&i.blank, s, x, x, out[k])
		}
	}
	return out
}

// stripAt is the most that a strip gives at a place.
func (l *Lister) stripAt(index, y int) int64 {
	r := &l.search
	l.step(int64(len(r.blanks) * r.ofBlanks.n))
	return r.stripMost(&r.ofBlanks, index, y, y)
}

// inStripAt gives what a strip can have in it at a place, as far as it reaches the need.
func (l *Lister) inStripAt(index, y int, need int64) []content {
	r, row := &l.search, &l.search.strip
	if v := l.stripAt(index, y); v < need || v <= impossible {
		return nil
	}
	wide, at := r.widths[index], &r.ofBlanks
	var all []option // with the vector of its blank in kind
	for k := range l.blanks {
		i := &l.blanks[k]
		if !r.goesInStrip(&i.blank, index) {
			continue
		}
		row.options = row.options[:0]
		for _, s := range r.placesIn(r.widths[i.width], wide, r.rip) {
			r.addOptions(&i.blank, s, y, y, i.width == index)
		}
		for _, o := range row.options {
			o.kind = int(i.one)
			all = append(all, o)
		}
	}
	rules := l.rulesAlong(row, at, r.findBands(0, wide, y, y, nil))
	rules.things = func(n int, out []thing) []thing {
		x := int(at.at[n])
		for k := range all {
			o := &all[k]
			if x < o.a || x > o.b {
				continue
			}
			v := o.value
			if o.beside != nil {
				v += row.bandsWorth(o.beside, x, x+o.length) - o.clear
			}
			if next, is := at.is(x + o.length + r.kerf); is {
				out = append(out, thing{next, o.exact, v, o.kind})
			}
		}
		return out
	}
	l.inner.prepare(l, rules)
	l.inner.list(l, need)
	return l.inner.whole(nil)
}

package across

// The two outer searches: boards that are crosscut first, and boards that are ripped first.

// kindSearch is the search for the best layout of one kind. find gives the value of the best layout
// by what is known, which is no less than any layout of the kind has. learn makes more of that
// layout known; false says that all of it is known.
type kindSearch struct {
	find  func() int64
	learn func() bool
}

// bestOfBoth is the most of both kinds: the one that seems better is followed up.
func bestOfBoth(a, b kindSearch) int64 {
	better, other := a.find(), b.find()
	for {
		if better < other {
			a, b, better, other = b, a, other, better
		}
		if better <= impossible || !a.learn() {
			return better
		}
		better = a.find()
	}
}

// crosscutFirst searches the layouts that are crosscut first: rows of lengths along.
func (r *boardSearch) crosscutFirst() kindSearch {
	r.column.size(&r.ofColumn, r.m, r.rip, r.narrow, r.edge, r.widths)
	g := &r.lengthGuesses
	g.places, g.eager, g.values = &r.ofLengths, true, nil
	g.give = func(index, a, b int) int64 {
		if a < 0 {
			return r.asIfClear(func() int64 { return r.lengthMost(index, 0, 0) })
		}
		return r.lengthMost(index, a, b)
	}
	g.events = g.events[:0]
	for _, s := range r.spots {
		g.events = append(g.events, gridSpan{s.from, s.to})
	}
	g.start(r.lengths, 0, r.n)
	row := &r.row
	row.prepare(&r.ofLengths, r.n, r.kerf, r.gx, int64(r.keep), r.findBands(0, r.m, 0, 0, nil))
	row.layers = 1
	var layout []placedAt
	top := r.n
	find := func() int64 {
		row.options = row.options[:0]
		for k, size := range r.lengths {
			for _, one := range g.bySize[k] {
				row.offer(k, size, one.a, one.b, one.value)
			}
		}
		row.fill(top)
		return row.best()
	}
	return kindSearch{find, func() bool {
		layout = row.trace(layout[:0])
		top = g.learn(layout)
		return top >= 0
	}}
}

// ripFirst searches the layouts that are ripped first over the whole of the board. It notes what
// clear strips give that are not as long, where spans of their own may be ripped (spans.go).
func (r *boardSearch) ripFirst() kindSearch {
	if !r.canRip(r.n) || len(r.widths) == 0 {
		return kindSearch{find: func() int64 { return impossible }}
	}
	r.clearStrips = makeRows(r.clearStrips, len(r.widths), len(r.ownSpans))
	r.stripGuesses.rough = false
	return r.ripRows(func(width int) int64 {
		v := r.asIfClear(func() int64 { return r.stripMost(&r.ofClear, width, r.edge, r.edge) })
		if r.stopped {
			return impossible
		}
		for n, s := range r.ownSpans {
			r.clearStrips[width][n] = r.strip.behind(r.n - (s.to - s.from))
		}
		return v
	})
}

// ripRows searches the rows of strips across. clear is what the strip of an index gives where it
// meets no defect.
func (r *boardSearch) ripRows(clear func(width int) int64) kindSearch {
	c := &r.board
	c.size(&r.ofBoard, r.m, r.rip, r.narrow, r.edge, r.widths)
	g := &r.stripGuesses
	g.places, g.values = &r.ofBoard, c.exact
	g.give = func(index, a, b int) int64 {
		if a < 0 {
			return clear(index)
		}
		return r.stripMost(&r.ofBlanks, index, a, b)
	}
	g.events = g.events[:0]
	for _, s := range r.spots {
		g.events = append(g.events, gridSpan{s.left, s.right})
	}
	g.start(r.widths, r.edge, r.m-r.edge)
	r.sumLines(c, r.n, 0, 0)
	c.layers = 1
	c.ripsCost(r.ripCost(r.n))
	for _, s := range r.spots {
		if s.weak {
			c.shutRips(s.left, s.right)
		}
	}
	var layout []placedAt
	return kindSearch{c.best, func() bool {
		layout = c.trace(layout[:0])
		return g.learn(layout) >= 0
	}}
}

// asIfClear works something out as if the board had no defects.
func (r *boardSearch) asIfClear(work func() int64) int64 {
	spots, all := r.spots, r.lines
	r.spots, r.lines = nil, []lines{{0, r.m, nil, []gridSpan{{0, r.n}}}}
	v := work()
	r.spots, r.lines = spots, all
	return v
}

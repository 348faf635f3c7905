package across

// search is for the best layout of one kind. It finds one by what is known; learn makes more of it
// known, or says that nothing is left to learn.
type search struct {
	find  func() int64
	learn func() bool
}

// greater is the most of either kind: the one that seems better is followed up.
func greater(a, b search) int64 {
	first, second := a.find(), b.find()
	for {
		if first < second {
			a, b, first, second = b, a, second, first
		}
		if first <= impossible || !a.learn() {
			return first
		}
		first = a.find()
	}
}

// crosscutFirst searches the layouts that are crosscut first.
func (r *Most) crosscutFirst() search {
	r.column.size(r.m, r.rip, r.narrow, r.edge, r.widths)
	g := &r.first
	g.eager = true
	g.give = func(index, a, b int) int64 {
		if a < 0 {
			return r.clear(func() int64 { return r.length(index, 0, 0) })
		}
		return r.length(index, a, b)
	}
	g.events = g.events[:0]
	for _, s := range r.spots {
		g.events = append(g.events, gridSpan{s.from, s.to})
	}
	g.start(r.lengths, 0, r.n)
	row := &r.row
	row.prepare(r.n, r.kerf, r.gx, int64(r.keep), r.bands(0, r.m, 0, 0, nil))
	row.layers = 1
	var layout []placed
	top := r.n
	find := func() int64 {
		row.options = row.options[:0]
		for k, size := range r.lengths {
			for _, one := range g.of[k] {
				if one.value > impossible {
					row.options = append(row.options,
						option{length: size, a: one.a, b: one.b, exact: true, value: one.value,
							kind: k})
				}
			}
		}
		row.fill(top)
		return row.best()
	}
	return search{find, func() bool {
		layout = row.trace(layout[:0])
		top = g.learn(layout)
		return top >= 0
	}}
}

// ripFirst searches the layouts that are ripped first.
func (r *Most) ripFirst() search {
	if int64(r.n)*r.gx < int64(r.shortest) || len(r.widths) == 0 {
		return search{find: func() int64 { return impossible }}
	}
	c := &r.board
	c.size(r.m, r.rip, r.narrow, r.edge, r.widths)
	g := &r.second
	g.values = c.exact
	g.give = func(index, a, b int) int64 {
		if a < 0 {
			return r.clear(func() int64 { return r.stripOf(index, r.edge, r.edge) })
		}
		return r.stripOf(index, a, b)
	}
	g.events = g.events[:0]
	for _, s := range r.spots {
		g.events = append(g.events, gridSpan{s.left, s.right})
	}
	g.start(r.widths, r.edge, r.m-r.edge)
	r.addUp(c, r.n, 0, 0)
	c.layers = 1
	var layout []placed
	most := int64(impossible)
	find := func() int64 {
		most = c.best()
		return most
	}
	return search{find, func() bool {
		layout = c.trace(most, layout[:0])
		return g.learn(layout) >= 0
	}}
}

// clear works something out as if the board had no defects.
func (r *Most) clear(work func() int64) int64 {
	spots, all := r.spots, r.lines
	r.spots, r.lines = nil, []lines{{0, r.m, nil, []gridSpan{{0, r.n}}}}
	v := work()
	r.spots, r.lines = spots, all
	return v
}

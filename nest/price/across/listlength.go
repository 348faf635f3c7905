package across

import (
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
	"rackwright/nest/price/across/offcuts"
	"rackwright/nest/price/across/rows"
	"rackwright/nest/price/counts"
)

// spottedLengths lists the lengths of a stock with spots.
func (s *lister) spottedLengths(r *pricer) bool {
	b, lens := &r.lengths, len(r.clear.lens)
	before := b.gaps.Before(nil, func(out []int64, t int) {
		for j := range int(r.fitLens[t]) {
			if v := b.value[r.slot(t, j)]; !price.None(v) {
				next := r.nextAlong[r.slot(t, j)]
				out[next] = max(out[next], out[t]+v)
			}
		}
	})
	c := &lineList{s: s, r: r, laid: map[rows.Step][]cutting.Place{}}
	c.Line = &rows.Line{Form: s.form, Starts: len(r.xs), Before: before, Empty: b.gaps.Empty(nil),
		Gaps: b.gaps, Need: s.need, Limit: &s.limit}
	for j := range lens {
		next := make([]int32, len(r.xs))
		for t := range r.xs {
			next[t] = r.nextAlong[r.slot(t, j)]
		}
		line := s.newLengthLine(r, s.form, j)
		if !c.group(j, next, nil).fill(slabRows{
			bound: func(t int) int64 {
				if j >= int(r.fitLens[t]) {
					return price.Never
				}
				return b.value[r.slot(t, j)]
			},
			beside:  func(t int) int64 { return before[t] + b.f[next[t]] },
			clear:   func(t int) bool { return r.groupOf[r.slot(t, j)] < 0 },
			cost:    func(int) int64 { return 0 },
			inClear: func(least int64) ([]rows.Row, bool) { return s.rowsInLength(r, j, least) },
			among: func(t int, least int64) ([]rows.Row, bool) {
				return s.rowsInLengthAt(line, r.xs[t], least)
			},
		}) {
			return false
		}
	}
	return c.list()
}

// layLength lays out a length of the line.
func (c *lineList) layLength(step rows.Step) []cutting.Place {
	t := &c.Things[step.Thing]
	if c.r.groupOf[c.r.slot(step.Start, t.Tag)] < 0 {
		return c.s.layLength(c.r, t.Tag, c.r.xs[step.Start], t.Counts)
	}
	return c.s.layLengthAt(c.r, t.Tag, c.r.xs[step.Start], t.Counts)
}

// rowsInLengthAt lists what length j at x may hold, among spots.
func (s *lister) rowsInLengthAt(e *lengthLine, x int64, least int64) ([]rows.Row, bool) {
	out, ok := []rows.Row(nil), true
	if e.set(s, x, least) {
		if out, ok = s.rowsOf(e.Line, e.sawn, e.full); !ok {
			return nil, false
		}
	}
	along := cutting.Span{From: x, To: x + e.r.clear.lens[e.j]}
	return s.addPlain(out, e.r, e.j, least, e.r.spots, along), true
}

// lengthLine lists the pieces of one length among spots, here and there: a thing is a sawn item.
type lengthLine struct {
	*rows.Line
	r     *pricer
	form  *counts.Form
	j     int
	sawn  []*sawnItem // by thing
	near  offcuts.Spots
	ys    []int64
	gaps  *offcuts.Across
	sides [][]lengthSide // by thing, where it was set last
	cost  int64          // of a rip
}

// newLengthLine makes that of length j.
func (s *lister) newLengthLine(r *pricer, form *counts.Form, j int) *lengthLine {
	e := &lengthLine{r: r, form: form, j: j, cost: r.p.RipCost * r.clear.lens[j],
		gaps: offcuts.NewAcross(r.p.Rip, r.across)}
	for k := range r.clear.widths { // as in sidesOf
		for _, m := range r.clear.ofWidth[k] {
			if i := &r.clear.sawn[m]; r.clear.fitsLength(i, r.clear.lens[j]) {
				e.sawn = append(e.sawn, i)
			}
		}
	}
	e.sides = make([][]lengthSide, len(e.sawn))
	return e
}

// full says whether an item is as long as the length.
func (e *lengthLine) full(i *sawnItem) bool { return i.j == e.j }

// set sets where the length starts; false where nothing may be ripped off it.
func (e *lengthLine) set(s *lister, x, need int64) bool {
	r, row := e.r, e.r.ripped
	if len(e.sawn) == 0 {
		return false
	}
	row.along = cutting.Span{From: x, To: x + r.clear.lens[e.j]}
	row.common = row.along
	if near := r.spots.In(row.along, r.allAcross()); e.Line == nil || !slices.Equal(near, e.near) {
		e.near = near
		e.setStarts()
	}
	e.Need, e.Limit = need, &s.limit
	row.bands = r.bandsOver(row.along, row.bands)
	e.gaps.Set(e.ys, r.clear.step, r.clear.strip, row.bands)
	e.Empty = e.gaps.Empty(e.Empty)
	row.beginLength(r, e.j)
	at := 0
	for m, i := range e.sawn {
		sides := r.sidesOf(i.k).all
		if m == 0 || e.sawn[m-1].k != i.k {
			at = 0
		}
		from := at
		for at < len(sides) && sides[at].sawnItem == i {
			at++
		}
		e.sides[m] = sides[from:at]
	}
	for m := range e.Things {
		e.setValues(m)
	}
	e.Before = e.gaps.Before(e.Before, reachOf(e.Things))
	return true
}

// setStarts makes the line between the spots near it.
func (e *lengthLine) setStarts() {
	r := e.r
	var widths []int64
	for _, i := range e.sawn {
		widths = append(widths, i.width)
	}
	e.ys, _ = r.startsBeside(e.near, slices.Compact(widths), false)
	e.Line = &rows.Line{Form: e.form, Starts: len(e.ys), Gaps: e.gaps}
	if e.cost > 0 {
		e.Left = r.ripsLeft(e.ys, e.cost)
	}
	for n, i := range e.sawn {
		t := rows.Thing{Row: rows.Row{Counts: e.form.None(), Pieces: 1},
			Values: make([]int64, len(e.ys))}
		if e.form.Most(i.item) > 0 {
			t.Counts = e.form.One(i.item)
		}
		if n > 0 && i.width == e.sawn[n-1].width {
			t.Next, t.Touches = e.Things[n-1].Next, e.Things[n-1].Touches
		} else {
			t.Next, t.Touches = r.nextBeside(e.ys, i.width, e.cost > 0)
		}
		e.Things = append(e.Things, t)
	}
}

// setValues sets what the item of a thing is worth at each start.
func (e *lengthLine) setValues(m int) {
	r, i, values := e.r, e.sawn[m], e.Things[m].Values
	wanted := e.form.Most(i.item) > 0
	for n, y := range e.ys {
		v := int64(price.Never)
		if wanted && r.maySaw(r.ripped.along, y, i.width) {
			v, _ = r.bestOfSides(e.sides[m], y)
		}
		if !price.None(v) && y+i.width < r.across.Width {
			v -= e.cost
		}
		values[n] = v
	}
}

// layLengthAt lays out a row in length j at x, among spots.
func (s *lister) layLengthAt(r *pricer, j int, x int64, row counts.Counts) (out []cutting.Place) {
	form := counts.NewForm(s.form.All(row))
	plain, value := s.plainOf(r, j, x, form)
	e := s.newLengthLine(r, form, j)
	if e.set(s, x, -1<<60) && e.List() {
		if n, v := e.Number(form.Limits()); n >= 0 && v > value {
			for _, step := range e.Trace(n) {
				y := e.ys[step.Start]
				_, side := r.bestOfSides(e.sides[step.Thing], y)
				at := &e.sides[step.Thing][side]
				out = append(out, r.placed(at.item, at.along.From, y, y+at.width))
			}
			return out
		}
	}
	return append(out, r.placed(plain, x, 0, r.across.Width))
}

// plainOf is the item of a row that is one piece over the whole width of length j at x, and its
// value; price.Never: the row is none.
func (s *lister) plainOf(r *pricer, j int, x int64, row *counts.Form) (item int, value int64) {
	pieces := int64(0)
	value = price.Never
	along := cutting.Span{From: x, To: x + r.clear.lens[j]}
	for n, i := range r.clear.holds {
		if pieces += row.Most(i); row.Most(i) > 0 && r.clear.lenOf[n] == j &&
			r.spots.Allow(r.p.Items[i].Class, along, r.allAcross()) {
			item, value = i, s.ask.Duals[i]
		}
	}
	if pieces > 1 {
		return -1, price.Never
	}
	return item, value
}

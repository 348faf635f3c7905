package across

import (
	"rackwright/nest/cutting"
	"rackwright/nest/price"
	"rackwright/nest/price/across/counts"
	"rackwright/nest/price/across/offcuts"
	"rackwright/nest/price/across/rows"
)

// spottedLengths lists the lengths of a stock with spots.
func (s *lister) spottedLengths(r *pricer) bool {
	b, lens := &r.lengths, len(r.clear.lens)
	gaps := offcuts.NewAlong(r.xs, r.p.Kerf, r.extent, &r.stockGaps, r.clear.whole)
	before := gaps.Before(func(out []int64, t int) {
		for j := range int(r.fitLens[t]) {
			if v := b.value[r.slot(t, j)]; !price.None(v) {
				next := r.nextAlong[r.slot(t, j)]
				out[next] = max(out[next], out[t]+v)
			}
		}
	})
	c := &lineList{s: s, r: r, laid: map[rows.Step][]cutting.Place{}}
	c.Line = &rows.Line{Form: s.form, Starts: len(r.xs), Before: before, Empty: gaps.Empty(),
		Gaps: gaps, Need: s.need, Limit: &s.limit}
	for j := range lens {
		next, ok := make([]int32, len(r.xs)), true
		for t := range r.xs {
			next[t] = r.nextAlong[r.slot(t, j)]
		}
		g := c.group(j, next, nil)
		leastOf := func(t int) int64 { return s.need - before[t] - b.f[next[t]] }
		clearLeast, some := int64(0), false
		for t := range r.xs {
			slot := r.slot(t, j)
			if j >= int(r.fitLens[t]) || b.value[slot] < leastOf(t) || price.None(b.value[slot]) {
				continue
			}
			if r.groupOf[slot] < 0 {
				if !some || leastOf(t) < clearLeast {
					clearLeast, some = leastOf(t), true
				}
				continue
			}
			var list []rows.Row
			if list, ok = s.rowsInLengthAt(r, j, r.xs[t], leastOf(t)); !ok {
				return false
			}
			for _, row := range list {
				g.at(t, row, 0)
			}
		}
		if !some {
			continue
		}
		var list []rows.Row
		if list, ok = s.rowsInLength(r, j, clearLeast); !ok {
			return false
		}
		for t := range r.xs {
			if j < int(r.fitLens[t]) && r.groupOf[r.slot(t, j)] < 0 {
				for _, row := range list {
					if row.Value < leastOf(t) {
						break
					}
					g.at(t, row, 0)
				}
			}
		}
	}
	return c.list()
}

// layLength lays out a length of the line.
func (c *lineList) layLength(step rows.Step) []cutting.Place {
	t := &c.Things[step.Thing]
	if c.r.groupOf[c.r.slot(step.Start, t.Tag)] < 0 {
		return c.s.layLength(c.r, nil, t.Tag, c.r.xs[step.Start], t.Counts)
	}
	return c.s.layLengthAt(c.r, t.Tag, c.r.xs[step.Start], t.Counts)
}

// rowsInLengthAt lists what length j at x may hold, among spots.
func (s *lister) rowsInLengthAt(r *pricer, j int, x int64, least int64) ([]rows.Row, bool) {
	out, ripped := []rows.Row(nil), 0
	if e := s.newLengthLine(r, s.form, j, x, least); e != nil {
		if !e.List() {
			return nil, false
		}
		e.Each(func(c counts.Counts, value int64, _ int) {
			if row := (rows.Row{Counts: c, Value: value}); e.full(&row) {
				out = append(out, row)
			}
		})
		ripped = len(out)
	}
	along := cutting.Span{From: x, To: x + r.clear.lens[j]}
	for n, i := range r.clear.holds {
		if r.clear.lenOf[n] != j || s.form.Most(i) == 0 || s.ask.Duals[i] < least ||
			!r.spots.Allow(r.p.Items[i].Class, along, r.allAcross()) {
			continue
		}
		out = addPlain(out, ripped, rows.Row{Counts: s.form.One(i), Pieces: 1,
			Value: s.ask.Duals[i]})
	}
	return out, true
}

// lengthLine are the pieces of a length among spots: a thing is a sawn item.
type lengthLine struct {
	*rows.Line
	r     *pricer
	form  *counts.Form
	j     int
	along cutting.Span
	ys    []int64
	sides [][]lengthSide // by thing
	sawn  []*sawnItem    // by thing
}

// newLengthLine makes that of length j at x; nil where nothing may be ripped off it.
func (s *lister) newLengthLine(r *pricer, form *counts.Form, j int, x, need int64) *lengthLine {
	length := r.clear.lens[j]
	if length < r.across.ShortestRip {
		return nil
	}
	e := &lengthLine{r: r, form: form, j: j, along: cutting.Span{From: x, To: x + length}}
	var widths []int64
	for m := range r.clear.sawn {
		if i := &r.clear.sawn[m]; r.clear.fitsLength(i, length) && form.Most(i.item) > 0 {
			e.sawn = append(e.sawn, i)
			widths = append(widths, i.width)
		}
	}
	if len(e.sawn) == 0 {
		return nil
	}
	near := r.spots.Within(nil, e.along)
	e.ys, _ = r.startsBeside(near, widths, false)
	areas := offcuts.Areas{}
	areas.SetBands(r.clear.step, r.clear.strip, r.bandsOver(e.along, nil))
	gaps := offcuts.NewAcross(e.ys, r.p.Rip, r.across, &areas)
	line := r.p.RipCost * length
	e.Line = &rows.Line{Form: form, Starts: len(e.ys), Empty: gaps.Empty(), Gaps: gaps, Need: need,
		Limit: &s.limit}
	if line > 0 {
		e.Left = r.ripsLeft(e.ys, line)
	}
	var weak offcuts.Spots
	for _, o := range near {
		if o.Weak {
			weak = append(weak, o)
		}
	}
	for _, i := range e.sawn {
		t := rows.Thing{Row: rows.Row{Counts: form.One(i.item), Pieces: 1}}
		t.Next, t.Touches = r.nextBeside(e.ys, i.width, line > 0)
		sides := r.sidesIn(i, e.along)
		for _, y := range e.ys {
			v := int64(price.Never)
			if r.insideInset(y, i.width) && r.ripClear(weak, y, i.width) {
				v, _ = r.bestOfSides(sides, y)
			}
			if !price.None(v) && y+i.width < r.across.Width {
				v -= line
			}
			t.Values = append(t.Values, v)
		}
		e.sides, e.Things = append(e.sides, sides), append(e.Things, t)
	}
	e.Before = gaps.Before(reachOf(e.Things))
	return e
}

// full says whether a row has a piece as long as the length.
func (e *lengthLine) full(row *rows.Row) (full bool) {
	row.Pieces = 0
	for _, i := range e.sawn {
		n := e.form.Of(row.Counts, i.item)
		row.Pieces += int(n)
		full = full || n > 0 && i.j == e.j
	}
	return full
}

// sidesIn are the ends of a length at which an item may lie.
func (r *pricer) sidesIn(i *sawnItem, along cutting.Span) (out []lengthSide) {
	add := func(piece, remainder cutting.Span) {
		out = append(out, lengthSide{sawnItem: i, along: piece, remainder: remainder,
			dual:       r.ask.Duals[i.item],
			behindMost: r.clear.worthBehind(i, along.To-along.From),
			bars:       r.spots.Barring(nil, i.class, piece, r.allAcross())})
	}
	near := cutting.Span{From: along.From, To: along.From + i.size}
	add(near, cutting.Span{From: near.To + r.p.Kerf, To: along.To})
	if near.To < along.To {
		far := cutting.Span{From: along.To - i.size, To: along.To}
		add(far, cutting.Span{From: along.From, To: far.From - r.p.Kerf})
	}
	return out
}

// bestOfSides is the most that an item at y is worth, and at which side.
func (r *pricer) bestOfSides(sides []lengthSide, y int64) (best int64, side int) {
	best = price.Never
	for m := range sides {
		if s := &sides[m]; s.mayLie(y) {
			if v := s.dual + s.worthBehind(r, y); v > best {
				best, side = v, m
			}
		}
	}
	return best, side
}

// layLengthAt lays out a row in length j at x, among spots.
func (s *lister) layLengthAt(r *pricer, j int, x int64, row counts.Counts) (out []cutting.Place) {
	form := counts.NewForm(s.form.All(row))
	var plain int64 = price.Never
	item, pieces := -1, int64(0)
	for n, i := range r.clear.holds {
		c := form.Most(i)
		if pieces += c; c == 0 || r.clear.lenOf[n] != j {
			continue
		}
		if along := (cutting.Span{From: x, To: x + r.clear.lens[j]}); r.spots.Allow(
			r.p.Items[i].Class, along, r.allAcross()) {
			plain, item = s.ask.Duals[i], i
		}
	}
	if pieces > 1 {
		item = -1
	}
	e := s.newLengthLine(r, form, j, x, -1<<60)
	if e != nil && e.List() {
		n, value := e.Number(form.Limits())
		if n >= 0 && (item < 0 || value > plain) {
			for _, step := range e.Trace(n) {
				y := e.ys[step.Start]
				_, side := r.bestOfSides(e.sides[step.Thing], y)
				at := &e.sides[step.Thing][side]
				out = append(out, r.placed(at.item, at.along.From, y, y+at.width))
			}
			return out
		}
	}
	return append(out, r.placed(item, x, 0, r.across.Width))
}

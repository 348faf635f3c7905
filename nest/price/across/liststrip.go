package across

import (
	"rackwright/nest/cutting"
	"rackwright/nest/price"
	"rackwright/nest/price/across/counts"
	"rackwright/nest/price/across/offcuts"
	"rackwright/nest/price/across/rows"
	"rackwright/nest/price/across/starts"
)

// spottedStrips lists the strips of a span with spots.
func (s *lister) spottedStrips(rip *ripper) bool {
	r := rip.pricer
	b := &r.strips
	gaps := offcuts.NewAcross(r.ys, r.p.Rip, r.across)
	gaps.Set(&b.areas)
	before := gaps.Before(nil, func(out []int64, n int) {
		for k := range b.any {
			if v := b.any[k][n]; !price.None(v) {
				next := r.nextAcross[k][n]
				out[next] = max(out[next], out[n]+v)
			}
		}
	})
	c := &lineList{s: s, r: r, rip: rip, laid: map[rows.Step][]cutting.Place{}}
	c.Line = &rows.Line{Form: s.form, Starts: len(r.ys), Before: before, Empty: gaps.Empty(nil),
		Gaps: gaps, Need: s.need - rip.ends, Limit: &s.limit}
	line := r.p.RipCost * r.extent
	if line > 0 {
		c.Left = r.ripsLeft(r.ys, line)
	}
	for k, width := range r.clear.widths {
		next, touches := r.nextBeside(r.ys, width, line > 0)
		if !c.group(k, next, touches).fill(slabRows{
			bound: func(n int) int64 {
				if !r.strippable[k][n] {
					return price.Never
				}
				return b.any[k][n]
			},
			beside: func(n int) int64 { return before[n] + b.follows(r, k, n, true) },
			clear:  func(n int) bool { return !r.spotted[k][n] },
			cost: func(n int) int64 {
				if r.ys[n]+width < r.across.Width {
					return line
				}
				return 0
			},
			inClear: func(least int64) ([]rows.Row, bool) { return s.rowsInStrip(r, k, least) },
			among: func(n int, least int64) ([]rows.Row, bool) {
				return s.rowsInStripAt(r, stripAt{k, n}, least)
			},
		}) {
			return false
		}
	}
	return c.list()
}

// layStrip lays out a strip of the line.
func (c *lineList) layStrip(step rows.Step) []cutting.Place {
	t := &c.Things[step.Thing]
	if !c.r.spotted[t.Tag][step.Start] {
		return c.s.layStrip(c.r, t.Tag, c.r.ys[step.Start], t.Counts)
	}
	return c.s.layStripAt(c.r, stripAt{t.Tag, step.Start}, t.Counts)
}

// rowsInStripAt lists what a strip may hold into which spots reach.
func (s *lister) rowsInStripAt(r *pricer, at stripAt, least int64) (out []rows.Row, ok bool) {
	e, kept := s.newStripLine(r, s.form, at, least), s.limit.Kept
	if e == nil {
		return nil, true
	}
	if !e.List() {
		return nil, false
	}
	s.limit.Kept = kept // no more is needed of its tables
	e.Each(func(c counts.Counts, value int64, _ int) {
		if pieces, full := piecesOf(e.form, c, e.sawn, e.full); full {
			out = append(out, rows.Row{Counts: c, Pieces: pieces, Value: value})
		}
	})
	return out, true
}

// stripLine are the pieces of a strip into which spots reach: a thing is a sawn item.
type stripLine struct {
	*rows.Line
	r     *pricer
	form  *counts.Form
	at    stripAt
	shape *stripShape
	xs    []int64
	sawn  []*sawnItem   // by thing
	sides [][]stripItem // by thing
}

// newStripLine makes that of a strip; nil where nothing fits.
func (s *lister) newStripLine(r *pricer, form *counts.Form, at stripAt, need int64) *stripLine {
	e := &stripLine{r: r, form: form, at: at, shape: r.shape(at)}
	var sizes []int64
	for _, it := range e.shape.items {
		if form.Most(it.item) == 0 {
			continue
		}
		if n := len(e.sawn) - 1; n >= 0 && e.sawn[n] == it.sawnItem {
			e.sides[n] = append(e.sides[n], it)
			continue
		}
		e.sawn, e.sides = append(e.sawn, it.sawnItem), append(e.sides, []stripItem{it})
		sizes = append(sizes, it.size)
	}
	if len(e.sawn) == 0 {
		return nil
	}
	e.xs, _ = r.startsBehind(e.shape.spots, sizes, false)
	var table *offcuts.Table
	if e.shape.offcuts {
		table = &e.shape.gaps
	}
	gaps := offcuts.NewAlong(e.xs, r.p.Kerf, r.extent, table, r.clear.s0(e.shape.width))
	e.Line = &rows.Line{Form: form, Starts: len(e.xs), Empty: gaps.Empty(), Gaps: gaps, Need: need,
		Limit: &s.limit}
	for m, i := range e.sawn {
		t := rows.Thing{Row: rows.Row{Counts: form.One(i.item), Pieces: 1}}
		for _, to := range starts.Successors(e.xs, i.size+r.p.Kerf) {
			t.Next = append(t.Next, int32(to))
		}
		for _, x := range e.xs {
			v := int64(price.Never)
			if x+i.size <= r.extent {
				v, _ = e.bestSide(m, x)
			}
			t.Values = append(t.Values, v)
		}
		e.Things = append(e.Things, t)
	}
	e.Before = gaps.Before(reachOf(e.Things))
	return e
}

// bestSide is the most that the item of a thing at x is worth, and at which side of the strip.
func (e *stripLine) bestSide(m int, x int64) (best int64, side int) {
	best = price.Never
	for n := range e.sides[m] {
		it := &e.sides[m][n]
		along := cutting.Span{From: x, To: x + it.size}
		at := &e.shape.sides[it.side]
		if at.bars[it.class].ClearTo(x, e.r.extent) < along.To {
			continue
		}
		if v := e.r.valueBeside(it, at, along); v > best {
			best, side = v, n
		}
	}
	return best, side
}

// full says whether an item is as wide as the strip.
func (e *stripLine) full(i *sawnItem) bool { return i.k == e.at.k }

// layStripAt lays out a row in a strip into which spots reach.
func (s *lister) layStripAt(r *pricer, at stripAt, row counts.Counts) (out []cutting.Place) {
	form := counts.NewForm(s.form.All(row))
	e := s.newStripLine(r, form, at, -1<<60)
	e.List()
	n, _ := e.Number(form.Limits())
	for _, step := range e.Trace(n) {
		x := e.xs[step.Start]
		_, side := e.bestSide(step.Thing, x)
		it := &e.sides[step.Thing][side]
		left := e.shape.sides[it.side].left
		out = append(out, r.placed(it.item, x, left, left+it.width))
	}
	return out
}

package across

import (
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
	"rackwright/nest/price/across/offcuts"
	"rackwright/nest/price/across/rows"
	"rackwright/nest/price/counts"
	"rackwright/nest/price/starts"
)

// spottedStrips lists the strips of a span with spots.
func (s *lister) spottedStrips(rip *ripper) bool {
	r := rip.pricer
	b := &r.strips
	before := b.gaps.Before(nil, func(out []int64, n int) {
		for k := range b.any {
			if v := b.any[k][n]; !price.None(v) {
				next := r.after(k, n)
				out[next] = max(out[next], out[n]+v)
			}
		}
	})
	c := &lineList{s: s, r: r, rip: rip, laid: map[rows.Step][]cutting.Place{}}
	c.Line = &rows.Line{Form: s.form, Starts: len(r.ys), Before: before, Empty: b.gaps.Empty(nil),
		Gaps: b.gaps, Need: s.need - rip.ends, Limit: &s.limit}
	line := r.p.RipCost * r.extent
	if line > 0 {
		c.Left = r.ripsLeft(r.ys, line)
	}
	for k, width := range r.clear.widths {
		next, touches := r.nextBeside(r.ys, width, line > 0)
		strip := s.newStripLine(r, s.form, k)
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
				return s.rowsInStripAt(strip, n, least)
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

// rowsInStripAt lists what a strip at a start may hold, into which spots reach.
func (s *lister) rowsInStripAt(e *stripLine, n int, least int64) (out []rows.Row, ok bool) {
	if !e.set(s, n, least) {
		return nil, true
	}
	return s.rowsOf(e.Line, e.sawn, e.full)
}

// stripLine lists the pieces of strips of one width into which spots reach, one after the other: a
// thing is a sawn item.
type stripLine struct {
	*rows.Line
	r     *pricer
	form  *counts.Form
	k     int
	sawn  []*sawnItem // by thing
	near  offcuts.Spots
	xs    []int64
	gaps  *offcuts.Along
	shape *stripShape   // of the strip set last
	sides [][]stripItem // by thing, in the shape
}

// newStripLine makes that of width k.
func (s *lister) newStripLine(r *pricer, form *counts.Form, k int) *stripLine {
	e := &stripLine{r: r, form: form, k: k}
	for m := range r.clear.sawn {
		i := &r.clear.sawn[m]
		if r.clear.fitsStrip(i, r.clear.widths[k]) && i.size <= r.extent && form.Most(i.item) > 0 {
			e.sawn = append(e.sawn, i)
		}
	}
	e.sides = make([][]stripItem, len(e.sawn))
	return e
}

// set sets where the strip starts; false where nothing fits.
func (e *stripLine) set(s *lister, n int, need int64) bool {
	if len(e.sawn) == 0 {
		return false
	}
	e.shape = e.r.shape(stripAt{e.k, n})
	if e.Line == nil || !slices.Equal(e.shape.spots, e.near) {
		e.near = e.shape.spots
		e.setStarts()
	}
	e.Need, e.Limit = need, &s.limit
	at := 0
	for m, i := range e.sawn {
		for e.shape.items[at].sawnItem != i {
			at++
		}
		from := at
		for at < len(e.shape.items) && e.shape.items[at].sawnItem == i {
			at++
		}
		e.sides[m] = e.shape.items[from:at]
	}
	e.gaps.Set(e.shape.gaps, e.r.clear.s0(e.shape.width))
	e.Empty = e.gaps.Empty(e.Empty)
	for m, i := range e.sawn {
		for t, x := range e.xs {
			if e.Things[m].Values[t] = price.Never; x+i.size <= e.r.extent {
				e.Things[m].Values[t], _ = e.bestSide(m, x)
			}
		}
	}
	e.Before = e.gaps.Before(e.Before, reachOf(e.Things))
	return true
}

// setStarts makes the line between the spots near it.
func (e *stripLine) setStarts() {
	var sizes []int64
	for _, i := range e.sawn {
		sizes = append(sizes, i.size)
	}
	e.xs, _ = e.r.startsBehind(e.near, slices.Compact(sizes), false)
	e.gaps = offcuts.NewAlong(e.xs, offcuts.GapEnds(e.xs, e.r.p.Kerf, e.r.extent))
	e.Line = &rows.Line{Form: e.form, Starts: len(e.xs), Gaps: e.gaps}
	for m, i := range e.sawn {
		t := rows.Thing{Row: rows.Row{Counts: e.form.One(i.item), Pieces: 1},
			Values: make([]int64, len(e.xs))}
		if m > 0 && i.size == e.sawn[m-1].size {
			t.Next = e.Things[m-1].Next
		} else {
			t.Next = starts.Successors[int32](e.xs, i.size+e.r.p.Kerf)
		}
		e.Things = append(e.Things, t)
	}
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
func (e *stripLine) full(i *sawnItem) bool { return i.k == e.k }

// layStripAt lays out a row in a strip into which spots reach.
func (s *lister) layStripAt(r *pricer, at stripAt, row counts.Counts) (out []cutting.Place) {
	form := counts.NewForm(s.form.All(row))
	e := s.newStripLine(r, form, at.k)
	e.set(s, at.n, -1<<60)
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

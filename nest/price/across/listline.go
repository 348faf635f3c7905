package across

import (
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
	"rackwright/nest/price/across/rows"
	"rackwright/nest/price/counts"
	"rackwright/nest/price/starts"
)

// lineList is the list of a stock, or of a span that is ripped first, with spots.
type lineList struct {
	*rows.Line
	s    *lister
	r    *pricer
	rip  *ripper // nil: it is crosscut first
	laid map[rows.Step][]cutting.Place
}

// group are the things of one size in a line, by their counts.
type group struct {
	line    *rows.Line
	tag     int
	set     *counts.Set
	first   int // index of the first of them
	next    []int32
	touches []bool
}

func (c *lineList) group(tag int, next []int32, touches []bool) *group {
	return &group{c.Line, tag, counts.NewSet(c.s.form), len(c.Things), next, touches}
}

// slabRows are what lengths or strips of one size may hold, by where they start.
type slabRows struct {
	bound   func(n int) int64 // at most what one holds; price.Never: it may not start there
	beside  func(n int) int64 // at most what is worth anything beside it
	clear   func(n int) bool  // no spot is in it
	cost    func(n int) int64 // of the rip on its right
	inClear func(least int64) ([]rows.Row, bool)
	among   func(n int, least int64) ([]rows.Row, bool)
}

// fill lets all rows of slabs start where they are worth enough; false where the limit is spent.
func (g *group) fill(b slabRows) bool {
	clearLeast, some := int64(0), false
	for n := range g.line.Starts {
		least := g.line.Need - b.beside(n)
		switch v := b.bound(n); {
		case price.None(v) || v < least:
		case b.clear(n):
			if !some || least < clearLeast {
				clearLeast, some = least, true
			}
		default:
			list, ok := b.among(n, least)
			if !ok {
				return false
			}
			for _, row := range list {
				g.at(n, row, b.cost(n))
			}
		}
	}
	if !some {
		return true
	}
	list, ok := b.inClear(clearLeast)
	for n := 0; ok && n < g.line.Starts; n++ {
		if v := b.bound(n); price.None(v) || !b.clear(n) {
			continue
		}
		for _, row := range list {
			if row.Value < g.line.Need-b.beside(n) {
				break
			}
			g.at(n, row, b.cost(n))
		}
	}
	return ok
}

// at lets a row start somewhere, less a cost.
func (g *group) at(n int, row rows.Row, cost int64) {
	m, fresh := g.set.Put(row.Counts)
	if fresh {
		t := rows.Thing{Row: row, Values: make([]int64, g.line.Starts), Next: g.next,
			Touches: g.touches, Tag: g.tag}
		for n := range t.Values {
			t.Values[n] = price.Never
		}
		g.line.Limit.Take(int64(g.line.Starts), int64(g.line.Starts))
		g.line.Things = append(g.line.Things, t)
	}
	t := &g.line.Things[g.first+m]
	t.Values[n] = max(t.Values[n], row.Value-cost)
}

// list lists the line.
func (c *lineList) list() bool {
	if !c.List() {
		return false
	}
	return c.s.takeAll(c.Each, c.rip, c)
}

func (c *lineList) layout(at int) *cutting.Pattern {
	var places []cutting.Place
	for _, step := range c.Trace(at) {
		laid, ok := c.laid[step]
		if !ok {
			if c.rip == nil {
				laid = c.layLength(step)
			} else {
				laid = c.layStrip(step)
			}
			c.laid[step] = laid
		}
		places = append(places, laid...)
	}
	if c.rip == nil {
		return patternOf(cutting.CrosscutFirst, cutting.Span{}, places)
	}
	return patternOf(cutting.RipFirst, c.rip.over, places)
}

// reachOf raises the bounds of later starts by the things of a line.
func reachOf(things []rows.Thing) func(out []int64, n int) {
	return func(out []int64, n int) {
		for m := range things {
			t := &things[m]
			if v := t.Values[n]; !price.None(v) {
				out[t.Next[n]] = max(out[t.Next[n]], out[n]+v)
			}
		}
	}
}

// ripsLeft is what a thing pays by start for the rip on its left.
func (r *pricer) ripsLeft(ys []int64, line int64) []int64 {
	out := make([]int64, len(ys))
	for n, y := range ys {
		if y > 0 {
			out[n] = line
		}
	}
	return out
}

// nextBeside gives by start the first start a kerf or more behind a thing so wide, and whether that
// is just a kerf behind it; nil where that is not asked for.
func (r *pricer) nextBeside(ys []int64, width int64, touch bool) (next []int32, touches []bool) {
	next = starts.Successors[int32](ys, width+r.p.Rip)
	for n := 0; touch && n < len(ys); n++ {
		to := int(next[n])
		touches = append(touches, to < len(ys) && ys[to] == ys[n]+width+r.p.Rip)
	}
	return next, touches
}

// rowsOf are the rows of a line of some items in which one is of full size; false where the limit
// is spent.
func (s *lister) rowsOf(line *rows.Line, sawn []*sawnItem,
	full func(*sawnItem) bool) (out []rows.Row, ok bool) {
	kept := s.limit.Kept
	if !line.List() {
		return nil, false
	}
	s.limit.Kept = kept // the next one has the same memory
	line.Each(func(c counts.Counts, value int64, _ int) {
		pieces, some := 0, false
		for _, i := range sawn {
			n := int(line.Form.Of(c, i.item))
			pieces += n
			some = some || n > 0 && full(i)
		}
		if some {
			out = append(out, rows.Row{Counts: slices.Clone(c), Pieces: pieces, Value: value})
		}
	})
	return out, true
}

package across

import (
	"rackwright/nest/cutting"
	"rackwright/nest/price"
	"rackwright/nest/price/across/rows"
	"rackwright/nest/price/counts"
)

// Lists. The patterns of a stock are listed in two steps. First the rows that a length, or a strip,
// may hold, then the rows of lengths, or of strips, that a stock may have. Package rows does both:
//
//	no spot is there    the order of things is free:  listclear.go
//	spots are there     values hang on the start:     listline.go, listlength.go, liststrip.go
//
// A row of a thing is listed where it is worth enough with the most that may lie beside the thing,
// by the tables of the last pricing. Each set of counts stays once, in the best of its layouts.

// lister lists the patterns of one stock.
type lister struct {
	r     *pricer
	ask   *price.Ask
	floor int64 // of the pricing at which it lists
	form  *counts.Form
	limit rows.Limit
	most  int
	need  int64

	found *counts.Set
	best  []listed // by number
}

// listed is the best layout of a set of counts: one of a source.
type listed struct {
	value int64
	by    source
	at    int
}

// source lays out what it has listed.
type source interface {
	layout(at int) *cutting.Pattern
}

// What one list may take: basic steps, and words kept. A list that is not too long rarely keeps
// more than so many for each pattern.
const listSteps, listKept, keptForEach = 1 << 31, 1 << 23, 32

// stepsOfLayout is what it takes to keep a pattern, and to make an entry of it.
const stepsOfLayout = 1 << 8

// List gives the patterns that are worth at least so much, within the demands: of each set of
// counts the one whose offcuts are worth most, less its rips.
func (r *pricer) List(l *price.Listing, best, least int64) (*price.List, bool) {
	if best < least {
		return nil, true
	}
	floor := max(best, r.Bare())
	if _, ok := r.Vouch(l.Ask, floor); !ok {
		return nil, false
	}
	steps := int64(listSteps)
	if l.Steps > 0 {
		steps = min(steps, l.Steps)
	}
	s := &lister{r: r, ask: l.Ask, floor: floor, most: l.Most, need: least,
		limit: rows.Limit{Steps: steps, Kept: listKept + keptForEach*int64(l.Most)}}
	s.form = r.clear.lists(l.Ask).form
	s.found = counts.NewSet(s.form)
	ok := s.lengths(r)
	for n := 0; ok && n < len(r.rippers); n++ {
		ok = s.strips(&r.rippers[n])
	}
	r.countWork()
	r.meter.Add(steps - s.limit.Steps + stepsOfLayout*int64(len(s.best)))
	if !ok {
		return nil, false
	}
	s.limit = rows.Limit{Steps: 1 << 60, Kept: 1 << 60} // each layout takes little
	return s.list(), true
}

// take takes a row of a source into the list; false where it gets too long.
func (s *lister) take(c counts.Counts, value int64, by source, at int) bool {
	n, fresh := s.found.Put(c)
	if fresh {
		s.best = append(s.best, listed{value, by, at})
		return len(s.best) <= s.most
	}
	if value > s.best[n].value {
		s.best[n] = listed{value, by, at}
	}
	return true
}

// takeAll takes each row that a source has found, with what the ends beside its span are worth;
// nil: it is of the whole stock. False where the list gets too long.
func (s *lister) takeAll(each func(func(counts.Counts, int64, int)), rip *ripper,
	by source) bool {
	ok, ends := true, int64(0)
	if rip != nil {
		ends = rip.ends
	}
	each(func(found counts.Counts, value int64, at int) {
		ok = ok && s.take(found, value+ends, by, at)
	})
	return ok
}

// list is what was listed.
func (s *lister) list() *price.List {
	out := &price.List{Counts: s.found, Form: s.form, Worth: make([]int64, len(s.best))}
	for n := range s.best {
		out.Worth[n] = s.best[n].value - s.form.Value(s.found.At(n), s.ask.Duals)
	}
	out.LayOut = func(n int) *cutting.Pattern {
		s.r.Vouch(s.ask, s.floor) // layouts among spots need its tables
		t := s.best[n].by.layout(s.best[n].at)
		t.Stock, t.Worth = s.r.index, out.Worth[n]
		return t
	}
	return out
}

// lengths lists the patterns that are crosscut first.
func (s *lister) lengths(r *pricer) bool {
	if len(r.spots) > 0 {
		return s.spottedLengths(r)
	}
	return s.clearLengths(r)
}

// strips lists those that are ripped first over a span.
func (s *lister) strips(rip *ripper) bool {
	if len(rip.spots) > 0 {
		return s.spottedStrips(rip)
	}
	return s.clearStrips(rip)
}

// placed is a piece at x, from left to right of the width.
func (r *pricer) placed(item int, x, left, right int64) cutting.Place {
	return cutting.Place{Item: item, At: r.stock.From + x, Left: left, Right: right}
}

// patternOf is a pattern of places, its stock and worth yet unknown.
func patternOf(first cutting.FirstCut, over cutting.Span, places []cutting.Place) *cutting.Pattern {
	t := cutting.NewPattern(0, places)
	t.First, t.Ripped = first, over
	return t
}

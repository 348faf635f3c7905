package cutting

import (
	"iter"
	"slices"
)

// pushed moves the slabs of a stock with Across, and the pieces in each, in the same order: as near
// to the start of what is sawn and the left edge as they may lie. Where that loses worth it moves
// only the pieces in their slabs; where that loses worth too, nothing.
func (p *Problem) pushed(t Pattern) Pattern {
	t.Worth = p.Worth(&t)
	for _, slabsToo := range []bool{true, false} {
		if out := p.push(t, slabsToo); out.Worth >= t.Worth {
			return out
		}
	}
	return t
}

// push moves as pushed says, whatever is lost.
func (p *Problem) push(t Pattern, slabsToo bool) Pattern {
	s, slabs := &p.Stocks[t.Stock], p.slabs(&t)
	outer, inner := t.First.Outer(), t.First.Inner()
	begin := s.Sawable(inner).From
	if t.First == RipFirst {
		begin = p.RippedSpan(&t).From
	}
	from := s.Sawable(outer).From
	for n := range slabs {
		b := &slabs[n]
		if slabsToo {
			if at, ok := s.earliest(outer, from, func(at int64) bool {
				moved := p.shifted(outer, b, at)
				return at < b.From && p.allLegal(t.Stock, moved.Places) && p.slabClear(&t, &moved)
			}); ok {
				*b = p.shifted(outer, b, at)
			}
		}
		from = b.To + p.KerfOn(outer)
		if s.plain(t.First, b) {
			continue
		}
		free := begin
		for i, pl := range b.Places {
			if at, ok := s.earliest(inner, free, func(at int64) bool {
				moved := pl.Put(inner, at)
				return at < p.On(inner, pl).From && p.Legal(t.Stock, moved) &&
					p.slabClear(&t, &slab{b.Span, []Place{moved}})
			}); ok {
				b.Places[i] = pl.Put(inner, at)
			}
			free = p.On(inner, b.Places[i]).To + p.KerfOn(inner)
		}
	}
	out := Pattern{Stock: t.Stock, First: t.First, Ripped: t.Ripped, Places: placesOf(slabs)}
	out.Worth = p.Worth(&out)
	return out
}

// shifted is a slab with its pieces moved so that it starts at a point.
func (p *Problem) shifted(outer Axis, b *slab, at int64) slab {
	moved := slices.Clone(b.Places)
	for i, pl := range moved {
		moved[i] = pl.Put(outer, p.On(outer, pl).From-b.From+at)
	}
	return slab{Span{at, b.To - b.From + at}, moved}
}

// Closed lays out a pattern that was made for wider kerfs and larger pieces: things that are no
// further apart than just that makes them, by axis, are drawn together, to the near side or to the
// far one, whichever is worth more. A length whose pieces may not lie so is left out.
func (p *Problem) Closed(t Pattern, apart [2]int64) Pattern {
	t = p.fitted(t)
	best := p.Layout(t)
	if !p.Stocks[t.Stock].Rippable() {
		return best
	}
	for _, far := range []bool{false, true} {
		if out := p.Layout(p.drawn(t, apart, far)); out.Worth > best.Worth {
			best = out
		}
	}
	return best
}

// fitted is a pattern that was made for larger pieces: each length as long as its longest piece,
// and each piece at an end of it.
func (p *Problem) fitted(t Pattern) Pattern {
	s := &p.Stocks[t.Stock]
	if !s.Rippable() || t.First != CrosscutFirst {
		return t
	}
	slabs := p.slabs(&t)
	stay, same := slabs[:0], true
	for _, b := range slabs {
		size := p.largest(&t, &b)
		if s.plain(t.First, &b) || size == b.To-b.From &&
			!slices.ContainsFunc(b.Places, func(pl Place) bool {
				on := p.On(Along, pl)
				return on.From != b.From && on.To != b.To
			}) {
			stay = append(stay, b)
			continue
		}
		if same = false; p.fit(&t, &b, size) {
			stay = append(stay, b)
		}
	}
	if !same {
		t.Places = placesOf(stay)
		t.Worth = p.Worth(&t)
	}
	return t
}

// drawn draws things together that are no further apart, as far as they may lie there.
func (p *Problem) drawn(t Pattern, apart [2]int64, far bool) Pattern {
	s, slabs := &p.Stocks[t.Stock], p.slabs(&t)
	outer, inner := t.First.Outer(), t.First.Inner()
	was := make([]Span, len(slabs))
	for n := range slabs {
		was[n] = slabs[n].Span
	}
	for n, at := range p.targets(outer, apart[outer], was, far) {
		moved := p.shifted(outer, &slabs[n], at(func(m int) Span { return slabs[m].Span }))
		if p.allLegal(t.Stock, moved.Places) && p.slabClear(&t, &moved) {
			slabs[n] = moved
		}
	}
	for n := range slabs {
		b := &slabs[n]
		if s.plain(t.First, b) {
			continue
		}
		on := make([]Span, len(b.Places))
		for i, pl := range b.Places {
			on[i] = p.On(inner, pl)
		}
		for i, at := range p.targets(inner, apart[inner], on, far) {
			moved := b.Places[i].Put(inner,
				at(func(m int) Span { return p.On(inner, b.Places[m]) }))
			if p.Legal(t.Stock, moved) && p.slabClear(&t, &slab{b.Span, []Place{moved}}) {
				b.Places[i] = moved
			}
		}
	}
	return Pattern{Stock: t.Stock, First: t.First, Ripped: t.Ripped, Places: placesOf(slabs)}
}

// targets gives those of some things in order that have another no further away on the side to
// which they are drawn, in the order in which they move, and where each then starts, by where the
// others are.
func (p *Problem) targets(a Axis, apart int64, was []Span,
	far bool) iter.Seq2[int, func(func(int) Span) int64] {
	return func(yield func(int, func(func(int) Span) int64) bool) {
		for i := 1; i < len(was); i++ {
			n, by := i, i-1
			if far {
				n, by = len(was)-1-i, len(was)-i
			}
			if max(was[n].From, was[by].From)-min(was[n].To, was[by].To) > apart {
				continue
			}
			at := func(now func(int) Span) int64 {
				if far {
					return now(by).From - p.KerfOn(a) - (was[n].To - was[n].From)
				}
				return now(by).To + p.KerfOn(a)
			}
			if !yield(n, at) {
				return
			}
		}
	}
}

package cutting

import "slices"

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

package cutting

import "slices"

// Stands says whether a pattern that was made for a stock may be cut from it as the stock is now,
// with its items as they are, and is in its normal form.
func (p *Problem) Stands(t *Pattern) bool {
	s := &p.Stocks[t.Stock]
	for _, pl := range t.Places {
		if _, held := slices.BinarySearch(s.Holds, pl.Item); !held || !p.Legal(t.Stock, pl) {
			return false
		}
	}
	if !s.Rippable() {
		return t.First == CrosscutFirst && t.Ripped == Span{} &&
			p.apart(Along, t.Places, s.extent(Along))
	}
	return p.standsRipped(t) && slices.Equal(p.Normal(*t).Places, t.Places)
}

// apart says whether pieces in order keep a kerf between them and lie in a span.
func (p *Problem) apart(a Axis, places []Place, in Span) bool {
	from := in.From
	for _, pl := range places {
		on := p.On(a, pl)
		if on.From < from || on.To > in.To {
			return false
		}
		from = on.To + p.KerfOn(a)
	}
	return true
}

// standsRipped is Stands on a stock with Across, but for the normal form.
func (p *Problem) standsRipped(t *Pattern) bool {
	s, outer, inner := &p.Stocks[t.Stock], t.First.Outer(), t.First.Inner()
	on, deep := p.RippedSpan(t), s.Sawable(inner)
	if t.First == RipFirst {
		if !slices.Contains(s.RippedSpans(), on) || t.Ripped == s.extent(Along) {
			return false
		}
		deep = on
	} else if t.Ripped != (Span{}) {
		return false
	}
	from := s.extent(outer).From
	for _, b := range p.slabs(t) {
		if b.From < from || b.To > s.extent(outer).To || !p.slabClear(t, &b) {
			return false
		}
		from = b.To + p.KerfOn(outer)
		if s.plain(t.First, &b) {
			continue
		}
		if t.First == CrosscutFirst && b.To-b.From < s.Across.ShortestRip ||
			!p.apart(inner, b.Places, deep) {
			return false
		}
		for _, pl := range b.Places {
			if !p.sawnRight(t, &b, pl) {
				return false
			}
		}
	}
	return true
}

// sawnRight says whether a piece of a slab has the width to which it is sawn, and may be trimmed to
// its size.
func (p *Problem) sawnRight(t *Pattern, b *slab, pl Place) bool {
	s, across, on := &p.Stocks[t.Stock], p.On(Crosswise, pl), p.On(t.First.Outer(), pl)
	_, whole := slices.BinarySearch(s.Across.Whole, pl.Item)
	sawable := s.Sawable(Crosswise)
	switch {
	case whole, across.To-across.From != p.Items[pl.Item].Width,
		across.To-across.From < s.Across.Narrowest,
		across.From < sawable.From || across.To > sawable.To:
		return false
	case on == b.Span:
		return true
	}
	return s.Across.Trim && (on.From == b.From || on.To == b.To)
}

package cutting

import "slices"

// Drop is a pattern without its nth piece, what is left pushed together where that loses no worth.
//
// On a stock with Across the slab of the piece shrinks to the largest piece left in it, at one of
// its two sides. Where the pieces left may not lie so, they go as well.
func (p *Problem) Drop(t *Pattern, n int) Pattern {
	if p.Stocks[t.Stock].Rippable() {
		return p.dropFromSlab(t, n)
	}
	places := p.settle(t.Stock, slices.Delete(slices.Clone(t.Places), n, n+1))
	return Pattern{Stock: t.Stock, Places: places, Worth: p.worthAlong(t.Stock, places)}
}

// settle moves the pieces of a stock without Across as near to its start as they may lie, in the
// same order. Where that loses worth it moves none.
func (p *Problem) settle(stock int, places []Place) []Place {
	s := &p.Stocks[stock]
	moved := make([]Place, 0, len(places))
	from := s.From
	for _, pl := range places {
		if at, ok := s.earliest(Along, from, func(at int64) bool {
			return at < pl.At && p.Legal(stock, pl.Put(Along, at))
		}); ok {
			pl = pl.Put(Along, at)
		}
		moved = append(moved, pl)
		from = p.On(Along, pl).To + p.Kerf
	}
	if p.worthAlong(stock, moved) >= p.worthAlong(stock, places) {
		return moved
	}
	return places
}

// dropFromSlab is Drop on a stock with Across.
func (p *Problem) dropFromSlab(t *Pattern, n int) Pattern {
	gone := t.Places[n]
	var stay []slab
	for _, b := range p.slabs(t) {
		at := slices.Index(b.Places, gone)
		if at < 0 {
			stay = append(stay, b)
			continue
		}
		b.Places = slices.Delete(slices.Clone(b.Places), at, at+1)
		gone = Place{Item: -1}
		if p.shrink(t, &b) {
			stay = append(stay, b)
		}
	}
	left := Pattern{Stock: t.Stock, First: t.First, Ripped: t.Ripped, Places: placesOf(stay)}
	if len(stay) == 0 {
		left.First, left.Ripped = CrosscutFirst, Span{}
	}
	left = p.Normal(p.pushed(p.Normal(left)))
	left.Worth = p.Worth(&left)
	return left
}

// unripped lets the only piece of a length take the whole width; false where that is not all, or
// where it may not.
func (p *Problem) unripped(t *Pattern, b *slab) bool {
	if len(b.Places) != 1 {
		return false
	}
	pl := &b.Places[0]
	pl.Left, pl.Right = 0, p.Stocks[t.Stock].Across.Width
	b.Span = p.On(Along, *pl)
	return p.Legal(t.Stock, *pl)
}

// shrink makes a slab as large as its largest piece; false where it has none, or where the pieces
// may not lie so.
func (p *Problem) shrink(t *Pattern, b *slab) bool {
	size := p.largest(t, b)
	return size == b.To-b.From || p.fit(t, b, size)
}

// largest is the size of the largest piece of a slab.
func (p *Problem) largest(t *Pattern, b *slab) (size int64) {
	for _, pl := range b.Places {
		on := p.On(t.First.Outer(), pl)
		size = max(size, on.To-on.From)
	}
	return size
}

// fit gives a slab the size of its largest piece, at one of its two sides, and lays each piece at a
// side of it; false where the pieces may not lie so.
func (p *Problem) fit(t *Pattern, b *slab, size int64) bool {
	outer := t.First.Outer()
	if outer == Along && size < p.Stocks[t.Stock].Across.ShortestRip {
		return p.unripped(t, b)
	}
	for _, from := range []int64{b.From, b.To - size} {
		to, ok := from+size, size > 0
		moved := slices.Clone(b.Places)
		for i, pl := range moved {
			on := p.On(outer, pl)
			near, far := pl.Put(outer, from), pl.Put(outer, to-(on.To-on.From))
			switch {
			case p.Legal(t.Stock, near):
				moved[i] = near
			case p.Legal(t.Stock, far):
				moved[i] = far
			default:
				ok = false
			}
		}
		if small := (slab{Span{from, to}, moved}); ok && p.slabClear(t, &small) {
			*b = small
			return true
		}
	}
	return false
}

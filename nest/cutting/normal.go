package cutting

import "slices"

// The normal form of a pattern. The same pieces in the same places can be told as ripped or not.
// The normal form is the telling with the fewest cuts along, so there is one way to say it:
//
//	a plain length    a length with one piece is not ripped, where the piece may take the whole
//	                  width and nothing beside it would be kept;
//	no vain strip     a single strip is not ripped off, where all its pieces may take the whole
//	                  width and nothing beside the strip or beside a piece would be kept: the
//	                  stock is crosscut into its pieces.
//
// A normal form is never worth less than its pattern. What is not kept beside a piece is worth
// nothing, and what lies between the pieces only becomes wider. A piece that takes the whole width
// keeps it, however narrow its item is.

// Normal gives the normal form of a pattern, its places in the order of the cuts. A pattern of a
// stock without Across stays as it is.
func (p *Problem) Normal(t Pattern) Pattern {
	s := &p.Stocks[t.Stock]
	if !s.Rippable() {
		return t
	}
	if t.Ripped == s.extent(Along) {
		t.Ripped = Span{}
	}
	slabs := p.slabs(&t)
	if t.First == RipFirst && len(slabs) == 1 && p.strippedInVain(&t, &slabs[0]) {
		t.First, t.Ripped, t.Places = CrosscutFirst, Span{}, slabs[0].Places
		for n := range t.Places {
			t.Places[n].Left, t.Places[n].Right = 0, s.Across.Width
		}
		t.Worth = p.Worth(&t)
		return t
	}
	for _, b := range slabs {
		if t.First == CrosscutFirst && len(b.Places) == 1 &&
			p.besideInVain(t.Stock, b.Places[0], s.extent(Crosswise)) {
			b.Places[0].Left, b.Places[0].Right = 0, s.Across.Width
		}
	}
	t.Places = placesOf(slabs)
	return t
}

// besideInVain says whether a piece may take the whole width, and what is sawn off beside it would
// not be kept. The piece lies in a span of the width.
func (p *Problem) besideInVain(stock int, pl Place, within Span) bool {
	s, on := &p.Stocks[stock], p.On(Along, pl)
	whole := Place{Item: pl.Item, At: pl.At, Right: s.Across.Width}
	return p.Legal(stock, whole) && !s.keeps(on, Span{within.From, pl.Left - p.Rip}) &&
		!s.keeps(on, Span{pl.Right + p.Rip, within.To})
}

// strippedInVain says whether the pieces of the only strip of a pattern may as well take the whole
// width.
func (p *Problem) strippedInVain(t *Pattern, b *slab) bool {
	s, all := &p.Stocks[t.Stock], p.RippedSpan(t)
	if s.keeps(all, Span{0, b.From - p.Rip}) || s.keeps(all, Span{b.To + p.Rip, s.Across.Width}) {
		return false
	}
	return !slices.ContainsFunc(b.Places, func(pl Place) bool {
		return !p.besideInVain(t.Stock, pl, b.Span)
	})
}

// keeps says whether what is left of a stock would be kept as an offcut: it is long and wide
// enough, and has a line that is clear for some class over the length of an offcut.
func (s *Stock) keeps(along, across Span) bool {
	if along.From >= along.To || along.To-along.From < s.Keep || !s.Wide(across) {
		return false
	}
	edges := BandEdges(nil, s.Spots, along, across)
	for class := range Classes {
		for _, y := range edges[:len(edges)-1] {
			for run := range ClearRuns(s.Spots, along.From, along.To, func(spot *Spot) bool {
				return !spot.Tolerated[class] && s.reaches(spot, y, y+1)
			}) {
				if run.To-run.From >= max(1, s.Keep) {
					return true
				}
			}
		}
	}
	return false
}

package cutting

import "slices"

// The normal form of a pattern. The same pieces in the same places can be cut in more ways than
// one; of these it is cut with the fewest cuts along:
//
//	a length that is ripped for one piece alone, which leaves nothing beside it that is kept and may take the whole width, is not ripped;
//	one strip that leaves nothing beside it or beside its pieces that is kept, and whose pieces all may take the whole width, is not ripped
//	off: the stock is cut across into its pieces.
//
// What is kept beside a piece is then worth nothing, and what lies between pieces only grows, so no
// form is worth less than the pattern it is of.

// Straight is the normal form of a pattern, its places in the order of the cuts. A pattern of a
// stock without Across stays as it is.
func (p *Problem) Straight(t Pattern) Pattern {
	s := &p.Stocks[t.Stock]
	if s.Across == nil {
		return t
	}
	slabs := p.Slabs(&t)
	if t.First == RipFirst && len(slabs) == 1 && p.strippedInVain(t.Stock, &slabs[0]) {
		t.First, t.Places = CrosscutFirst, slabs[0].Places
		for n := range t.Places {
			t.Places[n].Left, t.Places[n].Right = 0, s.Across.Width
		}
		t.Worth = p.Worth(&t)
		return t
	}
	for _, b := range slabs {
		if t.First == CrosscutFirst && len(b.Places) == 1 && p.rippedInVain(t.Stock, b.Places[0]) {
			b.Places[0].Left, b.Places[0].Right = 0, s.Across.Width
		}
	}
	t.Places = places(slabs)
	return t
}

// rippedInVain says whether the only piece of a length may as well take the whole width.
func (p *Problem) rippedInVain(stock int, pl Place) bool {
	return p.besideInVain(stock, pl, p.Stocks[stock].extent(Crosswise))
}

// besideInVain says whether a piece may take the whole width, and what is sawn off beside it within
// a span of the width is not kept.
func (p *Problem) besideInVain(stock int, pl Place, within Span) bool {
	s, on := &p.Stocks[stock], p.On(Along, pl)
	whole := Place{Item: pl.Item, At: pl.At, Right: s.Across.Width}
	return p.Legal(stock, whole) && !s.kept(on, Span{within.From, pl.Left - p.Rip}) &&
		!s.kept(on, Span{pl.Right + p.Rip, within.To})
}

// strippedInVain says whether ripping the only strip of a pattern off leaves nothing that is kept.
func (p *Problem) strippedInVain(stock int, b *Slab) bool {
	s := &p.Stocks[stock]
	all := s.extent(Along)
	if s.kept(all, Span{0, b.From - p.Rip}) || s.kept(all, Span{b.To + p.Rip, s.Across.Width}) {
		return false
	}
	return !slices.ContainsFunc(b.Places, func(pl Place) bool {
		return !p.besideInVain(stock, pl, b.Span)
	})
}

// kept says whether what is left of a stock is an offcut: long and wide enough, with a line of it
// that is clear over the length of an offcut for some class.
func (s *Stock) kept(along, across Span) bool {
	if along.From >= along.To || along.To-along.From < s.Keep || !s.Wide(across) {
		return false
	}
	lines := s.lines(across)
	for class := range Classes {
		for _, y := range lines[:len(lines)-1] {
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

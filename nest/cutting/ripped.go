package cutting

import "slices"

// Stocks with Across. A pattern of one is made of slabs:
//
//	crosscut first   a slab is a length, [From, To) along the stock
//	rip first        a slab is a strip, [From, To) across it
//
// A slab is as long, or as wide, as its largest piece. A smaller piece lies at one of its two sides
// and is trimmed to size. A length with one piece over the whole width is plain: it is not ripped.
//
// Gaps are what pieces leave: between slabs, over all of the other direction; in a slab, between
// its pieces; and beside a trimmed piece. Strips and the gaps between them are as long as the
// ripped span (rips.go), and before and behind it are gaps over the whole width. Each gap gives up
// a kerf on every side that faces a piece, or the ripped span.
//
// The worth of a gap is that of its lines. A band is a part of the gap's width in which no spot
// begins or ends: its lines meet the same spots.
//
//	worth of a gap = slope x sum over its bands of  width of the band
//	                 x sum over the clear runs of a line of max(0, length of the run - Keep)
//	slope          = Slope of a gap as wide as the stock, Across.Strip of any other
//
// A gap narrower than Across.Keep is worth 0, unless it is as wide as the stock.

// MaySaw says whether an item can be sawn to its own width from a stock with Across at all.
func (p *Problem) MaySaw(s *Stock, item int) bool {
	a, width := s.Across, p.Items[item].Width
	if width <= 0 || width < a.Narrowest || width > a.Width-2*a.Inset {
		return false
	}
	_, whole := slices.BinarySearch(a.Whole, item)
	return !whole
}

// slab is a length or a strip of a pattern.
type slab struct {
	Span
	Places []Place // from left to right, or along it
}

// slabs gives the lengths or strips of a pattern of a stock with Across, in order. Places that
// overlap in the direction of the slabs belong to one slab: it has a piece as large as itself.
func (p *Problem) slabs(t *Pattern) (out []slab) {
	outer := t.First.Outer()
	places := slices.Clone(t.Places)
	p.sortOn(outer, places)
	for _, pl := range places {
		on := p.On(outer, pl)
		if n := len(out) - 1; n >= 0 && on.From < out[n].To {
			out[n].To = max(out[n].To, on.To)
			out[n].Places = append(out[n].Places, pl)
		} else {
			out = append(out, slab{on, []Place{pl}})
		}
	}
	for n := range out {
		p.sortOn(t.First.Inner(), out[n].Places)
	}
	return out
}

// placesOf puts the pieces of slabs one after the other.
func placesOf(slabs []slab) (out []Place) {
	for _, s := range slabs {
		out = append(out, s.Places...)
	}
	return out
}

// plain says whether a slab is a length that is not ripped.
func (s *Stock) plain(first FirstCut, b *slab) bool {
	return first == CrosscutFirst && len(b.Places) == 1 && b.Places[0].Left == 0 &&
		b.Places[0].Right == s.Across.Width
}

// gaps are what a layout leaves, less the kerfs; some may be empty.
func (p *Problem) gaps(t *Pattern) (out []area) {
	s, slabs := &p.Stocks[t.Stock], p.slabs(t)
	outer, inner := t.First.Outer(), t.First.Inner()
	all, deep := s.extent(outer), s.extent(inner)
	kerf, apart := p.KerfOn(outer), p.KerfOn(inner)
	if on := p.RippedSpan(t); t.First == RipFirst && on != deep {
		out = append(out, outer.over(all, Span{deep.From, on.From - apart}),
			outer.over(all, Span{on.To + apart, deep.To}))
		deep = on
	}
	free := all.From // where what is left begins
	for n := range slabs {
		b := &slabs[n]
		out = append(out, outer.over(Span{free, b.From - kerf}, deep))
		free = b.To + kerf
		if s.plain(t.First, b) {
			continue
		}
		at := deep.From
		for _, pl := range b.Places {
			size, on := p.On(outer, pl), p.On(inner, pl)
			out = append(out, outer.over(b.Span, Span{at, on.From - apart}),
				outer.over(Span{b.From, size.From - kerf}, on),
				outer.over(Span{size.To + kerf, b.To}, on))
			at = on.To + apart
		}
		out = append(out, outer.over(b.Span, Span{at, deep.To}))
	}
	return append(out, outer.over(Span{free, all.To}, deep))
}

// Wide says whether an offcut over so much of the width may be worth anything.
func (s *Stock) Wide(across Span) bool {
	return across.From < across.To && (across.To-across.From >= s.Across.Keep ||
		across.From <= 0 && across.To >= s.Across.Width)
}

// BandEdges gives, in out, the left edges of the bands of an area, ascending, and last its right
// edge. Between two of them no spot begins or ends that reaches into the area.
func BandEdges(out []int64, spots []Spot, along, across Span) []int64 {
	out = append(out[:0], across.From, across.To)
	for n := range spots {
		if o := &spots[n]; o.Meets(along, across) {
			out = append(out, max(across.From, o.Left), min(across.To, o.Right))
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// SlopeOf is the worth of one unit of length and of width of an offcut over so much of the width.
func (s *Stock) SlopeOf(across Span) int64 {
	switch {
	case across.From >= across.To:
		return 0
	case across.From <= 0 && across.To >= s.Across.Width:
		return s.Slope
	case across.To-across.From < s.Across.Keep:
		return 0
	}
	return s.Across.Strip
}

// worthOfArea is the worth of one gap.
func (s *Stock) worthOfArea(g area) int64 {
	along, across := g[Along], g[Crosswise]
	slope := s.SlopeOf(across)
	if along.From >= along.To || slope == 0 {
		return 0
	}
	edges := BandEdges(nil, s.Spots, along, across)
	var sum int64
	for n := 1; n < len(edges); n++ {
		left, right := edges[n-1], edges[n]
		sum += (right - left) * s.keptOfLine(along.From, along.To, left, right)
	}
	return slope * sum
}

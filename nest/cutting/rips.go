package cutting

import (
	"cmp"
	"slices"
)

// Rips are the cuts along a stock with Across. A thing that is sawn off, a piece or a strip, has
// one on each side, but for a side that is the stock's own edge. Two sides just a kerf apart share
// one.
//
//	crosscut first   each is as long as the length that it rips
//	rip first        each is as long as the ripped span; one that trims a piece, as the piece
//
// The ripped span begins at the stock's start or where a weak spot ends, and ends at the stock's
// end or where a weak spot begins. There the stock is crosscut before it is ripped, a kerf outside
// the span. What lies outside is a gap over the whole width, as beside a length.
//
// No rip runs through a weak spot: its kerf, over its length, meets none.

// RippedSpan is the part of its stock's length that a pattern rips first.
func (p *Problem) RippedSpan(t *Pattern) Span {
	if t.Ripped.To > 0 {
		return t.Ripped
	}
	return p.Stocks[t.Stock].extent(Along)
}

// RippedSpans are all spans that a stock may be ripped over first, the whole length first.
func (s *Stock) RippedSpans() (out []Span) {
	from, to := []int64{s.From}, []int64{s.To}
	for n := range s.Spots {
		if o := &s.Spots[n]; o.Weak {
			if o.To > s.From && o.To < s.To {
				from = append(from, o.To)
			}
			if o.From > s.From && o.From < s.To {
				to = append(to, o.From)
			}
		}
	}
	slices.Sort(from)
	slices.SortFunc(to, func(a, b int64) int { return cmp.Compare(b, a) })
	for _, x := range slices.Compact(from) {
		for _, z := range slices.Compact(to) {
			if z-x >= max(1, s.Across.ShortestRip) {
				out = append(out, Span{x, z})
			}
		}
	}
	return out
}

// sawn is how many cuts in one direction free things in a span, in order.
func (p *Problem) sawn(a Axis, in Span, things []Span) (cuts int64) {
	shared := in.From // a thing that starts here needs none before it
	for _, t := range things {
		if t.From != shared {
			cuts++
		}
		if t.To < in.To {
			cuts++
		}
		shared = t.To + p.KerfOn(a)
	}
	return cuts
}

// RipLength is how long the rips of a pattern are in all.
func (p *Problem) RipLength(t *Pattern) int64 {
	_, rips := p.Cuts(t)
	return rips
}

// Cuts are how many cuts a pattern takes, the trims of the stock's ends apart, and how long those
// of them are in all that are rips.
func (p *Problem) Cuts(t *Pattern) (cuts, ripLength int64) {
	s := &p.Stocks[t.Stock]
	all := s.extent(Along)
	if !s.Rippable() {
		var pieces []Span
		for _, pl := range t.Places {
			pieces = append(pieces, p.On(Along, pl))
		}
		return p.sawn(Along, all, pieces), 0
	}
	saw := func(a Axis, in Span, things []Span, long int64) {
		n := p.sawn(a, in, things)
		if cuts += n; a == Crosswise {
			ripLength += n * long
		}
	}
	outer, inner := t.First.Outer(), t.First.Inner()
	var spans []Span
	slabs, on := p.slabs(t), p.RippedSpan(t)
	for n := range slabs {
		b := &slabs[n]
		spans = append(spans, b.Span)
		if s.plain(t.First, b) {
			continue
		}
		var pieces []Span
		for _, pl := range b.Places {
			pieces = append(pieces, p.On(inner, pl))
			if p.On(outer, pl) == b.Span {
				continue
			}
			if cuts++; outer == Crosswise {
				ripLength += p.Items[pl.Item].Size
			}
		}
		if inner == Along {
			saw(Along, on, pieces, 0)
		} else {
			saw(Crosswise, s.extent(Crosswise), pieces, b.To-b.From)
		}
	}
	if outer == Crosswise {
		saw(Along, all, []Span{on}, 0)
		saw(Crosswise, s.extent(Crosswise), spans, on.To-on.From)
	} else {
		saw(Along, all, spans, 0)
	}
	return cuts, ripLength
}

// RipClear says whether the rips on both sides of a thing at a span of the width, so far along, may
// be made.
func (p *Problem) RipClear(stock int, along, across Span) bool {
	s := &p.Stocks[stock]
	return (across.From <= 0 || s.lineClear(along, Span{across.From - p.Rip, across.From})) &&
		(across.To >= s.Across.Width || s.lineClear(along, Span{across.To, across.To + p.Rip}))
}

// TrimClear says whether a piece in a strip may be trimmed to its width: the rip lies inside the
// strip. A piece as wide as the strip needs none.
func (p *Problem) TrimClear(stock int, along, piece, strip Span) bool {
	s := &p.Stocks[stock]
	return (piece.From == strip.From || s.lineClear(along, Span{piece.From - p.Rip, piece.From})) &&
		(piece.To == strip.To || s.lineClear(along, Span{piece.To, piece.To + p.Rip}))
}

// lineClear says whether a rip whose kerf takes a span of the width meets no weak spot.
func (s *Stock) lineClear(along, kerf Span) bool {
	for n := range s.Spots {
		if o := &s.Spots[n]; o.Weak && o.Meets(along, kerf) {
			return false
		}
	}
	return true
}

// slabClear says whether all rips of a length, or of a strip, may be made.
func (p *Problem) slabClear(t *Pattern, b *slab) bool {
	if t.First == RipFirst {
		return p.RipClear(t.Stock, p.RippedSpan(t), b.Span) &&
			!slices.ContainsFunc(b.Places, func(pl Place) bool {
				return !p.TrimClear(t.Stock, p.On(Along, pl), p.On(Crosswise, pl), b.Span)
			})
	}
	return p.Stocks[t.Stock].plain(t.First, b) ||
		!slices.ContainsFunc(b.Places, func(pl Place) bool {
			return !p.RipClear(t.Stock, b.Span, p.On(Crosswise, pl))
		})
}

// respanned is a pattern that is ripped first over the span that is worth most for its pieces: of
// equals over the shortest.
func (p *Problem) respanned(t Pattern) Pattern {
	s := &p.Stocks[t.Stock]
	if t.First != RipFirst || !s.Rippable() {
		return t
	}
	spans := s.RippedSpans()
	if len(spans) < 2 {
		return t
	}
	var all Span
	for n, pl := range t.Places {
		on := p.On(Along, pl)
		if all.To = max(all.To, on.To); n == 0 || on.From < all.From {
			all.From = on.From
		}
	}
	slabs := p.slabs(&t)
	t.Worth = p.Worth(&t)
	for _, on := range spans {
		other := t
		if other.Ripped = on; on == s.extent(Along) {
			other.Ripped = Span{}
		}
		if on.From > all.From || on.To < all.To || slices.ContainsFunc(slabs, func(b slab) bool {
			return !p.slabClear(&other, &b)
		}) {
			continue
		}
		other.Worth = p.Worth(&other)
		if other.Worth > t.Worth ||
			other.Worth == t.Worth && p.RipLength(&other) < p.RipLength(&t) {
			t = other
		}
	}
	return t
}

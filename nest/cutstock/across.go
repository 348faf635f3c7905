package cutstock

import (
	"cmp"
	"math/bits"
	"slices"
)

// Stocks across their length. A pattern of a stock with Across is made of slabs: crosscut first, of
// lengths [From, To) along it; rip first, of strips [From, To) across it. A slab is as long (as
// wide) as its largest piece; a smaller one lies at one of its two sides and is trimmed to size. A
// length that holds one piece over the whole width is not ripped.
//
// What is left are gaps: between slabs over the other direction, between the pieces of a slab, and
// beside a trimmed piece; each gives up a kerf on every side that faces a piece. The worth of one
// is that of its lines, the average over the stock's width,
//
//	floor( sum over bands of equal spots of width of the band x sum over its clear runs of floor(rate x (run - keep)) / Width ),
//
// or 0, where it is narrower than Across.Keep and not as wide as the stock.

// Slab is a length or a strip of a pattern.
type Slab struct {
	From, To int64
	Places   []Place // from left to right, or along it
}

// area is [from, to) along a stock, [left, right) across it.
type area struct{ from, to, left, right int64 }

// Slabs parts a pattern of a stock with Across into its lengths or strips, in order.
func (p *Problem) Slabs(t *Pattern) (out []Slab) {
	span := func(pl Place) (int64, int64) {
		if t.First == RipFirst {
			return pl.Left, pl.Right
		}
		return pl.At, pl.At + p.Items[pl.Item].Size
	}
	places := slices.Clone(t.Places)
	slices.SortStableFunc(places, func(a, b Place) int {
		x, _ := span(a)
		y, _ := span(b)
		return cmp.Compare(x, y)
	})
	for _, pl := range places {
		from, to := span(pl)
		if n := len(out) - 1; n >= 0 && from < out[n].To {
			out[n].To = max(out[n].To, to)
			out[n].Places = append(out[n].Places, pl)
		} else {
			out = append(out, Slab{from, to, []Place{pl}})
		}
	}
	for n := range out {
		slices.SortStableFunc(out[n].Places, func(a, b Place) int {
			if t.First == RipFirst {
				return cmp.Compare(a.At, b.At)
			}
			return cmp.Compare(a.Left, b.Left)
		})
	}
	return out
}

// places puts the pieces of slabs one after the other.
func places(slabs []Slab) (out []Place) {
	for _, s := range slabs {
		out = append(out, s.Places...)
	}
	return out
}

// plain says whether a length is not ripped.
func (a *Across) plain(s *Slab) bool {
	return len(s.Places) == 1 && s.Places[0].Left == 0 && s.Places[0].Right == a.Width
}

// WorthOf is what the offcuts of a layout are worth.
func (p *Problem) WorthOf(t *Pattern) int64 {
	s := &p.Stocks[t.Stock]
	if s.Across == nil {
		return p.Worth(t.Stock, t.Places)
	}
	var sum int64
	for _, g := range p.gaps(t) {
		sum += s.worthOfArea(g)
	}
	return sum
}

// gaps are what a layout leaves, less the kerfs; some may be empty.
func (p *Problem) gaps(t *Pattern) (out []area) {
	s := &p.Stocks[t.Stock]
	a := s.Across
	slabs := p.Slabs(t)
	if t.First == RipFirst {
		from := int64(0)
		for n := range slabs {
			b := &slabs[n]
			out = append(out, area{s.From, s.To, from, b.From - p.Rip})
			from = b.To + p.Rip
			at := s.From
			for _, pl := range b.Places {
				end := pl.At + p.Items[pl.Item].Size
				out = append(out, area{at, pl.At - p.Kerf, b.From, b.To},
					area{pl.At, end, b.From, pl.Left - p.Rip},
					area{pl.At, end, pl.Right + p.Rip, b.To})
				at = end + p.Kerf
			}
			out = append(out, area{at, s.To, b.From, b.To})
		}
		return append(out, area{s.From, s.To, from, a.Width})
	}
	at := s.From
	for n := range slabs {
		b := &slabs[n]
		out = append(out, area{at, b.From - p.Kerf, 0, a.Width})
		at = b.To + p.Kerf
		if a.plain(b) {
			continue
		}
		from := int64(0)
		for _, pl := range b.Places {
			out = append(out, area{b.From, b.To, from, pl.Left - p.Rip},
				area{b.From, pl.At - p.Kerf, pl.Left, pl.Right},
				area{pl.At + p.Items[pl.Item].Size + p.Kerf, b.To, pl.Left, pl.Right})
			from = pl.Right + p.Rip
		}
		out = append(out, area{b.From, b.To, from, a.Width})
	}
	return append(out, area{at, s.To, 0, a.Width})
}

// worthOfArea is the worth of one gap.
func (s *Stock) worthOfArea(g area) int64 {
	a := s.Across
	if g.from >= g.to || g.left >= g.right || g.right-g.left < a.Keep &&
		(g.left > 0 || g.right < a.Width) {
		return 0
	}
	edges := []int64{g.left, g.right}
	for i := range a.Spots {
		for _, y := range []int64{a.Spots[i].Left, a.Spots[i].Right} {
			if y > g.left && y < g.right {
				edges = append(edges, y)
			}
		}
	}
	slices.Sort(edges)
	var high, low uint64 // the sum, times Width
	for n := 1; n < len(edges); n++ {
		left, right := edges[n-1], edges[n]
		if left == right {
			continue
		}
		h, l := bits.Mul64(uint64(s.worthOfLine(g.from, g.to, left, right)), uint64(right-left))
		var carry uint64
		low, carry = bits.Add64(low, l, 0)
		high += h + carry
	}
	q, _ := bits.Div64(high, low, uint64(a.Width))
	return int64(q)
}

// worthOfLine is the worth of the lines in a band over [from, to).
func (s *Stock) worthOfLine(from, to, left, right int64) (sum int64) {
	for i := range s.Across.Spots {
		spot := &s.Across.Spots[i]
		if spot.Left >= right || spot.Right <= left {
			continue
		}
		if spot.From > from && from < to {
			sum += s.Rate.Of(min(spot.From, to) - from - s.Keep)
		}
		from = max(from, spot.To)
	}
	return sum + s.Rate.Of(to-from-s.Keep)
}

// clearOf says whether a piece of an item may lie over an area of a stock with Across: inside it,
// over no spot that its class does not tolerate.
func (p *Problem) clearOf(stock, item int, g area) bool {
	s := &p.Stocks[stock]
	if g.from < s.From || g.to > s.To || g.left < 0 || g.right > s.Across.Width {
		return false
	}
	for i := range s.Across.Spots {
		spot := &s.Across.Spots[i]
		if !spot.Tolerated[p.Items[item].Class] && spot.From < g.to && spot.To > g.from &&
			spot.Left < g.right && spot.Right > g.left {
			return false
		}
	}
	return true
}

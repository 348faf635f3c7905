package cutstock

import (
	"cmp"
	"slices"
)

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
	if p.Stocks[t.Stock].Across == nil {
		return t
	}
	t.Places = slices.Clone(t.Places)
	if t.First == RipFirst && p.oneStripInVain(&t) {
		p.takeWhole(&t, t.Places)
		t.First = CrosscutFirst
		slices.SortFunc(t.Places, func(a, b Place) int { return cmp.Compare(a.At, b.At) })
		t.Worth = p.WorthOf(&t)
		return t
	}
	bundles := p.bundles(&t)
	for _, b := range bundles {
		if t.First == CrosscutFirst && len(b) == 1 && p.rippedInVain(t.Stock, b[0]) {
			p.takeWhole(&t, b)
		}
		slices.SortStableFunc(b, func(x, y Place) int {
			if t.First == RipFirst {
				return cmp.Compare(x.At, y.At)
			}
			return cmp.Compare(x.Left, y.Left)
		})
	}
	return t
}

// bundles sorts the places of a pattern by its lengths or strips, and gives those of each: places
// that overlap along the stock, or across it, belong together, for each length has a piece as long,
// each strip one as wide as itself.
func (p *Problem) bundles(t *Pattern) (out [][]Place) {
	span := func(pl Place) (from, to int64) {
		if t.First == RipFirst {
			return pl.Left, pl.Right
		}
		return pl.At, pl.At + p.Items[pl.Item].Size
	}
	places := t.Places
	slices.SortStableFunc(places, func(a, b Place) int {
		x, _ := span(a)
		y, _ := span(b)
		return cmp.Compare(x, y)
	})
	start, end := 0, int64(0)
	for n, pl := range places {
		from, to := span(pl)
		if n > 0 && from >= end {
			out, start = append(out, places[start:n]), n
		}
		end = max(end, to)
	}
	if start < len(places) {
		out = append(out, places[start:])
	}
	return out
}

// takeWhole lets pieces take the whole width.
func (p *Problem) takeWhole(t *Pattern, places []Place) {
	for n := range places {
		places[n].Left, places[n].Right = 0, p.Stocks[t.Stock].Across.Width
	}
}

// rippedInVain says whether the only piece of a length may as well take the whole width.
func (p *Problem) rippedInVain(stock int, pl Place) bool {
	s, end := &p.Stocks[stock], pl.At+p.Items[pl.Item].Size
	return p.mayTakeWhole(stock, pl) && !s.kept(pl.At, end, 0, pl.Left-p.Rip) &&
		!s.kept(pl.At, end, pl.Right+p.Rip, s.Across.Width)
}

// oneStripInVain says whether a pattern has one strip only, and ripping it off leaves nothing that
// is kept.
func (p *Problem) oneStripInVain(t *Pattern) bool {
	s, strips := &p.Stocks[t.Stock], p.bundles(t)
	if len(strips) != 1 {
		return false
	}
	left, right := strips[0][0].Left, int64(0)
	for _, pl := range t.Places {
		right = max(right, pl.Right)
	}
	if s.kept(s.From, s.To, 0, left-p.Rip) || s.kept(s.From, s.To, right+p.Rip, s.Across.Width) {
		return false
	}
	return !slices.ContainsFunc(t.Places, func(pl Place) bool {
		end := pl.At + p.Items[pl.Item].Size
		return !p.mayTakeWhole(t.Stock, pl) || s.kept(pl.At, end, left, pl.Left-p.Rip) ||
			s.kept(pl.At, end, pl.Right+p.Rip, right)
	})
}

// mayTakeWhole says whether a piece may take the whole width where it lies along the stock: it is
// over no spot that its class does not tolerate.
func (p *Problem) mayTakeWhole(stock int, pl Place) bool {
	s, it := &p.Stocks[stock], &p.Items[pl.Item]
	return !slices.ContainsFunc(s.Across.Spots, func(sp Patch) bool {
		return !sp.Tolerated[it.Class] && sp.From < pl.At+it.Size && sp.To > pl.At
	})
}

// kept says whether what is left of a stock is an offcut: long and wide enough, with a line of it
// that is clear over the length of an offcut for some class.
func (s *Stock) kept(from, to, left, right int64) bool {
	a := s.Across
	if from >= to || left >= right || to-from < s.Keep || right-left < a.Keep &&
		(left > 0 || right < a.Width) {
		return false
	}
	lines := []int64{left} // one of each band
	for _, sp := range a.Spots {
		for _, y := range []int64{sp.Left, sp.Right} {
			if y > left && y < right {
				lines = append(lines, y)
			}
		}
	}
	for class := range Classes {
		for _, y := range lines {
			if s.clearRun(from, to, y, class) >= max(1, s.Keep) {
				return true
			}
		}
	}
	return false
}

// clearRun is the longest run of a line between two points with no spot that a class does not
// tolerate. Patches are sorted by start.
func (s *Stock) clearRun(from, to, y int64, class int) (longest int64) {
	for _, sp := range s.Across.Spots {
		if sp.Tolerated[class] || y < sp.Left || y >= sp.Right {
			continue
		}
		longest = max(longest, min(sp.From, to)-from)
		from = max(from, sp.To)
	}
	return max(longest, to-from)
}

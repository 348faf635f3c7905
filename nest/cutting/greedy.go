package cutting

import "slices"

// Greedy fills a stock with what is left of each item, longest first, and takes it from there. Nil:
// nothing fits.
func (p *Problem) Greedy(s int, left []int64) *Pattern {
	order := slices.Clone(p.Stocks[s].Holds)
	SortBySize(p, order)
	slices.Reverse(order)
	return p.GreedyBy(s, order, left)
}

// GreedyBy fills a stock with what is left of the items of an order, and takes it from there. Each
// time it puts the first item of the order that fits, at the first legal start behind what is
// there. A stock with Across is crosscut first: the item makes a length, and beside it goes what is
// no longer. Nil: nothing fits.
func (p *Problem) GreedyBy(s int, order []int, left []int64) *Pattern {
	stock := &p.Stocks[s]
	g := greedy{p: p, s: stock, order: order, left: left, pattern: Pattern{Stock: s}}
	from := stock.From
	for _, i := range order {
		for left[i] > 0 {
			at, ok := g.put(i, from)
			if !ok {
				break
			}
			from = at + p.Items[i].Size + p.Kerf
		}
	}
	if len(g.pattern.Places) == 0 {
		return nil
	}
	g.pattern = p.Normal(g.pattern)
	g.pattern.Worth = p.Worth(&g.pattern)
	return &g.pattern
}

// greedy is a stock under way.
type greedy struct {
	p       *Problem
	s       *Stock
	order   []int
	left    []int64
	pattern Pattern
}

// put puts an item at the first legal start from a point on, and what goes beside it; false where
// there is no such start.
func (g *greedy) put(item int, from int64) (at int64, ok bool) {
	pl := Place{Item: item}
	if g.s.Rippable() {
		pl.Right = g.s.Across.Width
	}
	at, ok = g.s.earliest(Along, from, func(at int64) bool {
		pl.At = at
		return len(g.row(item, at)) > 0 || g.p.Legal(g.pattern.Stock, pl)
	})
	if !ok {
		return 0, false
	}
	row := g.row(item, at)
	if len(row) == 0 {
		pl.At = at
		row = []Place{pl}
	}
	g.pattern.Places = append(g.pattern.Places, row...)
	for _, other := range row {
		g.left[other.Item]--
	}
	return at, true
}

// sawn says whether the stock may give an item sawn to its width from a length.
func (g *greedy) sawn(item int, long int64) bool {
	return g.s.Rippable() && long >= g.s.Across.ShortestRip && g.p.MaySaw(g.s, item)
}

// row lays pieces beside each other in the length of an item at a point, the item first; nil where
// it has no place there, or cannot be sawn to its width.
func (g *greedy) row(item int, at int64) (row []Place) {
	length := Span{at, at + g.p.Items[item].Size}
	if !g.sawn(item, g.p.Items[item].Size) {
		return nil
	}
	y := g.s.Sawable(Crosswise).From
	taken := map[int]int64{}
	try := func(i int) bool {
		pl := Place{Item: i, At: at}
		end := g.s.Sawable(Crosswise).To
		to, ok := g.s.earliest(Crosswise, y, func(y int64) bool {
			pl.Left, pl.Right = y, y+g.p.Items[i].Width
			return pl.Right <= end && g.p.Legal(g.pattern.Stock, pl) &&
				g.p.RipClear(g.pattern.Stock, length, Span{pl.Left, pl.Right})
		})
		if !ok {
			return false
		}
		pl.Left, pl.Right = to, to+g.p.Items[i].Width
		row = append(row, pl)
		taken[i]++
		y = pl.Right + g.p.Rip
		return true
	}
	if !try(item) {
		return nil
	}
	for _, i := range g.order {
		size := g.p.Items[i].Size
		if size > length.To-at || size < length.To-at && !g.s.Across.Trim ||
			!g.sawn(i, length.To-at) {
			continue
		}
		for g.left[i] > taken[i] && try(i) {
		}
	}
	return row
}

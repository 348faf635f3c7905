package cutting

import "slices"

// Greedy fills one stock with what is left, each time the longest item that fits at its first legal
// place, and takes it from what is left. Nil: nothing fits.
func (p *Problem) Greedy(s int, left []int64) *Pattern {
	var places []Place
	items := slices.Clone(p.Stocks[s].Holds)
	SortBySize(p, items)
	from := p.Stocks[s].From
	for n := len(items) - 1; n >= 0; n-- {
		i := items[n]
		for left[i] > 0 {
			at := int64(-1)
			for _, x := range append([]int64{from}, edges(&p.Stocks[s], from)...) {
				if p.Legal(s, Place{Item: i, At: x}) && (at < 0 || x < at) {
					at = x
				}
			}
			if at < 0 {
				break
			}
			places = append(places, Place{Item: i, At: at})
			from = at + p.Items[i].Size + p.Kerf
			left[i]--
		}
	}
	if len(places) == 0 {
		return nil
	}
	return &Pattern{Stock: s, Places: places, Worth: p.worthAlong(s, places)}
}

// Drop is a pattern without its nth piece, what is left pushed together where that loses no worth.
func (p *Problem) Drop(t *Pattern, n int) Pattern {
	if p.Stocks[t.Stock].Across != nil {
		return p.dropped(t, n)
	}
	places := append(append([]Place(nil), t.Places[:n]...), t.Places[n+1:]...)
	places = p.settle(t.Stock, places)
	return Pattern{Stock: t.Stock, Places: places, Worth: p.worthAlong(t.Stock, places)}
}

// settle moves each piece, in the same order, as near to the stock's start as it may lie, where
// that loses no worth.
func (p *Problem) settle(stock int, places []Place) []Place {
	s := &p.Stocks[stock]
	moved := make([]Place, 0, len(places))
	from := s.From
	for _, pl := range places {
		at := pl.At
		for _, x := range append([]int64{from}, edges(s, from)...) {
			if x < at && p.Legal(stock, Place{Item: pl.Item, At: x}) {
				at = x
			}
		}
		moved = append(moved, Place{Item: pl.Item, At: at})
		from = at + p.Items[pl.Item].Size + p.Kerf
	}
	if p.worthAlong(stock, moved) >= p.worthAlong(stock, places) {
		return moved
	}
	return places
}

// edges are the ends of spots after x.
func edges(s *Stock, x int64) []int64 {
	var out []int64
	for _, spot := range s.Spots {
		if spot.To > x {
			out = append(out, spot.To)
		}
	}
	return out
}

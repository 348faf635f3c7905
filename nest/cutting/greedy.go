package cutting

import "slices"

// Greedy fills a stock without Across with what is left of each item, and takes it from there. Each
// time it puts the longest item that fits at the first legal start behind the piece before. Nil:
// nothing fits.
func (p *Problem) Greedy(s int, left []int64) *Pattern {
	var places []Place
	items := slices.Clone(p.Stocks[s].Holds)
	SortBySize(p, items)
	slices.Reverse(items)
	from := p.Stocks[s].From
	for _, i := range items {
		for left[i] > 0 {
			at, ok := p.Stocks[s].earliest(Along, from, func(at int64) bool {
				return p.Legal(s, Place{Item: i, At: at})
			})
			if !ok {
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

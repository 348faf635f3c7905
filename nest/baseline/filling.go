package baseline

import (
	"cmp"
	"slices"

	"rackwright/nest/cutting"
)

// filling is a plan under way. Patterns have no worth yet; their places are sorted.
type filling struct {
	p      *cutting.Problem
	onHand []bool
	order  []int   // in which stocks are tried when one must be opened
	used   []int64 // of each stock
	open   []*cutting.Pattern
}

func newFilling(p *cutting.Problem, onHand []bool, order []int) *filling {
	return &filling{p: p, onHand: onHand, order: order, used: make([]int64, len(p.Stocks))}
}

// intoOpen puts a piece into an open stock as the rule says, and reports whether one took it.
func (f *filling) intoOpen(item int, rule Rule) bool {
	var into *cutting.Pattern
	var places []cutting.Place
	var least int64
	for _, b := range f.open {
		with, ok := f.place(b, item, 0)
		if !ok {
			continue
		}
		if rule != BestFitDecreasing {
			b.Places = with
			return true
		}
		if free := f.longestFree(b.Stock, with); into == nil || free < least {
			into, places, least = b, with, free
		}
	}
	if into == nil {
		return false
	}
	into.Places = places
	return true
}

// intoNew opens a stock for a piece, and reports whether there was one.
func (f *filling) intoNew(item int) bool {
	for _, s := range f.order {
		if !f.left(s) {
			continue
		}
		if b, ok := f.relaid([]cutting.Place{{Item: item}}, s); ok {
			f.used[s]++
			f.open = append(f.open, b)
			return true
		}
	}
	return false
}

// left says whether the supply of a stock has not run out.
func (f *filling) left(s int) bool {
	supply := f.p.Stocks[s].Supply
	return supply == cutting.Any || f.used[s] < supply
}

// place gives the places of a pattern with one piece more, put at the leftmost start, not before
// least, where it keeps a kerf from its neighbours and off the spots. Such a start is the stock's
// own, or lies a kerf after a piece, or at the end of a spot.
func (f *filling) place(b *cutting.Pattern, item int, least int64) ([]cutting.Place, bool) {
	stock := &f.p.Stocks[b.Stock]
	if _, held := slices.BinarySearch(stock.Holds, item); !held {
		return nil, false
	}
	best, found := int64(0), false
	try := func(at int64) {
		if at >= max(least, stock.From) && (!found || at < best) && f.clear(b, item, at) {
			best, found = at, true
		}
	}
	try(max(least, stock.From))
	for _, pl := range b.Places {
		try(pl.At + f.p.Items[pl.Item].Size + f.p.Kerf)
	}
	for _, sp := range stock.Spots {
		try(sp.To)
	}
	if !found {
		return nil, false
	}
	n := len(b.Places)
	for n > 0 && b.Places[n-1].At > best {
		n--
	}
	return slices.Insert(slices.Clone(b.Places), n, cutting.Place{Item: item, At: best}), true
}

// clear says whether a piece may start at a point: where the stock allows it, a kerf from each
// neighbour.
func (f *filling) clear(b *cutting.Pattern, item int, at int64) bool {
	end := at + f.p.Items[item].Size
	for _, pl := range b.Places {
		if at < pl.At+f.p.Items[pl.Item].Size+f.p.Kerf && pl.At < end+f.p.Kerf {
			return false
		}
	}
	return f.p.Legal(b.Stock, cutting.Place{Item: item, At: at})
}

// longestFree is the longest stretch of a stock that no piece, no kerf beside a piece and no spot
// takes.
func (f *filling) longestFree(s int, places []cutting.Place) int64 {
	stock := &f.p.Stocks[s]
	type span struct{ from, to int64 }
	taken := []span{{stock.To, stock.To}}
	for _, pl := range places {
		taken = append(taken, span{pl.At - f.p.Kerf, pl.At + f.p.Items[pl.Item].Size + f.p.Kerf})
	}
	for _, sp := range stock.Spots {
		taken = append(taken, span{sp.From, sp.To})
	}
	slices.SortFunc(taken, func(a, b span) int { return cmp.Compare(a.from, b.from) })
	from, longest := stock.From, int64(0)
	for _, t := range taken {
		longest = max(longest, min(t.from, stock.To)-from)
		from = max(from, t.to)
	}
	return longest
}

// exchange replaces each bought stock by the one that costs least, less the worth of what is left,
// among those bought that hold all its pieces and take them from left to right in the same order.
// Of equals the present one stays.
func (f *filling) exchange() {
	for n, present := range f.open {
		if f.onHand[present.Stock] {
			continue
		}
		best, least := present,
			f.p.Stocks[present.Stock].Cost-f.p.Worth(present)
		for s := range f.p.Stocks {
			if f.onHand[s] || !f.left(s) {
				continue
			}
			if b, ok := f.relaid(present.Places, s); ok {
				if c := f.p.Stocks[s].Cost - f.p.Worth(b); c < least {
					best, least = b, c
				}
			}
		}
		f.used[present.Stock]--
		f.used[best.Stock]++
		f.open[n] = best
	}
}

// relaid lays pieces in their order on an empty stock, each as far left as it goes.
func (f *filling) relaid(pieces []cutting.Place, s int) (*cutting.Pattern, bool) {
	b := &cutting.Pattern{Stock: s}
	var least int64
	for _, pl := range pieces {
		with, ok := f.place(b, pl.Item, least)
		if !ok {
			return nil, false
		}
		b.Places = with
		least = with[len(with)-1].At + f.p.Items[pl.Item].Size + f.p.Kerf
	}
	return b, true
}

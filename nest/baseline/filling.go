package baseline

import (
	"cmp"
	"slices"

	"rackwright/nest/cutting"
)

// filling is a plan under way.
type filling struct {
	p      *cutting.Problem
	onHand []bool
	order  []int // in which stocks are tried when one must be opened
	by     way
	used   []int64 // of each stock
	open   []*load
}

// load is a stock and the pieces on it so far. It is never changed: with a piece more it is another
// one.
type load struct {
	stock   int
	places  []cutting.Place // of a stock without Across, from left to right
	cut     cutting.FirstCut
	ripped  cutting.Span // where it is ripped first
	shelves []shelf      // of a stock with Across, in no order
	items   []int        // of its pieces, as they came
}

// intoOpen puts a piece into an open stock as the rule says, and reports whether one took it.
func (f *filling) intoOpen(item int, rule Rule) bool {
	var best *load
	at, least := -1, int64(0)
	for n, b := range f.open {
		with, ok := f.put(b, item)
		if !ok {
			continue
		}
		if rule != BestFitDecreasing {
			f.open[n] = with
			return true
		}
		if free := f.unused(with); best == nil || free < least {
			best, at, least = with, n, free
		}
	}
	if best == nil {
		return false
	}
	f.open[at] = best
	return true
}

// intoNew opens a stock for a piece, and reports whether there was one.
func (f *filling) intoNew(item int) bool {
	for _, s := range f.order {
		if !f.available(s) {
			continue
		}
		if b, ok := f.put(&load{stock: s}, item); ok {
			f.used[s]++
			f.open = append(f.open, b)
			return true
		}
	}
	return false
}

// available says whether the supply of a stock has not run out.
func (f *filling) available(s int) bool {
	supply := f.p.Stocks[s].Supply
	return supply == cutting.Any || f.used[s] < supply
}

// put gives the load with one piece more.
func (f *filling) put(b *load, item int) (*load, bool) {
	s := &f.p.Stocks[b.stock]
	if _, held := slices.BinarySearch(s.Holds, item); !held {
		return nil, false
	}
	if s.Rippable() {
		return f.intoShelf(b, item)
	}
	return f.along(b, item, s.From)
}

// along puts a piece at the leftmost start, not before least, where it keeps a kerf from its
// neighbours and off the spots.
func (f *filling) along(b *load, item int, least int64) (*load, bool) {
	l := f.lane(b, cutting.Along)
	l.From, l.taken = max(l.From, least), make([]cutting.Span, 0, len(b.places))
	for _, pl := range b.places {
		l.taken = append(l.taken, f.p.On(cutting.Along, pl))
	}
	for _, at := range l.starts(f.p.Items[item].Size) {
		pl := cutting.Place{Item: item, At: at}
		if !f.p.Legal(b.stock, pl) {
			continue
		}
		n := len(b.places)
		for n > 0 && b.places[n-1].At > at {
			n--
		}
		return &load{stock: b.stock, places: slices.Insert(slices.Clone(b.places), n, pl),
			items: append(slices.Clone(b.items), item)}, true
	}
	return nil, false
}

// unused is what the best fit leaves least of. In one dimension it is the longest stretch left
// free. On a stock with Across it is the area that no piece takes with a kerf along and across, as
// a length of the whole width.
func (f *filling) unused(b *load) int64 {
	s := &f.p.Stocks[b.stock]
	if !s.Rippable() {
		return f.longestFree(b)
	}
	taken := int64(0)
	for _, sh := range b.shelves {
		for _, pl := range sh.places {
			taken += (f.p.Items[pl.Item].Size + f.p.Kerf) * min(s.Across.Width,
				pl.Right-pl.Left+f.p.Rip)
		}
	}
	return s.To - s.From - taken/s.Across.Width
}

// longestFree is the longest stretch of a stock that no piece, no kerf beside a piece and no spot
// takes.
func (f *filling) longestFree(b *load) int64 {
	stock := &f.p.Stocks[b.stock]
	taken := []cutting.Span{{From: stock.To, To: stock.To}}
	for _, pl := range b.places {
		taken = append(taken, cutting.Span{From: pl.At - f.p.Kerf,
			To: pl.At + f.p.Items[pl.Item].Size + f.p.Kerf})
	}
	for _, sp := range stock.Spots {
		taken = append(taken, cutting.Span{From: sp.From, To: sp.To})
	}
	slices.SortFunc(taken, func(a, b cutting.Span) int { return cmp.Compare(a.From, b.From) })
	from, longest := stock.From, int64(0)
	for _, t := range taken {
		longest = max(longest, min(t.From, stock.To)-from)
		from = max(from, t.To)
	}
	return longest
}

// exchange replaces each bought stock by the one that costs least, less the worth of what is left,
// among those bought that take all its pieces. Of equals the present one stays.
func (f *filling) exchange() {
	cost := func(b *load) int64 {
		t := f.pattern(b)
		return f.p.Cost(&t)
	}
	for n, present := range f.open {
		if f.onHand[present.stock] {
			continue
		}
		best, least := present, cost(present)
		for s := range f.p.Stocks {
			if f.onHand[s] || !f.available(s) {
				continue
			}
			if b, ok := f.relaid(present, s); ok {
				if c := cost(b); c < least {
					best, least = b, c
				}
			}
		}
		f.used[present.stock]--
		f.used[best.stock]++
		f.open[n] = best
	}
}

// relaid lays the pieces of a load on an empty stock, one by one as they came. Where no stock is
// ripped, they go from left to right in the order in which they lie.
func (f *filling) relaid(old *load, s int) (_ *load, ok bool) {
	b := &load{stock: s}
	if f.by != unripped {
		for _, i := range old.items {
			if b, ok = f.put(b, i); !ok {
				return nil, false
			}
		}
		return b, true
	}
	least := f.p.Stocks[s].From
	for _, pl := range old.places {
		if _, held := slices.BinarySearch(f.p.Stocks[s].Holds, pl.Item); !held {
			return nil, false
		}
		if b, ok = f.along(b, pl.Item, least); !ok {
			return nil, false
		}
		least = f.p.On(cutting.Along, b.places[len(b.places)-1]).To + f.p.Kerf
	}
	return b, true
}

// pattern is what a load has become, with its worth.
func (f *filling) pattern(b *load) cutting.Pattern {
	t := cutting.Pattern{Stock: b.stock, First: b.cut, Ripped: b.ripped, Places: b.places}
	if f.p.Stocks[b.stock].Rippable() {
		shelves := slices.Clone(b.shelves)
		slices.SortFunc(shelves, func(x, y shelf) int { return cmp.Compare(x.From, y.From) })
		for _, sh := range shelves {
			t.Places = append(t.Places, sh.places...)
		}
		t = f.p.Normal(t)
	}
	t.Worth = f.p.Worth(&t)
	return t
}

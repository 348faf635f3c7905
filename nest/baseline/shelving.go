package baseline

import (
	"cmp"
	"slices"

	"rackwright/nest/cutting"
)

// shelving is a plan under way in which stocks with Across are filled shelf by shelf; all others as
// in one dimension.
type shelving struct {
	filling
	by   way
	open []*stack
}

// intoOpen puts a piece into an open stock as the rule says, and reports whether one took it.
func (f *shelving) intoOpen(item int, rule Rule) bool {
	into, least := -1, int64(0)
	var best *stack
	for n, b := range f.open {
		with, ok := f.put(b, item)
		if !ok {
			continue
		}
		if rule != BestFitDecreasing {
			f.open[n] = with
			return true
		}
		if free := f.unused(with); into < 0 || free < least {
			into, best, least = n, with, free
		}
	}
	if into < 0 {
		return false
	}
	f.open[into] = best
	return true
}

// intoNew opens a stock for a piece, and reports whether there was one.
func (f *shelving) intoNew(item int) bool {
	for _, s := range f.order {
		if !f.left(s) {
			continue
		}
		if b, ok := f.put(&stack{stock: s}, item); ok {
			f.used[s]++
			f.open = append(f.open, b)
			return true
		}
	}
	return false
}

// put gives the stack with one piece more: in the first shelf that takes it, else in a new one.
func (f *shelving) put(b *stack, item int) (*stack, bool) {
	s := &f.p.Stocks[b.stock]
	if s.Across == nil {
		places, ok := f.place(&cutting.Pattern{Stock: b.stock, Places: b.flat}, item, 0)
		return &stack{stock: b.stock, flat: places, items: append(slices.Clone(b.items), item)}, ok
	}
	if _, held := slices.BinarySearch(s.Holds, item); !held {
		return nil, false
	}
	if len(b.shelves) == 0 {
		return f.begin(b.stock, item)
	}
	for n := range b.shelves {
		if pl, ok := f.inShelf(b, &b.shelves[n], item); ok {
			shelves := slices.Clone(b.shelves)
			shelves[n].places = append(slices.Clone(shelves[n].places), pl)
			return b.with(item, shelves), true
		}
	}
	return f.newShelf(b, item)
}

// begin lays the first piece on a stock: as a strip where strips are asked for and it leaves
// something beside it, else as a length; the other way where only that goes.
func (f *shelving) begin(stock, item int) (*stack, bool) {
	length, strip := &stack{stock: stock}, &stack{stock: stock, first: cutting.RipFirst}
	tries := []*stack{length, strip}
	if f.by == strips && f.sawn(strip, item, 0) && f.roomBeside(strip, item) {
		slices.Reverse(tries)
	}
	for _, b := range tries {
		if with, ok := f.newShelf(b, item); ok {
			return with, true
		}
	}
	return nil, false
}

// unused is what the best fit leaves least of. In one dimension it is the longest stretch left
// free; on a stock with Across the area that no piece takes with a kerf along and across, as a
// length of the whole width.
func (f *shelving) unused(b *stack) int64 {
	s := &f.p.Stocks[b.stock]
	if s.Across == nil {
		return f.longestFree(b.stock, b.flat)
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

// exchange replaces each bought stock by the one that costs least, less the worth of what is left,
// among those bought that take all its pieces, laid one by one as they came. Of equals the present
// one stays.
func (f *shelving) exchange() {
	cost := func(b *stack) int64 {
		t := f.pattern(b)
		return f.p.Cost(&t)
	}
	for n, present := range f.open {
		if f.onHand[present.stock] {
			continue
		}
		best, least := present, cost(present)
		for s := range f.p.Stocks {
			if f.onHand[s] || !f.left(s) {
				continue
			}
			if b, ok := f.again(present, s); ok {
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

// again lays the pieces of a stack on an empty stock.
func (f *shelving) again(of *stack, s int) (*stack, bool) {
	b := &stack{stock: s}
	for _, i := range of.items {
		with, ok := f.put(b, i)
		if !ok {
			return nil, false
		}
		b = with
	}
	return b, true
}

// pattern is what a stack has become, with its worth.
func (f *shelving) pattern(b *stack) cutting.Pattern {
	t := cutting.Pattern{Stock: b.stock, First: b.first, Places: b.flat}
	if f.p.Stocks[b.stock].Across != nil {
		shelves := slices.Clone(b.shelves)
		slices.SortFunc(shelves, func(x, y shelf) int { return cmp.Compare(x.from, y.from) })
		for _, sh := range shelves {
			t.Places = append(t.Places, sh.places...)
		}
		t = f.p.Straight(t)
	}
	t.Worth = f.p.Worth(&t)
	return t
}

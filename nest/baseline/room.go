package baseline

import (
	"cmp"
	"slices"

	"rackwright/nest/cutting"
)

// Room. What a load may still take is bounded by the stretches that are free between its things, a
// kerf beside each and no spot looked at. A piece longer than each of them is refused at once.

// room is how much of a load is free.
type room struct {
	outer int64   // the longest stretch between pieces, or between shelves
	inner []int64 // by shelf, the longest stretch between its pieces; 0: it takes none
	taken int64   // area of the pieces with a kerf along and across; only with Across
}

// roomAlong is that of a load on a stock without Across.
func (f *filling) roomAlong(b *load) room {
	s := &f.p.Stocks[b.stock]
	from, longest := s.From, int64(0)
	for _, pl := range b.places {
		on := f.withKerfs(pl)
		longest, from = max(longest, on.From-from), on.To
	}
	return room{outer: max(longest, s.To-from)}
}

// roomOnShelves is that of a load with one piece more than another had, the last of shelf n.
func (f *filling) roomOnShelves(b, before *load, n int) room {
	sh := &b.shelves[n]
	out := room{inner: slices.Clone(before.room.inner), outer: before.room.outer,
		taken: before.room.taken + f.taken(b.stock, sh.places[len(sh.places)-1])}
	if n == len(out.inner) {
		out.inner = append(out.inner, 0)
		var taken []cutting.Span
		for _, sh := range b.shelves {
			taken = append(taken, sh.Span)
		}
		out.outer = longestBetween(f.reach(b, b.cut.Outer()), taken, f.p.KerfOn(b.cut.Outer()))
	}
	if !sh.plain {
		inner := b.cut.Inner()
		var taken []cutting.Span
		for _, pl := range sh.places {
			taken = append(taken, f.p.On(inner, pl))
		}
		out.inner[n] = longestBetween(f.reach(b, inner), taken, f.p.KerfOn(inner))
	}
	return out
}

// longestBetween is the longest stretch of a span that is free between things, a kerf beside each;
// at least 0.
func longestBetween(in cutting.Span, things []cutting.Span, kerf int64) (longest int64) {
	slices.SortFunc(things, func(a, b cutting.Span) int { return cmp.Compare(a.From, b.From) })
	from := in.From
	for _, t := range things {
		longest, from = max(longest, min(t.From-kerf, in.To)-from), max(from, t.To+kerf)
	}
	return max(longest, in.To-from)
}

// taken is the area of a piece with a kerf along and across.
func (f *filling) taken(stock int, pl cutting.Place) int64 {
	return (f.p.Items[pl.Item].Size + f.p.Kerf) *
		min(f.p.Stocks[stock].Across.Width, pl.Right-pl.Left+f.p.Rip)
}

// mayTake is false only where a load that has pieces takes no piece of an item.
func (f *filling) mayTake(b *load, item int) bool {
	outer := f.extent(item, b.cut.Outer())
	return outer <= b.room.outer || f.shelfMayTake(b, item, outer)
}

// shelfMayTake is false only where none of the shelves takes one.
func (f *filling) shelfMayTake(b *load, item int, outer int64) bool {
	inner := f.extent(item, b.cut.Inner())
	for n, free := range b.room.inner {
		if sh := &b.shelves[n]; inner <= free && outer <= sh.To-sh.From {
			return true
		}
	}
	return false
}

// unusedAtLeast is what the load with one piece more leaves unused at least, as [filling.unused]
// has it, on a stock with Across. A piece is sawn to its width but for one that is a length of its
// own.
func (f *filling) unusedAtLeast(b *load, item int) int64 {
	s, it := &f.p.Stocks[b.stock], &f.p.Items[item]
	pl := cutting.Place{Item: item, Right: s.Across.Width}
	if b.cut == cutting.RipFirst || it.Size > b.room.outer {
		pl.Right = it.Width
	}
	return s.To - s.From - (b.room.taken+f.taken(b.stock, pl))/s.Across.Width
}

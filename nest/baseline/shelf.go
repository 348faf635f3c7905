package baseline

import (
	"slices"

	"rackwright/nest/cutting"
)

// Shelves. A stock with Across is filled shelf by shelf: by lengths, where it is crosscut first, or
// by strips, where it is ripped first. The first piece of a shelf makes it as long, or as wide, as
// itself; another goes beside it where the shelf takes it, trimmed to its own size if need be.
// Across the shelves a piece is put at the leftmost start, as in one dimension: a shelf starts
// where the stock does (strips: at the inset), a kerf after another shelf, or at the end of a
// spot, and so does a piece in its shelf.

// stack is one stock under way.
type stack struct {
	stock   int
	first   cutting.FirstCut
	shelves []shelf // of a stock with Across, in no order
	flat    []cutting.Place
	items   []int // in the order in which they came
}

// shelf is a length or a strip at [from, to).
type shelf struct {
	from, to int64
	whole    bool // a length that is not ripped
	places   []cutting.Place
}

// axis is a direction across a stock: what may be taken of it, and by what kerf things lie apart
// there.
type axis struct{ from, to, kerf int64 }

// axes gives those from shelf to shelf, and from piece to piece in a shelf.
func (f *shelving) axes(b *stack) (outer, inner axis) {
	s := &f.p.Stocks[b.stock]
	along, across := axis{s.From, s.To, f.p.Kerf},
		axis{s.Across.Inset, s.Across.Width - s.Across.Inset, f.p.Rip}
	if b.first == cutting.RipFirst {
		return across, along
	}
	return along, across
}

// spans gives where a place lies on these axes.
func (f *shelving) spans(first cutting.FirstCut, pl cutting.Place) (outer, inner axis) {
	along, across := axis{from: pl.At, to: pl.At + f.p.Items[pl.Item].Size},
		axis{from: pl.Left, to: pl.Right}
	if first == cutting.RipFirst {
		return across, along
	}
	return along, across
}

// extents are those of an item on these axes.
func (f *shelving) extents(first cutting.FirstCut, item int) (outer, inner int64) {
	it := &f.p.Items[item]
	if first == cutting.RipFirst {
		return it.Width, it.Size
	}
	return it.Size, it.Width
}

// at is the place of an item at a point of these axes.
func (f *shelving) at(first cutting.FirstCut, item int, outer, inner int64) cutting.Place {
	if first == cutting.RipFirst {
		outer, inner = inner, outer
	}
	return cutting.Place{Item: item, At: outer, Left: inner, Right: inner + f.p.Items[item].Width}
}

// sawn says whether a stock may give an item sawn to its width, from a length, or strips, so long.
func (f *shelving) sawn(b *stack, item int, long int64) bool {
	s, it := &f.p.Stocks[b.stock], &f.p.Items[item]
	if b.first == cutting.RipFirst {
		long = s.To - s.From
	}
	_, whole := slices.BinarySearch(s.Across.Whole, item)
	return !whole && it.Width >= s.Across.Narrowest && long >= s.Across.ShortestRip
}

// roomBeside says whether a piece sawn from a stock leaves room beside it for another one or for an
// offcut.
func (f *shelving) roomBeside(b *stack, item int) bool {
	s, it := &f.p.Stocks[b.stock], &f.p.Items[item]
	left := s.Across.Width - s.Across.Inset - it.Width - f.p.Rip
	return left >= s.Across.Keep || slices.ContainsFunc(s.Holds, func(i int) bool {
		return f.sawn(b, i, it.Size) && f.p.Items[i].Width <= left-s.Across.Inset
	})
}

// starts are the points of an axis where something is tried, ascending: its own start, a kerf after
// what lies there, and the end of each spot.
func (a axis) starts(there []axis, ends []int64) []int64 {
	out := append([]int64{a.from}, ends...)
	for _, t := range there {
		out = append(out, t.to+a.kerf)
	}
	slices.Sort(out)
	out = slices.Compact(out)
	return slices.DeleteFunc(out, func(x int64) bool { return x < a.from })
}

// free says whether something may lie at [from, to) of an axis beside what lies there.
func (a axis) free(there []axis, from, to int64) bool {
	return from >= a.from && to <= a.to &&
		!slices.ContainsFunc(there, func(t axis) bool {
			return from < t.to+a.kerf && t.from < to+a.kerf
		})
}

// inShelf finds a place for a piece in a ripped length or a strip.
func (f *shelving) inShelf(b *stack, sh *shelf, item int) (cutting.Place, bool) {
	s := &f.p.Stocks[b.stock]
	deep, wide := f.extents(b.first, item)
	if sh.whole || !f.sawn(b, item, sh.to-sh.from) || deep > sh.to-sh.from {
		return cutting.Place{}, false
	}
	if deep < sh.to-sh.from &&
		(!s.Across.Trim || b.first == cutting.RipFirst &&
			f.p.Items[item].Size < s.Across.ShortestRip) {
		return cutting.Place{}, false
	}
	var there []axis
	for _, pl := range sh.places {
		_, inner := f.spans(b.first, pl)
		there = append(there, inner)
	}
	_, inner := f.axes(b)
	for _, x := range inner.starts(there, f.ends(b, false)) {
		if !inner.free(there, x, x+wide) {
			continue
		}
		for _, y := range []int64{sh.from, sh.to - deep} { // at one side of it
			if pl := f.at(b.first, item, y, x); f.p.Legal(b.stock, pl) {
				return pl, true
			}
		}
	}
	return cutting.Place{}, false
}

// ends are those of the spots of a stock, from shelf to shelf or along a shelf.
func (f *shelving) ends(b *stack, outer bool) (out []int64) {
	for _, sp := range f.p.Stocks[b.stock].Spots {
		if outer == (b.first == cutting.CrosscutFirst) {
			out = append(out, sp.To)
		} else {
			out = append(out, sp.Right)
		}
	}
	return out
}

// newShelf gives the stack with one more shelf, at the leftmost start where the piece has a place
// in it: ripped, where that leaves something beside it, else a length that is not ripped; the other
// one where only that goes.
func (f *shelving) newShelf(b *stack, item int) (*stack, bool) {
	var there []axis
	for _, sh := range b.shelves {
		there = append(there, axis{from: sh.from, to: sh.to})
	}
	outer, _ := f.axes(b)
	deep, _ := f.extents(b.first, item)
	ripped := f.roomBeside(b, item)
	for _, x := range outer.starts(there, f.ends(b, true)) {
		if !outer.free(there, x, x+deep) {
			continue
		}
		for _, rip := range []bool{ripped, !ripped} {
			if sh, ok := f.shelfAt(b, item, x, rip); ok {
				return b.with(item, append(slices.Clone(b.shelves), sh)), true
			}
		}
	}
	return nil, false
}

// shelfAt is a shelf for a piece that starts at a point.
func (f *shelving) shelfAt(b *stack, item int, at int64, rip bool) (shelf, bool) {
	deep, _ := f.extents(b.first, item)
	sh := shelf{from: at, to: at + deep}
	if rip {
		pl, ok := f.inShelf(b, &sh, item)
		sh.places = []cutting.Place{pl}
		return sh, ok
	}
	sh.whole = true
	pl := cutting.Place{Item: item, At: at, Right: f.p.Stocks[b.stock].Across.Width}
	sh.places = []cutting.Place{pl}
	return sh, b.first == cutting.CrosscutFirst && f.p.Legal(b.stock, pl)
}

func (b *stack) with(item int, shelves []shelf) *stack {
	return &stack{stock: b.stock, first: b.first, shelves: shelves,
		items: append(slices.Clone(b.items), item)}
}

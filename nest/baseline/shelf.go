package baseline

import (
	"cmp"
	"math"
	"slices"

	"rackwright/nest/cutting"
)

// Shelves. A stock with Across is filled shelf by shelf: by lengths, where it is crosscut first, or
// by strips, where it is ripped first. The first piece of a shelf makes the shelf as long, or as
// wide, as the piece. Another piece goes beside it where the shelf takes the piece, trimmed to its
// own size if need be. A shelf is put at the leftmost start among the shelves, and a piece among
// those of its shelf. Such a start is that of the stock (across it: the inset), or lies a kerf
// after what is there, or at the end of a spot, or a kerf after it.
//
// A stock is ripped first over its whole length, or else over the longest span that has a place for
// the first piece.

// shelf is a length or a strip, in the direction in which shelves follow each other.
type shelf struct {
	cutting.Span
	plain  bool // a length that is not ripped
	places []cutting.Place
}

// with is a load with one piece more, the last of shelf n.
func (f *filling) with(b *load, item int, shelves []shelf, n int) *load {
	with := &load{stock: b.stock, cut: b.cut, ripped: b.ripped, shelves: shelves,
		items: append(slices.Clone(b.items), item)}
	with.room = f.roomOnShelves(with, b, n)
	return with
}

// intoShelf puts a piece into the first shelf that takes it, else into a new one.
func (f *filling) intoShelf(b *load, item int) (*load, bool) {
	if len(b.shelves) == 0 {
		return f.begin(b.stock, item)
	}
	for n := range b.shelves {
		if pl, ok := f.inShelf(b, &b.shelves[n], item); ok {
			shelves := slices.Clone(b.shelves)
			shelves[n].places = append(slices.Clone(shelves[n].places), pl)
			return f.with(b, item, shelves, n), true
		}
	}
	return f.newShelf(b, item)
}

// begin lays the first piece on a stock. It is a strip where strips are asked for and the piece
// leaves something beside it, else a length. Where only one of the two goes, it is that one.
func (f *filling) begin(stock, item int) (*load, bool) {
	tries := []*load{f.empty[stock]}
	strips := f.strips(stock)
	if len(strips) > 0 && f.by == byStrips && f.sawn(strips[0], item, 0) &&
		f.leavesBeside(strips[0], item) {
		tries = slices.Concat(strips, tries)
	} else {
		tries = append(tries, strips...)
	}
	for _, b := range tries {
		if with, ok := f.newShelf(b, item); ok {
			return with, true
		}
	}
	return nil, false
}

// strips are the empty loads of a stock that is ripped first, those over longer spans first.
func (f *filling) strips(stock int) []*load {
	out := &f.stripped[stock]
	if *out != nil {
		return *out
	}
	*out = []*load{}
	for _, on := range f.p.Stocks[stock].RippedSpans() {
		*out = append(*out, &load{stock: stock, cut: cutting.RipFirst, ripped: on})
	}
	slices.SortStableFunc(*out, func(a, b *load) int {
		return cmp.Compare(b.ripped.To-b.ripped.From, a.ripped.To-a.ripped.From)
	})
	return *out
}

// extent is the size of an item in a direction, where it is sawn to its width.
func (f *filling) extent(item int, a cutting.Axis) int64 {
	if a == cutting.Crosswise {
		return f.p.Items[item].Width
	}
	return f.p.Items[item].Size
}

// sawn says whether a stock may give an item sawn to its width, from a length, or strips, so long.
func (f *filling) sawn(b *load, item int, long int64) bool {
	s, it := &f.p.Stocks[b.stock], &f.p.Items[item]
	if b.cut == cutting.RipFirst {
		long = b.ripped.To - b.ripped.From
	}
	_, asItIs := slices.BinarySearch(s.Across.Whole, item)
	return !asItIs && it.Width >= s.Across.Narrowest && long >= s.Across.ShortestRip
}

// leavesBeside says whether a piece sawn from a stock leaves enough beside it for another one or
// for an offcut.
func (f *filling) leavesBeside(b *load, item int) bool {
	s, it := &f.p.Stocks[b.stock], &f.p.Items[item]
	left := s.Across.Width - s.Across.Inset - it.Width - f.p.Rip
	long := it.Size
	if b.cut == cutting.RipFirst {
		long = b.ripped.To - b.ripped.From
	}
	return left >= s.Across.Keep || long >= s.Across.ShortestRip &&
		f.narrowestOn(b.stock) <= left-s.Across.Inset
}

// narrowestOn is the width of the narrowest piece that may be sawn from a stock.
func (f *filling) narrowestOn(stock int) int64 {
	if f.narrowest[stock] == 0 {
		least, s := int64(math.MaxInt64), &f.p.Stocks[stock]
		for _, i := range s.Holds {
			_, asItIs := slices.BinarySearch(s.Across.Whole, i)
			if w := f.p.Items[i].Width; !asItIs && w >= s.Across.Narrowest {
				least = min(least, w)
			}
		}
		f.narrowest[stock] = least
	}
	return f.narrowest[stock]
}

// inShelf finds a place for a piece in a ripped length or a strip: at the leftmost start, at one of
// the shelf's two sides.
func (f *filling) inShelf(b *load, sh *shelf, item int) (cutting.Place, bool) {
	outer, inner := b.cut.Outer(), b.cut.Inner()
	deep, spare := f.extent(item, outer), sh.To-sh.From-f.extent(item, outer)
	if sh.plain || spare < 0 || !f.sawn(b, item, sh.To-sh.From) ||
		spare > 0 && !f.trimmable(b, item) {
		return cutting.Place{}, false
	}
	l := f.lane(b, inner)
	for _, pl := range sh.places {
		l.taken = append(l.taken, f.p.On(inner, pl))
	}
	pl := cutting.Place{Item: item, Right: f.p.Items[item].Width}
	for _, x := range l.starts(f.extent(item, inner)) {
		for _, y := range []int64{sh.From, sh.To - deep} {
			if pl = pl.Put(inner, x).Put(outer, y); f.p.Legal(b.stock, pl) &&
				f.ripsClear(b, sh, pl) {
				return pl, true
			}
		}
	}
	return cutting.Place{}, false
}

// ripsClear says whether the rips that a piece of a shelf needs may be made.
func (f *filling) ripsClear(b *load, sh *shelf, pl cutting.Place) bool {
	along, across := f.p.On(cutting.Along, pl), f.p.On(cutting.Crosswise, pl)
	if b.cut == cutting.CrosscutFirst {
		return f.p.RipClear(b.stock, sh.Span, across)
	}
	return f.p.RipClear(b.stock, b.ripped, sh.Span) &&
		f.p.TrimClear(b.stock, along, across, sh.Span)
}

// trimmable says whether a piece may be trimmed to its size where its shelf is larger.
func (f *filling) trimmable(b *load, item int) bool {
	a := f.p.Stocks[b.stock].Across
	return a.Trim && (b.cut == cutting.CrosscutFirst || f.p.Items[item].Size >= a.ShortestRip)
}

// newShelf gives the load with one more shelf, at the leftmost start where the piece has a place in
// it. The shelf is ripped where that leaves something beside the piece, else it is a length that is
// not ripped. Where only one of the two goes, it is that one.
func (f *filling) newShelf(b *load, item int) (*load, bool) {
	outer := b.cut.Outer()
	l, deep := f.lane(b, outer), f.extent(item, outer)
	for _, sh := range b.shelves {
		l.taken = append(l.taken, sh.Span)
	}
	ripped := f.leavesBeside(b, item)
	for _, at := range l.starts(deep) {
		for _, rip := range []bool{ripped, !ripped} {
			sh := shelf{Span: cutting.Span{From: at, To: at + deep}}
			if ok := f.furnish(b, &sh, item, rip); ok {
				return f.with(b, item, append(slices.Clone(b.shelves), sh),
					len(b.shelves)), true
			}
		}
	}
	return nil, false
}

// furnish lays the first piece in a shelf, ripped or as a plain length.
func (f *filling) furnish(b *load, sh *shelf, item int, rip bool) bool {
	pl, ok := cutting.Place{}, false
	if rip {
		pl, ok = f.inShelf(b, sh, item)
	} else {
		sh.plain = true
		pl = cutting.Place{Item: item, At: sh.From, Right: f.p.Stocks[b.stock].Across.Width}
		ok = b.cut == cutting.CrosscutFirst && f.p.Legal(b.stock, pl)
	}
	sh.places = []cutting.Place{pl}
	return ok
}

package baseline

import (
	"cmp"
	"context"
	"math"
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
	open   batches // in the order of opening

	empty     []*load      // by stock
	stripped  [][]*load    // by stock, empty loads that are ripped first; nil: not made yet
	ends      [2][][]int64 // by direction and stock, of the spots; nil: not made yet
	narrowest []int64      // by stock, of what may be sawn from it; 0: not looked up yet
	ctx       context.Context
	looked    int // at loads and stocks since the context was asked last
	hurried   bool
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
	room    room
}

// unopened is how many of a stock there still are.
func (f *filling) unopened(s int) int64 {
	supply := f.p.Stocks[s].Supply
	if supply == cutting.Any {
		return math.MaxInt64
	}
	return supply - f.used[s]
}

// put gives the load with one piece more.
func (f *filling) put(b *load, item int) (*load, bool) {
	s := &f.p.Stocks[b.stock]
	if f.p.Items[item].Size > s.To-s.From {
		return nil, false
	}
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
	at, ok := f.startAlong(b, item, least)
	if !ok {
		return nil, false
	}
	n := len(b.places)
	for n > 0 && b.places[n-1].At > at {
		n--
	}
	with := &load{stock: b.stock, items: append(slices.Clone(b.items), item),
		places: slices.Insert(slices.Clone(b.places), n, cutting.Place{Item: item, At: at})}
	with.room = f.roomAlong(with)
	return with, true
}

// startAlong is that start; false where there is none. A piece that does not fit at a point is
// moved to the end of what is in its way, and so on: what it passes takes it nowhere.
func (f *filling) startAlong(b *load, item int, least int64) (at int64, ok bool) {
	s, it := &f.p.Stocks[b.stock], &f.p.Items[item]
	at = max(s.From, least)
	pieces, spots := b.places, s.Spots
	for moved := true; moved; {
		moved = false
		for ; len(pieces) > 0 && pieces[0].At < at+it.Size+f.p.Kerf; pieces = pieces[1:] {
			if end := f.p.On(cutting.Along, pieces[0]).To + f.p.Kerf; end > at {
				at, moved = end, true
			}
		}
		for ; len(spots) > 0 && spots[0].From < at+it.Size; spots = spots[1:] {
			if !spots[0].Tolerated[it.Class] && spots[0].To > at {
				at, moved = spots[0].To, true
			}
		}
	}
	return at, at+it.Size <= s.To
}

// unused is what the best fit leaves least of. In one dimension it is the longest stretch left
// free. On a stock with Across it is the area that no piece takes with a kerf along and across, as
// a length of the whole width.
func (f *filling) unused(b *load) int64 {
	s := &f.p.Stocks[b.stock]
	if !s.Rippable() {
		return f.longestFree(b)
	}
	return s.To - s.From - b.room.taken/s.Across.Width
}

// longestFree is the longest stretch of a stock without Across that no piece, no kerf beside a
// piece and no spot takes.
func (f *filling) longestFree(b *load) int64 {
	s := &f.p.Stocks[b.stock]
	pieces, spots := b.places, s.Spots
	from, longest := s.From, int64(0)
	for len(pieces) > 0 || len(spots) > 0 {
		var next cutting.Span
		if len(pieces) > 0 {
			next = f.withKerfs(pieces[0])
		}
		if len(pieces) == 0 || len(spots) > 0 && spots[0].From < next.From {
			next, spots = spots[0].On(cutting.Along), spots[1:]
		} else {
			pieces = pieces[1:]
		}
		longest = max(longest, min(next.From, s.To)-from)
		from = max(from, next.To)
	}
	return max(longest, s.To-from)
}

// withKerfs is what a piece takes of the length with the kerfs beside it.
func (f *filling) withKerfs(pl cutting.Place) cutting.Span {
	on := f.p.On(cutting.Along, pl)
	return cutting.Span{From: on.From - f.p.Kerf, To: on.To + f.p.Kerf}
}

// exchange replaces each bought stock by the one that costs least, less the worth of what is left,
// among those bought that take all its pieces. Of equals the present one stays.
func (f *filling) exchange() {
	var out batches
	for n, b := range f.open {
		if f.hurried || f.onHand[b.stock] {
			out.add(b.load, b.n)
			continue
		}
		cheaper := f.cheaper(f.open[n].load)
		for range b.n {
			best := b.load
			if at := slices.IndexFunc(cheaper, func(o offer) bool {
				return f.unopened(o.stock) > 0
			}); at >= 0 {
				best = cheaper[at].load
			}
			f.used[b.stock]--
			f.used[best.stock]++
			out.add(best, 1)
		}
	}
	f.open = out
}

// offer is a load on another stock, and what it costs there.
type offer struct {
	*load
	cost int64
}

// cheaper are the loads for which a load could be exchanged, the cheapest first.
func (f *filling) cheaper(present *load) (out []offer) {
	now := f.cost(present)
	for s := range f.p.Stocks {
		if f.onHand[s] || f.hurry() {
			continue
		}
		if b, ok := f.relaid(present, s); ok {
			if c := f.cost(b); c < now {
				out = append(out, offer{b, c})
			}
		}
	}
	slices.SortStableFunc(out, func(a, b offer) int { return cmp.Compare(a.cost, b.cost) })
	return out
}

// cost of a load: of its stock, less the worth of what is left.
func (f *filling) cost(b *load) int64 {
	t := f.pattern(b)
	return f.p.Cost(&t)
}

// relaid lays the pieces of a load on an empty stock, one by one as they came. Where no stock is
// ripped, they go from left to right in the order in which they lie.
func (f *filling) relaid(old *load, s int) (_ *load, ok bool) {
	b := f.empty[s]
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

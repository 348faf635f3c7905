package baseline_test

import (
	"cmp"
	"math"
	"math/bits"
	"slices"

	"rackwright/nest/baseline"
	"rackwright/nest/cutting"
)

// The reference: the rules as they are told, one piece after the other and every load asked anew
// for each. What the package gives is compared with it.

// oneByOne fills stocks by one rule. The list holds an item index for each copy wanted, in the
// order in which the copies were asked for. The demands of the problem are not looked at. onHand
// says for each stock whether it lies there already; the others are bought. Costs are at least 0.
//
// It gives one use, of one time, for each stock taken, in the order of opening, and the copies of
// each item that no stock could give. The same input gives the same plan.
func oneByOne(p *cutting.Problem, onHand []bool, list []int,
	rule baseline.Rule) (uses []cutting.Use, unmet []int64) {
	uses, unmet = wholeWidth(p, onHand, list, rule)
	if !slices.ContainsFunc(p.Stocks, func(s cutting.Stock) bool { return s.Rippable() }) {
		return uses, unmet
	}
	orders := [][]int{openingOrder(p, onHand, nil)}
	if byArea := openingOrder(p, onHand, stockWidths(p)); !slices.Equal(byArea, orders[0]) {
		orders = append(orders, byArea)
	}
	for _, by := range []way{byLengths, byStrips} {
		for _, order := range orders {
			u, m := fill(p, onHand, list, rule, by, order)
			if cmp.Or(cmp.Compare(sizeOf(p, m), sizeOf(p, unmet)),
				cmp.Compare(p.Value(u), p.Value(uses))) < 0 {
				uses, unmet = u, m
			}
		}
	}
	return uses, unmet
}

// openingOrder is the order in which stocks are tried when one must be opened. Those on hand come
// first, the shortest ahead. The others follow, the cheapest per length ahead (per area where
// widths are given), then the shortest. Stocks with no length are left out.
func openingOrder(p *cutting.Problem, onHand []bool, widths []int64) []int {
	extent := func(s int) uint64 {
		if widths == nil {
			return uint64(p.Stocks[s].To - p.Stocks[s].From)
		}
		return uint64(p.Stocks[s].To-p.Stocks[s].From) * uint64(widths[s])
	}
	var order []int
	for s := range p.Stocks {
		if p.Stocks[s].To > p.Stocks[s].From {
			order = append(order, s)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int {
		x, y := &p.Stocks[a], &p.Stocks[b]
		shorter := cmp.Compare(x.To-x.From, y.To-y.From)
		switch {
		case onHand[a] && onHand[b]:
			return shorter
		case onHand[a]:
			return -1
		case onHand[b]:
			return 1
		}
		xHigh, xLow := bits.Mul64(uint64(x.Cost), extent(b))
		yHigh, yLow := bits.Mul64(uint64(y.Cost), extent(a))
		return cmp.Or(cmp.Compare(xHigh, yHigh), cmp.Compare(xLow, yLow), shorter)
	})
	return order
}

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
func (f *filling) intoOpen(item int, rule baseline.Rule) bool {
	var best *load
	at, least := -1, int64(0)
	for n, b := range f.open {
		with, ok := f.put(b, item)
		if !ok {
			continue
		}
		if rule != baseline.BestFitDecreasing {
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

// lane is a stretch in one direction of a stock where things are put beside each other.
type lane struct {
	cutting.Span
	kerf  int64          // parts the things
	ends  []int64        // of the spots; across, where a rip just clears a weak one, too
	taken []cutting.Span // by the things that lie there
}

// lane is what sawn pieces may take of the stock of a load in a direction, nothing taken yet.
func (f *filling) lane(b *load, a cutting.Axis) lane {
	s := &f.p.Stocks[b.stock]
	l := lane{Span: s.Sawable(a), kerf: f.p.KerfOn(a), ends: make([]int64, 0, len(s.Spots))}
	if a == cutting.Along && b.cut == cutting.RipFirst {
		l.Span = b.ripped
	}
	for n := range s.Spots {
		o := &s.Spots[n]
		l.ends = append(l.ends, o.On(a).To)
		if o.Weak && a == cutting.Crosswise {
			l.ends = append(l.ends, o.Right+l.kerf)
		}
	}
	return l
}

// starts are the points where a thing of a size is tried, ascending, a kerf from what lies there.
// They are the lane's own start, a kerf after each thing, and the end of each spot.
func (l *lane) starts(size int64) []int64 {
	out := make([]int64, 0, 1+len(l.ends)+len(l.taken))
	try := func(at int64) {
		if at >= l.From && at+size <= l.To &&
			!slices.ContainsFunc(l.taken, func(t cutting.Span) bool {
				return at < t.To+l.kerf && t.From < at+size+l.kerf
			}) {
			out = append(out, at)
		}
	}
	try(l.From)
	for _, t := range l.taken {
		try(t.To + l.kerf)
	}
	for _, at := range l.ends {
		try(at)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

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

// with is the load with one piece more.
func (b *load) with(item int, shelves []shelf) *load {
	return &load{stock: b.stock, cut: b.cut, ripped: b.ripped, shelves: shelves,
		items: append(slices.Clone(b.items), item)}
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
			return b.with(item, shelves), true
		}
	}
	return f.newShelf(b, item)
}

// begin lays the first piece on a stock. It is a strip where strips are asked for and the piece
// leaves something beside it, else a length. Where only one of the two goes, it is that one.
func (f *filling) begin(stock, item int) (*load, bool) {
	tries := []*load{{stock: stock}}
	strips := f.strips(stock)
	if len(strips) > 0 && f.by == byStrips && f.sawn(strips[0], item, 0) &&
		f.leavesBeside(strips[0], item) {
		tries = append(strips, tries...)
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
func (f *filling) strips(stock int) (out []*load) {
	for _, on := range f.p.Stocks[stock].RippedSpans() {
		out = append(out, &load{stock: stock, cut: cutting.RipFirst, ripped: on})
	}
	slices.SortStableFunc(out, func(a, b *load) int {
		return cmp.Compare(b.ripped.To-b.ripped.From, a.ripped.To-a.ripped.From)
	})
	return out
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
	return left >= s.Across.Keep || slices.ContainsFunc(s.Holds, func(i int) bool {
		return f.sawn(b, i, it.Size) && f.p.Items[i].Width <= left-s.Across.Inset
	})
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
				return b.with(item, append(slices.Clone(b.shelves), sh)), true
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

// way is one in which stocks with Across are filled.
type way int

const (
	unripped  way = iota // as if none had Across
	byLengths            // crosscut first
	byStrips             // ripped first
)

// fill fills stocks in one way, none of them with Across where they are not ripped.
func fill(p *cutting.Problem, onHand []bool, list []int, rule baseline.Rule, by way,
	order []int) (uses []cutting.Use, unmet []int64) {
	f := &filling{p: p, onHand: onHand, order: order, by: by, used: make([]int64, len(p.Stocks))}
	unmet = make([]int64, len(p.Items))
	for _, i := range inOrder(p, list, rule, by) {
		if !f.intoOpen(i, rule) && !f.intoNew(i) {
			unmet[i]++
		}
	}
	if rule == baseline.BestFitDecreasing {
		f.exchange()
	}
	for _, b := range f.open {
		uses = append(uses, cutting.Use{Pattern: f.pattern(b), Times: 1})
	}
	return uses, unmet
}

// wholeWidth fills stocks as if none could be ripped: every piece takes the whole width, and so
// does every spot.
func wholeWidth(p *cutting.Problem, onHand []bool, list []int,
	rule baseline.Rule) (uses []cutting.Use, unmet []int64) {
	q := *p
	q.Stocks = slices.Clone(p.Stocks)
	for n := range q.Stocks {
		q.Stocks[n].Across = nil
	}
	uses, unmet = fill(&q, onHand, list, rule, unripped, openingOrder(p, onHand, nil))
	for n := range uses {
		t := &uses[n].Pattern
		if a := p.Stocks[t.Stock].Across; a != nil {
			for i := range t.Places {
				t.Places[i].Right = a.Width
			}
			t.Worth = p.Worth(t)
		}
	}
	return uses, unmet
}

// inOrder is the list in the order in which a rule takes it.
func inOrder(p *cutting.Problem, list []int, rule baseline.Rule, by way) []int {
	if rule == baseline.FirstFit {
		return list
	}
	wide := itemWidths(p)
	list = slices.Clone(list)
	slices.SortStableFunc(list, func(a, b int) int {
		x, y := &p.Items[a], &p.Items[b]
		size, width := cmp.Compare(y.Size, x.Size), cmp.Compare(wide[b], wide[a])
		switch by {
		case unripped:
			width = 0
		case byStrips:
			size, width = width, size
		}
		return cmp.Or(size, width, cmp.Compare(x.Class, y.Class))
	})
	return list
}

// itemWidths are those that items take of stocks with Across, the most where they differ; what none
// of these holds is as wide as any.
func itemWidths(p *cutting.Problem) []int64 {
	wide := make([]int64, len(p.Items))
	for _, s := range p.Stocks {
		if !s.Rippable() {
			continue
		}
		for _, i := range s.Holds {
			w := p.Items[i].Width
			if _, asItIs := slices.BinarySearch(s.Across.Whole, i); asItIs {
				w = s.Across.Width
			}
			wide[i] = max(wide[i], w)
		}
	}
	for i, w := range wide {
		if w == 0 {
			wide[i] = math.MaxInt64
		}
	}
	return wide
}

// stockWidths are those of stocks; one without Across counts as the widest.
func stockWidths(p *cutting.Problem) []int64 {
	var widest int64
	for _, s := range p.Stocks {
		if s.Rippable() {
			widest = max(widest, s.Across.Width)
		}
	}
	wide := slices.Repeat([]int64{widest}, len(p.Stocks))
	for n, s := range p.Stocks {
		if s.Rippable() {
			wide[n] = s.Across.Width
		}
	}
	return wide
}

// sizeOf is the size of so many pieces of each item together.
func sizeOf(p *cutting.Problem, counts []int64) (sum int64) {
	for i, n := range counts {
		sum += n * p.Items[i].Size
	}
	return sum
}

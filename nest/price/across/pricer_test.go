package across

import (
	"cmp"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// plainSheet prices a stock with Across by plain search over every unit, straight from the meaning
// of patterns. Values are money x scale x 1024 x grid, where grid is the common step across; u adds
// up single lines.
type bruteForce struct {
	p           *cutting.Problem
	s           *cutting.Stock
	a           *cutting.Across
	duals       []int64
	scale, grid int64
	s0          int64
}

func newBruteForce(p *cutting.Problem, duals []int64, scale int64) *bruteForce {
	s := &p.Stocks[0]
	b := &bruteForce{p: p, s: s, a: s.Across, duals: duals, scale: scale}
	var all []int64
	all = append(all, b.a.Width, b.a.Inset, p.Rip, b.a.Keep)
	for _, i := range s.Holds {
		if !slices.Contains(b.a.Whole, i) {
			all = append(all, p.Items[i].Width)
		}
	}
	for _, o := range b.s.Spots {
		all = append(all, o.Left, o.Right)
	}
	for b.grid = b.a.Width; slices.ContainsFunc(all, func(v int64) bool {
		return v%b.grid != 0
	}); b.grid-- {
	}
	num, den := scale*1024*s.Rate.Num*b.grid, s.Rate.Den*b.a.Width
	b.s0 = (num + den - 1) / den
	return b
}

// u is the worth of a rectangle.
func (b *bruteForce) u(from, to, left, right int64) (sum int64) {
	if b.s0 == 0 || right-left < b.a.Keep && (left > 0 || right < b.a.Width) || from >= to ||
		left >= right {
		return 0
	}
	for y := left; y < right; y++ {
		run := int64(0)
		for x := from; x <= to; x++ {
			if x == to || slices.ContainsFunc(b.s.Spots, func(o cutting.Spot) bool {
				return o.Left <= y && y < o.Right && o.From <= x && x < o.To
			}) {
				sum += b.s0 * max(0, run-b.s.Keep)
				run = 0
				continue
			}
			run++
		}
	}
	return sum
}

func (b *bruteForce) clear(i int, x, left, right int64) bool {
	it := b.p.Items[i]
	return !slices.ContainsFunc(b.s.Spots, func(o cutting.Spot) bool {
		return !o.Tolerated[it.Class] && o.From < x+it.Size && o.To > x && o.Left < right &&
			o.Right > left
	})
}

func (b *bruteForce) sawn(i int) bool {
	return !slices.Contains(b.a.Whole, i) && b.p.Items[i].Width >= b.a.Narrowest
}

// part is one thing in a row: so long, worth so much; exact things make the row what it is.
type part struct {
	size, value int64
	exact       bool
}

// row is the best row of parts from lo to hi in [0, end), kerf apart, with gaps over [0, end).
func row(start, end, lo, hi, kerf int64, at func(int64) []part, gap func(a, b int64) int64) int64 {
	type state struct {
		from int64
		done bool
	}
	memo := map[state]int64{}
	var best func(s state) int64
	best = func(s state) int64 {
		if v, ok := memo[s]; ok {
			return v
		}
		v := int64(price.Never)
		if s.done {
			v = gap(s.from, end)
		}
		for x := max(s.from, lo); x < hi; x++ {
			for _, c := range at(x) {
				if x+c.size <= hi {
					rest := best(state{x + c.size + kerf, s.done || c.exact})
					if rest > price.Never/2 {
						v = max(v, gap(s.from, x-kerf)+c.value+rest)
					}
				}
			}
		}
		memo[s] = v
		return v
	}
	return best(state{start, false})
}

// length is the best content of a length.
func (b *bruteForce) length(x, l int64) int64 {
	best := int64(price.Never)
	for _, i := range b.s.Holds {
		if b.p.Items[i].Size == l && b.clear(i, x, 0, b.a.Width) {
			best = max(best, 1024*b.duals[i]*b.grid)
		}
	}
	if l < b.a.ShortestRip {
		return best
	}
	e := b.a.Inset
	at := func(y int64) (out []part) {
		for _, i := range b.s.Holds {
			it := b.p.Items[i]
			if !b.sawn(i) || it.Size > l || it.Size < l && !b.a.Trim {
				continue
			}
			v := 1024 * b.duals[i] * b.grid
			if b.clear(i, x, y, y+it.Width) {
				out = append(out,
					part{it.Width, v + b.u(x+it.Size+b.p.Kerf, x+l, y, y+it.Width), it.Size == l})
			}
			if b.clear(i, x+l-it.Size, y, y+it.Width) {
				out = append(out,
					part{it.Width, v + b.u(x, x+l-it.Size-b.p.Kerf, y, y+it.Width), it.Size == l})
			}
		}
		return out
	}
	gap := func(y, z int64) int64 { return b.u(x, x+l, y, z) }
	return max(best, row(0, b.a.Width, e, b.a.Width-e, b.p.Rip, at, gap))
}

// strip is the best content of a strip.
func (b *bruteForce) strip(y, w int64) int64 {
	at := func(x int64) (out []part) {
		for _, i := range b.s.Holds {
			it := b.p.Items[i]
			if !b.sawn(i) || it.Width > w || it.Width < w &&
				(!b.a.Trim || it.Size < b.a.ShortestRip) {
				continue
			}
			v := 1024 * b.duals[i] * b.grid
			if b.clear(i, x, y, y+it.Width) {
				out = append(out,
					part{it.Size, v + b.u(x, x+it.Size, y+it.Width+b.p.Rip, y+w), it.Width == w})
			}
			if b.clear(i, x, y+w-it.Width, y+w) {
				out = append(out,
					part{it.Size, v + b.u(x, x+it.Size, y, y+w-it.Width-b.p.Rip), it.Width == w})
			}
		}
		return out
	}
	return row(b.s.From, b.s.To, b.s.From, b.s.To, b.p.Kerf, at, func(s, t int64) int64 {
		return b.u(s, t, y, y+w)
	})
}

// best gives the best of both kinds, and whether any piece has a place.
func (b *bruteForce) best(only kind) (int64, bool) {
	var sizes, widths []int64
	for _, i := range b.s.Holds {
		sizes = append(sizes, b.p.Items[i].Size)
		if b.sawn(i) {
			widths = append(widths, b.p.Items[i].Width)
		}
	}
	slices.Sort(sizes)
	slices.Sort(widths)
	parts := func(sizes []int64, hi int64, value func(x, size int64) int64) func(x int64) []part {
		memo := map[int64][]part{}
		return func(x int64) []part {
			out, ok := memo[x]
			if !ok {
				for _, size := range slices.Compact(slices.Clone(sizes)) {
					if x+size <= hi {
						if v := value(x, size); v > price.Never/2 {
							out = append(out, part{size, v, true})
						}
					}
				}
				memo[x] = out
			}
			return out
		}
	}
	v := int64(price.Never)
	if only != onlyRip {
		v = row(b.s.From, b.s.To, b.s.From, b.s.To, b.p.Kerf, parts(sizes, b.s.To, b.length),
			func(s, t int64) int64 { return b.u(s, t, 0, b.a.Width) })
	}
	if e := b.a.Inset; only != onlyCrosscut && b.s.To-b.s.From >= b.a.ShortestRip {
		v = max(v, row(0, b.a.Width, e, b.a.Width-e, b.p.Rip, parts(widths, b.a.Width-e, b.strip),
			func(y, z int64) int64 { return b.u(b.s.From, b.s.To, y, z) }))
	}
	some := v >= 0
	if !some {
		v = b.u(b.s.From, b.s.To, 0, b.a.Width)
	}
	return (v + 1024*b.grid - 1) / (1024 * b.grid), some
}

// has says whether a piece of an item has a place at all.
func (b *bruteForce) has(i int, only kind) bool {
	it, e := b.p.Items[i], b.a.Inset
	for x := b.s.From; x+it.Size <= b.s.To; x++ {
		if only != onlyRip && b.clear(i, x, 0, b.a.Width) {
			return true
		}
		for y := e; b.sawn(i) && y+it.Width <= b.a.Width-e; y++ {
			if b.clear(i, x, y, y+it.Width) &&
				(only != onlyRip && it.Size >= b.a.ShortestRip || only != onlyCrosscut &&
					b.s.To-b.s.From >= b.a.ShortestRip) {
				return true
			}
		}
	}
	return false
}

// value checks a pattern, and gives what it is worth.
func (b *bruteForce) value(t *cutting.Pattern) (int64, error) {
	if len(t.Places) == 0 {
		return 0, fmt.Errorf("empty pattern")
	}
	along := func(pl cutting.Place) (int64, int64) { return pl.At, pl.At + b.p.Items[pl.Item].Size }
	across := func(pl cutting.Place) (int64, int64) { return pl.Left, pl.Right }
	from, to, e := b.s.From, b.s.To, b.a.Inset
	if t.First == cutting.CrosscutFirst {
		return b.broken(t, along, across, from, to, from, to, b.p.Kerf, b.p.Rip,
			func(x, z, y, w int64) int64 { return b.u(x, z, y, w) })
	}
	if to-from < b.a.ShortestRip {
		return 0, fmt.Errorf("too short to rip")
	}
	return b.broken(t, across, along, 0, b.a.Width, e, b.a.Width-e, b.p.Rip, b.p.Kerf,
		func(y, w, x, z int64) int64 { return b.u(x, z, y, w) })
}

// broken values a pattern whose first cuts part the axis a, the second cuts the axis c. lo and hi
// are where pieces may lie along a.
func (b *bruteForce) broken(t *cutting.Pattern, a, c func(cutting.Place) (int64, int64), start, end,
	lo, hi, ka,
	kc int64, u func(a1, a2, c1, c2 int64) int64) (sum int64, err error) {
	cstart, cend, clo, chi := int64(0), b.a.Width, b.a.Inset, b.a.Width-b.a.Inset
	if t.First == cutting.RipFirst {
		cstart, cend, clo, chi = b.s.From, b.s.To, b.s.From, b.s.To
	}
	prev := start
	for n := 0; n < len(t.Places); {
		from, to := a(t.Places[n])
		m := n
		for again := true; again; { // all that overlaps
			again = false
			for k := m; k < len(t.Places); k++ {
				if f, e := a(t.Places[k]); f < to && e > from {
					from, to, m, again = min(from, f), max(to, e), k+1, true
				}
			}
		}
		group := t.Places[n:m]
		n = m
		if from < lo && t.First == cutting.CrosscutFirst || to > hi &&
			t.First == cutting.CrosscutFirst ||
			from < prev {
			return 0, fmt.Errorf("at %d to %d, after %d", from, to, prev)
		}
		sum += u(prev, from-ka, cstart, cend)
		prev = to + ka
		full := false
		before := cstart
		for _, pl := range group {
			f, e := a(pl)
			g, h := c(pl)
			it := b.p.Items[pl.Item]
			whole := pl.Left == 0 && pl.Right == b.a.Width && len(group) == 1 &&
				t.First == cutting.CrosscutFirst
			switch {
			case !slices.Contains(b.s.Holds, pl.Item) ||
				!b.clear(pl.Item, pl.At, pl.Left, pl.Right):
				return 0, fmt.Errorf("%v may not lie there", pl)
			case whole:
				sum += 1024 * b.duals[pl.Item] * b.grid
				full, before = true, cend
				continue
			case !b.sawn(pl.Item) || pl.Right-pl.Left != it.Width:
				return 0, fmt.Errorf("%v may not be sawn", pl)
			case g < before || g < clo || h > chi || f != from && e != to:
				return 0, fmt.Errorf("%v lies wrong after %d", pl, before)
			case (e-f < to-from) &&
				(!b.a.Trim || t.First == cutting.RipFirst && it.Size < b.a.ShortestRip):
				return 0, fmt.Errorf("%v may not be trimmed", pl)
			case t.First == cutting.CrosscutFirst && to-from < b.a.ShortestRip:
				return 0, fmt.Errorf("%v may not be ripped", pl)
			case t.First == cutting.RipFirst && (from < lo || to > hi):
				return 0, fmt.Errorf("%v is in the inset", pl)
			}
			full = full || f == from && e == to
			sum += 1024*b.duals[pl.Item]*b.grid + u(from, to, before, g-kc)
			if f == from {
				sum += u(e+ka, to, g, h)
			} else {
				sum += u(from, f-ka, g, h)
			}
			before = h + kc
		}
		sum += u(from, to, before, cend)
		if !full {
			return 0, fmt.Errorf("nothing takes all of %d to %d", from, to)
		}
	}
	return sum + u(prev, end, cstart, cend), nil
}

// tinySheet is a random stock with Across, and duals (money x 8).
func tinyStock(r *rand.Rand, wide, long int64) (*cutting.Problem, []int64) {
	n := func(lo, hi int64) int64 { return lo + r.Int64N(hi-lo+1) }
	f, g := int64(1), int64(1)
	if r.IntN(4) == 0 {
		f, g = n(1, 2), n(1, 2)
	}
	width, length := n(3, wide), n(4, long)
	from := n(0, 2) * f
	p := &cutting.Problem{Kerf: n(0, 2) * f, Rip: n(0, 2) * g}
	a := &cutting.Across{Width: width * g, Inset: n(0, 1) * n(0, 1) * g, Keep: n(0, 4) * g,
		Trim: r.IntN(4) > 0, ShortestRip: n(0, 1) * n(0, 6) * f, Narrowest: n(0, 2) * g}
	s := cutting.Stock{From: from, To: from + length*f, Keep: n(0, 4) * f,
		Rate: cutting.Rate{Num: n(0, 3) * n(0, 5), Den: n(1, 4)}, Across: a, Supply: 1}
	for i := range int(n(1, 5)) {
		w := n(1, width)
		p.Items = append(p.Items,
			cutting.Item{Size: n(1, length+1) * f, Width: w * g, Class: int(n(0, 2)),
				Demand: n(1, 4)})
		s.Holds = append(s.Holds, i)
		if w == width && r.IntN(2) == 0 || r.IntN(6) == 0 {
			a.Whole = append(a.Whole, i)
		}
	}
	for range n(0, 3) {
		x, y := n(0, length-1), n(0, width-1)
		o := cutting.Spot{Left: y * g, Right: n(y+1, min(width, y+3)) * g}
		o.From, o.To = from+x*f, from+n(x+1, min(length, x+4))*f
		for q := range o.Tolerated {
			o.Tolerated[q] = r.IntN(3) == 0
		}
		s.Spots = append(s.Spots, o)
	}
	slices.SortStableFunc(s.Spots, func(x, y cutting.Spot) int {
		return cmp.Compare(x.From, y.From)
	})
	p.Stocks = []cutting.Stock{s}
	var duals []int64
	for _, it := range p.Items {
		duals = append(duals, n(0, 1)*n(0, 40)+n(0, it.Size*it.Width/(f*g))*n(0, 8))
	}
	return p, duals
}

// sparseSheet is one with few and large pieces, so that few starts are sums of sizes alone, and
// offcuts are worth much.
func sparseStock(r *rand.Rand) (*cutting.Problem, []int64) {
	n := func(lo, hi int64) int64 { return lo + r.Int64N(hi-lo+1) }
	width, length := n(9, 17), n(12, 28)
	p := &cutting.Problem{Kerf: n(0, 3), Rip: n(0, 3)}
	a := &cutting.Across{Width: width, Inset: n(0, 1) * n(0, 2), Keep: n(0, 1) * n(0, 6),
		Trim: r.IntN(5) > 0, ShortestRip: n(0, 1) * n(0, 9)}
	s := cutting.Stock{To: length, Keep: n(0, 1) * n(0, 9),
		Rate: cutting.Rate{Num: width * n(1, 12), Den: 2}, Across: a,
		Supply: 1}
	var duals []int64
	for i := range int(n(1, 3)) {
		it := cutting.Item{Size: n(length/4, length*3/4), Width: n(width/4, width*3/4),
			Class:  int(n(0, 1)),
			Demand: 1}
		p.Items, s.Holds = append(p.Items, it), append(s.Holds, i)
		duals = append(duals, it.Size*it.Width*n(2, 7)*8)
	}
	for range n(1, 3) {
		x, y := n(0, length-1), n(0, width-1)
		o := cutting.Spot{Left: y, Right: n(y+1, min(width, y+4))}
		o.From, o.To = x, n(x+1, min(length, x+5))
		o.Tolerated[1] = r.IntN(3) == 0
		s.Spots = append(s.Spots, o)
	}
	slices.SortStableFunc(s.Spots, func(x, y cutting.Spot) int {
		return cmp.Compare(x.From, y.From)
	})
	p.Stocks = []cutting.Stock{s}
	return p, duals
}

// kind limits a pricing to one of the two kinds of pattern.
type kind int

const (
	bothKinds kind = iota
	onlyCrosscut
	onlyRip
)

// price gives the best of the kinds in so many rounds; 0: exactly.
func (only kind) price(r *pricer, a *price.Ask, rounds int) int64 {
	switch {
	case only == bothKinds && rounds > 0:
		return r.Price(a)
	case only == bothKinds:
		return r.Vouch(a)
	}
	r.reset(a)
	best := int64(price.Never)
	if only == onlyCrosscut {
		r.searchLengths(rounds)
		best = r.lengths.best
	} else if r.mayRipFirst() {
		r.searchStrips(rounds, price.Never)
		best, r.kind = r.strips.best, cutting.RipFirst
	}
	switch {
	case best >= 0:
		return roundUp(best)
	case rounds > 0:
		return only.price(r, a, 0)
	}
	return roundUp(r.worthOfBands(r.stockBands, r.allAlong(), r.clear.s0))
}

func TestPricingIsExhaustiveSearch(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	total := 6000
	if testing.Short() {
		total = 1500
	}
	quick := 0
	for n := range total {
		p, duals := tinyStock(r, 8, 14)
		switch {
		case n%20 == 0:
			p, duals = tinyStock(r, 13, 30)
		case n%2 == 0:
			p, duals = sparseStock(r)
		}
		fail := func(format string, args ...any) {
			t.Fatalf("case %d: %s\n%+v\n%+v\nduals %v", n, fmt.Sprintf(format, args...), p,
				*p.Stocks[0].Across, duals)
		}
		b := newBruteForce(p, duals, 8)
		pr := newPricer(p, 0, &clearTables{}, &price.Meter{})
		only := max(bothKinds, kind(r.IntN(6)-3))
		want, some := b.best(only)
		a := &price.Ask{Duals: duals, Scale: 8, Round: 1, Demand: make([]int64, len(duals))}
		if got := only.price(pr, a, quickRounds); got > want {
			fail("priced at %d, exhaustive search %d", got, want)
		} else if got == want {
			quick++
		}
		if got := only.price(pr, a, 0); got != want {
			fail("vouched for %d, exhaustive search %d (kinds %d)", got, want, only)
		}
		check := func(room []int64, first int) int64 {
			pat := pr.Walk(room, first)
			if pat == nil {
				if some && room == nil {
					fail("first %d: no pattern", first)
				}
				return want
			}
			v, err := b.value(pat)
			if err != nil {
				fail("room %v, first %d: %v in %+v", room, first, err, *pat)
			}
			if v = (v + 1024*b.grid - 1) / (1024 * b.grid); v > want {
				fail("room %v, first %d: worth %d, best %d, %+v", room, first, v, want, *pat)
			}
			left := slices.Clone(room)
			for _, pl := range pat.Places {
				if room != nil {
					if left[pl.Item]--; left[pl.Item] < 0 {
						fail("room %v passed: %+v", room, *pat)
					}
				}
			}
			return v
		}
		if v := check(nil, -1); v != want {
			fail("the pattern is worth %d, not %d", v, want)
		}
		room := make([]int64, len(duals))
		for i := range room {
			room[i] = r.Int64N(3)
		}
		if only != bothKinds { // the walks choose between the kinds
			continue
		}
		check(room, -1)
		for i := range p.Items {
			check(nil, i)
			check(room, i)
			if pat := pr.Walk(nil, i); b.has(i, only) &&
				!slices.ContainsFunc(pat.Places, func(pl cutting.Place) bool {
					return pl.Item == i
				}) {
				fail("item %d does not go first: %+v", i, *pat)
			}
		}
	}
	t.Logf("%d stocks, on %d of them the quick way is exact", total, quick)
}

// TestStocksShareTables prices several stocks of one program, again and again with other duals, and
// compares each with plain search.
func TestStocksShareTables(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	total := 400
	if testing.Short() {
		total = 100
	}
	for n := range total {
		p, duals := tinyStock(r, 8, 14)
		for range 3 {
			s, a := p.Stocks[0], *p.Stocks[0].Across
			s.To = max(s.From+1, s.To-r.Int64N(5))
			s.Across = &a
			s.Spots = nil
			for _, o := range p.Stocks[0].Spots {
				if o.To = min(o.To, s.To); o.From < o.To && r.IntN(2) == 0 {
					s.Spots = append(s.Spots, o)
				}
			}
			p.Stocks = append(p.Stocks, s)
		}
		pricers := allPricers(p, &price.Meter{})
		for round := range 3 {
			for i := range duals {
				duals[i] = max(0, duals[i]+r.Int64N(41)-20)
			}
			a := &price.Ask{Duals: slices.Clone(duals), Scale: 8, Round: round + 1,
				Demand: make([]int64, len(duals))}
			for s, pr := range pricers {
				one := &cutting.Problem{Items: p.Items, Stocks: p.Stocks[s : s+1], Kerf: p.Kerf,
					Rip: p.Rip}
				b := newBruteForce(one, duals, 8)
				want, _ := b.best(bothKinds)
				quick, got := pr.Price(a), pr.Vouch(a)
				if got != want || quick > want {
					t.Fatalf("case %d, round %d, stock %d: vouched for %d, quick %d, plain search %d\n%+v\n%+v\nduals %v", n, round, s, got, quick, want, one, *one.Stocks[0].Across, duals)
				}
			}
		}
	}
}

// TestWalksDiffer asks of larger stocks that the patterns that begin with each item are
// different ones, and that those that keep to the demand are not much worse than the best without
// it.
func TestWalksDiffer(t *testing.T) {
	for _, spots := range []int{0, 1, 3} {
		r := rand.New(rand.NewPCG(3, 5))
		p, duals := shopStocks(r, 8, 5, spots)
		room := make([]int64, len(p.Items))
		for i := range p.Items {
			room[i] = p.Items[i].Demand
		}
		q := &price.Ask{Scale: 1, Duals: duals, Demand: room, Round: 1}
		pricers := allPricers(p, &price.Meter{})
		ratio := 0.0
		for s, pr := range pricers {
			pr.Price(q)
			one := &cutting.Problem{Items: p.Items, Stocks: p.Stocks[s : s+1], Kerf: p.Kerf,
				Rip: p.Rip}
			b := newBruteForce(one, duals, 1)
			worth := func(pat *cutting.Pattern) (sum int64) {
				if _, err := b.value(pat); err != nil {
					t.Fatalf("stock %d: %v in %+v", s, err, *pat)
				}
				for _, pl := range pat.Places {
					sum += duals[pl.Item]
				}
				return sum
			}
			best, all := worth(pr.Walk(room, -1)), map[string]bool{}
			for i := range p.Items {
				best = max(best, worth(pr.Walk(room, i)))
				items, counts := cutting.Tally(pr.Walk(nil, i).Places)
				all[fmt.Sprint(items, counts)] = true
			}
			if len(all) < len(p.Items)*2/3 {
				t.Errorf("%d spots, stock %d: only %d patterns that begin with %d items", spots, s,
					len(all), len(p.Items))
			}
			ratio += float64(best) / float64(worth(pr.Walk(nil, -1))) / float64(len(pricers))
		}
		if ratio < 0.92 {
			t.Errorf("%d spots: patterns within the demand are worth only %.3f of the best", spots,
				ratio)
		}
		t.Logf("%d spots: patterns within the demand are worth %.3f of the best", spots, ratio)
	}
}

// allSheets are the pricers of a problem's stocks, which share tables where they can.
func allPricers(p *cutting.Problem, m *price.Meter) (out []*pricer) {
	var tables clearTables
	for s := range p.Stocks {
		out = append(out, newPricer(p, s, &tables, m))
	}
	return out
}

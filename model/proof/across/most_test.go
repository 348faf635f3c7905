package across

import (
	"math/big"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"rackwright/model"
	"rackwright/model/internal/handmade"
)

// everyLayout tries all layouts of a rippable board of both kinds, at every unit of length and
// width, and adds up the worth of what is left line by line and unit by unit. Values are in 1/10000
// x 1/scale x 1/1024 x 1/gy.
type everyLayout struct {
	b       *Board
	items   []Item
	kc, kr  model.Length
	slope   int64 // of one unit of length beyond keep in one line
	blank   int64 // what 1 of a dual is
	most    int64
	covered map[[4]model.Length]int64
	sample  *rand.Rand // some layouts only, at random; nil: all
}

// skip leaves most of so many ways to go on out where only a sample is tried.
func (e *everyLayout) skip(ways model.Length) bool {
	return e.sample != nil && e.sample.Int64N(int64(ways)*int64(len(e.items))) > 0
}

// measureOf gives gy and s0 by their definition.
func measureOf(b *Board, items []Item, kr model.Length, scale int64) (gy, s0 int64) {
	a := b
	all := []model.Length{a.width, a.inset, kr, a.keepWidth}
	for _, i := range items {
		if !i.whole {
			all = append(all, i.width)
		}
	}
	for _, p := range a.patches {
		all = append(all, p.Left, p.Right)
	}
	for gy = int64(a.width); ; gy-- { // the greatest that divides all
		divides := true
		for _, l := range all {
			divides = divides && int64(l)%gy == 0
		}
		if divides {
			break
		}
	}
	num := new(big.Int).Mul(big.NewInt(scale*1024),
		new(big.Int).Mul(big.NewInt(b.rate.Num), big.NewInt(gy)))
	den := new(big.Int).Mul(big.NewInt(b.rate.Den), big.NewInt(int64(a.width)))
	q, rest := new(big.Int).QuoRem(num, den, new(big.Int))
	if rest.Sign() > 0 {
		q.Add(q, big.NewInt(1))
	}
	return gy, q.Int64()
}

func newEveryLayout(b *Board, items []Item, kc, kr model.Length, scale int64) (*everyLayout,
	int64) {
	gy, s0 := measureOf(b, items, kr, scale)
	return &everyLayout{b: b, items: items, kc: kc, kr: kr, slope: s0, blank: 1024 * gy, most: -1,
		covered: map[[4]model.Length]int64{}}, gy
}

// left is what a rectangle that is left is worth.
func (e *everyLayout) left(from, to, left, right model.Length) int64 {
	a := e.b
	if from >= to || left >= right || right-left < a.keepWidth && right-left < a.width {
		return 0
	}
	key := [4]model.Length{from, to, left, right}
	if v, known := e.covered[key]; known {
		return v
	}
	var sum int64
	for y := left; y < right; y++ {
		run := model.Length(0)
		for x := from; x <= to; x++ {
			blocked := x == to
			for _, p := range a.patches {
				blocked = blocked || p.From <= x && x < p.To && p.Left <= y && y < p.Right
			}
			if !blocked {
				run++
				continue
			}
			if run > e.b.keep {
				sum += int64(run-e.b.keep) * e.slope
			}
			run = 0
		}
	}
	e.covered[key] = sum
	return sum
}

func (e *everyLayout) legal(i *Item, x, y, w model.Length) bool {
	for _, p := range e.b.patches {
		if !p.tolerated[i.face] && p.From < x+i.length && x < p.To && p.Left < y+w && y < p.Right {
			return false
		}
	}
	return true
}

// inLength tries all contents of the length [x, x+l).
func (e *everyLayout) inLength(x, l model.Length) int64 {
	a, best := e.b, int64(-1)
	for k := range e.items {
		if i := &e.items[k]; i.length == l && e.legal(i, x, 0, a.width) {
			best = max(best, i.dual*e.blank)
		}
	}
	if l < a.shortest {
		return best
	}
	var place func(free model.Length, first, full bool, sum int64)
	// free: where the last blank ends, or the edge
	place = func(free model.Length, first, full bool, sum int64) {
		gap := func(to model.Length, last bool) int64 {
			from := free
			if !first {
				from += e.kr
			}
			if !last {
				to -= e.kr
			}
			return e.left(x, x+l, from, to)
		}
		if full && !first {
			best = max(best, sum+gap(a.width, true))
		}
		start := max(a.inset, free+e.kr)
		if first {
			start = a.inset
		}
		for y := start; y < a.width; y++ {
			for k := range e.items {
				i := &e.items[k]
				if i.whole || i.width < a.narrowest || y+i.width > a.width-a.inset ||
					i.length > l || i.length < l && !a.trimming {
					continue
				}
				if e.skip(a.width - start) {
					continue
				}
				then := func(worth int64) {
					place(y+i.width, false, full ||
						i.length == l, sum+gap(y, false)+i.dual*e.blank+worth)
				}
				if e.legal(i, x, y, i.width) {
					then(e.left(x+i.length+e.kc, x+l, y, y+i.width))
				}
				if at := x + l - i.length; i.length < l && e.legal(i, at, y, i.width) {
					then(e.left(x, at-e.kc, y, y+i.width))
				}
			}
		}
	}
	place(0, true, false, 0)
	return best
}

// inStrip tries all contents of the strip [y, y+w).
func (e *everyLayout) inStrip(y, w model.Length) int64 {
	a, best := e.b, int64(-1)
	var place func(free model.Length, first, full bool, sum int64)
	place = func(free model.Length, first, full bool, sum int64) {
		gap := func(to model.Length, last bool) int64 {
			from := free
			if !first {
				from += e.kc
			}
			if !last {
				to -= e.kc
			}
			return e.left(from, to, y, y+w)
		}
		if full {
			best = max(best, sum+gap(e.b.to, true))
		}
		start := free + e.kc
		if first {
			start = free
		}
		for x := start; x < e.b.to; x++ {
			for k := range e.items {
				i := &e.items[k]
				if i.whole || i.width < a.narrowest || x+i.length > e.b.to || i.width > w ||
					i.width < w && (!a.trimming || i.length < a.shortest) {
					continue
				}
				if e.skip(e.b.to - start) {
					continue
				}
				then := func(worth int64) {
					place(x+i.length, false, full ||
						i.width == w, sum+gap(x, false)+i.dual*e.blank+worth)
				}
				if e.legal(i, x, y, i.width) {
					then(e.left(x, x+i.length, y+i.width+e.kr, y+w))
				}
				if at := y + w - i.width; i.width < w && e.legal(i, x, at, i.width) {
					then(e.left(x, x+i.length, y, at-e.kr))
				}
			}
		}
	}
	place(e.b.from, true, false, 0)
	return best
}

// crosscut tries all rows of lengths.
func (e *everyLayout) crosscut() {
	a, known := e.b, map[[2]model.Length]int64{}
	var place func(free model.Length, first bool, sum int64)
	place = func(free model.Length, first bool, sum int64) {
		from := free + e.kc
		if first {
			from = free
		} else {
			e.most = max(e.most, sum+e.left(from, e.b.to, 0, a.width))
		}
		for x := from; x < e.b.to; x++ {
			done := map[model.Length]bool{}
			for _, i := range e.items {
				if x+i.length > e.b.to || done[i.length] || e.skip(e.b.to-from) {
					continue
				}
				done[i.length] = true
				v, worked := known[[2]model.Length{x, i.length}]
				if !worked {
					v = e.inLength(x, i.length)
					known[[2]model.Length{x, i.length}] = v
				}
				if v >= 0 {
					place(x+i.length, false, sum+v+e.left(from, x-e.kc, 0, a.width))
				}
			}
		}
	}
	place(e.b.from, true, 0)
}

// rip tries all rows of strips.
func (e *everyLayout) rip() {
	a, known := e.b, map[[2]model.Length]int64{}
	if e.b.to-e.b.from < a.shortest {
		return
	}
	var place func(free model.Length, first bool, sum int64)
	place = func(free model.Length, first bool, sum int64) {
		from := free + e.kr
		if first {
			from = free
		} else {
			e.most = max(e.most, sum+e.left(e.b.from, e.b.to, from, a.width))
		}
		for y := max(from, a.inset); y < a.width; y++ {
			done := map[model.Length]bool{}
			for _, i := range e.items {
				if i.whole || i.width < a.narrowest || y+i.width > a.width-a.inset ||
					done[i.width] || e.skip(a.width-from) {
					continue
				}
				done[i.width] = true
				v, worked := known[[2]model.Length{y, i.width}]
				if !worked {
					v = e.inStrip(y, i.width)
					known[[2]model.Length{y, i.width}] = v
				}
				if v >= 0 {
					place(y+i.width, false, sum+v+e.left(e.b.from, e.b.to, from, y-e.kr))
				}
			}
		}
	}
	place(0, true, 0)
}

// best is the most of all layouts, in 1/10000 x 1/scale, rounded up.
func (e *everyLayout) best() int64 {
	e.crosscut()
	e.rip()
	if e.most < 0 {
		e.most = e.left(e.b.from, e.b.to, 0, e.b.width)
	}
	return (e.most + e.blank - 1) / e.blank
}

// randomRipped is a small board that can be ripped, in units of which all sizes are a multiple.
func randomRipped(r *rand.Rand, longest, widest int, unit model.Length) (*Board, []Item,
	model.Length,
	model.Length,
	int64) {
	in := func(lo, hi int) model.Length { return model.Length(lo+r.IntN(hi-lo+1)) * unit }
	n, w := in(4, longest), in(3, widest)
	trim := in(0, 1)
	b := &Board{from: trim, to: trim + n, keep: in(0, 5),
		rate: model.NewRate(r.Int64N(40), 1+r.Int64N(12))}
	b.keep += model.Length(r.IntN(int(unit))) // it need not be on the grid
	b.width, b.keepWidth, b.shortest, b.narrowest = w, in(0, handmade.Pick(r, 4, 9)), in(0, 6),
		in(0, 3)
	b.trimming = r.IntN(3) > 0
	if r.IntN(3) == 0 && w > 2*unit {
		b.inset = unit
	}
	for range r.IntN(4) {
		p := patch{Rect: model.Rect{From: b.from + in(0, int(n/unit)-1),
			Left: in(0, int(w/unit)-1)}}
		p.To, p.Right = min(b.to, p.From+in(1, 4)), min(w, p.Left+in(1, 4))
		if r.IntN(4) == 0 {
			p.Left, p.Right = 0, w
		}
		for f := range p.tolerated {
			p.tolerated[f] = f > 0 && r.IntN(2) == 0
		}
		b.patches = append(b.patches, p)
	}
	var items []Item
	for range 1 + r.IntN(5) {
		i := Item{length: in(min(2, int(n/unit)), min(7, int(n/unit))),
			width: in(1, int((w-2*b.inset)/unit)), face: model.Face(r.IntN(model.Faces)),
			dual: r.Int64N(300)}
		switch r.IntN(9) {
		case 0, 1:
			i.width, i.whole = w, true
		case 2:
			i.width = w - 2*b.inset
		}
		items = append(items, i)
	}
	return sortPatches(b), items, in(0, 2), in(0, 2), 1 + r.Int64N(5)
}

// sortPatches puts the patches of a board as NewBoard does.
func sortPatches(b *Board) *Board {
	sorted := *b
	sorted.patches = append([]patch(nil), sorted.patches...)
	for i := range sorted.patches {
		for j := i; j > 0 && comparePatches(sorted.patches[j], sorted.patches[j-1]) < 0; j-- {
			sorted.patches[j], sorted.patches[j-1] = sorted.patches[j-1], sorted.patches[j]
		}
	}
	return &sorted
}

// kinds works out the most of each kind of layout by itself, below 0 where there is none.
func kinds(one *boardSearch, b *Board, items []Item, kc, kr model.Length, scale int64) (crosscut,
	rip int64) {
	one.Board, one.items = b, items
	if why := one.measure(kc, kr, scale); why != "" {
		panic(why)
	}
	one.toGrid()
	none := kindSearch{find: func() int64 { return impossible }}
	return bestOfBoth(one.crosscutFirst(), none), bestOfBoth(none, one.ripFirst())
}

// What a board gives is what its best layout gives, of all there are, and so for each kind by
// itself.
func TestRippedBoardGivesItsBestLayout(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 32))
	var one boardSearch
	rounds, nothing, ripping := 30_000, 0, 0
	if testing.Short() {
		rounds = 2000
	}
	for n := range rounds {
		b, items, kc, kr, scale := randomRipped(r, handmade.Pick(r, 8, 11, 14),
			handmade.Pick(r, 4, 6, 8), 1)
		e, gy := newEveryLayout(b, items, kc, kr, scale)
		var most [2]int64
		for k, try := range []func(){e.crosscut, e.rip} {
			e.most = -1
			try()
			most[k] = max(e.most, -1)
		}
		crosscut, rip := kinds(&one, b, items, kc, kr, scale)
		// Here lines are counted one by one, there gy at a time.
		if max(crosscut, -1) != ratioOf(most[0], gy) || max(rip, -1) != ratioOf(most[1], gy) {
			t.Fatalf("%d: %+v, items %+v, kerfs %d and %d, scale %d: %d and %d; the best layouts "+
				"%d and %d, over %d",
				n, *b, items, kc, kr, scale, crosscut, rip, most[0], most[1], gy)
		}
		got, why := one.one(b, items, kc, kr, scale)
		if want := e.best(); got != want || why != "" {
			t.Fatalf("%d: %+v, items %+v, kerfs %d and %d, scale %d: gives %d %s, the "+
				"best layout %d",
				n, *b, items, kc, kr, scale, got, why, want)
		}
		if got == 0 {
			nothing++
		}
		if rip > crosscut {
			ripping++
		}
	}
	if nothing > rounds/4 || ripping < rounds/20 {
		t.Errorf("of %d boards %d give nothing, %d are better ripped first", rounds, nothing,
			ripping)
	}
}

// ratioOf is v / gy, which leaves no rest; -1 stays.
func ratioOf(v, gy int64) int64 {
	if v < 0 {
		return -1
	}
	if v%gy != 0 {
		panic("lines are no multiple of gy")
	}
	return v / gy
}

// No layout off the grid is better: here its steps are two or three units, and layouts are tried at
// every unit.
func TestTheGridOfARippedBoardIsEnough(t *testing.T) {
	r := rand.New(rand.NewPCG(33, 34))
	var one boardSearch
	for n := range 1500 {
		unit := model.Length(2 + r.IntN(2))
		b, items, kc, kr, scale := randomRipped(r, 6, 4, unit)
		e, gy := newEveryLayout(b, items, kc, kr, scale)
		if gy%int64(unit) != 0 {
			t.Fatalf("gy %d, unit %d", gy, unit)
		}
		want := e.best()
		if got, why := one.one(b, items, kc, kr, scale); got != want || why != "" {
			t.Fatalf("%d: %+v, items %+v, kerfs %d and %d, scale %d: gives %d %s, the "+
				"best layout %d",
				n, *b, items, kc, kr, scale, got, why, want)
		}
	}
}

// largerBoard has some hundred positions along and some tens across, and up to six defects.
func largerBoard(r *rand.Rand) (*Board, []Item, model.Length, model.Length, int64) {
	n, w := model.Length(60+r.IntN(80)), model.Length(12+r.IntN(24))
	b := &Board{from: 2, to: 2 + n, keep: model.Length(r.IntN(20)),
		rate: model.NewRate(r.Int64N(60), 1+r.Int64N(12))}
	b.width, b.inset, b.keepWidth = w, model.Length(r.IntN(2)), model.Length(r.IntN(9))
	b.shortest, b.narrowest = model.Length(r.IntN(20)), model.Length(r.IntN(4))
	b.trimming = r.IntN(4) > 0
	for range r.IntN(7) {
		p := patch{Rect: model.Rect{From: b.from + model.Length(r.IntN(int(n))),
			Left: model.Length(r.IntN(int(w)))}}
		p.To, p.Right = min(b.to, p.From+1+model.Length(r.IntN(12))),
			min(w, p.Left+1+model.Length(r.IntN(int(w)/2)))
		p.tolerated[model.Hidden] = r.IntN(2) == 0
		b.patches = append(b.patches, p)
	}
	var items []Item
	for range 1 + r.IntN(8) {
		i := Item{length: model.Length(8 + r.IntN(40)), width: model.Length(3 + r.IntN(int(w)-5)),
			face: model.Face(r.IntN(model.Faces))}
		if r.IntN(5) == 0 {
			i.width, i.whole = w, true
		}
		i.dual = int64(i.length*i.width) * (90 + r.Int64N(20)) / 40
		items = append(items, i)
	}
	return sortPatches(b), items, model.Length(r.IntN(4)), model.Length(r.IntN(4)), 1 + r.Int64N(3)
}

// The guesses lead to what comes out where the value of every length and strip is worked out at
// every place, and none is below any value that it stands for.
func TestGuessesLeadToTheBestLayout(t *testing.T) {
	r := rand.New(rand.NewPCG(35, 36))
	var one, other boardSearch
	rip := 0
	for n := range 400 {
		b, items, kc, kr, scale := largerBoard(r)
		crosscut, ripping := kinds(&one, b, items, kc, kr, scale)
		kinds(&other, b, items, kc, kr, scale) // makes it ready
		g := &other.lengthGuesses
		g.bySize = g.bySize[:0]
		row := &other.row
		row.options = row.options[:0]
		for k, size := range other.lengths {
			for x := 0; x+size <= other.n; x++ {
				v := other.lengthMost(k, x, x)
				if v > impossible {
					row.options = append(row.options,
						option{length: size, a: x, b: x, exact: true, value: v, kind: k})
				}
				for c := range one.lengthGuesses.bySize[k] {
					if old := &one.lengthGuesses.bySize[k][c]; old.a <= x && x <= old.b &&
						old.value < v {
						t.Fatalf("%d: a length of %d at %d gives %d, guessed %d from %d to %d", n,
							size, x, v, old.value, old.a, old.b)
					}
				}
			}
		}
		row.fill(other.n)
		if got := row.best(); got != crosscut {
			t.Fatalf("%d: crosscut first gives %d, with every length worked out %d", n, crosscut,
				got)
		}
		if ripping == impossible {
			continue
		}
		rip++
		c := &other.board
		for k, size := range other.widths {
			for y := other.edge; y+size <= other.m-other.edge; y++ {
				v := other.stripMost(k, y, y)
				if old := one.board.exact[k][y]; old < v {
					t.Fatalf("%d: a strip of %d at %d gives %d, guessed %d", n, size, y, v, old)
				}
				c.exact[k][y] = v
			}
		}
		if got := c.best(); got != ripping {
			t.Fatalf("%d: rip first gives %d, with every strip worked out %d", n, ripping, got)
		}
	}
	if rip < 100 {
		t.Errorf("only %d boards could be ripped first", rip)
	}
}

// No legal layout is worth more than a board is said to give.
func TestNoLayoutGivesMoreThanTheBound(t *testing.T) {
	r := rand.New(rand.NewPCG(37, 38))
	var one boardSearch
	layouts, near := 0, 0
	for n := range 1500 {
		b, items, kc, kr, scale := largerBoard(r)
		e, gy := newEveryLayout(b, items, kc, kr, scale)
		e.sample = r
		for range 20 {
			e.crosscut()
			e.rip()
		}
		got, why := one.one(b, items, kc, kr, scale)
		if why != "" || got*e.blank < e.most {
			t.Fatalf("%d: %+v, items %+v, kerfs %d and %d, scale %d: gives %d %s, a layout %d "+
				"over %d x 1024",
				n, *b, items, kc, kr, scale, got, why, e.most, gy)
		}
		if e.most >= 0 {
			layouts++
			if e.most*10 > got*e.blank*9 {
				near++
			}
		}
	}
	if layouts < 1000 || near < 100 {
		t.Errorf("layouts of %d boards, %d near the best: too few to trust", layouts, near)
	}
}

func TestRippedRefusesWhatItCannotReckonWith(t *testing.T) {
	var one boardSearch
	b, items, kc, kr, scale := largerBoard(rand.New(rand.NewPCG(1, 2)))
	items[0].dual = 1 << 60
	if _, why := one.one(b, items, kc, kr, scale); !strings.Contains(why, "too large") {
		t.Errorf("a dual of 2^60: %q", why)
	}
	items[0].dual = 1
	b.to = b.from + maxAlong + 1
	items[0].length, kc = 1, 1
	if _, why := one.one(b, items, kc, kr, scale); !strings.Contains(why,
		"share too small a measure") {
		t.Errorf("2^21 + 1 positions: %q", why)
	}
}

// shopBoard is a board 144 in x 5-1/2 in on a grid of 1/16 in, with defects, 25 items of 5 widths
// at duals as they stand at the end of a search, and kerfs of 1/8 in.
func shopBoard(r *rand.Rand, defects int, spread int64) (*Board, []Item) {
	const in, grid = model.UnitsPerInch, model.UnitsPerInch / 16
	b := &Board{to: 144 * in, keep: 12 * in, rate: model.NewRate(9, 160), width: 88 * grid,
		inset: grid, keepWidth: 3 * in / 2, shortest: 12 * in, narrowest: 3 * in / 4,
		trimming: true}
	for range defects {
		p := patch{Rect: model.Rect{From: model.Length(r.IntN(2200)) * grid,
			Left: model.Length(r.IntN(70)) * grid}}
		p.To, p.Right = min(b.to, p.From+model.Length(16+r.IntN(24))*grid),
			min(b.width, p.Left+model.Length(12+r.IntN(20))*grid)
		p.tolerated[model.Hidden] = r.IntN(2) == 0
		b.patches = append(b.patches, p)
	}
	widths := []model.Length{88, 56, 41, 29, 20}
	var items []Item
	for k := range 25 {
		i := Item{length: model.Length(200+r.IntN(700)) * grid, width: widths[k%5] * grid,
			whole: k%5 == 0, face: model.Face(r.IntN(model.Faces))}
		area := int64(i.length) * int64(i.width) / (int64(grid) * 88)
		// offcuts are worth half of it
		i.dual = area * (2 * 9 << 20 / 160) * (1000 - r.Int64N(spread)) / 1000
		items = append(items, i)
	}
	return sortPatches(b), items
}

func BenchmarkRipped(b *testing.B) {
	for _, c := range []struct {
		name    string
		defects int
		spread  int64
	}{{"clear", 0, 200}, {"three defects", 3, 200}, {"three defects, duals alike", 3, 20},
		{"six defects", 6, 200}, {"twenty defects", 20, 200}} {
		b.Run(c.name, func(b *testing.B) {
			r := rand.New(rand.NewPCG(41, 42))
			var one boardSearch
			worst := 0.0
			for range b.N {
				bar, items := shopBoard(r, c.defects, c.spread)
				start := time.Now()
				if _, why := one.one(bar, items, model.UnitsPerInch/8, model.UnitsPerInch/8,
					1<<20); why != "" {
					b.Fatal(why)
				}
				worst = max(worst, time.Since(start).Seconds())
			}
			b.ReportMetric(worst*1e3, "worst-ms")
		})
	}
}

package across

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"rackwright/model"
	"rackwright/model/internal/handmade"
)

// everyLayout tries all layouts of a rippable board of both kinds, at every unit of length and
// width, and over every span that may be ripped. It adds up the worth of what is left line by line
// and unit by unit, and what each rip costs. Values are in ticks; never is that of no layout.
type everyLayout struct {
	b       *Board
	items   []Item
	kc, kr  model.Length
	most    int64
	covered map[[4]model.Length]int64
	sample  *rand.Rand // some layouts only, at random; nil: all
	// what is left, where that is not worked out here
	worth func(from, to, left, right model.Length) int64
	short func(l model.Length) bool  // what is too short to be ripped, likewise
	rips  func(l model.Length) int64 // what a rip costs, likewise
	weak  []model.Rect               // what no rip runs through
}

const never = -1 << 60

// tooShort says whether a piece so long may not be ripped.
func (e *everyLayout) tooShort(l model.Length) bool {
	if e.short != nil {
		return e.short(l)
	}
	return l < e.b.shortest
}

// skip leaves most of so many ways to go on out where only a sample is tried.
func (e *everyLayout) skip(ways model.Length) bool {
	return e.sample != nil && e.sample.Int64N(int64(ways)*int64(len(e.items))) > 0
}

func newEveryLayout(b *Board, items []Item, kc, kr model.Length) *everyLayout {
	e := &everyLayout{b: b, items: items, kc: kc, kr: kr, most: never,
		covered: map[[4]model.Length]int64{}}
	for _, p := range b.patches {
		if p.weak {
			e.weak = append(e.weak, p.Rect)
		}
	}
	return e
}

// rip adds to a value what one rip costs, whose kerf is [from, to) x [left, right); never where it
// runs through a weak defect.
func (e *everyLayout) rip(value int64, from, to, left, right model.Length) int64 {
	for _, w := range e.weak {
		if w.From < to && w.To > from && w.Left < right && w.Right > left {
			return never
		}
	}
	if value <= never {
		return never
	}
	if e.rips != nil {
		return value - e.rips(to-from)
	}
	return value - int64(to-from)*e.b.ripping
}

// sides adds what the rips on both sides of [y, y+w) cost, over [from, to). The piece before ends
// at free, if it is not the first. The board's own edges are no rips, and a piece that ends a kerf
// before shares its rip.
func (e *everyLayout) sides(value int64, from, to, free, y, w model.Length, first bool) int64 {
	if y > 0 && (first || y > free+e.kr) {
		value = e.rip(value, from, to, y-e.kr, y)
	}
	if y+w < e.b.width {
		value = e.rip(value, from, to, y+w, y+w+e.kr)
	}
	return value
}

// left is what a rectangle that is left is worth: the whole slope where it has the board's width,
// that of a strip where it is narrower, and nothing where it is too narrow to keep.
func (e *everyLayout) left(from, to, left, right model.Length) int64 {
	a, slope := e.b, e.b.slope.Whole
	if from >= to || left >= right {
		return 0
	}
	if e.worth != nil {
		return e.worth(from, to, left, right)
	}
	if right-left < a.width {
		if slope = a.slope.Strip; right-left < a.keepWidth {
			return 0
		}
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
				sum += int64(run-e.b.keep) * slope
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
	a, best := e.b, int64(never)
	for k := range e.items {
		if i := &e.items[k]; i.length == l && e.legal(i, x, 0, a.width) {
			best = max(best, i.dual)
		}
	}
	if e.tooShort(l) {
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
					if v := e.sides(sum+gap(y, false)+i.dual+worth, x, x+l, free, y, i.width,
						first); v > never {
						place(y+i.width, false, full || i.length == l, v)
					}
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

// inStrip tries all contents of the strip [y, y+w) over a span.
func (e *everyLayout) inStrip(span model.Span, y, w model.Length) int64 {
	a, best := e.b, int64(never)
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
			best = max(best, sum+gap(span.To, true))
		}
		start := free + e.kc
		if first {
			start = free
		}
		for x := start; x < span.To; x++ {
			for k := range e.items {
				i := &e.items[k]
				if i.whole || i.width < a.narrowest || x+i.length > span.To || i.width > w ||
					i.width < w && (!a.trimming || e.tooShort(i.length)) {
					continue
				}
				if e.skip(span.To - start) {
					continue
				}
				then := func(rip model.Length, left int64) {
					v := sum + gap(x, false) + i.dual + left
					if i.width < w { // one rip trims it
						v = e.rip(v, x, x+i.length, rip, rip+e.kr)
					}
					if v > never {
						place(x+i.length, false, full || i.width == w, v)
					}
				}
				if e.legal(i, x, y, i.width) {
					then(y+i.width, e.left(x, x+i.length, y+i.width+e.kr, y+w))
				}
				if at := y + w - i.width; i.width < w && e.legal(i, x, at, i.width) {
					then(at-e.kr, e.left(x, x+i.length, y, at-e.kr))
				}
			}
		}
	}
	place(span.From, true, false, 0)
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
				if v > never {
					place(x+i.length, false, sum+v+e.left(from, x-e.kc, 0, a.width))
				}
			}
		}
	}
	place(e.b.from, true, 0)
}

// ripFirst tries all rows of strips, over every span: from where the board is trimmed, or a weak
// defect ends, to where it is trimmed, or a weak defect begins.
func (e *everyLayout) ripFirst() {
	e.ripOver(model.Span{From: e.b.from, To: e.b.to})
	e.ripOwnSpans()
}

// ripOwnSpans leaves out the whole of the board between its trims.
func (e *everyLayout) ripOwnSpans() {
	done := map[model.Span]bool{{From: e.b.from, To: e.b.to}: true}
	for from := e.b.from; from < e.b.to; from++ {
		for to := from + 1; to <= e.b.to; to++ {
			begins, ends := from == e.b.from, to == e.b.to
			for _, w := range e.weak {
				begins, ends = begins || w.To == from, ends || w.From == to
			}
			if s := (model.Span{From: from, To: to}); begins && ends && !done[s] {
				done[s] = true
				e.ripOver(s)
			}
		}
	}
}

// ripOver tries all rows of strips over one span. What lies outside it is left as wide as the
// board.
func (e *everyLayout) ripOver(span model.Span) {
	a, known := e.b, map[[2]model.Length]int64{}
	if e.tooShort(span.To - span.From) {
		return
	}
	ends := int64(0)
	if span.From > a.from {
		ends += e.left(a.from, span.From-e.kc, 0, a.width)
	}
	if span.To < a.to {
		ends += e.left(span.To+e.kc, a.to, 0, a.width)
	}
	var place func(free model.Length, first bool, sum int64)
	place = func(free model.Length, first bool, sum int64) {
		from := free + e.kr
		if first {
			from = free
		} else {
			e.most = max(e.most, sum+e.left(span.From, span.To, from, a.width))
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
					v = e.inStrip(span, y, i.width)
					known[[2]model.Length{y, i.width}] = v
				}
				if v <= never {
					continue
				}
				if v = e.sides(sum+v+e.left(span.From, span.To, from, y-e.kr), span.From, span.To,
					free, y, i.width, first); v > never {
					place(y+i.width, false, v)
				}
			}
		}
	}
	place(0, true, ends)
}

// best is the most of all layouts.
func (e *everyLayout) best() int64 {
	e.crosscut()
	e.ripFirst()
	if e.most == never {
		e.most = e.left(e.b.from, e.b.to, 0, e.b.width)
	}
	return e.most
}

// randomSlope is a slope below a limit: strips keep all of it, nothing, or some.
func randomSlope(r *rand.Rand, limit int64) model.Slope {
	whole := r.Int64N(limit)
	return model.Slope{Whole: whole, Strip: handmade.Pick(r, 0, whole, r.Int64N(whole+1))}
}

// randomRipped is a small board that can be ripped, in units of which all sizes are a multiple.
func randomRipped(r *rand.Rand, longest, widest int, unit model.Length) (b *Board, items []Item,
	kerf, rip model.Length) {
	in := func(lo, hi int) model.Length { return model.Length(lo+r.IntN(hi-lo+1)) * unit }
	n, w := in(4, longest), in(3, widest)
	trim := in(0, 1)
	b = &Board{unit: 1, from: trim, to: trim + n, keep: in(0, handmade.Pick(r, 0, 5, 5)),
		slope: randomSlope(r, handmade.Pick[int64](r, 2, 5, 15))}
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
	return sortPatches(b), items, in(0, 3), in(0, 3)
}

// setRips gives rips a price, none, small or dear, and makes some of the defects weak.
func setRips(r *rand.Rand, b *Board) {
	b.ripping = handmade.Pick[int64](r, 0, 0, 1, 2, 5, 20)
	for k := range b.patches {
		b.patches[k].weak = r.IntN(2) == 0
	}
	*b = *sortPatches(b)
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

// kinds works out the most of each kind of layout by itself, without spans of their own; impossible
// where there is none.
func kinds(one *boardSearch, b *Board, items []Item, kc, kr model.Length) (crosscut, rip int64) {
	one.Board, one.items = b, items
	if why := one.measure(kc, kr); why != "" {
		panic(why)
	}
	one.toGrid()
	if why := one.findPlaces(); why != "" {
		panic(why)
	}
	none := kindSearch{find: func() int64 { return impossible }}
	return bestOfBoth(one.crosscutFirst(), none), bestOfBoth(none, one.ripFirst())
}

// judged is what each kind of layout gives, and the board; impossible where there is none.
type judged struct{ crosscut, rip, spans, board int64 }

// judge works out what a board gives, and fails where its best layout of any kind gives anything
// else.
func (one *boardSearch) judge(t *testing.T, n int, b *Board, items []Item, kc,
	kr model.Length) judged {
	t.Helper()
	e := newEveryLayout(b, items, kc, kr)
	var most [3]int64
	for k, try := range []func(){e.crosscut,
		func() { e.ripOver(model.Span{From: b.from, To: b.to}) }, e.ripOwnSpans} {
		e.most = never
		try()
		most[k] = e.most
	}
	var out judged
	out.crosscut, out.rip = kinds(one, b, items, kc, kr)
	out.spans = one.ripSpans(impossible)
	if got := [3]int64{max(out.crosscut, never), max(out.rip, never),
		max(out.spans, never)}; got != most {
		t.Fatalf("%d: %+v, items %+v, kerfs %d and %d: %d; the best layouts %d", n, *b, items, kc,
			kr, got, most)
	}
	got, why := one.one(b, items, kc, kr)
	if want := e.best(); got != want || why != "" {
		t.Fatalf("%d: %+v, items %+v, kerfs %d and %d: gives %d %s, the best layout %d", n, *b,
			items, kc, kr, got, why, want)
	}
	out.board = got
	return out
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
		b, items, kc, kr := randomRipped(r, handmade.Pick(r, 8, 11, 14),
			handmade.Pick(r, 4, 6, 8), 1)
		got := one.judge(t, n, b, items, kc, kr)
		if got.board == 0 {
			nothing++
		}
		if got.rip > got.crosscut {
			ripping++
		}
	}
	if nothing > rounds/4 || ripping < rounds/20 {
		t.Errorf("of %d boards %d give nothing, %d are better ripped first", rounds, nothing,
			ripping)
	}
}

// So where rips cost money and may not run through some of the defects.
func TestRipsAreCountedAndKeepOffWeakDefects(t *testing.T) {
	r := rand.New(rand.NewPCG(61, 62))
	var one boardSearch
	rounds, ripping, spanned, below, weak, dear := 40_000, 0, 0, 0, 0, 0
	if testing.Short() {
		rounds = 3000
	}
	for n := range rounds {
		b, items, kc, kr := randomRipped(r, handmade.Pick(r, 8, 11, 14),
			handmade.Pick(r, 4, 6, 8), 1)
		setRips(r, b)
		got := one.judge(t, n, b, items, kc, kr)
		if first := max(got.spans, got.rip); first > got.crosscut {
			if ripping++; got.spans > got.rip {
				spanned++
			}
		} else if first > impossible && first < 0 {
			below++
		}
		free := *b
		free.ripping = 0
		if v, _ := one.one(&free, items, kc, kr); v > got.board {
			dear++
		}
		free.patches = slices.Clone(b.patches)
		for k := range free.patches {
			free.patches[k].weak = false
		}
		free.ripping = b.ripping
		if v, _ := one.one(&free, items, kc, kr); v > got.board {
			weak++
		}
	}
	if ripping < rounds/40 || spanned < rounds/200 || below < rounds/50 || weak < rounds/20 ||
		dear < rounds/20 {
		t.Errorf("of %d boards %d are better ripped first, %d of them over a span of their own, "+
			"of %d the strips are worth less than their rips, %d give less for weak defects, %d "+
			"for what rips cost", rounds, ripping, spanned, below, weak, dear)
	}
}

// No layout off the grid is better: here its steps are two or three units, and layouts are tried at
// every unit.
func TestTheGridOfARippedBoardIsEnough(t *testing.T) {
	r := rand.New(rand.NewPCG(33, 34))
	var one boardSearch
	for n := range 4000 {
		unit := model.Length(2 + r.IntN(2))
		b, items, kc, kr := randomRipped(r, 6, 4, unit)
		if n%2 == 0 {
			setRips(r, b)
		}
		e := newEveryLayout(b, items, kc, kr)
		want := e.best()
		if got, why := one.one(b, items, kc, kr); got != want || why != "" {
			t.Fatalf("%d: %+v, items %+v, kerfs %d and %d: gives %d %s, the best layout %d", n,
				*b, items, kc, kr, got, why, want)
		}
		if one.gx%int64(unit) != 0 || one.gy%int64(unit) != 0 {
			t.Fatalf("%d: the steps are %d and %d, unit %d", n, one.gx, one.gy, unit)
		}
	}
}

// largerBoard has some hundred positions along and some tens across, and up to six defects.
func largerBoard(r *rand.Rand) (b *Board, items []Item, kerf, rip model.Length) {
	n, w := model.Length(60+r.IntN(80)), model.Length(12+r.IntN(24))
	b = &Board{unit: 1, from: 2, to: 2 + n, keep: model.Length(r.IntN(20)),
		slope: randomSlope(r, 250)}
	b.width, b.inset, b.keepWidth = w, model.Length(r.IntN(2)), model.Length(r.IntN(9))
	b.shortest, b.narrowest = model.Length(r.IntN(20)), model.Length(r.IntN(4))
	b.trimming = r.IntN(4) > 0
	for range r.IntN(7) {
		p := patch{Rect: model.Rect{From: b.from + model.Length(r.IntN(int(n))),
			Left: model.Length(r.IntN(int(w)))}}
		p.To, p.Right = min(b.to, p.From+1+model.Length(r.IntN(12))),
			min(w, p.Left+1+model.Length(r.IntN(int(w)/2)))
		p.tolerated[model.Hidden] = r.IntN(2) == 0
		p.weak = r.IntN(2) == 0
		b.patches = append(b.patches, p)
	}
	b.ripping = r.Int64N(handmade.Pick[int64](r, 1, 40, 400))
	for range 1 + r.IntN(8) {
		i := Item{length: model.Length(8 + r.IntN(40)), width: model.Length(3 + r.IntN(int(w)-5)),
			face: model.Face(r.IntN(model.Faces))}
		if r.IntN(5) == 0 {
			i.width, i.whole = w, true
		}
		i.dual = int64(i.length*i.width) * (90 + r.Int64N(20))
		items = append(items, i)
	}
	return sortPatches(b), items, model.Length(r.IntN(4)), model.Length(r.IntN(4))
}

// everywhere makes every point of a board a place, and makes it ready for a search.
func (r *boardSearch) everywhere() {
	for _, p := range []*places{&r.ofLengths, &r.ofBlanks, &r.ofClear} {
		allPlaces(p, r.n+r.kerf)
	}
	for _, p := range []*places{&r.ofColumn, &r.ofBoard} {
		allPlaces(p, r.m+r.rip)
	}
	r.crosscutFirst()
	r.ripFirst()
}

func allPlaces(p *places, last int) {
	var all []int
	for x := range last + 1 {
		all = append(all, x)
	}
	p.reach(last, nil, nil, all)
}

// The guesses lead to what comes out where the value of every length and strip is worked out, and
// pieces may start at every point of the grid. None is below any value that it stands for.
func TestGuessesLeadToTheBestLayout(t *testing.T) {
	r := rand.New(rand.NewPCG(35, 36))
	var one, other boardSearch
	rip := 0
	for n := range 400 {
		b, items, kc, kr := largerBoard(r)
		crosscut, ripping := kinds(&one, b, items, kc, kr)
		kinds(&other, b, items, kc, kr) // makes it ready
		other.everywhere()
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
					old := &one.lengthGuesses.bySize[k][c]
					_, is := one.ofLengths.is(x)
					if is && old.a <= x && x <= old.b && old.value < one.lengthMost(k, x, x) {
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
				v := other.stripMost(&other.ofBlanks, k, y, y)
				at, is := one.ofBoard.is(y)
				old := one.board.exact[k]
				if is && old[at] < one.stripMost(&one.ofBlanks, k, y, y) {
					t.Fatalf("%d: a strip of %d at %d gives %d, guessed %d", n, size, y, v, old[at])
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
		b, items, kc, kr := largerBoard(r)
		e := newEveryLayout(b, items, kc, kr)
		e.sample = r
		for range 20 {
			e.crosscut()
			e.ripFirst()
		}
		got, why := one.one(b, items, kc, kr)
		if why != "" || got < e.most {
			t.Fatalf("%d: %+v, items %+v, kerfs %d and %d: gives %d %s, a layout %d", n, *b, items,
				kc, kr, got, why, e.most)
		}
		if e.most > never {
			layouts++
			if e.most*10 > got*9 {
				near++
			}
		}
	}
	if layouts < 1000 || near < 100 {
		t.Errorf("layouts of %d boards, %d near the best: too few to trust", layouts, near)
	}
}

// The dearest boards that a job may have are reckoned with to the last tick: whole worth of 2^46,
// and blanks at 2^60 in all on one board.
func TestLargestAmountsAcross(t *testing.T) {
	var one boardSearch
	b := &Board{unit: 1, to: 1 << 14, width: 1 << 9, keepWidth: 1, trimming: true,
		slope: model.Slope{Whole: 1 << 23, Strip: 1<<23 - 1}}
	items := []Item{{length: 1 << 13, width: 1 << 8, dual: 1<<58 - 1}}
	got, why := one.one(b, items, 0, 0)
	if want := int64(4 * (1<<58 - 1)); got != want || why != "" {
		t.Errorf("four blanks at 2^58 - 1 come to %d %s, want %d", got, why, want)
	}
	items[0].dual++ // 2^60, and the whole board
	if got, why := one.one(b, items, 0, 0); got != 1<<60 || why != "" {
		t.Errorf("four blanks at 2^58 come to %d %s, want 2^60", got, why)
	}
	items[0].dual = 1 << 59
	if got, why := one.one(b, items, 0, 0); why != tooLarge {
		t.Errorf("four blanks at 2^59 come to %d %s, want words", got, why)
	}
	items[0].dual = 1 // any strip is better left: three quarters, at the slope of two strips
	b.slope.Strip = b.slope.Whole
	if got, why := one.one(b, items, 0, 0); got != 3<<44+1 || why != "" {
		t.Errorf("one blank at 1 and what is left come to %d %s, want %d", got, why, 3<<44+1)
	}
	b.slope.Strip = 0 // [2^13, 2^14) is left as wide as the board; beside the blank lies another
	if got, why := one.one(b, items, 0, 0); got != 1<<45+2 || why != "" {
		t.Errorf("two blanks at 1 and half the board come to %d %s, want %d", got, why, 1<<45+2)
	}
}

func TestRippedRefusesWhatItCannotReckonWith(t *testing.T) {
	var one boardSearch
	b, items, kc, kr := largerBoard(rand.New(rand.NewPCG(1, 2)))
	items[0].dual = 1 << 60
	if _, why := one.one(b, items, kc, kr); !strings.Contains(why, "too large") {
		t.Errorf("a dual of 2^60: %q", why)
	}
	items[0].dual, b.ripping = 1, 1<<55
	if _, why := one.one(b, items, kc, kr); why != tooLarge {
		t.Errorf("rips at 2^55 a unit: %q", why)
	}
	b.ripping = 0
	b.to = b.from + maxAlong + 1
	items[0].length, kc = 1, 1
	if _, why := one.one(b, items, kc, kr); !strings.Contains(why,
		"share too small a measure") {
		t.Errorf("2^23 + 1 positions: %q", why)
	}
}

// shopBoard is a board 144 in x 5-1/2 in on a grid of 1/16 in, with defects, 25 items of 5 widths
// at duals as they stand at the end of a search, and kerfs of 1/8 in.
func shopBoard(r *rand.Rand, defects int, spread int64) (*Board, []Item) {
	const in, slope = 16, 1 << 26 // 144 in x 88 cells at 0.25 an inch, strips at 0.6 of that
	b := &Board{unit: 1, to: 144 * in, keep: 12 * in, width: 88, inset: 1,
		slope:     model.Slope{Whole: slope, Strip: slope * 3 / 5},
		keepWidth: 3 * in / 2, shortest: 12 * in, narrowest: 3 * in / 4, trimming: true}
	for range defects {
		p := patch{Rect: model.Rect{From: model.Length(r.IntN(2200)),
			Left: model.Length(r.IntN(70))}}
		p.To, p.Right = min(b.to, p.From+model.Length(16+r.IntN(24))),
			min(b.width, p.Left+model.Length(12+r.IntN(20)))
		p.tolerated[model.Hidden] = r.IntN(2) == 0
		b.patches = append(b.patches, p)
	}
	widths := []model.Length{88, 56, 41, 29, 20}
	var items []Item
	for k := range 25 {
		i := Item{length: model.Length(200 + r.IntN(700)), width: widths[k%5], whole: k%5 == 0,
			face: model.Face(r.IntN(model.Faces))}
		// offcuts are worth half of it
		i.dual = int64(i.length*i.width) * 2 * slope / 1000 * (1000 - r.Int64N(spread))
		items = append(items, i)
	}
	return sortPatches(b), items
}

// tenthAFoot is the price of a rip where the board of shopBoard is worth 36.
const tenthAFoot = 3 << 26

func BenchmarkRipped(b *testing.B) {
	for _, c := range []struct {
		name          string
		defects, weak int
		spread, rip   int64
	}{{"clear", 0, 0, 200, 0}, {"three defects", 3, 0, 200, 0},
		{"three defects, duals alike", 3, 0, 20, 0}, {"six defects", 6, 0, 200, 0},
		{"twenty defects", 20, 0, 200, 0}, {"clear, rips priced", 0, 0, 200, tenthAFoot},
		{"three defects, rips priced", 3, 0, 200, tenthAFoot},
		{"three defects, dear rips", 3, 0, 200, 10 * tenthAFoot},
		{"three defects, one weak", 3, 1, 200, tenthAFoot},
		{"three defects, one weak, duals alike", 3, 1, 20, tenthAFoot},
		{"six defects, three weak", 6, 3, 200, tenthAFoot},
		{"six weak defects", 6, 6, 200, tenthAFoot}, {"twenty weak defects", 20, 20, 200, 0}} {
		b.Run(c.name, func(b *testing.B) {
			r := rand.New(rand.NewPCG(41, 42))
			var one boardSearch
			worst := 0.0
			for range b.N {
				bar, items := shopBoard(r, c.defects, c.spread)
				for k := range c.weak {
					bar.patches[k].weak = true
				}
				bar.ripping = c.rip
				start := time.Now()
				if _, why := one.one(bar, items, 2, 2); why != "" {
					b.Fatal(why)
				}
				worst = max(worst, time.Since(start).Seconds())
			}
			b.ReportMetric(worst*1e3, "worst-ms")
		})
	}
}

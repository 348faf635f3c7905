package proof

import (
	"math/rand/v2"
	"rackwright/model"
	"slices"
	"testing"
)

// plain is the recursion at the head of boundboard.go for linked boards, letter by letter, with
// each run's ends tried one by one. Its states are a layer (0: with a piece already, 1: without), a
// flag and a position.
type plain struct {
	bar   *bar
	items []wanted
	kerf  model.Length
	step  model.Length
	scale int64
	memo  map[state]int64
}

type state struct {
	what        byte
	layer, flag int
	x           model.Length
}

const never = -1 << 60

func (p *plain) w(t model.Length) int64 { return int64(p.bar.rate.Of(t, p.bar.keep)) }

// inside gives the end of the block of overlapping or touching spots around x; 0 where x is clear.
func (p *plain) inside(x model.Length) (end model.Length) {
	in := false
	for _, s := range p.bar.spots {
		in = in || s.From <= x && x < s.To
	}
	if !in {
		return 0
	}
	for again := true; again; {
		again = false
		for _, s := range p.bar.spots {
			if s.From <= max(x, end) && s.To > max(x, end) {
				end, again = s.To, true
			}
		}
	}
	return end
}

func (p *plain) fits(i wanted, x model.Length) bool {
	if x+i.length > p.bar.to {
		return false
	}
	for _, s := range p.bar.spots {
		if !s.tolerated[i.face] && s.From < x+i.length && x < s.To {
			return false
		}
	}
	return true
}

func (p *plain) end(layer int) int64 { return [2]int64{0, never}[layer] }

func (p *plain) free(layer, b int, x model.Length) int64 {
	most := p.f(layer, b, x+p.step)
	for _, i := range p.items {
		if p.fits(i, x) {
			most = max(most, i.dual+p.f(0, b, x+i.length+p.kerf))
		}
	}
	return most
}

func (p *plain) afterKerf(layer, b int, x model.Length) int64 {
	if p.kerf == 0 {
		return p.free(layer, b, x)
	}
	return p.f(layer, b, x+p.kerf)
}

func (p *plain) f(layer, b int, x model.Length) int64 {
	if x >= p.bar.to {
		return p.end(layer)
	}
	return p.once(state{'f', layer, b, x}, func() int64 {
		return max(p.free(layer, b, x), p.g(layer, b, x))
	})
}

func (p *plain) once(s state, work func() int64) int64 {
	v, known := p.memo[s]
	if !known {
		v = work()
		p.memo[s] = v
	}
	return v
}

func (p *plain) g(layer, b int, x model.Length) int64 {
	if p.inside(x) > 0 {
		return p.d(layer, b, x)
	}
	e := p.bar.to
	for _, s := range p.bar.spots {
		if s.From > x {
			e = min(e, s.From)
		}
	}
	paid := func(t model.Length) (int64, int) {
		if t > p.bar.keep && p.bar.rate.Num > 0 {
			return (p.w(t) + int64(b)) * p.scale, 1
		}
		return 0, b
	}
	return p.once(state{'g', layer, b, x}, func() int64 {
		most := p.afterKerf(layer, b, x)
		for r := x + p.step; r < e; r += p.step {
			v, then := paid(r - x)
			most = max(most, v+p.f(layer, then, r+p.kerf))
		}
		v, then := paid(e - x)
		if e < p.bar.to {
			return max(most, v+p.d(layer, then, e))
		}
		return max(most, v+p.end(layer))
	})
}

func (p *plain) d(layer, b int, x model.Length) int64 {
	return p.once(state{'d', layer, b, x}, func() int64 {
		end, most := p.inside(x), p.afterKerf(layer, b, x)
		switch {
		case x+p.step < end:
			return max(most, p.d(layer, b, x+p.step))
		case end < p.bar.to:
			return max(most, p.g(layer, 0, end))
		}
		return max(most, p.end(layer))
	})
}

func plainBest(b *bar, items []wanted, kerf model.Length, scale int64) int64 {
	p := &plain{bar: b, items: items, kerf: kerf, step: model.Length(b.step(items, kerf)),
		scale: scale,
		memo:  map[state]int64{}}
	if most := p.f(1, 0, b.from); most >= 0 {
		return most
	}
	return p.f(0, 0, b.from)
}

// layouts tries every layout of a board at single units of length, with at most the copies asked
// for, and judges each gap by design part 4: less a kerf on each side that faces a piece it is one
// offcut if it is long enough and some face could use a run of it.
type layouts struct {
	bar   *bar
	items []wanted
	kerf  model.Length
	scale int64
	memo  map[[4]int64]int64
}

func (l *layouts) credit(from, to model.Length, before, after bool) int64 {
	if before {
		from += l.kerf
	}
	if after {
		to -= l.kerf
	}
	if to <= from || to-from < l.bar.keep {
		return 0
	}
	usable := false
	for f := model.Show; f < model.Faces; f++ {
		for x, run := from, model.Length(0); x < to; x++ {
			run++
			for _, s := range l.bar.spots {
				if !s.tolerated[f] && s.From <= x && x < s.To {
					run = 0
				}
			}
			usable = usable || run >= max(1, l.bar.keep)
		}
	}
	if !usable {
		return 0
	}
	sum, run := int64(0), model.Length(0)
	for x := from; x <= to; x++ {
		clear := x < to
		for _, s := range l.bar.spots {
			clear = clear && !(s.From <= x && x < s.To)
		}
		if clear {
			run++
			continue
		}
		sum += max(0, l.bar.rate.Num*int64(run-l.bar.keep)) / l.bar.rate.Den
		run = 0
	}
	return sum * l.scale
}

// after is the most that pieces and gaps beyond a piece that ends at x can give; left is how many
// of each blank are left.
func (l *layouts) after(x model.Length, left [3]int64, first bool) int64 {
	key := [4]int64{int64(x), left[0], left[1], left[2]}
	if v, known := l.memo[key]; known && !first {
		return v
	}
	most, from := l.credit(x, l.bar.to, true, false), x+l.kerf
	if first {
		most, from = never, x
	}
	for at := from; at <= l.bar.to; at++ {
		gap, known := int64(0), false
		for n, i := range l.items {
			clear := at+i.length <= l.bar.to && left[n] > 0
			for _, s := range l.bar.spots {
				clear = clear && (s.tolerated[i.face] || at+i.length <= s.From || s.To <= at)
			}
			if !clear {
				continue
			}
			if !known {
				gap, known = l.credit(x, at, !first, true), true
			}
			then := left
			then[n]--
			most = max(most, gap+i.dual+l.after(at+i.length, then, false))
		}
	}
	if !first {
		l.memo[key] = most
	}
	return most
}

// most is the most that any layout with a piece gives, else the worth of the whole.
func (l *layouts) most() int64 {
	l.memo = map[[4]int64]int64{}
	var left [3]int64
	for n, i := range l.items {
		left[n] = i.demand
	}
	if most := l.after(l.bar.from, left, true); most >= 0 {
		return most
	}
	return l.credit(l.bar.from, l.bar.to, false, false)
}

func pick[T any](r *rand.Rand, from ...T) T { return from[r.IntN(len(from))] }

// randomBar is a small board with spots of all sorts, in units of which all lengths are a multiple.
func randomBar(r *rand.Rand, longest int, unit model.Length) (bar, []wanted, model.Length, int64) {
	n := model.Length(1 + r.IntN(longest))
	trim := model.Length(r.IntN(3))
	b := bar{from: trim * unit, to: (trim + n) * unit, keep: model.Length(r.IntN(6)) * unit,
		cost: model.Money(r.IntN(100))}
	if r.IntN(4) == 0 {
		b.keep += model.Length(r.IntN(int(unit))) // keep and rate need not be on the grid
	}
	b.rate = pick(r, model.NewRate(0, 1), model.NewRate(1, 1), model.NewRate(1, 5),
		model.NewRate(5, 7), model.NewRate(7, 3),
		model.NewRate(13, 11), model.NewRate(1000, 37), model.NewRate(3, 10), model.NewRate(97, 89))
	for range r.IntN(5) {
		from := model.Length(r.IntN(int(n)))
		to := min(n, from+1+model.Length(r.IntN(4)))
		s := spot{Span: model.Span{From: b.from + from*unit, To: b.from + to*unit}}
		s.tolerated = pick(r, [model.Faces]bool{}, [model.Faces]bool{},
			[model.Faces]bool{false, false, true},
			[model.Faces]bool{false, true, true})
		b.spots = append(b.spots, s)
	}
	slices.SortFunc(b.spots, compareSpots)
	kerf := model.Length(r.IntN(4)) * unit
	scale := pick(r, int64(1), 2, 3, 10)
	var items []wanted
	for range r.IntN(4) {
		length := model.Length(1 + r.IntN(7))
		worth := int64(length) * int64(unit) * b.rate.Num * scale / b.rate.Den
		items = append(items, wanted{length * unit, model.Face(r.IntN(model.Faces)),
			r.Int64N(2*worth + 5),
			1 + r.Int64N(4)})
	}
	return b, items, kerf, scale
}

// The fast form of the recursion gives what the plain one gives.
func TestBestIsThePlainRecursion(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	var table table
	for n := range 10000 {
		b, items, kerf, scale := randomBar(r, 40, model.Length(pick(r, 1, 1, 2, 5)))
		got, want := table.best(&b, items, kerf, scale), plainBest(&b, items, kerf, scale)
		if got != want {
			t.Fatalf("board %d: got %d, the plain recursion gives %d: %+v items %v kerf %d scale %d", n, got, want, b, items, kerf, scale)
		}
	}
}

// No layout, on the grid or off it, gives more than most says. It is exact on a board that is not
// linked, where it has one clear run or copies enough for all of them.
func TestMostIsNeverBelowAnyLayout(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	var most most
	exact := 0
	for n := range 8000 {
		unit := model.Length(pick(r, 1, 2, 3, 4))
		b, items, kerf, scale := randomBar(r, 60/int(unit), unit)
		enough := true
		for i := range items {
			enough = enough &&
				items[i].demand*int64(items[i].length+kerf) >= int64(b.to-b.from+kerf)
		}
		l := layouts{bar: &b, items: items, kerf: kerf, scale: scale}
		got, want := most.of(&b, items, kerf, b.to-b.from+model.Length(r.IntN(9)), scale), l.most()
		if got < want {
			t.Fatalf("board %d: most is %d, yet a layout gives %d: %+v items %v kerf %d scale %d",
				n, got, want, b, items, kerf, scale)
		}
		if !b.linked(items, kerf) && (len(b.spots) == 0 || enough) {
			exact++
			if got > want {
				t.Fatalf("board %d: most is %d, no layout gives more than %d: %+v items %v kerf %d scale %d", n, got, want, b, items, kerf, scale)
			}
		}
	}
	if exact < 500 {
		t.Errorf("only %d boards were judged exactly", exact)
	}
}

// A board on which moving the piece off the grid makes a run worth something that is worth nothing
// on it: 9 and 11 instead of 8 and 12. A flag set only by runs of positive worth missed it.
func TestMostCountsRunsThatAreWorthNothingOnTheGrid(t *testing.T) {
	b := bar{from: 8, to: 40, rate: model.NewRate(1, 5), keep: 4}
	b.spots = []spot{{model.Span{From: 20, To: 28}, [model.Faces]bool{false, true, true}}}
	items := []wanted{{12, model.Hidden, 18, 1}}
	l := layouts{bar: &b, items: items, scale: 10}
	if got := l.most(); got != 38 {
		t.Fatalf("the best layout gives %d, by hand it is 38", got)
	}
	var most most
	if got := most.of(&b, items, 0, 32, 10); got < 38 {
		t.Errorf("most is %d, yet a layout gives 38", got)
	}
}

func BenchmarkMost(b *testing.B) {
	r := rand.New(rand.NewPCG(5, 6))
	for _, c := range []struct {
		name      string
		positions model.Length
		items     int
		spots     int
		faces     int
		rate      model.Rate
	}{
		{"3000 positions, 20 blanks, clear", 3000, 20, 0, 1, model.NewRate(23999, 200003)},
		{"3000 positions, 20 blanks, 4 spots, show", 3000, 20, 4, 1, model.NewRate(23999, 200003)},
		{"3000 positions, 20 blanks, 4 spots, all faces", 3000, 20, 4, 3,
			model.NewRate(23999, 200003)},
		{"400000 positions, 20 blanks, 4 spots, all faces", 400000, 20, 4, 3,
			model.NewRate(23999, 2000003)},
	} {
		b.Run(c.name, func(b *testing.B) {
			bar := bar{from: 0, to: c.positions, rate: c.rate, keep: c.positions / 16}
			for range c.spots {
				from := model.Length(r.Int64N(int64(c.positions)))
				bar.spots = append(bar.spots,
					spot{model.Span{From: from, To: min(c.positions, from+c.positions/60)},
						[model.Faces]bool{false, false, true}})
			}
			var items []wanted
			for range c.items {
				l := c.positions/10 + model.Length(r.Int64N(int64(c.positions)/2))
				worth := int64(l) * c.rate.Num * 1000 / c.rate.Den
				items = append(items,
					wanted{l, model.Face(r.IntN(c.faces)), worth + r.Int64N(worth/5+1), 20})
			}
			var most most
			for b.Loop() {
				most.of(&bar, items, c.positions/500, c.positions, 1000)
			}
		})
	}
}

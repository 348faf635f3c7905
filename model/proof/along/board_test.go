package along_test

import (
	"math/rand/v2"
	"testing"

	"rackwright/model"
	"rackwright/model/internal/handmade"
	"rackwright/model/proof/along"
	"rackwright/model/proof/internal/brute"
)

// plain is the recursion at the head of table.go for linked boards, letter by letter, with
// each run's ends tried one by one. Its states are a layer (0: with a piece already, 1: without), a
// flag and a position.
type plain struct {
	bar   *along.Board
	items []along.Item
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

func (p *plain) w(t model.Length) int64 { return int64(p.bar.Rate.Worth(t, p.bar.Keep)) }

// inside gives the end of the block of overlapping or touching spots around x; 0 where x is clear.
func (p *plain) inside(x model.Length) (end model.Length) {
	in := false
	for _, s := range p.bar.Spots {
		in = in || s.From <= x && x < s.To
	}
	if !in {
		return 0
	}
	for again := true; again; {
		again = false
		for _, s := range p.bar.Spots {
			if s.From <= max(x, end) && s.To > max(x, end) {
				end, again = s.To, true
			}
		}
	}
	return end
}

func (p *plain) fits(i along.Item, x model.Length) bool {
	if x+i.Length > p.bar.To {
		return false
	}
	for _, s := range p.bar.Spots {
		if !s.Tolerated[i.Face] && s.From < x+i.Length && x < s.To {
			return false
		}
	}
	return true
}

func (p *plain) end(layer int) int64 { return [2]int64{0, brute.Never}[layer] }

func (p *plain) free(layer, b int, x model.Length) int64 {
	most := p.f(layer, b, x+p.step)
	for _, i := range p.items {
		if p.fits(i, x) {
			most = max(most, i.Dual+p.f(0, b, x+i.Length+p.kerf))
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
	if x >= p.bar.To {
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
	e := p.bar.To
	for _, s := range p.bar.Spots {
		if s.From > x {
			e = min(e, s.From)
		}
	}
	paid := func(t model.Length) (int64, int) {
		if t > p.bar.Keep && p.bar.Rate.Num > 0 {
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
		if e < p.bar.To {
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
		case end < p.bar.To:
			return max(most, p.g(layer, 0, end))
		}
		return max(most, p.end(layer))
	})
}

func plainBest(b *along.Board, items []along.Item, kerf model.Length, scale int64) int64 {
	p := &plain{bar: b, items: items, kerf: kerf, step: model.Length(b.Step(items, kerf)),
		scale: scale,
		memo:  map[state]int64{}}
	if most := p.f(1, 0, b.From); most >= 0 {
		return most
	}
	return p.f(0, 0, b.From)
}

// The fast form of the recursion gives what the plain one gives.
func TestBestIsThePlainRecursion(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	var table along.Table
	for n := range 10000 {
		b, items, kerf, scale := brute.RandomBoard(r, 40,
			model.Length(handmade.Pick(r, 1, 1, 2, 5)))
		got, want := table.Best(&b, items, kerf, scale), plainBest(&b, items, kerf, scale)
		if got != want {
			t.Fatalf("board %d: got %d, the plain recursion gives %d: %+v items %v kerf %d scale %d",
				n, got, want, b, items, kerf, scale)
		}
	}
}

// No layout, on the grid or off it, gives more than most says. It is exact on a board that is not
// linked, where it has one clear run or copies enough for all of them.
func TestMostIsNeverBelowAnyLayout(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	var most along.Most
	exact := 0
	for n := range 8000 {
		unit := model.Length(handmade.Pick(r, 1, 2, 3, 4))
		b, items, kerf, scale := brute.RandomBoard(r, 60/int(unit), unit)
		enough := true
		for i := range items {
			enough = enough &&
				items[i].Demand*int64(items[i].Length+kerf) >= int64(b.To-b.From+kerf)
		}
		l := brute.Layouts{Board: &b, Items: items, Kerf: kerf, Scale: scale}
		got, want := most.Of(&b, items, kerf, b.To-b.From+model.Length(r.IntN(9)), scale), l.Most()
		if got < want {
			t.Fatalf("board %d: most is %d, yet a layout gives %d: %+v items %v kerf %d scale %d",
				n, got, want, b, items, kerf, scale)
		}
		if !b.Linked(items, kerf) && (len(b.Spots) == 0 || enough) {
			exact++
			if got > want {
				t.Fatalf("board %d: most is %d, no layout gives more than %d: %+v items %v kerf "+
					"%d scale %d",
					n, got, want, b, items, kerf, scale)
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
	b := along.Board{From: 8, To: 40, Rate: model.NewRate(1, 5), Keep: 4}
	b.Spots = []along.Spot{{Span: model.Span{From: 20, To: 28},
		Tolerated: [model.Faces]bool{false, true, true}}}
	items := []along.Item{{Length: 12, Face: model.Hidden, Dual: 18, Demand: 1}}
	l := brute.Layouts{Board: &b, Items: items, Scale: 10}
	if got := l.Most(); got != 38 {
		t.Fatalf("the best layout gives %d, by hand it is 38", got)
	}
	var most along.Most
	if got := most.Of(&b, items, 0, 32, 10); got < 38 {
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
			bar := along.Board{From: 0, To: c.positions, Rate: c.rate, Keep: c.positions / 16}
			for range c.spots {
				from := model.Length(r.Int64N(int64(c.positions)))
				bar.Spots = append(bar.Spots,
					along.Spot{
						Span: model.Span{From: from,
							To: min(c.positions, from+c.positions/60)},
						Tolerated: [model.Faces]bool{false, false, true}})
			}
			var items []along.Item
			for range c.items {
				l := c.positions/10 + model.Length(r.Int64N(int64(c.positions)/2))
				worth := int64(l) * c.rate.Num * 1000 / c.rate.Den
				items = append(items,
					along.Item{Length: l, Face: model.Face(r.IntN(c.faces)),
						Dual: worth + r.Int64N(worth/5+1), Demand: 20})
			}
			var most along.Most
			for b.Loop() {
				most.Of(&bar, items, c.positions/500, c.positions, 1000)
			}
		})
	}
}

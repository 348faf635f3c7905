package lp

import (
	"math"
	"math/rand/v2"
	"testing"
)

// general returns a program with every kind of bound; most are feasible because a point is planted.
func general(r *rand.Rand, m, n int, density, spread float64, plant bool) *program {
	g := &program{}
	activity := make([]float64, m)
	for range m {
		g.row(0, 0)
	}
	for range n {
		var cells []cell
		x := float64(r.IntN(7) - 3)
		for i := range m {
			if r.Float64() < density {
				c := float64(r.IntN(11)-5) * math.Pow(10, spread*(r.Float64()-0.5))
				cells = append(cells, cell{i, c})
				activity[i] += c * x
			}
		}
		lo, hi := bounds(r, x, plant)
		cost := float64(r.IntN(21)-6) * math.Pow(10, spread*(r.Float64()-0.5))
		g.column(cost, lo, hi, cells...)
	}
	for i := range m {
		g.rowLo[i], g.rowHi[i] = bounds(r, activity[i], plant)
	}
	return g
}

// bounds draws bounds around x, mostly tight at it, or anywhere.
func bounds(r *rand.Rand, x float64, plant bool) (lo, hi float64) {
	if !plant {
		x += float64(r.IntN(9) - 4)
	}
	lo, hi = x-float64(r.IntN(3)), x+float64(r.IntN(3))
	switch r.IntN(8) {
	case 0:
		return -inf, inf
	case 1, 2:
		return lo, inf
	case 3:
		return -inf, hi
	case 4:
		return x, x
	}
	return lo, hi
}

// cutting returns a master program of column generation: item rows, supply rows, one dear column
// for each item, and given patterns with a few items each.
func cutting(r *rand.Rand, items, stocks, patterns int) *program {
	g := &program{}
	for range items {
		g.row(float64(1+r.IntN(8)), inf)
	}
	for range stocks {
		g.row(-inf, float64(1+r.IntN(2)))
	}
	for i := range items {
		g.column(1e6, 0, inf, cell{i, 1})
	}
	for range patterns {
		g.pattern(r, items, stocks)
	}
	return g
}

func (g *program) pattern(r *rand.Rand, items, stocks int) {
	var cells []cell
	size := 0.0
	for _, i := range r.Perm(items)[:1+r.IntN(min(items, 5))] {
		count := float64(1 + r.IntN(3))
		cells = append(cells, cell{i, count})
		size += count
	}
	if stocks > 0 {
		cells = append(cells, cell{items + r.IntN(stocks), 1})
	}
	g.column(math.Round(100*size*(1+0.2*r.Float64())), 0, inf, cells...)
}

// TestRandom checks that whatever Solve says of random programs is proved by its duals, a first
// phase or a direction.
func TestRandom(t *testing.T) {
	count := map[Status]int{}
	for seed := range 1500 {
		r := source(seed)
		m, n := 1+r.IntN(25), 1+r.IntN(40)
		density := []float64{0.1, 0.3, 1}[r.IntN(3)]
		spread := []float64{0, 0, 2, 5}[r.IntN(4)]
		g := general(r, m, n, density, spread, r.IntN(4) > 0)
		s := g.judge(t, g.build())
		count[s]++
		if t.Failed() {
			t.Fatalf("seed %d", seed)
		}
	}
	if count[Optimal] < 300 || count[Infeasible] < 100 || count[Unbounded] < 50 {
		t.Fatalf("too few of a kind: %v", count)
	}
	t.Log(count)
}

// TestCutting checks the shape of column generation, all columns given at once.
func TestCutting(t *testing.T) {
	for seed := range 60 {
		r := source(seed)
		g := cutting(r, 5+r.IntN(60), r.IntN(60), 20+r.IntN(600))
		if s := g.judge(t, g.build()); s != Optimal {
			t.Fatalf("seed %d: %v", seed, s)
		}
	}
}

// TestPastFailures repeats programs, badly scaled or nearly singular, that once went wrong.
func TestPastFailures(t *testing.T) {
	for seed, why := range map[int]string{
		11224: "a tiny reduced cost taken for an unbounded direction",
		11350: "endless loop: an empty group of breakpoints",
		14693: "excess below the rounding of its own terms taken for a proof of infeasibility",
		14907: "pivots below the usual least were the only ones",
		19350: "blocking entries ignored beside one of 1e9",
		20634: "likewise, with fresh factors",
	} {
		r := source(seed)
		m, n := 1+r.IntN(60), 1+r.IntN(120)
		density := []float64{0.05, 0.1, 0.3, 1}[r.IntN(4)]
		spread := []float64{0, 0, 2, 4, 6}[r.IntN(5)]
		g := general(r, m, n, density, spread, r.IntN(4) > 0)
		t.Run(why, func(t *testing.T) { g.judge(t, g.build()) })
	}
}

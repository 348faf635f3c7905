package lp

import (
	"math"
	"testing"
)

// TestKnown solves small programs whose answers are known by hand or from the literature.
func TestKnown(t *testing.T) {
	type column struct {
		cost, lo, hi float64
		coefs        []float64 // by row
	}
	for _, c := range []struct {
		name   string
		rows   [][2]float64
		cols   []column
		status Status
		value  float64
		x      []float64 // nil: not unique, or none
		duals  []float64 // likewise
	}{
		{name: "nothing at all", status: Optimal},
		{name: "no rows: each column at its better bound",
			cols:   []column{{1, 2, 5, nil}, {-1, 2, 5, nil}, {0, -1, 4, nil}},
			status: Optimal, value: -3, x: []float64{2, 5, -1}},
		{name: "no rows, nothing to stop it", cols: []column{{-1, 0, inf, nil}}, status: Unbounded},
		{name: "no columns, row allows zero", rows: [][2]float64{{-1, 1}}, status: Optimal,
			duals: []float64{0}},
		{name: "no columns, row asks for one", rows: [][2]float64{{1, 1}}, status: Infeasible},
		{name: "two products, two shops (textbook maximum 36, as a minimum)",
			rows:   [][2]float64{{-inf, 4}, {-inf, 12}, {-inf, 18}},
			cols:   []column{{-3, 0, inf, []float64{1, 0, 3}}, {-5, 0, inf, []float64{0, 2, 2}}},
			status: Optimal, value: -36, x: []float64{2, 6}, duals: []float64{0, -1.5, -1}},
		{name: "diet: both needs bind",
			rows:   [][2]float64{{4, inf}, {6, inf}},
			cols:   []column{{2, 0, inf, []float64{1, 3}}, {3, 0, inf, []float64{2, 1}}},
			status: Optimal, value: 6.8, x: []float64{1.6, 1.2}, duals: []float64{1.4, 0.2}},
		{name: "Beale 1955, cycles under Dantzig's rule (from memory)",
			rows: [][2]float64{{-inf, 0}, {-inf, 0}, {-inf, 1}},
			cols: []column{
				{-0.75, 0, inf, []float64{0.25, 0.5, 0}}, {150, 0, inf, []float64{-60, -90, 0}},
				{-0.02, 0, inf, []float64{-1. / 25, -1. / 50, 1}}, {6, 0, inf, []float64{9, 3, 0}}},
			status: Optimal, value: -0.05, x: []float64{0.04, 0, 1, 0}},
		{name: "Kuhn's cycling example (from memory), boxed by the third row",
			rows: [][2]float64{{-inf, 0}, {-inf, 0}, {-inf, 2}},
			cols: []column{
				{-2, 0, inf, []float64{-2, 1. / 3, 2}}, {-3, 0, inf, []float64{-9, 1, 3}},
				{1, 0, inf, []float64{1, -1. / 3, -1}}, {12, 0, inf, []float64{9, -2, -12}}},
			status: Optimal, value: -2, x: []float64{2, 0, 2, 0}},
		{name: "free variables on equations",
			rows:   [][2]float64{{3, 3}, {1, 1}},
			cols:   []column{{1, -inf, inf, []float64{1, 1}}, {1, -inf, inf, []float64{1, -1}}},
			status: Optimal, value: 3, x: []float64{2, 1}, duals: []float64{1, 0}},
		{name: "free variable without a floor",
			rows:   [][2]float64{{-inf, 3}},
			cols:   []column{{1, -inf, inf, []float64{1}}},
			status: Unbounded},
		{name: "fixed variable takes its part",
			rows:   [][2]float64{{5, inf}},
			cols:   []column{{7, 2, 2, []float64{1}}, {1, 0, inf, []float64{1}}},
			status: Optimal, value: 17, x: []float64{2, 3}, duals: []float64{1}},
		{name: "range binds above",
			rows:   [][2]float64{{1, 4}},
			cols:   []column{{-2, 0, 3, []float64{1}}, {-1, 0, 3, []float64{1}}},
			status: Optimal, value: -7, x: []float64{3, 1}, duals: []float64{-1}},
		{name: "range binds below",
			rows:   [][2]float64{{1, 4}},
			cols:   []column{{2, 0, 3, []float64{1}}, {1, 0, 0.5, []float64{1}}},
			status: Optimal, value: 1.5, x: []float64{0.5, 0.5}, duals: []float64{2}},
		{name: "rows contradict each other",
			rows:   [][2]float64{{2, inf}, {-inf, 1}},
			cols:   []column{{0, 0, inf, []float64{1, 1}}},
			status: Infeasible},
		{name: "bounds too tight for the row",
			rows:   [][2]float64{{10, inf}},
			cols:   []column{{1, 0, 3, []float64{1}}, {1, 0, 3, []float64{2}}},
			status: Infeasible},
		{name: "column bounds cross", cols: []column{{1, 2, 1, nil}}, status: Infeasible},
		{name: "row bounds cross", rows: [][2]float64{{2, 1}}, status: Infeasible},
		{name: "infeasible wins over a falling cost",
			rows:   [][2]float64{{1, 1}, {2, 2}},
			cols:   []column{{-1, 0, inf, []float64{1, 1}}, {-1, 0, inf, []float64{0, 0}}},
			status: Infeasible},
		{name: "column in no row", rows: [][2]float64{{1, inf}},
			cols:   []column{{-4, 0, 2, []float64{0}}, {3, 0, inf, []float64{1}}},
			status: Optimal, value: -5, x: []float64{2, 1}},
		{name: "dependent equations",
			rows:   [][2]float64{{2, 2}, {4, 4}, {2, 2}},
			cols:   []column{{1, 0, inf, []float64{1, 2, 1}}, {2, 0, inf, []float64{1, 2, 1}}},
			status: Optimal, value: 2, x: []float64{2, 0}},
		{name: "numbers far apart",
			rows:   [][2]float64{{1e6, inf}, {1e-3, inf}},
			cols:   []column{{1e-3, 0, inf, []float64{1e4, 0}}, {1e5, 0, inf, []float64{0, 1e-4}}},
			status: Optimal, value: 0.1 + 1e6, x: []float64{100, 10}},
		{name: "trim loss: two lengths from one stock size",
			rows: [][2]float64{{20, inf}, {30, inf}},
			cols: []column{{1, 0, inf, []float64{2, 0}}, {1, 0, inf, []float64{1, 2}},
				{1, 0, inf, []float64{0, 3}}},
			// y = (1/2, 1/4) prices every pattern at 1 or less, and pays 17.5.
			status: Optimal, value: 17.5, x: []float64{2.5, 15, 0}, duals: []float64{0.5, 0.25}},
	} {
		g := &program{}
		for _, r := range c.rows {
			g.row(r[0], r[1])
		}
		for _, col := range c.cols {
			var cells []cell
			for i, a := range col.coefs {
				cells = append(cells, cell{i, a})
			}
			g.column(col.cost, col.lo, col.hi, cells...)
		}
		p := g.build()
		status := p.Solve()
		if status != c.status {
			t.Errorf("%s: %v, want %v", c.name, status, c.status)
			continue
		}
		if status != Optimal {
			continue
		}
		near := func(what string, got, want float64) {
			if math.Abs(got-want) > 1e-7*(1+math.Abs(want)) {
				t.Errorf("%s: %s is %g, want %g", c.name, what, got, want)
			}
		}
		near("value", p.Value(), c.value)
		for j, x := range c.x {
			near("a column", p.X(j), x)
		}
		for i, y := range c.duals {
			near("a dual", p.Dual(i), y)
		}
		g.certify(t, p)
	}
}

// TestSameCallsSameResults checks that a run repeats to the last bit, work count included.
func TestSameCallsSameResults(t *testing.T) {
	run := func() (out []float64) {
		g := cutting(source(5), 40, 60, 800)
		p := g.build()
		for k := range 10 {
			out = append(out, float64(p.Solve()), p.Value(), float64(p.Work()))
			p.SetRow(40+k, 0, 0)
			for j := range 100 {
				out = append(out, p.X(j), p.ReducedCost(j))
			}
		}
		return out
	}
	first := run()
	for k, v := range run() {
		if v != first[k] {
			t.Fatalf("number %d differs: %g and %g", k, first[k], v)
		}
	}
}

// TestWorkGrows checks that the work count rises with every Solve and is not moved by reading.
func TestWorkGrows(t *testing.T) {
	p := cutting(source(6), 10, 10, 50).build()
	before := p.Work()
	p.Solve()
	after := p.Work()
	if after <= before {
		t.Fatalf("work %d, then %d", before, after)
	}
	p.Value()
	p.X(0)
	p.Dual(0)
	if p.Work() != after {
		t.Fatal("reading counted as work")
	}
}

// TestStop checks that Solve ends soon once it is to stop, and goes on from there later.
func TestStop(t *testing.T) {
	for seed := range 20 {
		g := cutting(source(seed), 60, 20, 600)
		whole := g.build()
		if s := whole.Solve(); s != Optimal || whole.iterations < 40 {
			t.Fatalf("seed %d: %v after %d iterations", seed, s, whole.iterations)
		}
		p, asked := g.build(), 0
		p.Stop = func() bool {
			asked++
			return asked == 2
		}
		if s := p.Solve(); s != Stalled || asked != 2 || p.iterations > 32 {
			t.Fatalf("seed %d: %v, asked %d times in %d iterations", seed, s, asked, p.iterations)
		}
		p.Stop = nil
		if s := p.Solve(); s != Optimal ||
			math.Abs(p.Value()-whole.Value()) > 1e-6*(1+math.Abs(p.Value())) {
			t.Fatalf("seed %d: then %v, %g for %g", seed, s, p.Value(), whole.Value())
		}
	}
}

// TestRepeatedRow checks that a row named twice gets the sum, and that sums of nought do no harm.
func TestRepeatedRow(t *testing.T) {
	p := New()
	p.AddRow(6, inf)
	p.AddRow(-inf, 5)
	p.AddColumn(1, 0, inf, []int{0, 1, 0, 1}, []float64{1, 3, 2, -3})
	if s := p.Solve(); s != Optimal || math.Abs(p.Value()-2) > 1e-9 ||
		math.Abs(p.Dual(0)-1./3) > 1e-9 {
		t.Fatalf("%v, value %g, dual %g", s, p.Value(), p.Dual(0))
	}
}

// TestMisuse checks that calls which can only be mistakes panic.
func TestMisuse(t *testing.T) {
	solved := func() *Problem {
		p := New()
		p.AddRow(0, 1)
		p.AddColumn(1, 0, 1, []int{0}, []float64{1})
		p.Solve()
		return p
	}
	for name, call := range map[string]func(p *Problem){
		"row after Solve":   func(p *Problem) { p.AddRow(0, 1) },
		"lengths differ":    func(p *Problem) { p.AddColumn(1, 0, 1, []int{0}, nil) },
		"no such row":       func(p *Problem) { p.AddColumn(1, 0, 1, []int{1}, []float64{1}) },
		"NaN bound":         func(p *Problem) { p.SetRow(0, math.NaN(), 1) },
		"NaN cost":          func(p *Problem) { p.SetCost(0, math.NaN()) },
		"infinite cost":     func(p *Problem) { p.SetCost(0, inf) },
		"no such column":    func(p *Problem) { p.X(1) },
		"column as row":     func(p *Problem) { p.Dual(1) },
		"column as set row": func(p *Problem) { p.SetRow(1, 0, 0) },
	} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%s: no panic", name)
				}
			}()
			call(solved())
		}()
	}
}

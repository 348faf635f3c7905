package lp

import (
	"math"
	"math/rand/v2"
	"testing"
)

// change does something random to both the program and the Problem.
func (g *program) change(r *rand.Rand, p *Problem, cut bool, items, stocks int) {
	switch k := r.IntN(5); {
	case k == 0 && cut:
		g.pattern(r, items, stocks)
		g.addTo(p, len(g.cols)-1)
	case k == 0:
		var cells []cell
		for i := range g.rowLo {
			if r.IntN(4) == 0 {
				cells = append(cells, cell{i, float64(r.IntN(9) - 4)})
			}
		}
		lo, hi := bounds(r, float64(r.IntN(3)), true)
		g.column(float64(r.IntN(12)), lo, hi, cells...)
		g.addTo(p, len(g.cols)-1)
	case k == 1 && cut:
		i := r.IntN(items + stocks)
		if i < items {
			g.rowLo[i] = float64(r.IntN(9))
		} else {
			g.rowLo[i], g.rowHi[i] = [][2]float64{{0, 0}, {1, 1}, {-inf, 1}, {0, 2}}[r.IntN(4)][0],
				2
		}
		p.SetRow(i, g.rowLo[i], g.rowHi[i])
	case k == 1:
		i := r.IntN(len(g.rowLo))
		g.rowLo[i], g.rowHi[i] = bounds(r, float64(r.IntN(5)-2), true)
		p.SetRow(i, g.rowLo[i], g.rowHi[i])
	case k == 2:
		j := r.IntN(len(g.cols))
		if cut {
			g.hi[j] = []float64{0, 1, inf}[r.IntN(3)]
		} else {
			g.lo[j], g.hi[j] = bounds(r, float64(r.IntN(5)-2), true)
		}
		p.SetColumn(j, g.lo[j], g.hi[j])
	default:
		j := r.IntN(len(g.cols))
		g.cost[j] = math.Round(g.cost[j] * (0.5 + r.Float64()))
		p.SetCost(j, g.cost[j])
	}
}

// TestWarm checks that after any changes Solve from the old basis says what a new Problem says, and
// proves it.
func TestWarm(t *testing.T) {
	for seed := range 150 {
		r := source(seed)
		cut := seed%2 == 0
		items, stocks := 3+r.IntN(20), 1+r.IntN(20)
		g := cutting(r, items, stocks, 50)
		if !cut {
			g = general(r, 3+r.IntN(15), 3+r.IntN(25), 0.3, 0, true)
		}
		p := g.build()
		p.Solve()
		for step := range 30 {
			for range 1 + r.IntN(4) {
				g.change(r, p, cut, items, stocks)
			}
			fresh := g.build()
			warm, cold := g.judge(t, p), fresh.Solve()
			if warm != cold && (warm == Optimal || cold == Optimal) {
				t.Fatalf("seed %d step %d: warm %v, cold %v", seed, step, warm, cold)
			}
			if diff := math.Abs(p.Value() - fresh.Value()); warm == Optimal &&
				diff > 1e-6*(1+math.Abs(p.Value())) {
				t.Fatalf("seed %d step %d: warm %.10g, cold %.10g", seed, step, p.Value(),
					fresh.Value())
			}
		}
	}
}

// TestClone checks that a clone and its original go their own ways, as if each had been built
// alone.
func TestClone(t *testing.T) {
	for seed := range 60 {
		r := source(seed)
		items, stocks := 3+r.IntN(15), 1+r.IntN(15)
		g := cutting(r, items, stocks, 40)
		p := g.build()
		if seed%3 > 0 {
			p.Solve()
		}
		h := g.copy()
		q := p.Clone()
		for range 12 {
			g.change(r, p, true, items, stocks)
			h.change(r, q, true, items, stocks)
			h.change(r, q, true, items, stocks)
			g.judge(t, p)
			h.judge(t, q)
			if p.Columns() != len(g.cols) || q.Columns() != len(h.cols) || q.Rows() != p.Rows() {
				t.Fatalf("seed %d: sizes mixed up", seed)
			}
		}
	}
}

func (g *program) copy() *program {
	h := &program{}
	for i := range g.rowLo {
		h.row(g.rowLo[i], g.rowHi[i])
	}
	for j := range g.cols {
		h.column(g.cost[j], g.lo[j], g.hi[j], g.cols[j]...)
	}
	return h
}

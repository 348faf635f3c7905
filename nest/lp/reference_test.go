//go:build lpsolve

package lp

import (
	"math"
	"math/rand/v2"
	"testing"

	"rackwright/nest/lp/lpsolve"
)

// outside is the same program for lp_solve, without the rows that bound nothing: with such rows
// lp_solve 5.5.2.5 calls some unbounded programs infeasible.
func (g *program) outside() lpsolve.Problem {
	p := lpsolve.New()
	at := make([]int, len(g.rowLo))
	for i := range g.rowLo {
		at[i] = -1
		if !math.IsInf(g.rowLo[i], -1) || !math.IsInf(g.rowHi[i], 1) {
			at[i] = p.AddRow(g.rowLo[i], g.rowHi[i])
		}
	}
	for j, col := range g.cols {
		var rows []int
		var coefs []float64
		for _, c := range col {
			if at[c.row] >= 0 && c.coef != 0 {
				rows, coefs = append(rows, at[c.row]), append(coefs, c.coef)
			}
		}
		p.AddColumn(g.cost[j], g.lo[j], g.hi[j], false, rows, coefs)
	}
	return p
}

// degenerate is a covering program in which many columns cost the same for each row they meet and
// all demands are alike, so that most vertices have many bases.
func degenerate(r *rand.Rand, items, columns int) *program {
	g := &program{}
	for range items {
		g.row(2, inf)
	}
	for i := range items {
		g.column(50, 0, inf, cell{i, 1})
	}
	for range columns {
		var cells []cell
		for _, i := range r.Perm(items)[:1+r.IntN(min(items, 4))] {
			cells = append(cells, cell{i, 1})
		}
		g.column(float64(10*len(cells)-r.IntN(2)), 0, float64(1+r.IntN(3)), cells...)
	}
	return g
}

// stretch multiplies rows and columns by factors of up to three decades in all, which changes no
// value.
func (g *program) stretch(r *rand.Rand) {
	factor := func() float64 { return math.Pow(10, 1.5*r.Float64()) }
	rows := make([]float64, len(g.rowLo))
	for i := range rows {
		rows[i] = factor()
		g.rowLo[i], g.rowHi[i] = g.rowLo[i]*rows[i], g.rowHi[i]*rows[i]
	}
	for j := range g.cols {
		f := factor()
		g.cost[j], g.lo[j], g.hi[j] = g.cost[j]*f, g.lo[j]/f, g.hi[j]/f
		for c := range g.cols[j] {
			g.cols[j][c].coef *= f * rows[g.cols[j][c].row]
		}
	}
}

// TestReference solves the same programs with lp_solve 5.5: same status, same value.
func TestReference(t *testing.T) {
	for _, kind := range []struct {
		name string
		make func(r *rand.Rand) *program
	}{
		{"general", func(r *rand.Rand) *program {
			return general(r, 1+r.IntN(25), 1+r.IntN(40), []float64{0.1, 0.3, 1}[r.IntN(3)], 0,
				r.IntN(4) > 0)
		}},
		{"degenerate", func(r *rand.Rand) *program {
			return degenerate(r, 3+r.IntN(30), 10+r.IntN(200))
		}},
		{"covering", func(r *rand.Rand) *program {
			return cutting(r, 5+r.IntN(40), r.IntN(40), 20+r.IntN(300))
		}},
		{"stretched general", func(r *rand.Rand) *program {
			g := general(r, 1+r.IntN(25), 1+r.IntN(40), 0.3, 0, r.IntN(4) > 0)
			g.stretch(r)
			return g
		}},
		{"stretched covering", func(r *rand.Rand) *program {
			g := cutting(r, 5+r.IntN(40), r.IntN(40), 20+r.IntN(300))
			g.stretch(r)
			return g
		}},
	} {
		t.Run(kind.name, func(t *testing.T) {
			count := map[Status]int{}
			for seed := range 200 {
				g := kind.make(source(seed))
				p := g.build()
				count[g.agree(t, seed, p)]++
			}
			if count[Optimal] < 50 {
				t.Fatalf("too few with an optimum: %v", count)
			}
			t.Log(count)
		})
	}
}

func (g *program) agree(t *testing.T, seed int, p *Problem) Status {
	t.Helper()
	q := g.outside()
	defer q.Free()
	ours, theirs := p.Solve(), q.Solve()
	if ours.String() != theirs.String() {
		t.Fatalf("program %d: %v, lp_solve finds it %v", seed, ours, theirs)
	}
	if ours == Optimal && math.Abs(p.Value()-q.Value()) > 1e-6*(1+math.Abs(q.Value())) {
		t.Fatalf("program %d: value %.12g, lp_solve finds %.12g", seed, p.Value(), q.Value())
	}
	return ours
}

// TestReferenceGeneration follows column generation: the same rows, columns added round by round
// with lp_solve's duals, and after each round both solvers find the same value, and both sets of
// duals are worth it.
func TestReferenceGeneration(t *testing.T) {
	for seed := range 12 {
		r := source(seed)
		g := cutting(r, 5+r.IntN(20), r.IntN(20), 10)
		items, stocks := 0, 0
		for i := range g.rowLo {
			if math.IsInf(g.rowHi[i], 1) {
				items++
			} else {
				stocks++
			}
		}
		p := g.build()
		for round := range 15 {
			q := g.outside()
			if ours, theirs := p.Solve(), q.Solve(); ours != Optimal || theirs != lpsolve.Optimal {
				t.Fatalf("program %d, round %d: %v, lp_solve %v", seed, round, ours, theirs)
			}
			worth, theirs, duals := 0.0, 0.0, q.Duals()
			for i := range g.rowLo {
				side := g.rowLo[i]
				if math.IsInf(side, -1) {
					side = g.rowHi[i]
				}
				worth, theirs = worth+side*p.Dual(i), theirs+side*duals[i]
			}
			for _, v := range []float64{p.Value(), worth, theirs} {
				if math.Abs(v-q.Value()) > 1e-6*(1+q.Value()) {
					t.Fatalf("program %d, round %d: values %.12g and %.12g, by duals "+
						"%.12g and %.12g",
						seed, round, p.Value(), q.Value(), worth, theirs)
				}
			}
			q.Free()
			for range 5 {
				g.pattern(r, items, stocks)
				g.addTo(p, len(g.cols)-1)
			}
		}
	}
}

package lp

import (
	"math"
	"math/rand/v2"
	"testing"
)

// program is plain data, from which the tests build Problems and against which they judge results.
type program struct {
	rowLo, rowHi []float64
	lo, hi, cost []float64
	cols         [][]cell
}

type cell struct {
	row  int
	coef float64
}

var inf = math.Inf(1)

func (g *program) row(lo, hi float64) int {
	g.rowLo, g.rowHi = append(g.rowLo, lo), append(g.rowHi, hi)
	return len(g.rowLo) - 1
}

func (g *program) column(cost, lo, hi float64, cells ...cell) int {
	g.cost, g.lo, g.hi, g.cols = append(g.cost, cost), append(g.lo, lo), append(g.hi, hi),
		append(g.cols, cells)
	return len(g.cost) - 1
}

func (g *program) build() *Problem {
	p := New()
	for i := range g.rowLo {
		p.AddRow(g.rowLo[i], g.rowHi[i])
	}
	for j := range g.cols {
		g.addTo(p, j)
	}
	return p
}

func (g *program) addTo(p *Problem, j int) {
	var rows []int
	var coefs []float64
	for _, c := range g.cols[j] {
		rows, coefs = append(rows, c.row), append(coefs, c.coef)
	}
	p.AddColumn(g.cost[j], g.lo[j], g.hi[j], rows, coefs)
}

// certify checks that X and Dual prove each other optimal: X obeys all bounds, every dual and
// reduced cost that is not zero sits at a bound of its sign, and so weak duality leaves no better
// point. It uses the data, not the solver.
func (g *program) certify(t *testing.T, p *Problem) {
	t.Helper()
	const tol = 1e-7
	activity, terms := make([]float64, len(g.rowLo)), make([]float64, len(g.rowLo))
	value, costSize := 0.0, 1.0
	for j, col := range g.cols {
		x := p.X(j)
		inside(t, "column", j, x, g.lo[j], g.hi[j], tol)
		for _, c := range col {
			activity[c.row] += c.coef * x
			terms[c.row] += math.Abs(c.coef * x)
		}
		value += g.cost[j] * x
		costSize = math.Max(costSize, math.Abs(g.cost[j]))
	}
	// The dual value: each variable at the bound that its reduced cost asks for.
	bound, size := 0.0, 1.0
	at := func(d, tol, lo, hi float64) {
		b := lo
		if d < 0 {
			b = hi
		}
		if math.IsInf(b, 0) {
			if math.Abs(d) > tol {
				t.Fatalf("dual or reduced cost %g asks for an infinite bound (tolerance %g)", d,
					tol)
			}
			return
		}
		bound += d * b
		size += math.Abs(d * b)
	}
	for i := range activity {
		scaled := tol * (1 + terms[i])
		inside(t, "row", i, activity[i], g.rowLo[i], g.rowHi[i], scaled)
		at(p.Dual(i), tol*costSize, g.rowLo[i], g.rowHi[i])
	}
	for j, col := range g.cols {
		d, scale := g.cost[j], costSize
		for _, c := range col {
			d -= c.coef * p.Dual(c.row)
			scale = math.Max(scale, math.Abs(c.coef*p.Dual(c.row)))
		}
		if diff := math.Abs(d - p.ReducedCost(j)); diff > tol*scale {
			t.Fatalf("column %d: reduced cost %g, should be %g", j, p.ReducedCost(j), d)
		}
		at(d, tol*scale, g.lo[j], g.hi[j])
	}
	if math.Abs(value-p.Value()) > tol*(1+math.Abs(value)) {
		t.Fatalf("Value %g, but X costs %g", p.Value(), value)
	}
	if math.Abs(value-bound) > tol*10*(size+math.Abs(value)) {
		t.Fatalf("value %.12g, dual bound %.12g", value, bound)
	}
}

func inside(t *testing.T, what string, i int, x, lo, hi, tol float64) {
	t.Helper()
	if x < lo-tol*(1+math.Abs(lo)) || x > hi+tol*(1+math.Abs(hi)) || math.IsNaN(x) {
		t.Fatalf("%s %d: %.12g outside [%g, %g]", what, i, x, lo, hi)
	}
}

// shortfall is the first phase of g: the same rows with a gap variable either way, whose sum is
// minimised. It always has a feasible point, unless column bounds cross, and is 0 exactly if g has
// one.
func (g *program) shortfall() *program {
	h := &program{rowLo: g.rowLo, rowHi: g.rowHi}
	for j, col := range g.cols {
		h.column(0, g.lo[j], g.hi[j], col...)
	}
	for i := range g.rowLo {
		h.column(1, 0, inf, cell{i, 1})
		h.column(1, 0, inf, cell{i, -1})
	}
	return h
}

// judge solves and checks whatever comes out.
func (g *program) judge(t *testing.T, p *Problem) Status {
	t.Helper()
	status := p.Solve()
	switch status {
	case Optimal:
		g.certify(t, p)
	case Infeasible:
		h := g.shortfall()
		q := h.build()
		if s := q.Solve(); s != Optimal {
			t.Fatalf("infeasible, but its first phase is %v", s)
		}
		h.certify(t, q)
		if q.Value() < 1e-8 {
			t.Fatalf("infeasible, but rows can be met within %g", q.Value())
		}
	case Unbounded:
		// By duality: some point is feasible, and no duals are, that is, the program is still
		// without bound when all right-hand sides make the origin feasible.
		h := g.shortfall()
		q := h.build()
		if s := q.Solve(); s != Optimal || q.Value() > 1e-6 {
			t.Fatalf("unbounded, but the first phase is %v with %g", s, q.Value())
		}
		ray := g.cone()
		q = ray.build()
		if s := q.Solve(); s != Optimal || q.Value() > -1e-7 {
			t.Fatalf("unbounded, but no direction improves: %v %g", s, q.Value())
		}
		ray.certify(t, q)
	default:
		t.Fatalf("status %v", status)
	}
	return status
}

// cone is the program over directions along which g stays feasible, boxed to [-1, 1].
func (g *program) cone() *program {
	h := &program{}
	side := func(b, box float64) float64 {
		if math.IsInf(b, 0) {
			return box
		}
		return 0
	}
	for i := range g.rowLo {
		h.row(side(g.rowLo[i], -inf), side(g.rowHi[i], inf))
	}
	for j, col := range g.cols {
		h.column(g.cost[j], side(g.lo[j], -1), side(g.hi[j], 1), col...)
	}
	return h
}

func source(seed int) *rand.Rand { return rand.New(rand.NewPCG(uint64(seed), 77)) }

package lp

import (
	"math"
	"testing"
)

// TestBruteForce compares with every choice of basis and bounds of small boxed programs: an
// optimum, if there is one, lies at such a point.
func TestBruteForce(t *testing.T) {
	count := map[Status]int{}
	for seed := range 400 {
		r := source(seed)
		m, n := 1+r.IntN(3), 1+r.IntN(4)
		g := general(r, m, n, 0.7, 0, r.IntN(3) > 0)
		for j := range g.cols {
			g.lo[j], g.hi[j] = math.Max(g.lo[j], -6), math.Min(g.hi[j], 6)
		}
		best := g.enumerate()
		p := g.build()
		status := p.Solve()
		count[status]++
		switch {
		case status == Infeasible && math.IsInf(best, 1):
		case status == Optimal && math.Abs(best-p.Value()) <= 1e-7*(1+math.Abs(best)):
		default:
			t.Fatalf("seed %d: %v %g, by enumeration %g", seed, status, p.Value(), best)
		}
	}
	if count[Optimal] < 100 || count[Infeasible] < 40 {
		t.Fatalf("too few of a kind: %v", count)
	}
}

// enumerate returns the least cost over all basic points, infinite if none is feasible. Every
// variable (columns, then activities) is basic or at one of its finite bounds, with as many basic
// as there are rows.
func (g *program) enumerate() float64 {
	m, n := len(g.rowLo), len(g.cols)
	lo := append(append([]float64{}, g.lo...), g.rowLo...)
	hi := append(append([]float64{}, g.hi...), g.rowHi...)
	best := math.Inf(1)
	x := make([]float64, n+m)
	var basic []int
	var walk func(v int)
	walk = func(v int) {
		if v == n+m {
			if len(basic) == m && g.complete(x, basic) {
				cost := 0.0
				for k := range x {
					if x[k] < lo[k]-1e-9 || x[k] > hi[k]+1e-9 {
						return
					}
					if k < n {
						cost += g.cost[k] * x[k]
					}
				}
				best = math.Min(best, cost)
			}
			return
		}
		if len(basic) < m {
			basic = append(basic, v)
			walk(v + 1)
			basic = basic[:len(basic)-1]
		}
		for _, b := range []float64{lo[v], hi[v]} {
			if !math.IsInf(b, 0) {
				x[v] = b
				walk(v + 1)
			}
		}
		if math.IsInf(lo[v], 0) && math.IsInf(hi[v], 0) {
			x[v] = 0
			walk(v + 1)
		}
	}
	walk(0)
	return best
}

// complete finds the basic entries of x from the equations by elimination; false if they are not
// unique.
func (g *program) complete(x []float64, basic []int) bool {
	m, n := len(g.rowLo), len(g.cols)
	dense := make([][]float64, m) // of the equations sum_j a_ij x_j - s_i = 0
	for i := range dense {
		dense[i] = make([]float64, n+m)
		dense[i][n+i] = -1
	}
	for j, col := range g.cols {
		for _, c := range col {
			dense[c.row][j] += c.coef
		}
	}
	for _, v := range basic {
		x[v] = 0
	}
	a := make([][]float64, m)
	for i := range a {
		for _, v := range basic {
			a[i] = append(a[i], dense[i][v])
		}
		rhs := 0.0
		for v, c := range dense[i] {
			rhs -= c * x[v]
		}
		a[i] = append(a[i], rhs)
	}
	for k := range m {
		top := k
		for i := k; i < m; i++ {
			if math.Abs(a[i][k]) > math.Abs(a[top][k]) {
				top = i
			}
		}
		if math.Abs(a[top][k]) < 1e-9 {
			return false
		}
		a[k], a[top] = a[top], a[k]
		for i := range m {
			if i != k {
				f := a[i][k] / a[k][k]
				for c := k; c <= m; c++ {
					a[i][c] -= f * a[k][c]
				}
			}
		}
	}
	for k, v := range basic {
		x[v] = a[k][m] / a[k][k]
	}
	return true
}

//go:build lpsolve

package assign

import (
	"math"
	"math/rand/v2"
	"testing"

	"rackwright/nest/lp/lpsolve"
)

// random is a sparse problem whose costs are so few that many plans cost the same.
func random(r *rand.Rand) *Problem {
	p := &Problem{}
	vertices := func(n int) (all []Vertex) {
		for range n {
			all = append(all, Vertex{int64(r.IntN(4)), int64(2 * r.IntN(4))})
		}
		return all
	}
	p.Left, p.Right = vertices(1+r.IntN(60)), vertices(1+r.IntN(60))
	most := []int{2, 3, 6, 12}[r.IntN(4)]
	for l := range p.Left {
		for _, at := range r.Perm(len(p.Right))[:r.IntN(1+min(len(p.Right), 9))] {
			p.Edges = append(p.Edges, Edge{l, at, int64(r.IntN(most))})
		}
	}
	return p
}

// outside is the program for lp_solve: what each edge saves, summed up, is to be the greatest. Its
// vertices are whole, as each column meets one row of either side. With a face, only the points
// that save so much are left, and one column, or its negative, is to be the least.
func outside(t *testing.T, p *Problem, face float64, column int, sign float64) (value float64) {
	q := lpsolve.New()
	defer q.Free()
	inf := math.Inf(1)
	for _, side := range [][]Vertex{p.Left, p.Right} {
		for _, v := range side {
			q.AddRow(-inf, float64(v.Copies))
		}
	}
	onFace := column >= 0
	if onFace {
		q.AddRow(face, face)
	}
	for e, edge := range p.Edges {
		saves := float64(edge.Cost - p.Left[edge.Left].Alone - p.Right[edge.Right].Alone)
		rows, coefs := []int{edge.Left, len(p.Left) + edge.Right}, []float64{1, 1}
		cost := saves
		if onFace {
			if cost = 0; e == column {
				cost = sign
			}
			if saves != 0 {
				rows, coefs = append(rows, len(p.Left)+len(p.Right)), append(coefs, saves)
			}
		}
		q.AddColumn(cost, 0, inf, false, rows, coefs)
	}
	if s := q.Solve(); s != lpsolve.Optimal {
		t.Fatalf("lp_solve ends %s\n%+v", s, p)
	}
	return q.Value()
}

// TestReference solves random sparse problems with lp_solve 5.5: the same cost; and an edge varies
// just if its copies can be more or fewer, as lp_solve finds, at that cost.
func TestReference(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 28))
	edges, vary, alike := 0, 0, 0
	for n := range 500 {
		p := random(r)
		got, err := Solve(p)
		if err != nil {
			t.Fatal(err)
		}
		alone := int64(0)
		for _, side := range [][]Vertex{p.Left, p.Right} {
			for _, v := range side {
				alone += v.Copies * v.Alone
			}
		}
		if len(p.Edges) == 0 {
			continue
		}
		value := outside(t, p, 0, -1, 0)
		saved := math.Round(value)
		if math.Abs(value-saved) > 1e-6 || alone+int64(saved) != got.Cost {
			t.Fatalf("problem %d costs %d, by lp_solve %.6f\n%+v", n, got.Cost,
				float64(alone)+value, p)
		}
		for range 4 {
			e := r.IntN(len(p.Edges))
			least := outside(t, p, saved, e, 1)
			most := -outside(t, p, saved, e, -1)
			differs := most-least > 1e-6
			if is := float64(got.Matched[e]); differs != got.Varies[e] || is < least-1e-6 ||
				is > most+1e-6 {
				t.Fatalf("problem %d, edge %d: %d copies, varies %v; by lp_solve %.6f to %.6f\n%+v",
					n, e, got.Matched[e], got.Varies[e], least, most, p)
			}
			edges++
			if differs {
				vary++
			} else {
				alike++
			}
		}
	}
	if vary < edges/20 || alike < edges/20 {
		t.Errorf("of %d edges %d vary and %d do not", edges, vary, alike)
	}
	t.Logf("of %d edges %d vary", edges, vary)
}

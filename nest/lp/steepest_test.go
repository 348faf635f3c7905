package lp

import (
	"math"
	"testing"
)

// TestWeights checks that what steepest edge keeps from pivot to pivot is, after any changes, the
// squared length of the rows of B^-1 and the reduced costs of the basis.
func TestWeights(t *testing.T) {
	kept := 0
	for seed := range 80 {
		r := source(seed)
		items, stocks := 3+r.IntN(20), 1+r.IntN(20)
		g := cutting(r, items, stocks, 50)
		p := g.build()
		for step := range 20 {
			if step > 0 {
				g.change(r, p, true, items, stocks)
			}
			if p.Solve() != Optimal {
				continue
			}
			if p.steep {
				kept++
				had := append([]float64(nil), p.dualWeight...)
				p.weigh()
				for _, v := range p.head {
					if w := p.dualWeight[v]; math.Abs(w-had[v]) > 1e-6*(1+w) {
						t.Fatalf("seed %d step %d: weight %g, truly %g", seed, step, had[v], w)
					}
				}
			}
			had := append([]float64(nil), p.d...)
			p.refactor()
			for v, d := range p.d {
				if p.way[v] != 0 && math.Abs(d-had[v]) > 1e-7*(1+math.Abs(d)) {
					t.Fatalf("seed %d step %d: reduced cost %g, truly %g", seed, step, had[v], d)
				}
			}
		}
	}
	if kept < 500 {
		t.Fatalf("weights were kept %d times only", kept)
	}
}

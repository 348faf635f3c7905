package lp

import (
	"math"
	"testing"
	"time"
)

// TestGeneration runs column generation to its end and checks that no change of how many columns
// come in a round moves the value, and that the final duals price every stock's best pattern at
// nothing.
func TestGeneration(t *testing.T) {
	for seed := range 6 {
		s := newShop(source(seed), 8+4*seed, 5+12*seed)
		var values []float64
		for _, limit := range []int{1, 5, 100} {
			p := s.master()
			s.generate(p, limit, func(time.Duration) {})
			values = append(values, p.Value())
			for i := range s.size {
				if p.Dual(i) < 0 {
					t.Fatalf("seed %d: dual %g of a demand row", seed, p.Dual(i))
				}
			}
			for k := range s.stock {
				if d := p.Dual(len(s.size) + k); d > 0 {
					t.Fatalf("seed %d: dual %g of a supply row", seed, d)
				}
			}
		}
		for _, v := range values {
			if math.Abs(v-values[0]) > 1e-6*math.Abs(values[0]) {
				t.Fatalf("seed %d: values %v", seed, values)
			}
		}
	}
}

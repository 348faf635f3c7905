package cuts

import (
	"math/rand/v2"
	"testing"

	"rackwright/nest/price"
)

// A cut never takes away a whole point that the rows before it allow, whatever its multipliers.
func TestCutsTakeNoWholePoint(t *testing.T) {
	r := rand.New(rand.NewPCG(42, 1))
	tight := 0
	for n := range 20000 {
		p := &node{Program: &Program{Meter: &price.Meter{}}}
		items, stocks := 1+r.IntN(3), 1+r.IntN(2)
		for range items {
			p.Demand = append(p.Demand, r.Int64N(12))
		}
		for range stocks {
			least := r.Int64N(2)
			p.Least, p.Most = append(p.Least, least), append(p.Most, least+r.Int64N(6))
		}
		for range 1 + r.IntN(4) {
			e := &Entry{Stock: r.IntN(stocks)}
			for i := range items {
				if c := r.Int64N(5); c > 0 {
					e.Items, e.Counts = append(e.Items, int32(i)), append(e.Counts, int32(c))
				}
			}
			p.list = append(p.list, e)
		}
		for range 3 { // cuts of cuts
			c := &Cut{Den: 2 + r.Int64N(40)}
			for at := range p.fixed() + len(p.rows) {
				if u := r.Int64N(c.Den); u > 0 && r.IntN(3) > 0 {
					c.Rows = append(c.Rows, RowOf{at, u})
				}
			}
			if made := p.round(c); made != nil {
				p.rows = append(p.rows, row{made, nil})
			}
		}
		point := make([]int64, len(p.list))
		var visit func(j int)
		visit = func(j int) {
			if j < len(point) {
				for point[j] = 0; point[j] < 5; point[j]++ {
					visit(j + 1)
				}
				return
			}
			for at := range p.fixed() {
				left, _ := p.leastOf(at)
				for j, e := range p.list {
					left -= p.base(at, e) * point[j]
				}
				if left > 0 {
					return // no point of the program
				}
			}
			for at, row := range p.rows {
				left := -row.least
				for j, v := range row.coefs {
					left += int64(v) * point[j]
				}
				if left < 0 {
					t.Fatalf("case %d: cut %d cuts off %v", n, at, point)
				}
				if left == 0 {
					tight++
				}
			}
		}
		visit(0)
	}
	if tight < 1000 {
		t.Errorf("%d points on a row: too few to tell", tight)
	}
}

package across

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"rackwright/nest/price"
)

// BenchmarkAcross prices ten stocks in turn, with new duals after each round. price is the quick
// way, vouch the exact one, columns the quick way with a walk for each item. steps/op is the work
// counted; %less is how often the quick way misses the best.
func BenchmarkAcross(b *testing.B) {
	for _, widths := range []int{2, 5, 10} {
		for _, spots := range []int{0, 1, 3, 6} {
			for _, way := range []string{"price", "vouch", "columns"} {
				b.Run(fmt.Sprintf("%d widths, %d spots, %s", widths, spots, way),
					func(b *testing.B) { benchmark(b, widths, spots, way) })
			}
		}
	}
}

func benchmark(b *testing.B, widths, spots int, way string) {
	r := rand.New(rand.NewPCG(3, uint64(widths)))
	p, duals := shopStocks(r, 10, widths, spots)
	m := &price.Meter{}
	pricers := allPricers(p, m)
	less := 0
	ask := &price.Ask{Duals: duals, Demand: make([]int64, len(duals))}
	for n := range b.N {
		pr := pricers[n%len(pricers)]
		if n%len(pricers) == 0 {
			ask = &price.Ask{Round: ask.Round + 1, Demand: ask.Demand}
			for _, d := range duals {
				ask.Duals = append(ask.Duals, d*(95+r.Int64N(10))/100)
			}
		}
		switch way {
		case "vouch":
			pr.Vouch(ask, price.Never)
		case "columns":
			pr.Price(ask)
			for i := range p.Items {
				pr.Walk(nil, i)
			}
		default:
			v := pr.Price(ask)
			b.StopTimer()
			before := m.Steps
			if best, _ := pr.Vouch(ask, price.Never); best > v {
				less++
			}
			m.Steps = before
			b.StartTimer()
		}
	}
	b.ReportMetric(float64(m.Steps)/float64(b.N), "steps/op")
	if way == "price" {
		b.ReportMetric(100*float64(less)/float64(b.N), "%less")
	}
}

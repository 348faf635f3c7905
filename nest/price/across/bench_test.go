package across

import (
	"cmp"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// shopSheets is a group of stocks on a grid of 1/16 in (unit 1/64 in): 22 items of so many widths,
// stocks 96 to 144 in long and 5 1/2 in wide, each with so many spots.
func shopStocks(r *rand.Rand, stocks, widths, spots int) (*cutting.Problem, []int64) {
	const in = 64
	n := func(lo, hi int64) int64 { return (lo + r.Int64N(hi-lo+1)) * in / 16 }
	p := &cutting.Problem{Kerf: in / 8, Rip: in / 8}
	var ws []int64
	for range widths {
		ws = append(ws, n(20, 84))
	}
	var duals []int64
	var holds []int
	for i := range 22 {
		it := cutting.Item{Size: n(6*16, 60*16), Width: ws[i%widths], Class: r.IntN(3),
			Demand: 1 + r.Int64N(4)}
		p.Items = append(p.Items, it)
		holds = append(holds, i)
		duals = append(duals, it.Size*it.Width*(90+r.Int64N(30))*3)
	}
	for range stocks {
		s := cutting.Stock{To: n(96*16, 144*16), Keep: 12 * in,
			Rate: cutting.Rate{Num: 352 * 3 * 50, Den: 1}, Supply: 1,
			Holds: holds}
		a := &cutting.Across{Width: 11 * in / 2, Inset: in / 16, Keep: 3 * in / 2, Trim: true,
			ShortestRip: 12 * in, Narrowest: 3 * in / 4}
		for range spots {
			x, y := r.Int64N(s.To-6*in), r.Int64N(a.Width-in)
			x, y = x-x%(in/16), y-y%(in/16)
			o := cutting.Spot{Left: y, Right: min(a.Width, y+n(12, 32))}
			o.From, o.To = x, x+n(12, 64)
			o.Tolerated[2] = r.IntN(2) == 0
			s.Spots = append(s.Spots, o)
		}
		slices.SortStableFunc(s.Spots, func(x, y cutting.Spot) int {
			return cmp.Compare(x.From, y.From)
		})
		s.Across = a
		p.Stocks = append(p.Stocks, s)
	}
	return p, duals
}

func BenchmarkAcross(b *testing.B) {
	for _, widths := range []int{2, 5, 10} {
		for _, spots := range []int{0, 1, 3, 6} {
			for _, way := range []string{"price", "vouch", "columns"} {
				b.Run(fmt.Sprintf("%d widths, %d spots, %s", widths, spots, way),
					func(b *testing.B) {
						r := rand.New(rand.NewPCG(3, uint64(widths)))
						p, duals := shopStocks(r, 10, widths, spots)
						m := &price.Meter{}
						pricers := allPricers(p, m)
						var less, all int64
						at := 0
						q := &price.Ask{Scale: 1, Duals: duals, Demand: make([]int64, len(duals))}
						for range b.N {
							if at%len(pricers) == 0 {
								q = &price.Ask{Scale: 1, Round: q.Round + 1, Demand: q.Demand}
								for _, d := range duals {
									q.Duals = append(q.Duals, d*(95+r.Int64N(10))/100)
								}
							}
							pr := pricers[at%len(pricers)]
							at++
							if way == "vouch" {
								pr.Vouch(q)
								continue
							}
							v := pr.Price(q)
							if way == "columns" {
								for i := range p.Items {
									pr.Walk(nil, i)
								}
								continue
							}
							b.StopTimer()
							before := m.Steps
							if pr.Vouch(q) > v {
								less++
							}
							m.Steps = before
							all++
							b.StartTimer()
						}
						b.ReportMetric(float64(m.Steps)/float64(b.N), "steps/op")
						if all > 0 {
							b.ReportMetric(100*float64(less)/float64(all), "%less")
						}
					})
			}
		}
	}
}

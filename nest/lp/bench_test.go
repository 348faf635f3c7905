package lp

import (
	"cmp"
	"math/rand/v2"
	"slices"
	"testing"
	"time"
)

// shop is a cutting-stock instance: items with demands, and single stocks of many sizes; a stock
// costs its size.
type shop struct {
	size, demand []int
	stock        []int
}

func newShop(r *rand.Rand, items, stocks int) shop {
	s := shop{}
	for range items {
		s.size, s.demand = append(s.size, 150+r.IntN(700)), append(s.demand, 1+r.IntN(6))
	}
	need := 0
	for i, l := range s.size {
		need += l * s.demand[i]
	}
	for range stocks {
		// Together about 1.7 times what is needed.
		mean := max(1000, 17*need/(10*stocks))
		s.stock = append(s.stock, mean/2+r.IntN(mean))
	}
	return s
}

// master gives the rows and one dear column for each item.
func (s shop) master() *Problem {
	p := New()
	for _, d := range s.demand {
		p.AddRow(float64(d), inf)
	}
	for range s.stock {
		p.AddRow(-inf, 1)
	}
	for i, l := range s.size {
		p.AddColumn(float64(20*l), 0, inf, []int{i}, []float64{1})
	}
	return p
}

type found struct {
	stock  int
	profit float64
}

// price adds the best pattern of each stock, most wanted first, up to limit of them; it returns how
// many.
func (s shop) price(p *Problem, limit int) int {
	longest := slices.Max(s.stock)
	best, last := make([]float64, longest+1), make([]int, longest+1)
	for x := 1; x <= longest; x++ {
		best[x], last[x] = best[x-1], -1
		for i, l := range s.size {
			if l <= x {
				if v := best[x-l] + p.Dual(i); v > best[x]+1e-12 {
					best[x], last[x] = v, i
				}
			}
		}
	}
	var all []found
	for k, l := range s.stock {
		if gain := best[l] + p.Dual(len(s.size)+k) - float64(l); gain > 1e-6 {
			all = append(all, found{k, gain})
		}
	}
	slices.SortStableFunc(all, func(a, b found) int { return cmp.Compare(b.profit, a.profit) })
	all = all[:min(limit, len(all))]
	for _, f := range all {
		count := make([]float64, len(s.size))
		for x := s.stock[f.stock]; x > 0; {
			if i := last[x]; i >= 0 {
				count[i]++
				x -= s.size[i]
			} else {
				x--
			}
		}
		rows, coefs := []int{len(s.size) + f.stock}, []float64{1}
		for i, c := range count {
			if c > 0 {
				rows, coefs = append(rows, i), append(coefs, c)
			}
		}
		p.AddColumn(float64(s.stock[f.stock]), 0, inf, rows, coefs)
	}
	return len(all)
}

// generate runs column generation to its end and returns the rounds.
func (s shop) generate(p *Problem, limit int, solved func(time.Duration)) (rounds int) {
	for {
		begin := time.Now()
		if status := p.Solve(); status != Optimal {
			panic(status)
		}
		solved(time.Since(begin))
		rounds++
		if s.price(p, limit) == 0 {
			return rounds
		}
	}
}

func benchmarkGeneration(b *testing.B, items, stocks, limit int) {
	s := newShop(source(items), items, stocks)
	var spent time.Duration
	rounds, pivots, columns := 0, 0, 0
	for b.Loop() {
		p := s.master()
		rounds += s.generate(p, limit, func(d time.Duration) { spent += d; pivots += p.iterations })
		columns += p.Columns()
	}
	n := float64(b.N)
	b.ReportMetric(spent.Seconds()*1e3/n, "lp-ms")
	b.ReportMetric(float64(rounds)/n, "rounds")
	b.ReportMetric(float64(pivots)/n, "pivots")
	b.ReportMetric(float64(columns)/n, "columns")
}

// Column generation from dear columns to the end; lp-ms is the time in Solve.
func BenchmarkGeneration80(b *testing.B)   { benchmarkGeneration(b, 40, 40, 30) }
func BenchmarkGeneration80x1(b *testing.B) { benchmarkGeneration(b, 40, 40, 1) }
func BenchmarkGeneration360(b *testing.B)  { benchmarkGeneration(b, 60, 300, 300) }
func BenchmarkGeneration300(b *testing.B)  { benchmarkGeneration(b, 100, 200, 100) }
func BenchmarkGeneration720(b *testing.B)  { benchmarkGeneration(b, 120, 600, 300) }

func benchmarkRows(b *testing.B, items, stocks int) {
	s := newShop(source(items), items, stocks)
	p := s.master()
	s.generate(p, 300, func(time.Duration) {})
	b.Run("cold", func(b *testing.B) {
		for b.Loop() {
			q := p.Clone()
			q.head, q.place = nil, nil
			q.x, q.d, q.workLo, q.workHi, q.workCost, q.row = nil, nil, nil, nil, nil, nil
			q.weight, q.dualWeight, q.way, q.stamp = nil, nil, nil, nil
			if q.Solve() != Optimal {
				b.Fatal("not optimal")
			}
			b.ReportMetric(float64(q.iterations), "pivots")
		}
		b.ReportMetric(float64(p.Columns()), "columns")
	})
	b.Run("warm", func(b *testing.B) {
		k := 0
		for b.Loop() {
			i := items + k%stocks
			k++
			p.SetRow(i, 0, 0)
			if p.Solve() != Optimal {
				b.Fatal("not optimal")
			}
			p.SetRow(i, -inf, 1)
			if p.Solve() != Optimal {
				b.Fatal("not optimal")
			}
		}
	})
	b.Run("clone", func(b *testing.B) {
		for b.Loop() {
			q := p.Clone()
			q.SetRow(items, 0, 0)
			if q.Solve() != Optimal {
				b.Fatal("not optimal")
			}
		}
	})
}

// All columns of a finished generation: from scratch; one stock forbidden and allowed again (two
// warm solves); a clone with one stock forbidden.
func BenchmarkRows80(b *testing.B)  { benchmarkRows(b, 40, 40) }
func BenchmarkRows300(b *testing.B) { benchmarkRows(b, 100, 200) }
func BenchmarkRows700(b *testing.B) { benchmarkRows(b, 120, 580) }

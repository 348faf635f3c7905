package main

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"

	"rackwright/nest/lp"
)

// shop is an invented cutting-stock program: items with demands, and boards of many lengths, each
// one of its own, that together are about 1.7 times what is needed. A board costs its length.
type shop struct {
	size, demand, board []int
	patterns            []pattern // found so far
}

type pattern struct {
	cost  float64
	rows  []int
	coefs []float64
}

func newShop(items, boards int) *shop {
	r := rand.New(rand.NewPCG(uint64(items), 9))
	s := &shop{}
	need := 0
	for range items {
		size, demand := 150+r.IntN(700), 1+r.IntN(6)
		s.size, s.demand, need = append(s.size, size), append(s.demand, demand), need+size*demand
	}
	mean := max(1000, 17*need/(10*boards))
	for range boards {
		s.board = append(s.board, mean/2+r.IntN(mean))
	}
	return s
}

// generate runs column generation from a dear column for each item to its end, up to so many
// columns a round, and then solves the program that comes of it once more, from nothing.
func (s *shop) generate(most int) {
	p := s.program()
	for p.Solve() == lp.Optimal && s.price(p, most) > 0 {
	}
	s.program().Solve()
}

func (s *shop) program() *lp.Problem {
	p := lp.New()
	for _, d := range s.demand {
		p.AddRow(float64(d), math.Inf(1))
	}
	for range s.board {
		p.AddRow(math.Inf(-1), 1)
	}
	for i, size := range s.size {
		p.AddColumn(float64(20*size), 0, math.Inf(1), []int{i}, []float64{1})
	}
	for _, t := range s.patterns {
		p.AddColumn(t.cost, 0, math.Inf(1), t.rows, t.coefs)
	}
	return p
}

type offer struct {
	board int
	gain  float64
}

// price adds the best pattern of each board, those that gain most first, and says how many.
func (s *shop) price(p *lp.Problem, most int) int {
	best, last := s.knapsack(p)
	var offers []offer
	for k, length := range s.board {
		gain := best[length] + p.Dual(len(s.size)+k) - float64(length)
		if gain > 1e-6 {
			offers = append(offers, offer{k, gain})
		}
	}
	slices.SortStableFunc(offers, func(a, b offer) int { return cmp.Compare(b.gain, a.gain) })
	offers = offers[:min(most, len(offers))]
	for _, o := range offers {
		count := make([]float64, len(s.size))
		for x := s.board[o.board]; x > 0; {
			if i := last[x]; i >= 0 {
				count[i]++
				x -= s.size[i]
			} else {
				x--
			}
		}
		rows, coefs := []int{len(s.size) + o.board}, []float64{1}
		for i, c := range count {
			if c > 0 {
				rows, coefs = append(rows, i), append(coefs, c)
			}
		}
		t := pattern{float64(s.board[o.board]), rows, coefs}
		p.AddColumn(t.cost, 0, math.Inf(1), rows, coefs)
		s.patterns = append(s.patterns, t)
	}
	return len(offers)
}

// knapsack gives the best worth by the duals of each length, and the item put in last or -1.
func (s *shop) knapsack(p *lp.Problem) (best []float64, last []int) {
	longest := slices.Max(s.board)
	best, last = make([]float64, longest+1), make([]int, longest+1)
	for x := 1; x <= longest; x++ {
		best[x], last[x] = best[x-1], -1
		for i, size := range s.size {
			if size <= x && best[x-size]+p.Dual(i) > best[x]+1e-12 {
				best[x], last[x] = best[x-size]+p.Dual(i), i
			}
		}
	}
	return best, last
}

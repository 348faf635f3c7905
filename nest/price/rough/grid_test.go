package rough_test

import (
	"math/rand/v2"
	"slices"
	"testing"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
	"rackwright/nest/price/across"
	"rackwright/nest/price/along"
	"rackwright/nest/price/rough"
)

// offGrid is a problem of one stock whose measures share next to nothing, with duals by which its
// offcuts are worth about as much as its pieces, or by chance, and a grid for it.
func offGrid(rng *rand.Rand, rippable bool) (*cutting.Problem, []int64, rough.Grid) {
	p := randomProblem(rng, rippable)
	s := &p.Stocks[0]
	g := rough.Grid{Along: []int64{2, 3, 4}[rng.IntN(3)]}
	s.Slope = rng.Int64N(12)
	s.Keep = g.Along - 1 + rng.Int64N(2)*rng.Int64N(4)
	if a := s.Across; a != nil {
		g.Along *= rng.Int64N(2)
		g.Across = []int64{0, 2, 3, 4}[rng.IntN(4)]
		a.Width, a.Inset, a.Strip = 8+rng.Int64N(16), rng.Int64N(2)*rng.Int64N(4),
			rng.Int64N(s.Slope+1)
		s.Keep = 2*g.Along + rng.Int64N(2)*rng.Int64N(4)
		a.Keep = g.Across + rng.Int64N(2)*rng.Int64N(4)
		p.RipCost *= rng.Int64N(20)
	}
	duals := make([]int64, len(p.Items))
	worth := s.Slope * rng.Int64N(3)
	for i := range p.Items {
		it := &p.Items[i]
		it.Demand = 99 // exactly as well, any number of them
		duals[i] = it.Size*worth/2 + rng.Int64N(60)
		if a := s.Across; a != nil {
			duals[i] = it.Size*it.Width*worth/2 + rng.Int64N(60)
			if rng.IntN(3) == 0 {
				it.Width = max(1, a.Width-2*a.Inset) // from edge to edge of what may be sawn
			}
			if len(s.Spots) > 0 && rng.IntN(2) == 0 {
				it.Width = max(1, min(a.Width, s.Spots[0].Left))
			}
		}
	}
	for n := range s.Spots {
		if a := s.Across; a != nil {
			o := &s.Spots[n]
			o.Left = min(o.Left, a.Width-1)
			o.Right = min(a.Width, max(o.Left+1, o.Right))
			o.Weak = rng.IntN(2) == 0
		}
	}
	return p, duals, g
}

// pricer makes the exact pricer of a stock.
func pricer(p *cutting.Problem) price.Pricer {
	m := &price.Meter{}
	if p.Stocks[0].Rippable() {
		return across.NewMaker(p, m, price.Unlimited()).Pricer(0)
	}
	return along.NewMaker(p, m).Pricer(0)
}

// On a coarser grid a stock that has any layout never gives less than the exact pricers say, and
// each way of rounding is such that a pricer on the grid can reckon with it.
func TestOnGridNoLessThanExact(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 2))
	rounds, tried, worse, coarse := 60000, 0, 0, 0
	if testing.Short() {
		rounds = 6000
	}
	for n := range rounds {
		p, duals, g := offGrid(rng, n%3 > 0)
		on := rough.Onto(p, g)
		s, cost, ok := on.Stock(0)
		if !ok {
			coarse++
			continue
		}
		q := on.Problem
		q.Stocks, q.RipCost = []cutting.Stock{s}, cost
		demand := slices.Repeat([]int64{99}, len(duals))
		ask := &price.Ask{Duals: duals, Demand: demand, Round: 1}
		exact := pricer(p)
		best, _ := exact.Vouch(ask, price.Never)
		if exact.Walk(nil, -1) == nil {
			continue // no piece has a place
		}
		tried++
		got, _ := pricer(&q).Vouch(ask, price.Never)
		if got < best {
			t.Fatalf("problem %d, grid %+v: %d on the grid, %d exactly\n%+v %+v\nduals %v\n%+v\n%+v",
				n, g, got, best, p, p.Stocks[0].Across, duals, exact.Walk(nil, -1), q)
		}
		if got > best {
			worse++
		}
	}
	if tried < rounds/2 || worse < tried/4 || coarse > rounds/3 {
		t.Errorf("of %d problems %d are tried, %d give more; %d grids are too coarse", rounds, tried,
			worse, coarse)
	}
}

package rough_test

import (
	"math/rand/v2"
	"testing"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
	"rackwright/nest/price/across"
	"rackwright/nest/price/along"
	"rackwright/nest/price/rough"
)

// randomProblem is a small problem of one stock, with Across or without.
func randomProblem(rng *rand.Rand, rippable bool) *cutting.Problem {
	p := &cutting.Problem{Kerf: rng.Int64N(4), Rip: rng.Int64N(4), RipCost: rng.Int64N(3), Coin: 1}
	s := cutting.Stock{From: rng.Int64N(3), Cost: 1000, Supply: 1, Slope: rng.Int64N(4),
		Keep: rng.Int64N(6)}
	s.To = s.From + 10 + rng.Int64N(30)
	if rippable {
		s.Across = &cutting.Across{Width: 4 + rng.Int64N(12), Inset: rng.Int64N(2),
			Keep: rng.Int64N(4), Strip: rng.Int64N(s.Slope + 1), Trim: rng.IntN(2) > 0,
			ShortestRip: rng.Int64N(8), Narrowest: rng.Int64N(3)}
	}
	for n := range 1 + rng.IntN(3) {
		p.Items = append(p.Items, cutting.Item{Size: 3 + rng.Int64N(15), Width: 1 + rng.Int64N(8),
			Class: rng.IntN(3), Demand: 9})
		s.Holds = append(s.Holds, n)
		if rippable && rng.IntN(4) == 0 {
			s.Across.Whole = append(s.Across.Whole, n)
		}
	}
	for range rng.IntN(3) {
		at := s.From + rng.Int64N(s.To-s.From)
		o := cutting.Spot{From: at, To: min(s.To, at+1+rng.Int64N(5)), Tolerated: [3]bool{
			false, rng.IntN(2) > 0, rng.IntN(2) > 0}}
		if rippable {
			o.Left = rng.Int64N(s.Across.Width)
			o.Right = min(s.Across.Width, o.Left+1+rng.Int64N(4))
			o.Weak = rng.IntN(4) == 0
		}
		s.Spots = append(s.Spots, o)
	}
	if n := len(s.Spots); n == 2 && s.Spots[0].From > s.Spots[1].From {
		s.Spots[0], s.Spots[1] = s.Spots[1], s.Spots[0]
	}
	p.Stocks = []cutting.Stock{s}
	return p
}

// By area a stock never gives less than the exact pricers say, and a greedy pattern is legal: it is
// worth no more than the best.
func TestNoLessThanExact(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 1))
	for n := range 6000 {
		p := randomProblem(rng, n%2 == 0)
		duals, demand := make([]int64, len(p.Items)), make([]int64, len(p.Items))
		for i := range p.Items {
			duals[i], demand[i] = rng.Int64N(60), p.Items[i].Demand
		}
		m := &price.Meter{}
		var exact price.Pricer
		if p.Stocks[0].Rippable() {
			exact = across.NewMaker(p, m, price.Unlimited()).Pricer(0)
		} else {
			exact = along.NewMaker(p, m).Pricer(0)
		}
		ask := &price.Ask{Duals: duals, Demand: demand, Round: 1}
		best, ok := exact.Vouch(ask, price.Never)
		if by := rough.ByArea(p, 0, duals); !ok || by < best {
			t.Fatalf("problem %d: %d by area, %d exactly\n%+v\nduals %v", n, by, best, p, duals)
		}
		r := rough.NewPricer(p, 0, m)
		if v := r.Price(ask); v > best && r.Walk(nil, -1) != nil {
			t.Fatalf("problem %d: a greedy pattern is worth %d, the best %d\n%+v\nduals %v\n%+v", n,
				v, best, p, duals, r.Walk(nil, -1))
		}
		if v, ok := r.Vouch(ask, price.Never); ok {
			t.Fatalf("problem %d: it vouches for %d", n, v)
		}
	}
}

// By hand: a stock of 20 with a kerf of 1 has room for 21. Pieces of 6 take 7 of it: three of them
// at 10 each are all of it. Two units of slope are worth more by length than pieces of 6 at 10.
func TestByAreaByHand(t *testing.T) {
	p := &cutting.Problem{Kerf: 1, Rip: 2, Items: []cutting.Item{{Size: 6, Width: 3, Demand: 9}},
		Stocks: []cutting.Stock{{To: 20, Holds: []int{0}}}}
	for _, c := range []struct{ slope, want int64 }{{0, 30}, {2, 42}} {
		p.Stocks[0].Slope = c.slope
		if got := rough.ByArea(p, 0, []int64{10}); got != c.want {
			t.Errorf("slope %d: %d, not %d", c.slope, got, c.want)
		}
	}
	p.Stocks[0].Across = &cutting.Across{Width: 13}
	p.Stocks[0].Slope = 0 // room 21 x 15, a piece takes 7 x 5: nine of them
	if got := rough.ByArea(p, 0, []int64{10}); got != 90 {
		t.Errorf("across: %d, not 90", got)
	}
	p.Stocks[0].To = 5
	p.Stocks[0].Slope = 1 // too short for any piece: the bare stock, without kerfs
	if got := rough.ByArea(p, 0, []int64{10}); got != 65 {
		t.Errorf("too short: %d, not 65", got)
	}
}

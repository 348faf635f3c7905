package cutstock

import (
	"context"
	"math/rand/v2"
	"testing"

	"rackwright/nest/cutting"
)

// One stock could give four pieces where two are wanted: without a limit of copies half of it would
// do for the relaxation. So with any number of stocks, and with several items.
func TestLimitsOfCopiesClose(t *testing.T) {
	across := func() *cutting.Across { return &cutting.Across{Width: 15, Trim: true, Narrowest: 1} }
	for _, supply := range []int64{1, cutting.Any} {
		p := &cutting.Problem{Kerf: 1, Rip: 1,
			Items: []cutting.Item{{Size: 20, Width: 3, Demand: 2}},
			Stocks: []cutting.Stock{
				{To: 20, Cost: 100, Supply: supply, Holds: []int{0}, Across: across()}}}
		r := solveWhole(p, Options{Work: 1e7})
		if r.Value != 100 || r.Bound != 100 || len(leavesOf(r.Certificate)[0].Quotas) == 0 {
			t.Errorf("supply %d: value %d, bound %d, quotas %v", supply, r.Value, r.Bound,
				leavesOf(r.Certificate)[0].Quotas)
		}
	}
}

// Whatever the limits, the bound is that of some certificate and no plan found is below it; they
// never make it lower than the plain relaxation's.
func TestLimitsOfCopiesBound(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 8))
	limited := 0
	for n := range 150 {
		p := &cutting.Problem{Kerf: int64(rng.IntN(2)), Rip: int64(rng.IntN(2))}
		for range 1 + rng.IntN(3) {
			p.Items = append(p.Items,
				cutting.Item{Size: int64(3 + rng.IntN(8)), Width: int64(2 + rng.IntN(4)),
					Demand: int64(1 + rng.IntN(3))})
		}
		for range 1 + rng.IntN(2) {
			s := cutting.Stock{To: int64(10 + rng.IntN(12)), Cost: int64(20 + rng.IntN(80)),
				Supply: cutting.Any,
				Slope:  int64(rng.IntN(3)), Keep: 4,
				Across: &cutting.Across{Width: int64(5 + rng.IntN(8)), Keep: 2,
					Trim: rng.IntN(2) == 0, Narrowest: 1}}
			s.Across.Strip = int64(rng.IntN(int(s.Slope + 1)))
			for i := range p.Items {
				if p.Items[i].Size <= s.To && p.Items[i].Width <= s.Across.Width {
					s.Holds = append(s.Holds, i)
				}
			}
			s.Cost = max(s.Cost, s.Slope*s.To*s.Across.Width) // worth no more whole than it costs
			p.Stocks = append(p.Stocks, s)
		}
		r := solveWhole(p, Options{Work: 3e6})
		k := newSolver(context.Background(), withDemandMet(inCoins(p), r.Unmet), Options{})
		for _, leaf := range leavesOf(r.Certificate) {
			limited += len(leaf.Quotas)
		}
		if r.Bound > r.Value {
			t.Fatalf("program %d: bound %d above value %d", n, r.Bound, r.Value)
		}
		root := newMaster(k.p, k.costs, &k.pool, nil)
		at, _ := k.generate(root)
		if b, _, _, _ := k.prove(root.least, root.most, at); roundUp(b) > r.Bound {
			t.Errorf("program %d: %d without limits, %d with them", n, roundUp(b), r.Bound)
		}
	}
	if limited < 20 {
		t.Errorf("only %d limits were used", limited)
	}
}

// Rips may cost far more than the stock: a piece that must be ripped is no less wanted for that,
// and the bound knows.
func TestDearRipsLeaveNothingUnmet(t *testing.T) {
	p := &cutting.Problem{RipCost: 1000, Items: []cutting.Item{{Size: 10, Width: 4, Demand: 1}},
		Stocks: []cutting.Stock{{To: 10, Cost: 1, Supply: 1, Holds: []int{0},
			Spots:  []cutting.Spot{{To: 10, Left: 5, Right: 8}},
			Across: &cutting.Across{Width: 8}}}}
	if r := solveWhole(p, Options{Work: 1e7}); r.Value != 10_001 || r.Bound != 10_001 ||
		r.Unmet[0] != 0 {
		t.Errorf("value %d, bound %d, unmet %v; one rip of 10 costs 10000", r.Value, r.Bound,
			r.Unmet)
	}
}

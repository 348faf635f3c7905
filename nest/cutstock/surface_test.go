package cutstock

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"rackwright/nest/cutting"
	"rackwright/nest/lp"
)

// unlike is a program in which hardly two items are alike.
func unlike(r *rand.Rand, items int) *cutting.Problem {
	p := &cutting.Problem{Kerf: 2, Rip: 2}
	var all []int
	for i := range items {
		p.Items = append(p.Items, cutting.Item{Size: 200 + r.Int64N(900), Width: 20 + r.Int64N(60),
			Demand: 1 + r.Int64N(4)})
		all = append(all, i)
	}
	for _, long := range []int64{1600, 2400} {
		p.Stocks = append(p.Stocks, cutting.Stock{To: long, Cost: 1_000_000 * long,
			Supply: cutting.Any, Holds: all, Slope: 0,
			Across: &cutting.Across{Width: 100, Trim: true, Narrowest: 1}})
	}
	return p
}

// The shares of the knots about an item come to its length and its width, and to the same for all.
func TestSurfaceIsLinearBetweenKnots(t *testing.T) {
	knots := []int64{10, 20, 50}
	for x := int64(10); x <= 50; x++ {
		sum, at := 0.0, 0.0
		for _, p := range between(knots, x) {
			sum, at = sum+p.share, at+p.share*float64(knots[p.knot])
		}
		if math.Abs(sum-1) > 1e-12 || math.Abs(at-float64(x)) > 1e-9 {
			t.Errorf("%d: shares come to %g, knots to %g", x, sum, at)
		}
	}
	if got := spread([]int64{9, 3, 3, 5, 7}, 3); len(got) != 3 || got[0] != 3 || got[1] != 5 ||
		got[2] != 9 {
		t.Errorf("knots at %d", got)
	}
}

// Over the same columns a surface has no more than the program of all items, and the more the more
// knots it has. What its duals prove is no more than a plan costs, and at least what the area does.
func TestSurfaceProvesNoMoreThanAPlanCosts(t *testing.T) {
	r := rand.New(rand.NewPCG(18, 7))
	for n := range 4 {
		p := unlike(r, 40)
		k := newSolver(context.Background(), p, Options{Work: 200_000_000})
		k.completeInTurn(nil, k.steepDuals(), math.MaxInt64)
		if len(k.incumbent.uses) == 0 || k.incumbent.short > 0 {
			t.Fatalf("case %d: no plan", n)
		}
		coarse := newMasterOn(newSurface(p, 2), p, k.costs, &k.pool)
		if at, _ := k.generate(coarse); at == nil {
			t.Fatalf("case %d: no duals", n)
		}
		fine := newMasterOn(newSurface(p, 3), p, k.costs, &k.pool)
		root := newMaster(p, k.costs, &k.pool)
		coarse.sync()
		for _, m := range []*master{coarse, fine, root} {
			if k.solve(m.lp) != lp.Optimal {
				t.Fatalf("case %d: not solved", n)
			}
		}
		if c, f, all := coarse.lp.Value(), fine.lp.Value(), root.lp.Value(); c > f+1e-6 ||
			f > all+1e-6 {
			t.Errorf("case %d: %g with 2 knots each way, %g with 3, %g with all items", n, c, f, all)
		}
		duals := make([]float64, len(p.Items))
		fine.readDuals(duals)
		proven, ok := k.prove(root, k.wholeDuals(duals, fine.unit))
		if !ok || proven.bound > k.incumbent.value {
			t.Errorf("case %d: %d proven, a plan costs %d", n, proven.bound, k.incumbent.value)
		}
		if by, _ := byArea(p); k.rootEstimate < float64(by)*0.999 {
			t.Errorf("case %d: surfaces prove about %g, the area %d", n, k.rootEstimate, by)
		}
	}
}

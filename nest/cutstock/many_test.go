package cutstock

import (
	"context"
	"math/rand/v2"
	"testing"

	"rackwright/nest/cutting"
)

// manySizes is a program with rips of 90 items, hardly two of a size, on ten stocks with spots and
// three of any number.
func manySizes(rng *rand.Rand) *cutting.Problem {
	p := &cutting.Problem{Kerf: 2, Rip: 2, Coin: 1}
	one := cutting.Stock{Slope: 2, Keep: 200}
	a := cutting.Across{Width: 148, Inset: 1, Keep: 32, Strip: 1, Trim: true, ShortestRip: 192,
		Narrowest: 12}
	for i := range 90 {
		p.Items = append(p.Items, cutting.Item{Size: 220 + rng.Int64N(900),
			Width: 20 + rng.Int64N(100), Class: rng.IntN(cutting.Classes), Demand: 1 + rng.Int64N(3)})
		one.Holds = append(one.Holds, i)
	}
	for n := range 13 {
		stock, across := one, a
		stock.Across = &across
		if stock.To = 1500 + rng.Int64N(1500); n < 10 {
			stock.Supply, stock.Cost = 1, stock.To*100
			at := rng.Int64N(stock.To - 100)
			stock.Spots = []cutting.Spot{{From: at, To: at + 80, Left: 40, Right: 90}}
		} else {
			stock.Supply, stock.Cost = cutting.Any, stock.To*(300+rng.Int64N(30))
		}
		p.Stocks = append(p.Stocks, stock)
	}
	return p
}

// checkPlan says whether a plan is legal, within supply, and gives what it says it gives.
func checkPlan(t *testing.T, p *cutting.Problem, sol *solution) {
	t.Helper()
	got, used := make([]int64, len(p.Items)), make([]int64, len(p.Stocks))
	for _, u := range sol.uses {
		used[u.Pattern.Stock] += u.Times
		for _, pl := range u.Pattern.Places {
			got[pl.Item] += u.Times
			if !p.Legal(u.Pattern.Stock, pl) {
				t.Fatalf("%+v may not lie there", pl)
			}
		}
		if u.Pattern.Worth != p.Worth(&u.Pattern) {
			t.Fatalf("%+v is worth %d", u, p.Worth(&u.Pattern))
		}
	}
	for i, n := range got {
		if n != p.Items[i].Demand-sol.unmet[i] {
			t.Fatalf("%d of item %d", n, i)
		}
	}
	for s, n := range used {
		if supply := p.Stocks[s].Supply; supply != cutting.Any && n > supply {
			t.Fatalf("%d of stock %d", n, s)
		}
	}
}

// Plans in turn, and short dives, are whole. Completing a plan keeps what stays.
func TestPlansInTurnAreWhole(t *testing.T) {
	rng := rand.New(rand.NewPCG(17, 4))
	for n := range 2 {
		p := manySizes(rng)
		k := newSolver(context.Background(), p, Options{Work: 2e9})
		if !k.many || !k.thin {
			t.Fatalf("program %d is not of many items", n)
		}
		k.completeInTurn(nil, k.steepDuals(), 1<<60)
		checkPlan(t, p, &k.incumbent)
		if k.incumbent.short > 0 {
			t.Fatalf("program %d: unmet %v", n, k.incumbent.unmet)
		}
		stay := k.incumbent.uses[:len(k.incumbent.uses)/2]
		again := newSolver(context.Background(), p, Options{Work: 2e9})
		again.completeInTurn(stay, k.steepDuals(), 1<<60)
		checkPlan(t, p, &again.incumbent)
		m := newMaster(p, k.costs, &k.pool)
		k.rootDuals = k.steepDuals()
		k.shortDive(m, 1e8)
		checkPlan(t, p, &k.incumbent)
		if again.incumbent.short > 0 {
			t.Fatalf("program %d: unmet %v", n, again.incumbent.unmet)
		}
	}
}

// In little work as well the search ends with a whole plan, better than that in turn, and a bound
// below it.
func TestManySizesAreSearched(t *testing.T) {
	p := manySizes(rand.New(rand.NewPCG(17, 5)))
	k := newSolver(context.Background(), p, Options{Work: 1e9})
	k.completeInTurn(nil, k.steepDuals(), 1<<60)
	r := Solve(context.Background(), p, Options{Work: 1e9})
	if free, _ := Free(p); r.Value > k.incumbent.value || r.Bound > r.Value || r.Bound <= free {
		t.Errorf("value %d, bound %d; in turn %d", r.Value, r.Bound, k.incumbent.value)
	}
	checkPlan(t, p, &solution{uses: r.Uses, unmet: r.Unmet})
}

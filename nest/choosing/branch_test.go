package choosing

import (
	"math"
	"math/rand/v2"
	"testing"

	"rackwright/nest/cutstock"
	"rackwright/nest/cutting"
)

// begun is a search with a plan and a solved relaxation; nil where supply is short.
func begun(t *testing.T, p *cutting.Problem) *search {
	s := newSearch(t.Context(), p, simple(p), cutstock.Options{Work: 1e8})
	s.byRule()
	if short(s.best.Unmet) || !s.begin() {
		return nil
	}
	return s
}

// optimum is what the cheapest plan of any choice costs, by trying all.
func optimum(p *cutting.Problem) int64 {
	best, memo := int64(math.MaxInt64), map[string]int64{}
	var supply []int64
	for s := range p.Stocks {
		supply = append(supply, p.Stocks[s].Supply)
	}
	everyChoice(p, func(chosen []cutting.Chosen) {
		var want []int64
		for _, it := range p.Fixed(chosen).Items {
			want = append(want, it.Demand)
		}
		best = min(best, cheapest(p, want, supply, memo)+p.Forgone(chosen))
	})
	return best
}

// What a tree of ways and boards proves is never above the cheapest plan of any choice. Boards of
// two lengths are bought, so that they are limited together, too.
func TestTreesOfWaysAndBoardsAreNeverAboveTheOptimum(t *testing.T) {
	r := rand.New(rand.NewPCG(171, 172))
	raised, closed := 0, 0
	var splits, bought, choices int
	var count func(p *cutstock.Proof)
	count = func(p *cutstock.Proof) {
		switch {
		case p.Split != nil:
			if splits++; p.Split.Stock == cutstock.AllBought {
				bought++
			}
			count(p.Split.Low)
			count(p.Split.High)
		case p.Choice != nil:
			choices++
			count(p.Choice.Low)
			count(p.Choice.High)
		}
	}
	for n := range 300 {
		p := tiny(r)
		third := p.Stocks[1]
		third.To, third.Cost = third.To+1+r.Int64N(4), third.Cost+coin*r.Int64N(80)
		p.Stocks = append(p.Stocks, third)
		for i := range p.Items {
			p.Items[i].Demand *= 1 + r.Int64N(3)
		}
		s := begun(t, p)
		if s == nil {
			continue
		}
		best, before := optimum(p), s.bound
		root, ok := s.child(s.tight(cutstock.NoLimits(p)), s.relax.AllBoards(true), 0)
		if !ok {
			t.Fatalf("%d: no root", n)
		}
		s.branchOn(root, s.rest())
		if s.bound > best {
			t.Errorf("%d: %+v: %d is proven, and a plan costs %d", n, p, s.bound, best)
		}
		if s.bound > before {
			raised++
			count(s.proof)
		}
		if s.bound > best-coin {
			closed++
		}
	}
	if raised < 100 || closed < 100 || splits-bought < 50 || bought < 50 || choices < 50 {
		t.Errorf("%d raised, %d closed, by %d splits by stocks, %d by boards bought, %d choices: "+
			"too few to trust", raised, closed, splits-bought, bought, choices)
	}
}

// Where ways are made whole no want has a copy that another way gives already: the last use may
// give more than are wanted, those before it do not. And enough copies stay possible, so that each
// walk comes to its end.
func TestWaysAreMadeWholeInNoVain(t *testing.T) {
	r := rand.New(rand.NewPCG(173, 174))
	walked := 0
	for n := range 600 {
		p := tiny(r)
		for j := range p.Wants {
			p.Wants[j].Demand += r.Int64N(6)
		}
		s := begun(t, p)
		if s == nil {
			continue
		}
		plan, ok := s.relax.Descend(cutstock.NoLimits(p), n%2 == 0)
		if !ok {
			t.Errorf("%d: %+v: the walk is not ended", n, p)
			continue
		}
		walked++
		for j := range p.Wants {
			w, most := &p.Wants[j], int64(1)
			for _, way := range w.Ways {
				most = max(most, way.Copies)
			}
			made := copies(w, &plan.Chosen[j])
			if made >= w.Demand+most || made < w.Demand && w.Forgo == cutting.Any {
				t.Errorf("%d: %d of want %d are made, %d are wanted: %+v, %+v", n, made, j,
					w.Demand, w, plan.Chosen[j])
			}
		}
	}
	if walked < 400 {
		t.Errorf("%d walks: too few to trust", walked)
	}
}

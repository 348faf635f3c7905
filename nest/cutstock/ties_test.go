package cutstock

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"rackwright/nest/cutting"
)

// tieScore is by how many stocks and ranks a plan is judged that has no rips.
func tieScore(p *cutting.Problem, uses []cutting.Use) int64 {
	t := tieOf(p, uses)
	return t.stocks*tieOfStock + t.rank
}

// Of the cheapest plans the one with the fewest stocks, then the lowest ranks, is given, by trying
// them all.
func TestTiesAreExhaustiveSearch(t *testing.T) {
	r := rand.New(rand.NewPCG(44, 1))
	all, best, changed := 0, 0, 0
	for n := range 400 {
		p := small(r)
		p.Stocks = append(p.Stocks, p.Stocks[0]) // alike but for the rank
		for s := range p.Stocks {
			p.Stocks[s].Rank = r.Int64N(1024)
		}
		want, tie := cheapestTied(p)
		if want == math.MaxInt64 {
			continue
		}
		got := solveWhole(p, Options{})
		if got.Value < want || got.Value == want && tieScore(p, got.Uses) < tie {
			t.Fatalf("problem %d: value %d, tie %d; the least are %d, %d", n, got.Value,
				tieScore(p, got.Uses), want, tie)
		}
		if got.Value != want {
			continue
		}
		all++
		if tieScore(p, got.Uses) == tie {
			best++
		}
		for s := range p.Stocks {
			p.Stocks[s].Rank = 1023 - p.Stocks[s].Rank
		}
		if other := solveWhole(p,
			Options{}); tieScore(p, other.Uses) != tieScore(p, got.Uses) {
			changed++
		}
	}
	t.Logf("%d plans, %d with the best tie; the ranks turned round change %d", all, best, changed)
	if all < 300 || 100*best < 97*all || changed < 20 {
		t.Errorf("%d plans, %d with the best tie; the ranks turned round change %d", all, best,
			changed)
	}
}

// Of random jobs that are ripped, with rips that cost nothing: a plan of the same cost with shorter
// rips, or as long ones and fewer cuts, is taken in place of the one found first, on as many
// stocks.
func TestTiesTakeShorterRips(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 8))
	shorter, fewer := 0, 0
	for n := range 200 {
		p := &cutting.Problem{Kerf: 1, Rip: 1}
		for range 2 + rng.IntN(3) {
			p.Items = append(p.Items,
				cutting.Item{Size: int64(3 + rng.IntN(8)), Width: int64(2 + rng.IntN(4)),
					Demand: int64(1 + rng.IntN(4))})
		}
		for range 2 {
			s := cutting.Stock{To: int64(12 + rng.IntN(14)), Supply: cutting.Any,
				Across: &cutting.Across{Width: int64(6 + rng.IntN(8)), Trim: true, Narrowest: 1}}
			for i := range p.Items {
				if p.Items[i].Size <= s.To && p.Items[i].Width <= s.Across.Width {
					s.Holds = append(s.Holds, i)
				}
			}
			s.Cost = s.To * s.Across.Width // so that many plans cost the same
			p.Stocks = append(p.Stocks, s)
		}
		k := newSolver(context.Background(), p, Options{Work: 1e8})
		root := k.plans()
		before := k.incumbent
		k.ties(root, k.budget.ties)
		after := k.incumbent
		if after.short != before.short || after.value > before.value ||
			after.tie != tieOf(p, after.uses) || after.tie.compare(before.tie) > 0 {
			t.Fatalf("problem %d: %+v, then %+v", n, before, after)
		}
		switch {
		case after.value < before.value || after.tie.stocks < before.tie.stocks:
		case after.tie.rips < before.tie.rips:
			shorter++
		case after.tie.cuts < before.tie.cuts:
			fewer++
		}
	}
	t.Logf("%d of 200 plans with shorter rips, %d with fewer cuts", shorter, fewer)
	if shorter < 20 {
		t.Errorf("only %d of 200 plans have shorter rips", shorter)
	}
}

// Of two layouts of the same pieces that are worth the same, the pool keeps the one with the
// shorter rips: lengths of 10 are ripped in place of all 20.
func TestPoolKeepsShorterRips(t *testing.T) {
	p := &cutting.Problem{Items: []cutting.Item{{Size: 10, Width: 4}},
		Stocks: []cutting.Stock{{To: 20, Cost: 9, Across: &cutting.Across{Width: 8, Trim: true}}}}
	places := []cutting.Place{{Left: 0, Right: 4}, {Left: 4, Right: 8}}
	long := newColumn(p, cutting.Pattern{First: cutting.RipFirst, Places: places})
	short := newColumn(p, cutting.Pattern{First: cutting.CrosscutFirst, Places: places})
	for _, first := range []*column{long, short} {
		one, other := *first, *long
		if first == long {
			other = *short
		}
		l := pool{seen: map[string]*column{}}
		if !l.add(&one) || l.add(&other) || len(l.cols) != 1 || l.cols[0].rips != 10 ||
			l.cols[0].First != cutting.CrosscutFirst {
			t.Errorf("of %+v and %+v the pool has %+v", *first, other, *l.cols[0])
		}
	}
}

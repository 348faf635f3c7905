package cutstock

import (
	"math"
	"math/rand/v2"
	"testing"
)

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
		if got.Value < want || got.Value == want && tieOf(p, got.Uses) < tie {
			t.Fatalf("problem %d: value %d, tie %d; the least are %d, %d", n, got.Value,
				tieOf(p, got.Uses), want, tie)
		}
		if got.Value != want {
			continue
		}
		all++
		if tieOf(p, got.Uses) == tie {
			best++
		}
		for s := range p.Stocks {
			p.Stocks[s].Rank = 1023 - p.Stocks[s].Rank
		}
		if other := solveWhole(p,
			Options{}); tieOf(p, other.Uses) != tieOf(p, got.Uses) {
			changed++
		}
	}
	t.Logf("%d plans, %d with the best tie; the ranks turned round change %d", all, best, changed)
	if all < 300 || 100*best < 97*all || changed < 20 {
		t.Errorf("%d plans, %d with the best tie; the ranks turned round change %d", all, best,
			changed)
	}
}

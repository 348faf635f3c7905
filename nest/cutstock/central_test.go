package cutstock

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"

	"rackwright/nest/cutting"
)

// brimful is a problem of bins that pieces can fill to the brim, and the bins that do.
func brimful(r *rand.Rand) (*cutting.Problem, [][]int) {
	const length, bins, cost = 500, 8, 1 << 30
	p := &cutting.Problem{Coin: cost}
	s := cutting.Stock{To: length, Cost: cost, Supply: cutting.Any}
	plan, sizes := make([][]int, bins), map[int64]int{}
	for b := range plan {
		for left := int64(length); left > 0; {
			size := min(left, 80+r.Int64N(220))
			if left-size < 80 {
				size = left
			}
			i, known := sizes[size]
			if !known {
				i = len(p.Items)
				sizes[size] = i
				s.Holds = append(s.Holds, i)
				p.Items = append(p.Items, cutting.Item{Size: size})
			}
			p.Items[i].Demand++
			plan[b] = append(plan[b], i)
			left -= size
		}
	}
	p.Stocks = []cutting.Stock{s}
	return p, plan
}

// The duals in the middle prove as much, but for rounding, and their list has every bin of a plan
// without waste. Over all problems it is shorter than that of a corner.
func TestCentralList(t *testing.T) {
	r := rand.New(rand.NewPCG(61, 1))
	inMiddle, atCorner := 0, 0
	for n := range 60 {
		p, plan := brimful(r)
		k := newSolver(context.Background(), p, Options{})
		k.tree = true
		root := newMaster(p, k.costs, &k.pool)
		top := k.node(root)
		cost := int64(len(plan)) * p.Coin
		before, ok := k.list(top, cost, LongestList)
		relaxed := top.bound
		var central *list
		k.centralLists(top, cost, func(at *node, l *list) bool {
			top.proven, central = at.proven, l
			return true
		})
		if !ok || central == nil {
			t.Fatalf("problem %d: listed %t, %t", n, ok, central != nil)
		}
		if at, _ := k.prove(root, top.duals); at.bound != top.bound || at.bound > cost ||
			at.bound < relaxed-p.Coin/1e6 {
			t.Fatalf("problem %d: %d is proven, %d said, %d before; a plan costs %d", n, at.bound,
				top.bound, relaxed, cost)
		}
		on := map[string]bool{}
		for j := range central.entries {
			on[fmt.Sprint(countsOf(p, &central.entries[j]))] = true
		}
		for _, bin := range plan {
			counts := make([]int64, len(p.Items))
			for _, i := range bin {
				counts[i]++
			}
			if !on[fmt.Sprint(counts)] {
				t.Fatalf("problem %d: %v of a plan is not among %d patterns", n, counts,
					central.Len())
			}
		}
		inMiddle, atCorner = inMiddle+central.Len(), atCorner+before.Len()
	}
	t.Logf("%d patterns in the middle, %d at corners", inMiddle, atCorner)
	if inMiddle == 0 || inMiddle*10 > atCorner*9 {
		t.Errorf("%d patterns in the middle, %d at corners", inMiddle, atCorner)
	}
}

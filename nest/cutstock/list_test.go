package cutstock

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"rackwright/nest/cutstock/cuts"
	"rackwright/nest/cutting"
)

// Whatever layout a cheaper plan might use, by trying every layout at unit resolution, is on the
// list of the root, with the most that its counts are worth.
func TestListIsComplete(t *testing.T) {
	r := rand.New(rand.NewPCG(41, 1))
	listed, missed := 0, 0
	for n := range 1500 {
		p := inCoins(random(r, 3, 3, 3, 1))
		k := newSolver(context.Background(), p, Options{})
		root := newMaster(p, k.costs, &k.pool)
		pi, _ := k.generate(root)
		k.certify(root)
		at, _ := k.prove(root, pi)
		lb, best, duals := at.bound, at.best, at.duals
		k.incumbent.value = lb + r.Int64N(400*coin)
		top := &node{m: root, limits: root.limits(), proven: at}
		list, ok := k.list(top, k.incumbent.value-1, LongestList)
		if !ok {
			t.Fatalf("problem %d: the list is too long", n)
		}
		on := map[string]int64{}
		for j, e := range list.entries {
			laid := list.layOut(j)
			laid.Worth = p.Worth(laid)
			if e.Cost != p.Cost(laid) {
				t.Fatalf("problem %d: an entry costs %d; its layout %d", n, e.Cost, p.Cost(laid))
			}
			on[fmt.Sprint(e.Stock, countsOf(p, &e))] = e.Cost
		}
		listed += list.Len()
		slack := k.incumbent.value - 1 - lb
		for s := range p.Stocks {
			if root.most[s] == 0 {
				continue
			}
			net := p.Stocks[s].Cost - best[s]
			for _, l := range everyLayout(p, s) {
				counts, cost := l[:len(p.Items)], p.Stocks[s].Cost-l[len(p.Items)]
				excess, pieces := cost-net, int64(0)
				for i, c := range counts {
					excess -= c * duals[i]
					pieces += c
				}
				if net > 0 {
					excess += net
				}
				if got, ok := on[fmt.Sprint(s, counts)]; pieces > 0 && excess <= slack &&
					(!ok || got != cost) {
					t.Fatalf("problem %d: stock %d, counts %v: cost %d is not on the list (%d, %v)",
						n, s, counts, cost, got, ok)
				} else if pieces > 0 && !ok {
					missed++
				}
			}
		}
	}
	if listed < 1000 || missed < 1000 {
		t.Errorf("%d layouts listed and %d left out: too few to tell", listed, missed)
	}
}

// countsOf is how many of each item an entry gives.
func countsOf(p *cutting.Problem, e *cuts.Entry) []int64 {
	counts := make([]int64, len(p.Items))
	for n, i := range e.Items {
		counts[i] = int64(e.Counts[n])
	}
	return counts
}

// The list closes what the relaxation leaves open: nearly every tiny program is proven, and no
// bound is above the optimum.
func TestNearlyAllTinyProgramsAreProven(t *testing.T) {
	r := rand.New(rand.NewPCG(43, 1))
	proven, all := 0, 0
	for n := range 300 {
		p := small(r)
		best := cheapest(p)
		if best == math.MaxInt64 {
			continue
		}
		got := solveWhole(p, Options{})
		if got.Value < best || got.Bound > best {
			t.Fatalf("problem %d: value %d, bound %d, optimum %d", n, got.Value, got.Bound, best)
		}
		all++
		if got.Value == got.Bound {
			proven++
		}
	}
	t.Logf("%d of %d proven", proven, all)
	if 100*proven < 97*all {
		t.Errorf("%d of %d proven", proven, all)
	}
}

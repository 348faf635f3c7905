package cutstock

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

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
		root := newMaster(p, k.costs, &k.pool, nil)
		pi, _ := k.generate(root)
		k.certify(root)
		lb, at, best, _ := k.prove(root.least, root.most, pi)
		duals := at.duals
		k.incumbent.value = lb + r.Int64N(400*coin)
		list, ok := k.list(&node{m: root, least: root.least, most: root.most, duals: duals,
			best: best, relaxed: lb}, k.incumbent.value-1)
		if !ok {
			t.Fatalf("problem %d: the list is too long", n)
		}
		on := map[string]int64{}
		for _, e := range list {
			if e.cost != p.Cost(&e.Pattern) {
				t.Fatalf("problem %d: an entry costs %d; its layout %d", n, e.cost,
					p.Cost(&e.Pattern))
			}
			on[fmt.Sprint(e.Stock, countsOf(p, e))] = e.cost
		}
		listed += len(list)
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
func countsOf(p *cutting.Problem, e *column) []int64 {
	counts := make([]int64, len(p.Items))
	for n, i := range e.items {
		counts[i] = e.counts[n]
	}
	return counts
}

// A cut never takes away a whole point that the rows before it allow, whatever its multipliers.
func TestCutsTakeNoWholePoint(t *testing.T) {
	r := rand.New(rand.NewPCG(42, 1))
	tight := 0
	for n := range 20000 {
		columns := 1 + r.IntN(4)
		rows := make([]*inequality, 1+r.IntN(4))
		for i := range rows {
			rows[i] = &inequality{coefs: make([]int64, columns), least: r.Int64N(12) - 4}
			for j := range columns {
				rows[i].coefs[j] = r.Int64N(7) - 2
			}
		}
		given := len(rows)
		for range 3 { // cuts of cuts
			c := &Cut{Den: 2 + r.Int64N(40)}
			for at := range rows {
				if u := r.Int64N(c.Den); u > 0 && r.IntN(3) > 0 {
					c.Rows = append(c.Rows, RowOf{at, u})
				}
			}
			if row := roundCut(rows, c); row != nil {
				rows = append(rows, row)
			}
		}
		point := make([]int64, columns)
		var visit func(j int)
		visit = func(j int) {
			if j < columns {
				for point[j] = 0; point[j] < 5; point[j]++ {
					visit(j + 1)
				}
				return
			}
			for at, row := range rows {
				left := int64(0)
				for j, v := range row.coefs {
					left += v * point[j]
				}
				if left < row.least && at < given {
					return // no point of the program
				}
				if left < row.least {
					t.Fatalf("case %d: row %d cuts off %v", n, at, point)
				}
				if left == row.least && at >= given {
					tight++
				}
			}
		}
		visit(0)
	}
	if tight < 1000 {
		t.Errorf("%d points on a row: too few to tell", tight)
	}
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

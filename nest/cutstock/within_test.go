package cutstock

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// One stock could give four pieces where two are wanted: by patterns with as many half of it would
// do for the relaxation.
func TestPatternsWithinDemandsClose(t *testing.T) {
	for _, supply := range []int64{1, cutting.Any} {
		p := &cutting.Problem{Kerf: 1, Rip: 1,
			Items: []cutting.Item{{Size: 20, Width: 3, Demand: 2}},
			Stocks: []cutting.Stock{{To: 20, Cost: 100, Supply: supply, Holds: []int{0},
				Across: &cutting.Across{Width: 15, Trim: true, Narrowest: 1}}}}
		r := solveWhole(p, Options{Work: 1e7})
		if r.Value != 100 || r.Bound != 100 || len(leavesOf(r.Certificate)[0].Within) == 0 {
			t.Errorf("supply %d: value %d, bound %d, within %v", supply, r.Value, r.Bound,
				leavesOf(r.Certificate)[0].Within)
		}
	}
}

// At the duals of the strict relaxation no way to lay out a stock within the demands gives more
// than is said of it. Its bound is the one that follows; it is never above the optimum.
func TestWithinDemandsNothingGivesMore(t *testing.T) {
	raised, said := 0, 0
	for seed := range uint64(250) {
		p := tinyRipped(rand.New(rand.NewPCG(seed, 16)))
		ways, least, enough := everyPlan(p)
		if !enough {
			continue
		}
		k := newSolver(context.Background(), p, Options{})
		root := newMaster(p, k.costs, &k.pool)
		k.generate(root)
		k.certify(root)
		plain := k.bound
		m := k.keepWithin()
		if m == nil {
			if k.copies {
				t.Errorf("seed %d: no strict relaxation", seed)
			}
			continue
		}
		if k.bound > least || k.bound < plain {
			t.Errorf("seed %d: bound %d, plain %d, optimum %d", seed, k.bound, plain, least)
		}
		at, _ := k.prove(m, k.cert.Leaf.Duals)
		if at.bound > plain {
			raised++
		}
		for s, b := range at.best {
			given := slices.ContainsFunc(at.within, func(w Within) bool { return w.Stock == s })
			if given {
				said++
			}
			for set, worth := range ways[s] {
				for i, radix := 0, 1; i < len(p.Items); i++ {
					all := int(p.Items[i].Demand) + 1
					worth += int64(set/radix%all) * at.duals[i]
					radix *= all
				}
				if m.most[s] != 0 && worth > b {
					t.Fatalf("seed %d: stock %d gives %d, said to give %d", seed, s, worth, b)
				}
			}
		}
	}
	if raised < 60 || said < 100 {
		t.Errorf("the bound was raised %d times; of %d stocks less is said", raised, said)
	}
}

// longLists is a pricer whose lists are too long. Each takes so many steps, or all that it may.
type longLists struct {
	price.Pricer
	meter       *price.Meter
	each        int64
	tries, last int64
}

func (e *longLists) List(l *price.Listing, _, _ int64) (*price.List, bool) {
	e.tries, e.last = e.tries+1, min(e.each, l.Steps)
	e.meter.Add(e.last)
	return nil, false
}

// Where each list is too long the tries end once they have taken their share of the work.
func TestListsWithinDemandsKeepToTheirShare(t *testing.T) {
	const work = 3_000_000
	p := &cutting.Problem{Kerf: 1, Rip: 1,
		Items: []cutting.Item{{Size: 20, Width: 3, Demand: 2}},
		Stocks: []cutting.Stock{{To: 20, Cost: 100, Supply: 1, Holds: []int{0},
			Across: &cutting.Across{Width: 15, Trim: true, Narrowest: 1}}}}
	for _, c := range []struct{ each, tries, last int64 }{
		{1000, nearer, 1000},  // short tries: as many as there ever are
		{400_000, 3, 200_000}, // the third has what the first two leave
		{work, 1, work / 3},   // the first takes all
	} {
		k := newSolver(context.Background(), p, Options{Work: work})
		e := &longLists{Pricer: k.pricers[0], meter: k.meter, each: c.each}
		k.pricers[0] = e
		k.ask([]int64{50}, []int64{2}) // what a round takes by itself
		before := k.meter.Steps
		most, listed, ok := k.gives(0, []int64{50}, 100, 200)
		if ok || most != 200 || len(listed) > 0 {
			t.Errorf("%d steps each: %d patterns, none gives more than %d, %t", c.each,
				len(listed), most, ok)
		}
		if e.tries != c.tries || e.last != c.last || k.meter.Steps-before > work/withinShare {
			t.Errorf("%d steps each: %d tries, the last of %d, %d steps in all", c.each, e.tries,
				e.last, k.meter.Steps-before)
		}
	}
}

// A node that has no plan proves more than any plan costs. Of two sides of a split one proves no
// more than the optimum.
func TestNodesProveWhatTheyMay(t *testing.T) {
	without, split := 0, 0
	for seed := range uint64(250) {
		p := tinyRipped(rand.New(rand.NewPCG(seed, 17)))
		_, least, enough := everyPlan(p)
		if !enough || least <= 0 {
			continue
		}
		k := newSolver(context.Background(), p, Options{})
		root := newMaster(p, k.costs, &k.pool)
		k.generate(root)
		k.certify(root)
		k.dive(root, 0)
		m := k.keepWithin()
		if m == nil || k.incumbent.short > 0 {
			continue
		}
		k.tree = true
		none := m.clone()
		for s := range p.Stocks {
			none.limitStock(s, 0, 0)
		}
		k.cheapenUnmet(none)
		if n := k.node(none); n == nil || !k.beaten(n) {
			t.Errorf("seed %d: nodes without stocks are not beaten", seed)
		}
		without++
		for s := range p.Stocks {
			low, high := m.clone(), m.clone()
			low.limitStock(s, 0, 0)
			high.limitStock(s, 1, m.most[s])
			k.cheapenUnmet(low)
			k.cheapenUnmet(high)
			a, b := k.node(low), k.node(high)
			if a == nil || b == nil {
				continue
			}
			if proves := min(a.bound, b.bound); proves > least {
				t.Errorf("seed %d, stock %d: the sides prove %d, the optimum is %d", seed, s,
					proves, least)
			}
			split++
		}
	}
	if without < 50 || split < 200 {
		t.Errorf("%d nodes without plans, %d splits", without, split)
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

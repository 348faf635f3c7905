package cuts

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"rackwright/nest/lp"
	"rackwright/nest/price"
)

const coin = 1 << 20 // the least amount that counts

// randomProgram is a program over a few patterns whose costs are near to what their items are
// worth, so that many plans cost about the same.
func randomProgram(r *rand.Rand) *Program {
	p := &Program{Unit: coin, Steps: 1 << 40, Searching: 1 << r.IntN(20), Branching: 1 << 40,
		Few: 1 << 20, Checking: 1 << 40, Meter: &price.Meter{}, Solve: (*lp.Problem).Solve,
		Over: func() bool { return false }}
	if r.IntN(4) > 0 {
		p.Steps = 1 // one round: the rest is left to branching
	}
	for range 2 + r.IntN(3) {
		p.Demand = append(p.Demand, 1+r.Int64N(4))
		p.Unmet = append(p.Unmet, 10_000*coin)
	}
	for range 1 + r.IntN(3) {
		most := r.Int64N(5) - 1
		least := int64(0)
		if r.IntN(4) == 0 && most != 0 {
			least = 1
		}
		p.Least, p.Most = append(p.Least, least), append(p.Most, most)
	}
	for range r.IntN(5) / 2 { // of all stocks together
		side := Side{Sum: Sum{Item: AllItems}, AtMost: 1 + r.Int64N(6), High: r.IntN(2) == 0}
		for s := range p.Most {
			side.Stocks = append(side.Stocks, s)
		}
		p.Rows = append(p.Rows, side)
	}
	for range 3 + r.IntN(9) {
		e := &Entry{Index: len(p.List), Stock: r.IntN(len(p.Most)), Cost: (20 + r.Int64N(30)) * coin}
		for i := range p.Demand {
			if c := r.Int64N(3); c > 0 {
				e.Items = append(e.Items, int32(i))
				e.Counts = append(e.Counts, int32(min(c, p.Demand[i])))
				e.Cost += 100 * coin * min(c, p.Demand[i])
			}
		}
		if len(e.Items) > 0 {
			p.List, p.Near = append(p.List, e), append(p.Near, r.Int64N(9))
		}
	}
	return p
}

// cheapest is the least that a plan costs, by trying all of them; MaxInt64 where there is none.
func cheapest(p *Program) int64 {
	known := map[string]int64{}
	var from func(j int, left, uses []int64) int64
	from = func(j int, left, uses []int64) int64 {
		if j == len(p.List) {
			for s := range uses {
				if uses[s] < p.Least[s] {
					return math.MaxInt64
				}
			}
			if slices.Max(left) > 0 || !p.keeps(uses) {
				return math.MaxInt64
			}
			return 0
		}
		key := fmt.Sprint(j, left, uses)
		if v, has := known[key]; has {
			return v
		}
		best := from(j+1, left, uses)
		e := p.List[j]
		most := p.Most[e.Stock]
		if most < 0 {
			most = 20
		}
		if uses[e.Stock] < most {
			left, uses := slices.Clone(left), slices.Clone(uses)
			for at, i := range e.Items {
				left[i] = max(0, left[i]-int64(e.Counts[at]))
			}
			uses[e.Stock]++
			if v := from(j, left, uses); v < math.MaxInt64 {
				best = min(best, v+e.Cost)
			}
		}
		known[key] = best
		return best
	}
	return from(0, p.Demand, make([]int64, len(p.Most)))
}

// keeps says whether so many uses of the stocks keep to the rows that hold besides.
func (p *Program) keeps(uses []int64) bool {
	all := int64(0)
	for _, n := range uses {
		all += n
	}
	return !slices.ContainsFunc(p.Rows, func(s Side) bool { return s.High != (all > s.AtMost) })
}

// splits is how many splits a proof has.
func splits(n *Node) int {
	if n.Split == nil {
		return 0
	}
	return 1 + splits(n.Split.Low) + splits(n.Split.High)
}

// No bound is above the cheapest plan. What is offered is a plan, and costs what it says. Where the
// search ends by itself, the target is proven or a plan as cheap as the bound was offered.
func TestBranchingFindsTheCheapestPlan(t *testing.T) {
	r := rand.New(rand.NewPCG(71, 72))
	split, closed, all := 0, 0, 0
	for n := range 600 {
		p := randomProgram(r)
		if len(p.List) == 0 {
			continue
		}
		best := cheapest(p)
		found := int64(math.MaxInt64)
		p.Target = 5000 * coin
		if best < math.MaxInt64 {
			p.Target = best + (r.Int64N(120)-20)*coin
		}
		p.Goal = func() int64 { return min(p.Target, found-coin+1) }
		p.Offer = func(e []*Entry, uses func(j int) float64) {
			cost, left, used := int64(0), slices.Clone(p.Demand), make([]int64, len(p.Most))
			for j := range e {
				times := int64(math.Round(uses(j)))
				cost += times * e[j].Cost
				used[e[j].Stock] += times
				for at, i := range e[j].Items {
					left[i] -= times * int64(e[j].Counts[at])
				}
			}
			for s := range used {
				if used[s] < p.Least[s] || p.Most[s] >= 0 && used[s] > p.Most[s] {
					t.Fatalf("program %d: an offer uses %d of stock %d", n, used[s], s)
				}
			}
			if slices.Max(left) > 0 || cost < best || !p.keeps(used) {
				t.Fatalf("program %d: an offer of %d leaves %v; the cheapest costs %d", n, cost,
					left, best)
			}
			found = min(found, cost)
		}
		proof, bound := p.Prove()
		if bound > best || bound > p.Target {
			t.Fatalf("program %d: bound %d, target %d, the cheapest plan costs %d", n, bound,
				p.Target, best)
		}
		all++
		if bound >= p.Goal() {
			closed++
		}
		if proof != nil && splits(&proof.Node) > 0 {
			split++
		}
	}
	t.Logf("%d of %d closed, %d by splits", closed, all, split)
	if 100*closed < 99*all || split < 50 {
		t.Errorf("%d of %d closed, %d by splits", closed, all, split)
	}
}

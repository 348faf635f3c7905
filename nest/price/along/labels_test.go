package along

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// spotted makes a problem of a few stocks with up to two spots each, and of a few items of up to
// three copies. All lengths are some units times grain.
func spotted(r *rand.Rand, grain int64) *cutting.Problem {
	n := func(lo, hi int64) int64 { return lo + r.Int64N(hi-lo+1) }
	p := &cutting.Problem{Kerf: n(0, 2)}
	for range n(1, 3) {
		p.Items = append(p.Items, cutting.Item{Size: n(3*grain, 9*grain),
			Class: int(n(0, cutting.Classes-1)), Demand: n(1, 3)})
	}
	price := n(300, 900)
	for range n(1, 3) {
		s := cutting.Stock{Supply: 1, To: n(8*grain, 16*grain), Keep: n(0, 4*grain),
			Rate: cutting.Rate{Num: price, Den: 2 * n(2, 3)}}
		for range n(0, 2) {
			from := n(0, s.To-1)
			spot := cutting.Spot{From: from, To: min(s.To, from+n(1, 3*grain))}
			spot.Tolerated[1], spot.Tolerated[2] = n(0, 2) == 0, n(0, 1) == 0
			s.Spots = append(s.Spots, spot)
		}
		byStart(s.Spots)
		for i := range p.Items {
			if n(0, 5) > 0 {
				s.Holds = append(s.Holds, i)
			}
		}
		p.Stocks = append(p.Stocks, s)
	}
	return p
}

// Over the starts of starts.go every set of counts has the w that it has over all positions.
func TestListsOverStarts(t *testing.T) {
	r := rand.New(rand.NewPCG(45, 1))
	boards, differ := 0, 0
	for n := range 4000 {
		p := spotted(r, int64(1+r.IntN(2)))
		// found by planning random jobs: only right between two spots does the piece leave both its
		// gaps in one run each
		if n == 0 {
			p = &cutting.Problem{Kerf: 4,
				Items: []cutting.Item{{Size: 776, Demand: 1}, {Size: 2896, Class: 1, Demand: 1}},
				Stocks: []cutting.Stock{
					{From: 16, To: 3784, Supply: 1, Holds: []int{0, 1},
						Rate: cutting.Rate{Num: 21473, Den: 4395},
						Keep: 7,
						Spots: []cutting.Spot{{From: 2224, To: 2272},
							{From: 3056, To: 3352, Tolerated: [cutting.Classes]bool{false, true}},
							{From: 3312, To: 3608}}}}}
		}
		demand, duals := make([]int64, len(p.Items)), make([]int64, len(p.Items))
		for i := range demand {
			demand[i] = p.Items[i].Demand
		}
		a := &price.Ask{Duals: duals, Scale: 1 << 20, Demand: demand}
		for s := range p.Stocks {
			if !tradable(p, &p.Stocks[s]) {
				continue
			}
			boards++
			found := [2]map[string]price.Listed{{}, {}}
			for at, every := range []bool{false, true} {
				l := &price.Listing{Ask: a, Most: 1 << 20, Shared: map[any]any{}}
				list, _ := newLinked(p, s, every, &price.Meter{}).List(l, 0, -1<<55)
				for _, f := range list {
					found[at][fmt.Sprint(cutting.Tally(f.Pattern.Places))] = f
				}
			}
			for key, f := range found[1] {
				g, ok := found[0][key]
				if !ok || g.Worth != f.Worth {
					t.Fatalf("problem %d, stock %d: %v is worth %d over all positions, %v %d over the starts\n%+v",
						n, s, f.Pattern.Places, f.Worth, g.Pattern.Places, g.Worth, p)
				}
				if p.Worth(&f.Pattern) != f.Worth {
					differ++
				}
			}
		}
	}
	if boards < 2000 || differ < 100 {
		t.Errorf("%d boards, %d patterns whose chains are worth more: too few to tell", boards,
			differ)
	}
}

package cutstock

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"testing"

	"rackwright/nest/cutting"
)

// tinyRipped is a random program of a board or two at hand and one or two sorts to buy, of which
// most can be ripped, and of at most six pieces: so small that every plan can be tried.
func tinyRipped(r *rand.Rand) *cutting.Problem {
	n := func(lo, hi int64) int64 { return lo + r.Int64N(hi-lo+1) }
	p := &cutting.Problem{Kerf: n(0, 2), Rip: n(0, 2), RipCost: n(0, 1) * n(0, 9), Coin: 1}
	wide, long := n(3, 6), n(8, 14)
	for left := n(2, 6); left > 0 && len(p.Items) < 4; {
		it := cutting.Item{Size: n(2, long*2/3), Width: n(1, wide), Class: int(n(0, 2)),
			Demand: n(1, min(left, 3))}
		left -= it.Demand
		p.Items = append(p.Items, it)
	}
	price, inset, keep := n(8, 30), n(0, 1)*n(0, 1), n(0, 3)
	shortest, narrowest := n(0, 1)*n(0, 5), n(0, 2)
	trim := r.IntN(4) > 0
	for b := range 3 {
		s := cutting.Stock{To: n(long*2/3, long), Supply: 1, Keep: keep, Slope: price * n(1, 2) / 4,
			Rank: n(0, 3)}
		width := wide - n(0, 1)*n(0, 2)
		if r.IntN(6) > 0 {
			s.Across = &cutting.Across{Width: width, Inset: inset, Keep: n(0, 3),
				Strip: s.Slope * n(1, 3) / 3, Trim: trim, ShortestRip: shortest,
				Narrowest: narrowest}
		} else {
			s.Slope *= width
		}
		for i := range p.Items {
			it := &p.Items[i]
			switch {
			case r.IntN(8) == 0 || it.Size > s.To:
				continue
			case s.Across == nil:
			case it.Width > width:
				continue
			case it.Width == width || it.Width < narrowest || it.Width > width-2*inset:
				s.Across.Whole = append(s.Across.Whole, i)
			}
			s.Holds = append(s.Holds, i)
		}
		if b < 2 && r.IntN(3) > 0 {
			for range n(0, 2) {
				at := n(0, s.To-1)
				o := cutting.Spot{From: at, To: min(s.To, at+n(1, 3))}
				o.Tolerated[1], o.Tolerated[2] = r.IntN(3) == 0, r.IntN(2) == 0
				if s.Across != nil {
					o.Left = n(0, width-1)
					o.Right, o.Weak = min(width, o.Left+n(1, 2)), r.IntN(2) == 0
				}
				s.Spots = append(s.Spots, o)
			}
			sortSpots(s.Spots)
		} else if s.Cost = price * s.To * width * n(70, 130) / 100; r.IntN(3) > 0 {
			s.Supply = cutting.Any
		}
		p.Stocks = append(p.Stocks, s)
		last := &p.Stocks[len(p.Stocks)-1]
		last.Cost = max(last.Cost, p.Worth(&cutting.Pattern{Stock: b})) + n(0, price)
	}
	return p
}

// everyPlan gives, by stock, the sets that it can be laid out for, and the cost of the cheapest
// plan of all; false where supply is short.
func everyPlan(p *cutting.Problem) (ways []map[int]int64, least int64, enough bool) {
	radix, all := []int(nil), 1
	for i := range p.Items {
		radix = append(radix, all)
		all *= int(p.Items[i].Demand) + 1
	}
	cost := make([]int64, all)
	for set := 1; set < all; set++ {
		cost[set] = math.MaxInt64
	}
	for s := range p.Stocks {
		st := &p.Stocks[s]
		w := &everyWay{p: p, s: st, a: st.Across, radix: radix}
		ways = append(ways, w.all())
		times := st.Supply
		if times == cutting.Any {
			times = 6 // pieces in all
		}
		for range times {
			next := slices.Clone(cost)
			for set, c := range cost {
				for way, worth := range ways[s] {
					if to, ok := w.more(set, way); ok && c < math.MaxInt64 {
						next[to] = min(next[to], c+st.Cost-worth)
					}
				}
			}
			cost = next
		}
	}
	return ways, cost[all-1], cost[all-1] < math.MaxInt64
}

// checkRipped judges a plan: all that is wanted, no more stocks than there are, and no layout that
// is worth more than any of its pieces can be.
func checkRipped(p *cutting.Problem, ways []map[int]int64, r *Result) error {
	left, used := make([]int64, len(p.Items)), make([]int64, len(p.Stocks))
	var value int64
	for i := range p.Items {
		left[i] = p.Items[i].Demand
	}
	for _, u := range r.Uses {
		t, set, radix := &u.Pattern, 0, 1
		items, counts := cutting.Tally(t.Places)
		for i := range p.Items {
			if at, has := slices.BinarySearch(items, i); has {
				left[i] -= counts[at] * u.Times
				set += int(counts[at]) * radix
			}
			radix *= int(p.Items[i].Demand) + 1
		}
		used[t.Stock] += u.Times
		value += u.Times * p.Cost(t)
		if most, has := ways[t.Stock][set]; !has || t.Worth > most || t.Worth != p.Worth(t) {
			return fmt.Errorf("%v is said to be worth %d, of at most %d", t, t.Worth, most)
		}
	}
	for s, n := range used {
		if n > p.Stocks[s].Supply && p.Stocks[s].Supply != cutting.Any {
			return fmt.Errorf("stock %d used %d times", s, n)
		}
	}
	if slices.Max(left) > 0 || slices.Min(left) < 0 || value != r.Value {
		return fmt.Errorf("left %v, cost %d, value %d", left, value, r.Value)
	}
	return nil
}

// Tiny programs with rips are solved, nearly all are proven, and no bound is above the optimum.
// RACKWRIGHT_TINY says how many are tried.
func TestTinyRippedProgramsAreSolved(t *testing.T) {
	count := 120
	if n, err := strconv.Atoi(os.Getenv("RACKWRIGHT_TINY")); err == nil {
		count = n
	}
	tried, optimal, proven, worst := 0, 0, 0, 0.0
	for seed := range uint64(count) {
		p := tinyRipped(rand.New(rand.NewPCG(seed, 15)))
		ways, least, enough := everyPlan(p)
		r := solveWhole(p, Options{Work: 2e8})
		short := slices.ContainsFunc(r.Unmet, func(n int64) bool { return n > 0 })
		if short != !enough {
			t.Errorf("seed %d: unmet %v, though all can be met: %v", seed, r.Unmet, enough)
		}
		if short || !enough {
			continue
		}
		tried++
		if err := checkRipped(p, ways, &r); err != nil {
			t.Errorf("seed %d: %v", seed, err)
		}
		if r.Value < least || r.Bound > least {
			t.Errorf("seed %d: value %d, bound %d, optimum %d", seed, r.Value, r.Bound, least)
		}
		if r.Value == least {
			optimal++
		} else {
			worst = max(worst, float64(r.Value)/float64(max(1, least))-1)
			t.Logf("seed %d: value %d, optimum %d, bound %d", seed, r.Value, least, r.Bound)
		}
		if r.Bound == r.Value {
			proven++
		}
	}
	t.Logf("%d programs: %d optimal, %d proven, worst %.1f %% above", tried, optimal, proven,
		100*worst)
	if optimal < tried || 100*proven < 99*tried {
		t.Errorf("of %d programs %d are solved, %d proven", tried, optimal, proven)
	}
}

package cutstock

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"rackwright/nest/cutting"
)

// small makes a random problem with a few stocks and demands, small enough to solve by trying
// everything.
func small(r *rand.Rand) *cutting.Problem { return random(r, 3, 3, 3, 1) }

// random makes a problem of up to so many items, of up to demand copies each, and up to so many
// stocks of supply 1 or 2, and 1 or 2 larger ones; lengths are some units times grain.
func random(r *rand.Rand, items, demand, boards, grain int) *cutting.Problem {
	n := func(lo, hi int) int64 { return int64(lo + r.IntN(hi-lo+1)) }
	p := &cutting.Problem{Kerf: n(0, 2)}
	for range 1 + r.IntN(items) {
		p.Items = append(p.Items,
			cutting.Item{Size: n(3*grain, 9*grain), Class: r.IntN(cutting.Classes),
				Demand: n(1, demand)})
	}
	price := n(300, 900)
	for range 1 + r.IntN(boards) { // boards at hand
		s := cutting.Stock{Supply: n(1, 2), Keep: n(0, 4*grain),
			Slope: price / (2 * n(2, 3))}
		s.To = n(8*grain, 16*grain)
		for range r.IntN(3) {
			from := n(0, int(s.To)-1)
			spot := cutting.Spot{From: from, To: min(s.To, from+n(1, 3*grain))}
			spot.Tolerated[1], spot.Tolerated[2] = r.IntN(3) == 0, r.IntN(2) == 0
			s.Spots = append(s.Spots, spot)
		}
		sortSpots(s.Spots)
		p.Stocks = append(p.Stocks, s)
	}
	for range 1 + r.IntN(2) { // boards to buy
		s := cutting.Stock{Supply: cutting.Any, From: n(0, 1), To: n(12*grain, 20*grain),
			Keep:  n(0, 4*grain),
			Slope: price / (2 * n(2, 3))}
		s.Cost = s.To*price*n(90, 110)/200 + n(0, 9)
		if r.IntN(4) == 0 {
			s.Supply = n(0, 3)
		}
		p.Stocks = append(p.Stocks, s)
	}
	handling := n(0, 300)
	for s := range p.Stocks {
		st := &p.Stocks[s]
		for i := range p.Items {
			if r.IntN(6) > 0 {
				st.Holds = append(st.Holds, i)
			}
		}
		if st.Cost == 0 {
			st.Cost = p.Worth(&cutting.Pattern{Stock: s})
		}
		st.Cost += handling
	}
	return p
}

// everyLayout gives, for each set of counts within the demands, the worth of the best layout of one
// stock, at unit resolution.
func everyLayout(p *cutting.Problem, s int) map[string][]int64 {
	best := map[string][]int64{} // counts, then worth
	counts := make([]int64, len(p.Items))
	var places []cutting.Place
	var rest func(from int64)
	rest = func(from int64) {
		w := p.Worth(&cutting.Pattern{Stock: s, Places: places})
		key := fmt.Sprint(counts)
		if b, ok := best[key]; !ok || w > b[len(counts)] {
			best[key] = append(append([]int64(nil), counts...), w)
		}
		for _, i := range p.Stocks[s].Holds {
			if counts[i] == p.Items[i].Demand {
				continue
			}
			counts[i]++
			for at := from; at+p.Items[i].Size <= p.Stocks[s].To; at++ {
				if p.Legal(s, cutting.Place{Item: i, At: at}) {
					places = append(places, cutting.Place{Item: i, At: at})
					rest(at + p.Items[i].Size + p.Kerf)
					places = places[:len(places)-1]
				}
			}
			counts[i]--
		}
	}
	rest(p.Stocks[s].From)
	return best
}

// cheapest is the optimum by trying every way to meet the demands exactly; MaxInt64 where there is
// none.
func cheapest(p *cutting.Problem) int64 {
	v, _ := cheapestTied(p)
	return v
}

// cheapestTied gives with it the best tie of all plans of that cost.
func cheapestTied(p *cutting.Problem) (value, tie int64) {
	const ties = 1 << 30
	state := map[string]int64{}
	left := make([]int64, len(p.Items))
	total := int64(0)
	for i, it := range p.Items {
		left[i] = it.Demand
		total += it.Demand
	}
	start := fmt.Sprint(left)
	state[start] = 0
	vectors := map[string][]int64{start: left}
	for s := range p.Stocks {
		layouts := everyLayout(p, s)
		times := p.Stocks[s].Supply
		if times == cutting.Any {
			times = total
		}
		for range times {
			next := map[string]int64{}
			for k, v := range state {
				next[k] = v
			}
			for k, v := range state {
				for _, l := range layouts {
					to := append([]int64(nil), vectors[k]...)
					ok := true
					for i := range to {
						to[i] -= l[i]
						ok = ok && to[i] >= 0
					}
					if !ok {
						continue
					}
					key := fmt.Sprint(to)
					vectors[key] = to
					cost := v + ties*(p.Stocks[s].Cost-l[len(p.Items)]) + tieOfStock +
						p.Stocks[s].Rank
					if old, seen := next[key]; !seen || cost < old {
						next[key] = cost
					}
				}
			}
			state = next
		}
	}
	if v, ok := state[fmt.Sprint(make([]int64, len(p.Items)))]; ok {
		return v >> 30, v & (ties - 1)
	}
	return math.MaxInt64, 0
}

// On small problems bound <= optimum <= value, equal where the proof says so, and mostly equal.
func TestSolveIsExhaustiveSearch(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	solved, optimal, proven := 0, 0, 0
	for n := range 600 {
		p := small(r)
		want := cheapest(p)
		got := solveWhole(p, Options{})
		if err := checkResult(p, &got); err != nil {
			t.Fatalf("case %d: %v\n%+v\n%+v", n, err, p, got)
		}
		short := int64(0)
		for _, u := range got.Unmet {
			short += u
		}
		if want == math.MaxInt64 {
			if short == 0 {
				t.Fatalf("case %d: no plan exists, one was found\n%+v", n, p)
			}
			continue
		}
		if short > 0 {
			t.Fatalf("case %d: a plan exists (%d), left short %v\n%+v", n, want, got.Unmet, p)
		}
		if got.Bound > want || got.Value < want {
			t.Fatalf("case %d: bound %d, optimum %d, value %d\n%+v\n%+v", n, got.Bound, want,
				got.Value, p, got)
		}
		solved++
		if got.Value == want {
			optimal++
		}
		if got.Value == got.Bound {
			proven++
		}
	}
	t.Logf("%d problems with a plan: value is the optimum in %d, proven in %d", solved, optimal,
		proven)
	if optimal < solved*90/100 || proven < solved*90/100 {
		t.Errorf("of %d problems only %d optimal, %d proven", solved, optimal, proven)
	}
}

// check judges a result by the program alone.
func checkResult(p *cutting.Problem, r *Result) error {
	left := make([]int64, len(p.Items))
	for i, it := range p.Items {
		left[i] = it.Demand - r.Unmet[i]
	}
	supply := make([]int64, len(p.Stocks))
	for _, u := range r.Uses {
		s := u.Pattern.Stock
		if supply[s] += u.Times; p.Stocks[s].Supply != cutting.Any &&
			supply[s] > p.Stocks[s].Supply {
			return fmt.Errorf("stock %d used %d times", s, supply[s])
		}
		from := p.Stocks[s].From
		for _, pl := range u.Pattern.Places {
			if pl.At < from || !p.Legal(s, pl) {
				return fmt.Errorf("piece %v not legal in %v", pl, u.Pattern)
			}
			from = pl.At + p.Items[pl.Item].Size + p.Kerf
			left[pl.Item] -= u.Times
		}
		if u.Pattern.Worth != p.Worth(&u.Pattern) {
			return fmt.Errorf("worth of %v is not %d", u.Pattern, p.Worth(&u.Pattern))
		}
	}
	for i, n := range left {
		if n != 0 {
			return fmt.Errorf("item %d: %d left", i, n)
		}
	}
	if v := p.Value(r.Uses); v != r.Value {
		return fmt.Errorf("value %d, uses cost %d", r.Value, v)
	}
	return nil
}

func sortSpots(spots []cutting.Spot) {
	slices.SortFunc(spots, func(a, b cutting.Spot) int {
		return cmp.Or(cmp.Compare(a.From, b.From), cmp.Compare(a.To, b.To))
	})
}

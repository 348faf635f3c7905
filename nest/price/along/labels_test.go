package along

import (
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
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
	worth := n(300, 900)
	for range n(1, 3) {
		s := cutting.Stock{Supply: 1, To: n(8*grain, 16*grain), Keep: n(0, 4*grain),
			Rate: cutting.Rate{Num: worth, Den: 2 * n(2, 3)}}
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

// A list of what is worth at least so much has just those counts of the list of all that are worth
// it, though it is pruned by tables that know less of chains.
func TestListLosesNothing(t *testing.T) {
	r := rand.New(rand.NewPCG(46, 1))
	kept, left := 0, 0
	for n := range 2000 {
		p := spotted(r, int64(1+r.IntN(2)))
		for s := range p.Stocks { // more spots, and worths that round
			st := &p.Stocks[s]
			st.Keep, st.Rate = r.Int64N(3), cutting.Rate{Num: 1 + r.Int64N(9), Den: 7 + r.Int64N(5)}
			for range r.IntN(3) {
				from := r.Int64N(st.To)
				st.Spots = append(st.Spots, cutting.Spot{From: from,
					To:        min(st.To, from+1+r.Int64N(3)),
					Tolerated: [cutting.Classes]bool{false, true, true}})
			}
			byStart(st.Spots)
		}
		a := &price.Ask{Scale: 4, Duals: make([]int64, len(p.Items)),
			Demand: make([]int64, len(p.Items))}
		for i := range p.Items {
			a.Duals[i], a.Demand[i] = r.Int64N(40), p.Items[i].Demand
		}
		for s := range p.Stocks {
			if !tradable(p, &p.Stocks[s]) {
				continue
			}
			pr := newLinked(p, s, false, &price.Meter{})
			list := func(best, least int64) map[string]int64 {
				l := &price.Listing{Ask: a, Most: 1 << 20}
				found, ok := pr.List(l, best, least)
				if !ok {
					t.Fatalf("problem %d: no list", n)
				}
				out := map[string]int64{}
				for _, f := range found {
					v := f.Worth * a.Scale
					for _, pl := range f.Pattern.Places {
						v += a.Duals[pl.Item]
					}
					out[fmt.Sprint(cutting.Tally(f.Pattern.Places))] = v
				}
				return out
			}
			best := pr.Vouch(a)
			all := list(1<<55, -1<<55)
			for _, least := range all {
				some := list(best, least)
				for key, v := range all {
					if got, on := some[key]; on != (v >= least) || on && got != v {
						t.Fatalf(
							"problem %d, stock %d: %s is worth %d, on the list from %d on: %t\n%+v",
							n, s, key, v, least, on, p)
					}
				}
				kept, left = kept+len(some), left+len(all)-len(some)
			}
		}
	}
	if kept < 1000 || left < 1000 {
		t.Errorf("%d kept and %d left: too few to tell", kept, left)
	}
}

// A list of everything has each set of counts that any layout at unit resolution has, with the most
// that the chains of such a layout are worth.
func TestListHasEveryLayout(t *testing.T) {
	r := rand.New(rand.NewPCG(47, 1))
	sets, fractions := 0, 0
	for n := range 6000 {
		p := spotted(r, 1)
		p.Stocks = p.Stocks[:1]
		st := &p.Stocks[0]
		st.Keep, st.Rate = r.Int64N(3), cutting.Rate{Num: 1 + r.Int64N(9), Den: 7 + r.Int64N(5)}
		if !tradable(p, st) {
			continue
		}
		a := &price.Ask{Scale: 1, Duals: make([]int64, len(p.Items))}
		for _, it := range p.Items {
			a.Demand = append(a.Demand, it.Demand)
		}
		l := &price.Listing{Ask: a, Most: 1 << 20}
		list, ok := newLinked(p, 0, false, &price.Meter{}).List(l, 1<<55, -1<<55)
		got := map[string]int64{}
		for _, f := range list {
			got[fmt.Sprint(cutting.Tally(f.Pattern.Places))] = f.Worth
			if f.Worth > p.Worth(&f.Pattern) {
				fractions++
			}
		}
		want := chainWorths(p)
		if sets += len(want); !ok || !maps.Equal(got, want) {
			t.Fatalf("problem %d: listed %v, %t\nevery layout %v\n%+v", n, got, ok, want, p)
		}
	}
	if sets < 3000 || fractions < 100 {
		t.Errorf("%d sets of counts, %d worth more as chains: too few to tell", sets, fractions)
	}
}

// chainWorths tries every layout of the first stock at unit resolution and gives for each set of
// counts, but for none, the most that chains are worth: the clear runs of gaps summed as fractions,
// and rounded down at the stock's end, and wherever a gap has parts of two runs.
func chainWorths(p *cutting.Problem) map[string]int64 {
	s, out := &p.Stocks[0], map[string]int64{}
	spot := func(x int64, class int) bool { // class -1: any
		return slices.ContainsFunc(s.Spots, func(o cutting.Spot) bool {
			return o.From <= x && x < o.To && (class < 0 || !o.Tolerated[class])
		})
	}
	// gap adds [from, to) to the whole worth and the numerator so far
	gap := func(whole, num, from, to int64) (int64, int64) {
		run, parts := int64(0), 0
		for x := from; x <= to; x++ {
			if x < to && !spot(x, -1) {
				if run++; run == 1 {
					if parts++; parts > 1 {
						whole, num = whole+num/s.Rate.Den, 0
					}
				}
				continue
			}
			num += max(0, run-s.Keep) * s.Rate.Num
			run = 0
		}
		return whole, num
	}
	left := make([]int64, len(p.Items))
	for i, it := range p.Items {
		left[i] = it.Demand
	}
	var places []cutting.Place
	var try func(from, whole, num int64)
	try = func(from, whole, num int64) {
		if len(places) > 0 {
			w, n := gap(whole, num, from, s.To)
			key := fmt.Sprint(cutting.Tally(places))
			if old, ok := out[key]; !ok || w+n/s.Rate.Den > old {
				out[key] = w + n/s.Rate.Den
			}
		}
		for _, i := range s.Holds {
			it := &p.Items[i]
		next:
			for at := from; left[i] > 0 && at+it.Size <= s.To; at++ {
				for x := at; x < at+it.Size; x++ {
					if spot(x, it.Class) {
						continue next
					}
				}
				places, left[i] = append(places, cutting.Place{Item: i, At: at}), left[i]-1
				w, n := gap(whole, num, from, at-p.Kerf)
				try(at+it.Size+p.Kerf, w, n)
				places, left[i] = places[:len(places)-1], left[i]+1
			}
		}
	}
	try(s.From, 0, 0)
	return out
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
				l := &price.Listing{Ask: a, Most: 1 << 20}
				list, _ := newLinked(p, s, every, &price.Meter{}).List(l, 0, -1<<55)
				for _, f := range list {
					found[at][fmt.Sprint(cutting.Tally(f.Pattern.Places))] = f
				}
			}
			for key, f := range found[1] {
				g, ok := found[0][key]
				if !ok || g.Worth != f.Worth {
					t.Fatalf("problem %d, stock %d: %v is worth %d over all positions, %v %d "+
						"over the starts\n%+v",
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

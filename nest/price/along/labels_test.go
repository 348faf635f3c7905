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
			Slope: worth / (2 * n(2, 3))}
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
// it.
func TestListLosesNothing(t *testing.T) {
	r := rand.New(rand.NewPCG(46, 1))
	kept, left := 0, 0
	for n := range 2000 {
		p := spotted(r, int64(1+r.IntN(2)))
		for s := range p.Stocks { // more spots
			st := &p.Stocks[s]
			st.Keep, st.Slope = r.Int64N(3), 1+r.Int64N(9)
			for range r.IntN(3) {
				from := r.Int64N(st.To)
				st.Spots = append(st.Spots, cutting.Spot{From: from,
					To:        min(st.To, from+1+r.Int64N(3)),
					Tolerated: [cutting.Classes]bool{false, true, true}})
			}
			byStart(st.Spots)
		}
		a := &price.Ask{Duals: make([]int64, len(p.Items)),
			Demand: make([]int64, len(p.Items))}
		for i := range p.Items {
			a.Duals[i], a.Demand[i] = r.Int64N(40), p.Items[i].Demand
		}
		for s := range p.Stocks {
			if !tradable(p, &p.Stocks[s]) {
				continue
			}
			pr := newLinked(p, s, &price.Meter{}, &tables{})
			list := func(best, least int64) map[string]int64 {
				l := &price.Listing{Ask: a, Most: 1 << 20}
				found, ok := pr.List(l, best, least)
				if !ok {
					t.Fatalf("problem %d: no list", n)
				}
				out := map[string]int64{}
				for _, f := range found.Patterns() {
					v := f.Worth
					for _, pl := range f.Places {
						v += a.Duals[pl.Item]
					}
					out[fmt.Sprint(cutting.Tally(f.Places))] = v
				}
				return out
			}
			best, _ := pr.Vouch(a, price.Never)
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

// stretched multiplies all lengths but the kerf.
func stretched(p *cutting.Problem, by int64) {
	for i := range p.Items {
		p.Items[i].Size *= by
	}
	for s := range p.Stocks {
		st := &p.Stocks[s]
		st.From, st.To, st.Keep = st.From*by, st.To*by, st.Keep*by
		for k := range st.Spots {
			st.Spots[k].From, st.Spots[k].To = st.Spots[k].From*by, st.Spots[k].To*by
		}
	}
}

// A list of everything has each set of counts that any layout at unit resolution has, with the most
// that such a layout is worth. Some kerfs share nothing with the sizes.
func TestListHasEveryLayout(t *testing.T) {
	r := rand.New(rand.NewPCG(47, 1))
	sets, linked, apart := 0, 0, 0
	for n := range 6000 {
		p := spotted(r, 1)
		p.Stocks = p.Stocks[:1]
		st := &p.Stocks[0]
		st.Keep, st.Slope = r.Int64N(3), 1+r.Int64N(9)
		if by := r.Int64N(4); by > 1 {
			stretched(p, by)
			p.Kerf = r.Int64N(4)
		}
		if tradable(p, st) {
			linked++
		} else {
			apart++
		}
		a := &price.Ask{Duals: make([]int64, len(p.Items))}
		for _, it := range p.Items {
			a.Demand = append(a.Demand, it.Demand)
		}
		l := &price.Listing{Ask: a, Most: 1 << 20}
		list, ok := NewMaker(p, &price.Meter{}).Pricer(0).List(l, 1<<55, -1<<55)
		got := map[string]int64{}
		for _, f := range list.Patterns() {
			got[fmt.Sprint(cutting.Tally(f.Places))] = f.Worth
			if f.Worth != p.Worth(&f) {
				t.Fatalf("problem %d: %v is worth %d, listed with %d\n%+v", n, f.Places,
					p.Worth(&f),
					f.Worth, p)
			}
		}
		want := everyWorth(p)
		if sets += len(want); !ok || !maps.Equal(got, want) {
			t.Fatalf("problem %d: listed %v, %t\nevery layout %v\n%+v", n, got, ok, want, p)
		}
	}
	if sets < 3000 || linked < 1000 || apart < 1000 {
		t.Errorf("%d sets of counts, %d linked stocks, %d others: too few to tell", sets, linked,
			apart)
	}
}

// everyWorth tries every layout of the first stock at unit resolution and gives for each set of
// counts, but for none, the most that one is worth: the clear runs of its gaps, keep taken off
// each.
func everyWorth(p *cutting.Problem) map[string]int64 {
	s, out := &p.Stocks[0], map[string]int64{}
	spot := func(x int64, class int) bool { // class -1: any
		return slices.ContainsFunc(s.Spots, func(o cutting.Spot) bool {
			return o.From <= x && x < o.To && (class < 0 || !o.Tolerated[class])
		})
	}
	gap := func(from, to int64) (worth int64) {
		run := int64(0)
		for x := from; x <= to; x++ {
			if x < to && !spot(x, -1) {
				run++
				continue
			}
			worth += max(0, run-s.Keep) * s.Slope
			run = 0
		}
		return worth
	}
	left := make([]int64, len(p.Items))
	for i, it := range p.Items {
		left[i] = it.Demand
	}
	var places []cutting.Place
	var try func(from, worth int64)
	try = func(from, worth int64) {
		if len(places) > 0 {
			w, key := worth+gap(from, s.To), fmt.Sprint(cutting.Tally(places))
			if old, ok := out[key]; !ok || w > old {
				out[key] = w
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
				try(at+it.Size+p.Kerf, worth+gap(from, at-p.Kerf))
				places, left[i] = places[:len(places)-1], left[i]+1
			}
		}
	}
	try(s.From, 0)
	return out
}

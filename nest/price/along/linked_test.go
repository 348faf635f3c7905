package along

import (
	"cmp"
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// tiny makes a random one-stock problem whose lengths are small enough to try every layout.
func tiny(r *rand.Rand) (*cutting.Problem, []int64) {
	n := func(lo, hi int) int64 { return int64(lo + r.IntN(hi-lo+1)) }
	p := &cutting.Problem{Kerf: n(0, 3)}
	s := cutting.Stock{From: n(0, 2), Supply: 1, Keep: n(0, 5), Slope: n(0, 9)}
	s.To = s.From + n(8, 22)
	for range r.IntN(4) {
		from := n(int(s.From), int(s.To)-1)
		spot := cutting.Spot{From: from, To: min(s.To, from+n(1, 4))}
		spot.Tolerated[1], spot.Tolerated[2] = r.IntN(3) == 0, r.IntN(2) == 0
		s.Spots = append(s.Spots, spot)
	}
	byStart(s.Spots)
	var duals []int64
	for i := range 1 + r.IntN(3) {
		p.Items = append(p.Items,
			cutting.Item{Size: n(2, 9), Class: r.IntN(cutting.Classes), Demand: 1})
		duals = append(duals, n(0, 40))
		s.Holds = append(s.Holds, i)
	}
	p.Stocks = []cutting.Stock{s}
	return p, duals
}

// exhaust tries every layout at unit resolution and judges its gaps from the design's words alone:
// what a gap holds between its kerfs, clear runs of it, slope x (run - keep) each. At least one
// piece is cut, if one fits at all.
func exhaust(p *cutting.Problem, duals []int64) int64 {
	s := &p.Stocks[0]
	gap := func(from, to int64) (worth int64) {
		run := int64(0)
		close := func() {
			if run > s.Keep {
				worth += s.Slope * (run - s.Keep)
			}
			run = 0
		}
		for x := from; x < to; x++ {
			for _, spot := range s.Spots {
				if spot.From <= x && x < spot.To {
					close()
					run--
					break
				}
			}
			run++
		}
		close()
		return worth
	}
	// best of [from, To), a kerf towards the piece before already taken off; best: with no piece
	// there
	var rest func(from int64, best int64) int64
	rest = func(from int64, best int64) int64 {
		for i, it := range p.Items {
		place:
			for at := from; at+it.Size <= s.To; at++ {
				for x := at; x < at+it.Size; x++ {
					for _, spot := range s.Spots {
						if spot.From <= x && x < spot.To && !spot.Tolerated[it.Class] {
							continue place
						}
					}
				}
				after := at + it.Size + p.Kerf
				best = max(best, duals[i]+gap(from, at-p.Kerf)+rest(after, gap(after, s.To)))
			}
		}
		return best
	}
	if best := rest(s.From, -1); best >= 0 {
		return best
	}
	return gap(s.From, s.To)
}

// The recursion gives what exhaustive search gives, and the layout it reports is legal and worth
// that.
func TestPriceIsExhaustiveSearch(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	linked, total := 0, 10000
	for n := range total {
		p, duals := tiny(r)
		switch n % 3 {
		case 0:
			p, duals = coarse(r)
		case 1:
			p, duals = coarse(r)
			p.Kerf = r.Int64N(9) // it shares nothing with the sizes
		}
		want := exhaust(p, duals)
		pr := newLinked(p, 0, &price.Meter{}, &tables{})
		got := pr.Price(&price.Ask{Duals: duals})
		if got != want {
			t.Fatalf("case %d: recursion %d, exhaustive search %d\n%+v\nduals %v", n, got, want, p,
				duals)
		}
		if err := checkLayout(p, duals, placesOf(pr.Walk(nil, -1)), got); err != nil {
			t.Fatalf("case %d: %v\n%+v\nduals %v", n, err, p, duals)
		}
		if tradable(p, &p.Stocks[0]) {
			linked++
		}
	}
	if linked < 2000 {
		t.Errorf("of %d boards only %d linked: too few to tell", total, linked)
	}
}

// Stocks share their tables. A layout asked of one after another was priced is the one that it had
// found, and a start is found by buckets where a search finds it.
func TestSharedTablesAreFilledAgain(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	walked := 0
	for n := range 500 {
		p := spotted(r, 3)
		k := NewMaker(p, &price.Meter{})
		a := &price.Ask{Duals: make([]int64, len(p.Items)), Demand: make([]int64, len(p.Items)),
			Round: 1}
		for i := range p.Items {
			a.Duals[i], a.Demand[i] = r.Int64N(5000), p.Items[i].Demand
		}
		var pricers []price.Pricer
		var want []*cutting.Pattern
		for s := range p.Stocks {
			pricers = append(pricers, k.Pricer(s))
			pricers[s].Price(a)
			want = append(want, pricers[s].Walk(nil, -1))
		}
		for s, pr := range pricers {
			if !reflect.DeepEqual(pr.Walk(nil, -1), want[s]) {
				t.Fatalf("problem %d: stock %d has another layout\n%+v", n, s, p)
			}
			l, linked := pr.(*linked)
			if !linked {
				continue
			}
			walked++
			for x := l.s.From - 2; x <= l.s.To+2; x++ {
				if at, _ := slices.BinarySearch(l.starts, x); l.at(x) != at {
					t.Fatalf("problem %d: %d is found at %d of %v", n, x, l.at(x), l.starts)
				}
			}
		}
	}
	if walked < 300 {
		t.Errorf("%d linked stocks are too few to tell", walked)
	}
}

func placesOf(t *cutting.Pattern) []cutting.Place {
	if t == nil {
		return nil
	}
	return t.Places
}

func checkLayout(p *cutting.Problem, duals []int64, places []cutting.Place, best int64) error {
	var v int64
	free := p.Stocks[0].From
	for _, pl := range places {
		if pl.At < free || !p.Legal(0, pl) {
			return fmt.Errorf("piece %+v is not legal in %v", pl, places)
		}
		free = pl.At + p.Items[pl.Item].Size + p.Kerf
		v += duals[pl.Item]
	}
	if v += p.Worth(&cutting.Pattern{Places: places}); v != best {
		return fmt.Errorf("layout %v is worth %d, the recursion says %d", places, v, best)
	}
	return nil
}

// coarse makes a stock with a spot or two that some items tolerate; all lengths share a step of 4
// but keep, so that there are arrangements between the steps.
func coarse(r *rand.Rand) (*cutting.Problem, []int64) {
	steps := func(lo, hi int) int64 { return 4 * int64(lo+r.IntN(hi-lo+1)) }
	s := cutting.Stock{To: steps(7, 10), Supply: 1, Keep: int64(r.IntN(7)),
		Slope: 1 + r.Int64N(3)}
	for range 1 + r.IntN(2) {
		from := steps(1, 6)
		s.Spots = append(s.Spots,
			cutting.Spot{From: from, To: min(s.To, from+steps(1, 2)),
				Tolerated: [cutting.Classes]bool{false, r.IntN(2) == 0, true}})
	}
	byStart(s.Spots)
	p := &cutting.Problem{Kerf: steps(0, 1),
		Items: []cutting.Item{{Size: steps(3, 5), Class: 2, Demand: 1}}}
	if r.IntN(2) == 0 {
		p.Items = append(p.Items, cutting.Item{Size: steps(3, 5), Class: 1, Demand: 1})
	}
	var duals []int64
	for i := range p.Items {
		s.Holds = append(s.Holds, i)
		duals = append(duals, r.Int64N(20))
	}
	p.Stocks = []cutting.Stock{s}
	return p, duals
}

func byStart(spots []cutting.Spot) {
	slices.SortFunc(spots, func(a, b cutting.Spot) int { return cmp.Compare(a.From, b.From) })
}

package along

import (
	"cmp"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// tiny makes a random one-stock problem whose lengths are small enough to try every layout.
func tiny(r *rand.Rand) (*cutting.Problem, []int64) {
	n := func(lo, hi int) int64 { return int64(lo + r.IntN(hi-lo+1)) }
	p := &cutting.Problem{Kerf: n(0, 3)}
	s := cutting.Stock{From: n(0, 2), Supply: 1, Keep: n(0, 5),
		Rate: cutting.Rate{Num: n(0, 9), Den: n(1, 4)}}
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
// what a gap holds between its kerfs, clear runs of it, rate x (run - keep) each rounded down. At
// least one piece is cut, if one fits at all.
func exhaust(p *cutting.Problem, duals []int64) int64 {
	s := &p.Stocks[0]
	gap := func(from, to int64) (worth int64) {
		run := int64(0)
		close := func() {
			if run > s.Keep {
				worth += s.Rate.Num * (run - s.Keep) / s.Rate.Den
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

// The recursion gives what exhaustive search gives: exactly where pieces cannot trade clear wood,
// else never less, and never more than the bonus; and the layout it reports is legal and worth what
// it says.
func TestPriceIsExhaustiveSearch(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	const scale = 8
	equal, linked, total := 0, 0, 6000
	for n := range total {
		p, duals := tiny(r)
		scaled := make([]int64, len(duals))
		for i, d := range duals {
			scaled[i] = d * scale
		}
		want := exhaust(p, duals)
		for _, everywhere := range []bool{false, true} {
			pr := newLinked(p, 0, everywhere, &price.Meter{})
			got := pr.Price(&price.Ask{Duals: scaled, Scale: scale})
			slack := int64(0)
			if pr.trades {
				slack = int64(len(p.Stocks[0].Spots)+len(placesOf(pr.Walk(nil, -1)))) * scale
				// a gap may then be split at no cost, each part earning the bonus
				if p.Kerf == 0 && p.Stocks[0].Keep == 0 {
					slack = 22 * scale
				}
			}
			if got < want*scale || got > want*scale+slack {
				t.Fatalf("case %d, everywhere %v: recursion %d/%d, exhaustive search %d, linked "+
					"%v\n%+v\nduals %v",
					n, everywhere, got, scale, want, pr.trades, p, duals)
			}
			if err := checkLayout(p, duals, placesOf(pr.Walk(nil, -1)), got, scale,
				slack); err != nil {
				t.Fatalf("case %d: %v\n%+v\nduals %v", n, err, p, duals)
			}
			if everywhere {
				continue
			}
			if pr.trades {
				linked++
			}
			if got == want*scale {
				equal++
			}
		}
	}
	t.Logf("%d boards, %d of them linked, %d equal to exhaustive search", total, linked, equal)
	if equal < total*95/100 {
		t.Errorf("only %d of %d equal", equal, total)
	}
}

func placesOf(t *cutting.Pattern) []cutting.Place {
	if t == nil {
		return nil
	}
	return t.Places
}

func checkLayout(p *cutting.Problem, duals []int64, places []cutting.Place, best, scale,
	slack int64) error {
	var v int64
	free := p.Stocks[0].From
	for _, pl := range places {
		if pl.At < free || !p.Legal(0, pl) {
			return fmt.Errorf("piece %+v is not legal in %v", pl, places)
		}
		free = pl.At + p.Items[pl.Item].Size + p.Kerf
		v += duals[pl.Item]
	}
	if v = (v + p.Worth(&cutting.Pattern{Places: places})) * scale; v > best || v < best-slack {
		return fmt.Errorf("layout %v is worth %d, the recursion says %d", places, v, best)
	}
	return nil
}

// coarse makes a stock with a spot or two that some items tolerate; all lengths share a step of 4
// but keep, and rates round, so that arrangements between the steps count too.
func coarse(r *rand.Rand) (*cutting.Problem, []int64) {
	steps := func(lo, hi int) int64 { return 4 * int64(lo+r.IntN(hi-lo+1)) }
	s := cutting.Stock{To: steps(7, 10), Supply: 1, Keep: int64(r.IntN(7)),
		Rate: cutting.Rate{Num: 1 + r.Int64N(3), Den: 4 + r.Int64N(6)}}
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

// The recursion is a bound for arrangements that its starts leave out, and not a wasteful one.
func TestPriceCoversWhatLiesBetween(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 14))
	between, equal := 0, 0
	const total = 4000
	for n := range total {
		p, duals := coarse(r)
		want := exhaust(p, duals)
		some, all := newLinked(p, 0, false, &price.Meter{}), newLinked(p, 0, true, &price.Meter{})
		q := &price.Ask{Duals: duals, Scale: 1}
		got := all.Price(q)
		if got < want || some.Price(q) > got {
			t.Fatalf("case %d: over every position %d, over the starts %d, exhaustive search %d\n"+
				"%+v\nduals %v",
				n, got, some.Price(q), want, p, duals)
		}
		if got == want {
			equal++
		}
		all.trades = false
		if all.Price(q) < want {
			between++
		}
	}
	t.Logf("of %d boards the grid alone misses the best on %d; the bound is exact on %d", total,
		between, equal)
	if between == 0 || equal < total*80/100 {
		t.Errorf("missed by the grid %d, exact %d", between, equal)
	}
}

// The starts of starts.go lose nothing against every position.
func TestStartsAreEnough(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for n := range 6000 {
		p, duals := tiny(r)
		// nothing is rounded, so no bonus, and the two must agree to the unit
		p.Stocks[0].Rate.Den = 1
		some, all := newLinked(p, 0, false, &price.Meter{}), newLinked(p, 0, true, &price.Meter{})
		some.trades, all.trades = false, false
		q := &price.Ask{Duals: duals, Scale: 1}
		a, b := some.Price(q), all.Price(q)
		if a != b {
			t.Fatalf("case %d: %d over the starts, %d over every position\n%+v\nduals %v", n, a, b,
				p, duals)
		}
	}
}

func byStart(spots []cutting.Spot) {
	slices.SortFunc(spots, func(a, b cutting.Spot) int { return cmp.Compare(a.From, b.From) })
}

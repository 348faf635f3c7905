package cutstock

import (
	"math/rand/v2"
	"slices"
	"testing"

	"rackwright/nest/cutting"
)

// What can only help never raises the optimum: the bound of the easier problem is at most the value
// of the harder one. Costs and rates stay as they are.
func TestHelpNeverHurts(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	help := map[string]func(p *cutting.Problem) bool{
		"one more board on hand": func(p *cutting.Problem) bool {
			p.Stocks[0].Supply++
			return true
		},
		"a narrower kerf": func(p *cutting.Problem) bool {
			if p.Kerf == 0 {
				return false
			}
			p.Kerf--
			return true
		},
		"a defect less": func(p *cutting.Problem) bool {
			s := &p.Stocks[0]
			if len(s.Spots) == 0 {
				return false
			}
			s.Spots = s.Spots[1:]
			return true
		},
		"a more tolerant class": func(p *cutting.Problem) bool {
			for s := range p.Stocks {
				p.Stocks[s].Spots = slices.Clone(p.Stocks[s].Spots)
				for n := range p.Stocks[s].Spots {
					p.Stocks[s].Spots[n].Tolerated = [cutting.Classes]bool{true, true, true}
				}
			}
			return true
		},
	}
	tried := map[string]int{}
	for n := range 300 {
		p := small(r)
		before := solveWhole(p, Options{})
		for name, ease := range help {
			q := *p
			q.Stocks = slices.Clone(p.Stocks)
			if !ease(&q) {
				continue
			}
			after := solveWhole(&q, Options{})
			if !slices.Equal(after.Unmet, before.Unmet) {
				continue // another set of pieces is met: not comparable
			}
			tried[name]++
			if after.Bound > before.Value {
				t.Fatalf("case %d, %s: bound %d is above the value %d before\n%+v", n, name,
					after.Bound, before.Value, p)
			}
		}
	}
	for name := range help {
		if tried[name] < 50 {
			t.Errorf("%s: tried %d times only", name, tried[name])
		}
	}
}

// A search with less work is no better, gives a legal plan and a bound that still holds; the same
// work gives the same result.
func TestWorkLimit(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	for n := range 60 {
		p := small(r)
		full := solveWhole(p, Options{})
		for _, work := range []int64{1, 1000, 100_000} {
			a := solveWhole(p, Options{Work: work})
			b := solveWhole(p, Options{Work: work})
			if a.Value != b.Value || a.Bound != b.Bound || a.Ended != b.Ended {
				t.Fatalf("case %d, work %d: %d and %d, bounds %d and %d", n, work, a.Value, b.Value,
					a.Bound, b.Bound)
			}
			if err := checkResult(p, &a); err != nil {
				t.Fatalf("case %d, work %d: %v", n, work, err)
			}
			if slices.Equal(a.Unmet, full.Unmet) && (a.Bound > full.Value || full.Bound > a.Value) {
				t.Fatalf("case %d, work %d: bound %d value %d; with all work bound %d value %d", n,
					work, a.Bound, a.Value, full.Bound, full.Value)
			}
		}
	}
}

// Layout keeps the pieces of a pattern, stays legal, and is never worth less.
func TestLayoutIsNoWorse(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	better := 0
	for n := range 400 {
		p := small(r)
		for _, u := range solveWhole(p, Options{Work: 1}).Uses {
			l := p.Layout(u.Pattern)
			if l.Worth < u.Pattern.Worth || l.Worth != p.Worth(&l) {
				t.Fatalf("case %d: layout %v of %v", n, l, u.Pattern)
			}
			if l.Worth > u.Pattern.Worth {
				better++
			}
			a, ca := cutting.Tally(l.Places)
			b, cb := cutting.Tally(u.Pattern.Places)
			if !slices.Equal(a, b) || !slices.Equal(ca, cb) {
				t.Fatalf("case %d: layout %v has other pieces than %v", n, l, u.Pattern)
			}
			from := p.Stocks[l.Stock].From
			for _, pl := range l.Places {
				if pl.At < from || !p.Legal(l.Stock, pl) {
					t.Fatalf("case %d: layout %v is not legal\n%+v", n, l, p)
				}
				from = pl.At + p.Items[pl.Item].Size + p.Kerf
			}
		}
	}
	t.Logf("%d layouts are worth more than the pattern they came from", better)
}

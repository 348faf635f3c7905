package cutstock

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"rackwright/nest/cutting"
)

// ending is a context that ends once it was asked so often.
type ending struct {
	context.Context
	asks int
}

func (e *ending) Err() error {
	if e.asks--; e.asks < 0 {
		return context.Canceled
	}
	return nil
}

// Wherever a search is ended, it gives a plan no worse than one it began with, and a bound that no
// plan breaks. So does all that it has handed over, which only becomes better.
func TestAnEndedSearchGivesWhatItHas(t *testing.T) {
	r := rand.New(rand.NewPCG(91, 92))
	handed, atOnce, interrupted := 0, 0, 0
	for n := range 400 {
		p := small(r)
		want := cheapest(p)
		start := Solve(context.Background(), p, Options{Work: 1})
		var found []Result
		asks := r.IntN(1 << r.IntN(9))
		got := Solve(&ending{context.Background(), asks}, p, Options{
			Starts: [][]cutting.Use{start.Uses},
			Found:  func(r Result) { found = append(found, r) }})
		if asks == 0 {
			atOnce++
		}
		if got.Ended == Interrupted {
			interrupted++
		}
		short, value := shortOf(p, start.Unmet), start.Value
		for k, f := range append(found, got) {
			if err := checkResult(p, &f); err != nil {
				t.Fatalf("case %d, result %d: %v\n%+v\n%+v", n, k, err, p, f)
			}
			s := shortOf(p, f.Unmet)
			if s > short || s == short && f.Value > value {
				t.Fatalf("case %d, result %d: short %d at %d, before %d at %d", n, k, s, f.Value,
					short, value)
			}
			short, value = s, f.Value
			if s == 0 && f.Bound > want || f.Bound > f.Value || f.Certificate == nil {
				t.Fatalf("case %d, result %d: bound %d by %v, value %d, the cheapest costs %d", n,
					k, f.Bound, f.Certificate, f.Value, want)
			}
		}
		handed += len(found)
	}
	if handed < 400 || atOnce < 20 || interrupted < 40 {
		t.Errorf("only %d results handed over, %d ended at once, %d in all", handed, atOnce,
			interrupted)
	}
}

// The bound that needs no search is none that a plan breaks, also where a board costs less than it
// is worth; of any number of such boards there is none.
func TestTheBoundWithoutASearchHolds(t *testing.T) {
	r := rand.New(rand.NewPCG(93, 94))
	below, nothing := 0, 0
	for n := range 400 {
		p := small(r)
		if bound, _ := Free(p); bound != 0 {
			t.Fatalf("case %d: %d, where no board costs less than its worth", n, bound)
		}
		for s := range p.Stocks {
			p.Stocks[s].Cost -= r.Int64N(p.Stocks[s].Cost/4 + 1)
		}
		bound, proof := Free(p)
		want := cheapest(p)
		switch {
		case proof == nil:
			nothing++
		case bound > want:
			t.Fatalf("case %d: bound %d, the cheapest costs %d: %+v", n, bound, want, p)
		case bound < 0 && want < math.MaxInt64:
			below++
		}
	}
	if below < 20 {
		t.Errorf("only %d bounds below 0, %d none", below, nothing)
	}
}

// A search that begins with a plan never tells of one that costs less than what it gives in the
// end, nor of one that costs more than the one told of before.
func TestEventsTellOfPlans(t *testing.T) {
	r := rand.New(rand.NewPCG(61, 62))
	begun := 0
	for n := range 40 {
		p := random(r, 2+r.IntN(5), 4, 2+r.IntN(4), 1)
		plan := Solve(t.Context(), p, Options{Work: 1e4})
		if slices.ContainsFunc(plan.Unmet, func(n int64) bool { return n > 0 }) {
			continue
		}
		var told []Event
		better := Solve(t.Context(), p, Options{Work: 1e6})
		got := Solve(t.Context(), p, Options{Work: 1e7, Starts: [][]cutting.Use{plan.Uses},
			Fallbacks: [][]cutting.Use{better.Uses},
			Observe:   func(e Event) { told = append(told, e) }})
		last := min(plan.Value, better.Value)
		for _, e := range told {
			if e.Value < got.Value || e.Value > last || e.Proven && e.Bound > got.Value {
				t.Errorf("program %d: %+v, after %d and before %d", n, e, last, got.Value)
			}
			last = e.Value
		}
		if len(told) > 1 && told[1].Phase == "plans at hand" {
			begun++
		}
	}
	if begun < 10 {
		t.Errorf("only %d searches begin with plans at hand", begun)
	}
}

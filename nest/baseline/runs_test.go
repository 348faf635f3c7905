package baseline_test

import (
	"context"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"rackwright/nest/baseline"
	"rackwright/nest/cutting"
)

// bulk are problems with many copies, some of them in long runs, and with spots that are weak.
func bulk(t *rapid.T) (p *cutting.Problem, onHand []bool, list []int) {
	p, onHand, list = problems(t)
	if rapid.Bool().Draw(t, "rips") {
		across(t, p)
		for n := range p.Stocks {
			for k := range p.Stocks[n].Spots {
				p.Stocks[n].Spots[k].Weak = p.Stocks[n].Across != nil &&
					rapid.IntRange(0, 2).Draw(t, "weak") == 0
			}
		}
	}
	for n := range p.Stocks {
		if s := &p.Stocks[n]; s.Supply > 0 {
			s.Supply *= rapid.Int64Range(1, 20).Draw(t, "supply times")
		}
	}
	var out []int
	for _, i := range list {
		out = append(out, slices.Repeat([]int{i}, rapid.IntRange(1, 30).Draw(t, "run"))...)
	}
	return p, onHand, out
}

// Copies placed together go where each of them goes by itself: the plans are those of the reference
// to the last piece.
func TestRunsGoWhereEachCopyGoes(t *testing.T) {
	uneven, opened := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		p, onHand, list := bulk(t)
		for _, rule := range baseline.Rules() {
			got, unmet := baseline.Plan(context.Background(), p, onHand, list, rule)
			want, left := oneByOne(p, onHand, list, rule)
			if d := cmp.Diff(want, singly(got)); d != "" || !slices.Equal(unmet, left) {
				t.Fatalf("%s of %v: unmet %v, one by one %v; %s", rule, list, unmet, left, d)
			}
			opened += len(want)
			for n := 1; n < len(got); n++ {
				if got[n].Pattern.Stock == got[n-1].Pattern.Stock {
					uneven++
				}
			}
		}
	})
	if uneven < 20 || opened < 500 {
		t.Errorf("only %d stocks opened, %d beside alike ones filled unlike", opened, uneven)
	}
}

// Where the context has ended, before or while the rules are followed, the plan is whole all the
// same: legal, and nothing is unmet that a new stock, or any open one, could take.
func TestHurriedPlansAreWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, onHand, list := bulk(t)
		for _, rule := range baseline.Rules() {
			ctx := &ending{Context: context.Background(),
				asks: rapid.IntRange(0, 4).Draw(t, "asks")}
			uses, unmet := baseline.Plan(ctx, p, onHand, list, rule)
			placed := slices.Clone(unmet)
			used := make([]int64, len(p.Stocks))
			for _, u := range uses {
				used[u.Pattern.Stock] += u.Times
				legal(t, p, &u.Pattern)
				for _, pl := range u.Pattern.Places {
					placed[pl.Item] += u.Times
				}
			}
			for _, i := range list {
				placed[i]--
			}
			if slices.ContainsFunc(placed, func(n int64) bool { return n != 0 }) {
				t.Fatalf("%s: placed + unmet - asked = %v", rule, placed)
			}
			for s, n := range used {
				stock := &p.Stocks[s]
				if stock.Supply == cutting.Any {
					continue
				}
				if n > stock.Supply {
					t.Fatalf("%s: %d of stock %d used, supply %d", rule, n, s, stock.Supply)
				}
				for i, m := range unmet {
					if _, alone := oneByOne(only(p, s), onHand[s:s+1], []int{i}, rule); m > 0 &&
						n < stock.Supply && alone[i] == 0 {
						t.Fatalf("%s: %d of item %d unmet, but stock %d is there", rule, m, i, s)
					}
				}
			}
		}
	})
}

// only is a problem with one of its stocks.
func only(p *cutting.Problem, s int) *cutting.Problem {
	q := *p
	q.Stocks = p.Stocks[s : s+1]
	return &q
}

// legal says that a pattern is.
func legal(t *rapid.T, p *cutting.Problem, of *cutting.Pattern) {
	if p.Stocks[of.Stock].Across != nil {
		if why := flaw(p, of); why != "" {
			t.Fatalf("%+v: %s", of, why)
		}
		return
	}
	for n, pl := range of.Places {
		if why := fault(p, of.Stock, of.Places[:n], pl); why != "" {
			t.Fatalf("%+v: %s", of, why)
		}
	}
}

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

// Fifty thousand copies of one part are placed as the arithmetic says: the loads are few kinds,
// however many copies there are.
func TestManyCopies(t *testing.T) {
	const copies = 50_000
	p := &cutting.Problem{Items: []cutting.Item{{Size: 42}, {Size: 20}}, Kerf: 1,
		Stocks: []cutting.Stock{{To: 129, Cost: 5, Supply: 100, Holds: []int{0, 1}},
			{To: 96, Cost: 7, Supply: cutting.Any, Holds: []int{0, 1}}}}
	list := slices.Repeat([]int{0, 1}, 1)
	list = append(list, slices.Repeat([]int{0}, copies)...)
	for _, rule := range baseline.Rules() {
		uses, unmet := baseline.Plan(context.Background(), p, []bool{true, false}, list, rule)
		var boards, pieces int64
		for _, u := range uses {
			boards += u.Times
			pieces += u.Times * int64(len(u.Pattern.Places))
		}
		// two copies on each stock that is bought, three on each on hand, where 42 + 1 + 42 + 1 +
		// 42 = 128, but for one that has the piece of 20
		if pieces != copies+2 || boards < 100+(copies-300)/2 || boards > 102+(copies-298)/2 ||
			slices.Max(unmet) > 0 || len(uses) > 6 {
			t.Errorf("%s: %d pieces on %d stocks in %d uses, unmet %v", rule, pieces, boards,
				len(uses), unmet)
		}
	}
}

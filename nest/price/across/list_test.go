package across

import (
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// TestListIsExhaustiveSearch compares the lists of random stocks with those of exhaustive search:
// the same sets of counts, each with the same worth, in a legal layout that has this worth.
func TestListIsExhaustiveSearch(t *testing.T) {
	total, seed := 1500, uint64(1)
	if n, err := strconv.Atoi(os.Getenv("RACKWRIGHT_LISTS")); err == nil {
		total, seed = n, uint64(n)
	}
	r := rand.New(rand.NewPCG(15, seed))
	listed, spotted := 0, 0
	for n := range total {
		p, duals := tinyStock(r, 8, 14)
		switch {
		case n%20 == 0:
			p, duals = tinyStock(r, 11, 20)
		case n%4 == 0:
			p, duals = sparseStock(r)
		case n%4 == 2:
			p, duals = weakStock(r)
		}
		most := copies{}
		demand := make([]int64, len(duals))
		for i := range demand {
			demand[i] = r.Int64N(3)
			most[i] = int8(demand[i])
		}
		want := newBruteForce(p, duals).lists(most)
		pr := anyMaker(p, &price.Meter{}).newPricer(0)
		ask := &price.Ask{Duals: duals, Demand: demand, Round: 1}
		best, _ := pr.Vouch(ask, price.Never)
		top := want.most(duals)
		for _, need := range []int64{-1 << 40, top - r.Int64N(1+max(0, top)), top, top + 1} {
			l := &listComparison{t: t, n: n, p: p, duals: duals, demand: demand, need: need}
			listed += l.compare(pr, ask, best, want)
		}
		if len(p.Stocks[0].Spots) > 0 {
			spotted++
		}
	}
	t.Logf("%d patterns listed of %d stocks, %d of them with spots", listed, total, spotted)
}

// listComparison is one list against exhaustive search.
type listComparison struct {
	t             *testing.T
	n             int
	p             *cutting.Problem
	duals, demand []int64
	need          int64
}

func (l *listComparison) fail(format string, args ...any) {
	l.t.Helper()
	l.t.Fatalf("case %d, need %d: %s\n%+v\n%+v\nduals %v, demand %v", l.n, l.need,
		fmt.Sprintf(format, args...), l.p, *l.p.Stocks[0].Across, l.duals, l.demand)
}

// compare compares the list, and says how long it is.
func (l *listComparison) compare(pr *pricer, ask *price.Ask, best int64, want worths) int {
	list, ok := pr.List(&price.Listing{Ask: ask, Most: 1 << 20}, best, l.need)
	if !ok {
		l.fail("no list")
	}
	seen := worths{}
	for _, t := range list.Patterns() {
		c := copies{}
		for _, pl := range t.Places {
			c[pl.Item]++
		}
		if _, twice := seen[c]; twice {
			l.fail("%v twice", c)
		}
		seen[c] = t.Worth
		if v, ok := want[c]; !ok || v != t.Worth {
			l.fail("%v is worth %d, by exhaustive search %d (%t)", c, t.Worth, v, ok)
		}
		if v, err := newBruteForce(l.p, l.duals).value(&t); err != nil ||
			v != t.Worth+c.worthAt(l.duals) || l.p.Worth(&t) != t.Worth {
			l.fail("%v: worth %d, value %d, worth of the layout %d: %v in %+v", c, t.Worth, v,
				l.p.Worth(&t), err, t)
		}
	}
	for c, v := range want {
		if _, has := seen[c]; !has && c != (copies{}) && v+c.worthAt(l.duals) >= l.need {
			l.fail("%v of worth %d is missing among %d", c, v, list.Len())
		}
	}
	return list.Len()
}

// Stocks that share tables are listed in turn, again and again at other duals and demands: each
// list is as if the stock were alone. One that is just so long as is allowed is given, a longer one
// is not.
func TestListsShareTables(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 17))
	none, some := 0, 0
	for n := range 3 {
		p, duals := shopStocks(r, 2, 3, n%3)
		pricers := allPricers(p, &price.Meter{})
		for round := range 2 {
			ask := &price.Ask{Round: round + 1, Demand: make([]int64, len(duals))}
			for i, d := range duals {
				ask.Duals = append(ask.Duals, d*(95+r.Int64N(10))/100)
				ask.Demand[i] = 1 + r.Int64N(4)
			}
			for s, pr := range pricers {
				best, _ := pr.Vouch(ask, price.Never)
				l := &price.Listing{Ask: ask, Most: 1 << 20}
				least := best - best/int64(20+r.IntN(20))
				got, _ := pr.List(l, best, least)
				alone := anyMaker(onlyStock(p, s), &price.Meter{}).newPricer(0)
				want, _ := alone.List(l, best, least)
				if got, want := worthsOf(got), worthsOf(want); !maps.Equal(got, want) {
					t.Fatalf("stocks %d, round %d, stock %d: %d patterns, alone %d", n, round, s,
						len(got), len(want))
				}
				l.Most = got.Len()
				if _, ok := pr.List(l, best, least); !ok {
					t.Errorf("stocks %d: no list of %d", n, l.Most)
				}
				if l.Most--; l.Most < 0 {
					none++
					continue
				}
				some++
				if _, ok := pr.List(l, best, least); ok {
					t.Errorf("stocks %d: a list of %d, where %d is the most", n, got.Len(), l.Most)
				}
			}
		}
	}
	if some < 6 {
		t.Errorf("%d lists have a pattern, %d have none: too few to tell", some, none)
	}
}

// worthsOf are patterns by what they have, and what they are worth.
func worthsOf(l *price.List) map[string]int64 {
	out := map[string]int64{}
	for _, t := range l.Patterns() {
		items, counts := cutting.Tally(t.Places)
		out[fmt.Sprint(items, counts)] = t.Worth
	}
	return out
}

// A list that may take few steps is given up after hardly more.
func TestListsEndByTheirSteps(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 15))
	given := 0
	for n := range 200 {
		p, duals := tinyStock(r, 11, 20)
		demand := make([]int64, len(duals))
		for i := range demand {
			demand[i] = 2
		}
		meter := &price.Meter{}
		pr := anyMaker(p, meter).newPricer(0)
		ask := &price.Ask{Duals: duals, Demand: demand, Round: 1}
		best, _ := pr.Vouch(ask, price.Never)
		before := meter.Steps
		if _, ok := pr.List(&price.Listing{Ask: ask, Most: 1 << 20}, best, -1<<40); !ok {
			t.Fatalf("stock %d: not listed", n)
		}
		whole := meter.Steps - before
		before = meter.Steps
		_, ok := pr.List(&price.Listing{Ask: ask, Most: 1 << 20, Steps: 1000}, best, -1<<40)
		if took := meter.Steps - before; !ok && took <= whole && took < 20_000 {
			given++
		} else if !ok || took > whole {
			t.Errorf("stock %d: %d steps of %d, all listed: %v", n, took, whole, ok)
		}
	}
	if given < 50 {
		t.Errorf("%d lists were given up", given)
	}
}

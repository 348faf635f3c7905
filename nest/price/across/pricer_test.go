package across

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// kind limits a pricing to one of the two kinds of pattern.
type kind int

const (
	bothKinds kind = iota
	onlyCrosscut
	onlyRip
)

// price gives the best value of the kinds in so many rounds; 0: exactly.
func (only kind) price(r *pricer, ask *price.Ask, rounds int) int64 {
	switch {
	case only == bothKinds && rounds > 0:
		return r.Price(ask)
	case only == bothKinds:
		best, _ := r.Vouch(ask, price.Never)
		return best
	}
	r.begin(ask)
	best := int64(price.Never)
	if only == onlyCrosscut {
		r.searchLengths(rounds)
		best = r.lengths.best
	} else if v, better := r.searchRipped(rounds, best); better {
		best, r.kind = v, cutting.RipFirst
	}
	switch {
	case !price.None(best):
		return best
	case rounds > 0:
		return only.price(r, ask, 0)
	}
	return r.Bare()
}

// TestPricingIsExhaustiveSearch compares the values of random stocks with those of exhaustive
// search, and looks at all patterns that walks make: they are legal, worth no more, keep to the
// copies allowed, and begin with the opener where that has a place.
func TestPricingIsExhaustiveSearch(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	total := 12000
	if testing.Short() {
		total = 1500
	}
	exact := 0
	for n := range total {
		p, duals := tinyStock(r, 8, 14)
		switch {
		case n%20 == 0:
			p, duals = tinyStock(r, 13, 30)
		case n%4 == 0:
			p, duals = sparseStock(r)
		case n%4 == 2:
			p, duals = weakStock(r)
		}
		c := &comparison{t: t, n: n, p: p, duals: duals, brute: newBruteForce(p, duals),
			pricer: someMaker(p, n%3 == 1).newPricer(0),
			only:   max(bothKinds, kind(r.IntN(6)-3))}
		if c.values() {
			exact++
		}
		allowed := make([]int64, len(duals))
		for i := range allowed {
			allowed[i] = r.Int64N(3)
		}
		c.walks(allowed)
	}
	t.Logf("%d stocks, on %d of them the quick way is exact", total, exact)
}

// comparison is one pricer against exhaustive search.
type comparison struct {
	t      *testing.T
	n      int
	p      *cutting.Problem
	duals  []int64
	brute  *bruteForce
	pricer *pricer
	only   kind
	want   int64 // the best value
	some   bool  // a piece has a place
}

func (c *comparison) fail(format string, args ...any) {
	c.t.Helper()
	c.t.Fatalf("case %d: %s\n%+v\n%+v\nduals %v", c.n, fmt.Sprintf(format, args...), c.p,
		*c.p.Stocks[0].Across, c.duals)
}

// values compares the values, and says whether the quick way is exact.
func (c *comparison) values() bool {
	c.want, c.some = c.brute.best(c.only)
	ask := &price.Ask{Duals: c.duals, Round: 1, Demand: make([]int64, len(c.duals))}
	quick := c.only.price(c.pricer, ask, quickRounds)
	if quick > c.want {
		c.fail("priced at %d, exhaustive search %d", quick, c.want)
	}
	if got := c.only.price(c.pricer, ask, 0); got != c.want {
		c.fail("vouched for %d, exhaustive search %d (kinds %d)", got, c.want, c.only)
	}
	return quick == c.want
}

// walks looks at the patterns that walks make.
func (c *comparison) walks(allowed []int64) {
	if v := c.walk(nil, -1); v != c.want {
		c.fail("the pattern is worth %d, not %d", v, c.want)
	}
	if c.only != bothKinds { // the walks choose between the kinds
		return
	}
	c.walk(allowed, -1)
	for i := range c.p.Items {
		c.walk(nil, i)
		c.walk(allowed, i)
		if pat := c.pricer.Walk(nil, i); c.brute.has(i, c.only) &&
			!slices.ContainsFunc(pat.Places, func(pl cutting.Place) bool { return pl.Item == i }) {
			c.fail("item %d does not go first: %+v", i, *pat)
		}
	}
}

// walk looks at one pattern, and gives what it is worth.
func (c *comparison) walk(allowed []int64, opener int) int64 {
	pat := c.pricer.Walk(allowed, opener)
	if pat == nil {
		if c.some && allowed == nil {
			c.fail("opener %d: no pattern", opener)
		}
		return c.want
	}
	v, err := c.brute.value(pat)
	if err != nil {
		c.fail("allowed %v, opener %d: %v in %+v", allowed, opener, err, *pat)
	}
	if v > c.want {
		c.fail("allowed %v, opener %d: worth %d, best %d, %+v", allowed, opener, v, c.want, *pat)
	}
	left := slices.Clone(allowed)
	for _, pl := range pat.Places {
		if left == nil {
			break
		}
		if left[pl.Item]--; left[pl.Item] < 0 {
			c.fail("allowed %v passed: %+v", allowed, *pat)
		}
	}
	return v
}

// TestStocksShareTables prices several stocks of one problem, again and again with other duals, and
// compares each value with exhaustive search.
func TestStocksShareTables(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	total := 400
	if testing.Short() {
		total = 100
	}
	for n := range total {
		p, duals := tinyStock(r, 8, 14)
		for range 3 {
			s, a := p.Stocks[0], *p.Stocks[0].Across
			s.To = max(s.From+1, s.To-r.Int64N(5))
			s.Across = &a
			s.Spots = nil
			for _, o := range p.Stocks[0].Spots {
				if o.To = min(o.To, s.To); o.From < o.To && r.IntN(2) == 0 {
					s.Spots = append(s.Spots, o)
				}
			}
			p.Stocks = append(p.Stocks, s)
		}
		pricers := allPricers(p, &price.Meter{})
		for round := range 3 {
			for i := range duals {
				duals[i] = max(0, duals[i]+r.Int64N(41)-20)
			}
			ask := &price.Ask{Duals: slices.Clone(duals), Round: round + 1,
				Demand: make([]int64, len(duals))}
			for s, pr := range pricers {
				one := onlyStock(p, s)
				want, _ := newBruteForce(one, duals).best(bothKinds)
				quick := pr.Price(ask)
				got, _ := pr.Vouch(ask, price.Never)
				if got != want || quick > want {
					t.Fatalf("case %d, round %d, stock %d: vouched for %d, quick %d, "+
						"exhaustive search %d\n%+v\n%+v\nduals %v", n, round, s, got, quick, want,
						one, *one.Stocks[0].Across, duals)
				}
			}
		}
	}
}

// TestWalksDiffer looks at larger stocks. Patterns that begin with different items are mostly
// different. Patterns within the demand are not much worse than the best without a limit.
func TestWalksDiffer(t *testing.T) {
	for _, spots := range []int{0, 1, 3} {
		r := rand.New(rand.NewPCG(3, 5))
		p, duals := shopStocks(r, 8, 5, spots)
		demand := make([]int64, len(p.Items))
		for i := range p.Items {
			demand[i] = p.Items[i].Demand
		}
		ask := &price.Ask{Duals: duals, Demand: demand, Round: 1}
		pricers := allPricers(p, &price.Meter{})
		ratio := 0.0
		for s, pr := range pricers {
			pr.Price(ask)
			b := newBruteForce(onlyStock(p, s), duals)
			worth := func(pat *cutting.Pattern) (sum int64) {
				if _, err := b.value(pat); err != nil {
					t.Fatalf("stock %d: %v in %+v", s, err, *pat)
				}
				for _, pl := range pat.Places {
					sum += duals[pl.Item]
				}
				return sum
			}
			best, all := worth(pr.Walk(demand, -1)), map[string]bool{}
			for i := range p.Items {
				best = max(best, worth(pr.Walk(demand, i)))
				items, counts := cutting.Tally(pr.Walk(nil, i).Places)
				all[fmt.Sprint(items, counts)] = true
			}
			if len(all) < len(p.Items)*2/3 {
				t.Errorf("%d spots, stock %d: only %d patterns that begin with %d items", spots, s,
					len(all), len(p.Items))
			}
			ratio += float64(best) / float64(worth(pr.Walk(nil, -1))) / float64(len(pricers))
		}
		if ratio < 0.92 {
			t.Errorf("%d spots: patterns within the demand are worth only %.3f of the best", spots,
				ratio)
		}
		t.Logf("%d spots: patterns within the demand are worth %.3f of the best", spots, ratio)
	}
}

// onlyStock is a problem with one of its stocks.
func onlyStock(p *cutting.Problem, stock int) *cutting.Problem {
	return &cutting.Problem{Items: p.Items, Stocks: p.Stocks[stock : stock+1], Kerf: p.Kerf,
		Rip: p.Rip, RipCost: p.RipCost}
}

// allPricers are the pricers of a problem's stocks, which share tables where they can.
func allPricers(p *cutting.Problem, m *price.Meter) (out []*pricer) {
	k := anyMaker(p, m)
	for s := range p.Stocks {
		out = append(out, k.newPricer(s))
	}
	return out
}

// A floor below the best changes nothing; above it the floor comes out. No floor is below what the
// bare stock is worth.
func TestVouchWithFloor(t *testing.T) {
	r := rand.New(rand.NewPCG(12, 9))
	below, above := 0, 0
	for n := range 3000 {
		p, duals := weakStock(r)
		if n%2 == 0 {
			p, duals = tinyStock(r, 12, 30)
		}
		ask := &price.Ask{Duals: duals, Demand: make([]int64, len(p.Items)), Round: 1}
		best, _ := anyMaker(p, &price.Meter{}).newPricer(0).Vouch(ask, price.Never)
		floor := best - 5 + r.Int64N(11)
		if floor < anyMaker(p, &price.Meter{}).newPricer(0).Bare() {
			continue
		}
		got, _ := anyMaker(p, &price.Meter{}).newPricer(0).Vouch(ask, floor)
		if got != max(best, floor) {
			t.Fatalf("stock %d: %d with a floor of %d, %d without", n, got, floor, best)
		}
		if floor < best {
			below++
		} else {
			above++
		}
	}
	if below < 300 || above < 500 {
		t.Errorf("%d floors below the best, %d above", below, above)
	}
}

// Stocks that share a table may be asked at different duals. One that is asked again at its own
// finds its table as it was.
func TestSharedTableAtOtherDuals(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 4))
	for n := range 40 {
		p, duals := shopStocks(r, 4, 3, n%2)
		k := anyMaker(p, &price.Meter{})
		var all []*pricer
		for s := range p.Stocks {
			all = append(all, k.newPricer(s))
		}
		demand := make([]int64, len(p.Items))
		for i := range demand {
			demand[i] = 9
		}
		own := func(s int) []int64 {
			out := slices.Clone(duals)
			for i := s; i < len(out); i += 2 {
				out[i] /= int64(2 + s)
			}
			return out
		}
		for round := range 6 {
			for s, pr := range all {
				ask := &price.Ask{Duals: own(s), Demand: demand, Round: 10*round + s + 1}
				best, _ := pr.Vouch(ask, price.Never)
				w := pr.Walk(nil, -1)
				if w == nil {
					continue
				}
				got := p.Worth(w)
				for _, pl := range w.Places {
					got += ask.Duals[pl.Item]
				}
				if got != best {
					t.Fatalf("stocks %d, round %d: stock %d gives %d, its pattern %d", n, round, s,
						best, got)
				}
			}
		}
	}
}

// A longer stock may come later than prices were asked for: then its rows are those of its own
// length, and the shorter one is worth what it was.
func TestLongerStockComesLater(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 5))
	longer := 0
	for n := range 40 {
		p, duals := shopStocks(r, 2, 3, n%2)
		if p.Stocks[0].To < p.Stocks[1].To {
			longer++
		}
		ask := &price.Ask{Duals: duals, Demand: make([]int64, len(p.Items)), Round: 1}
		k := anyMaker(p, &price.Meter{})
		first := k.newPricer(0)
		was, _ := first.Vouch(ask, price.Never)
		got, _ := k.newPricer(1).Vouch(ask, price.Never)
		want, _ := anyMaker(p, &price.Meter{}).newPricer(1).Vouch(ask, price.Never)
		first.pass++ // so that it is priced again
		if again, _ := first.Vouch(ask, price.Never); got != want || again != was {
			t.Fatalf("case %d: %d and later %d, alone %d and %d", n, again, got, was, want)
		}
	}
	if longer < 10 {
		t.Errorf("%d are longer: too few to tell", longer)
	}
}

// A maker makes no pricer past its budget, or past what the checker takes.
func TestMakerKeepsToItsBudget(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 8))
	p, _ := shopStocks(r, 1, 3, 2)
	made := func(b price.Budget) bool {
		return NewMaker(p, &price.Meter{}, &b).Pricer(0) != nil
	}
	all := *price.Unlimited()
	all.Checked = true
	little, short := all, all
	little.Memory, short.Round = 1000, 1000
	if !made(all) || made(little) || made(short) {
		t.Errorf("made with all %t, with little memory %t, with few steps %t", made(all),
			made(little), made(short))
	}
	spot := p.Stocks[0].Spots[0]
	for range 200 { // one more than 128 defects the checker does not take
		spot.From, spot.To = spot.From+1, spot.From+2
		p.Stocks[0].Spots = append(p.Stocks[0].Spots, spot)
	}
	if made(all) || !made(*price.Unlimited()) {
		t.Errorf("with 200 defects: made with the checker's limits %t, without %t", made(all),
			made(*price.Unlimited()))
	}
}

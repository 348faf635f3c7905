package across

import (
	"math/rand/v2"
	"testing"

	"rackwright/nest/price"
)

// With few starts along, what is found is a pattern still: worth no less than it is said to be
// worth, and no more than the best. Nothing is vouched for.
func TestFewStartsGivePatterns(t *testing.T) {
	r := rand.New(rand.NewPCG(12, 31))
	thin, less := 0, 0
	for n := range 1500 {
		p, duals := tinyStock(r, 7, 16)
		if n%3 == 0 {
			p, duals = weakStock(r)
		}
		budget := price.Unlimited()
		budget.Cells = 12
		c := &comparison{t: t, n: n, p: p, duals: duals, brute: newBruteForce(p, duals),
			pricer: NewMaker(p, &price.Meter{}, budget).newPricer(0), only: bothKinds}
		if !c.pricer.Traits().Thin {
			continue
		}
		thin++
		c.want, c.some = c.brute.best(bothKinds)
		ask := &price.Ask{Duals: duals, Round: 1, Demand: make([]int64, len(duals))}
		got := c.pricer.Price(ask)
		if v, ok := c.pricer.Vouch(ask, price.Never); ok {
			c.fail("vouched for %d", v)
		}
		if pat := c.pricer.Walk(nil, -1); got > c.want || pat == nil {
			if pat != nil || got > c.want && c.some {
				c.fail("priced at %d, exhaustive search %d", got, c.want)
			}
			continue
		}
		if v := c.walk(nil, -1); v < got { // more, where a gap begins between two starts
			c.fail("the pattern is worth %d, not %d", v, got)
		}
		if got < c.want {
			less++
		}
		allowed := make([]int64, len(duals))
		for i := range allowed {
			allowed[i] = r.Int64N(3)
		}
		for i := range p.Items {
			c.walk(nil, i)
			c.walk(allowed, i)
		}
	}
	if thin < 300 || less < 20 {
		t.Errorf("%d with few starts, %d of them worth less than the best", thin, less)
	}
}

// Pricers with few starts share their memory: each finds the same as by itself.
func TestFewStartsShareMemory(t *testing.T) {
	r := rand.New(rand.NewPCG(12, 32))
	p, duals := shopStocks(r, 6, 4, 3)
	budget := price.Unlimited()
	budget.Cells = 2000
	all := NewMaker(p, &price.Meter{}, budget)
	ask := &price.Ask{Duals: duals, Round: 1, Demand: make([]int64, len(duals))}
	var together []price.Pricer
	for s := range p.Stocks {
		together = append(together, all.Pricer(s))
	}
	for range 2 {
		for s := range p.Stocks {
			alone := NewMaker(onlyStock(p, s), &price.Meter{}, budget).Pricer(0)
			if !alone.Traits().Thin {
				t.Fatalf("stock %d has all its starts", s)
			}
			if a, b := together[s].Price(ask), alone.Price(ask); a != b {
				t.Errorf("stock %d: %d, alone %d", s, a, b)
			}
		}
	}
}

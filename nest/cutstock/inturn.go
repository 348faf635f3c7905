package cutstock

import (
	"math"

	"rackwright/nest/cutting"
)

// Plans in turn. Stocks are filled one after the other, each with what is worth most of what is
// still wanted. Where pieces are many and small beside a stock that is not far from the best, and
// takes one pricing a stock. Prices by area alone would leave the large pieces for the end, which
// then fit badly. So they grow faster than the area.

const (
	// steeper is the power of the price by area.
	steeper = 1.07
	// usedUp is the share of the items that may be used up, by one in so many, until stocks are
	// priced anew.
	usedUp = 32
)

// inTurn is a plan in turn under way.
type inTurn struct {
	*solver
	duals  []int64 // of items still wanted when they were last looked at
	wanted []int64 // then
	left   []int64
	uses   []cutting.Use
}

// completeInTurn fills stocks in turn with what some uses leave unmet, and offers that: first those
// of which there are few, at most until so many steps are spent, then the others.
func (k *solver) completeInTurn(stay []cutting.Use, duals []int64, limit int64) {
	t := &inTurn{solver: k, duals: make([]int64, len(duals))}
	used := make([]int64, len(k.p.Stocks))
	for i := range k.p.Items {
		t.left = append(t.left, k.p.Items[i].Demand)
	}
	for _, u := range stay {
		used[u.Pattern.Stock] += u.Times
		for range u.Times {
			t.take(u.Pattern)
		}
	}
	t.wanted = make([]int64, len(t.left))
	copy(t.duals, duals)
	t.look(true)
	for s := range k.p.Stocks {
		for n := used[s]; n < k.p.Stocks[s].Supply && k.meter.Steps < limit && !k.over(); n++ {
			t.look(false)
			k.pricers[s].Price(k.ask(t.duals, t.wanted))
			pattern := k.pricers[s].Walk(t.left, -1)
			if pattern == nil {
				break
			}
			t.take(*pattern)
		}
	}
	for !k.over() {
		t.look(false)
		best := t.cheapest(duals)
		if best == nil {
			break
		}
		t.take(*best)
	}
	k.offer(t.uses)
	for n := range t.uses {
		k.pool.add(newColumn(k.p, t.uses[n].Pattern))
	}
}

// take takes a pattern into the plan.
func (t *inTurn) take(pattern cutting.Pattern) {
	for _, pl := range pattern.Places {
		t.left[pl.Item]--
	}
	t.uses = append(t.uses, cutting.Use{Pattern: pattern, Times: 1})
}

// look looks what is still wanted, where that may matter.
func (t *inTurn) look(anyway bool) {
	gone := 0
	for i, n := range t.left {
		if n <= 0 && t.duals[i] > 0 {
			gone++
		}
	}
	if !anyway && gone*usedUp <= len(t.left) {
		return
	}
	for i, n := range t.left {
		if t.wanted[i] = max(0, n); n <= 0 {
			t.duals[i] = 0
		}
	}
}

// cheapest is the pattern that costs least for what its pieces are worth, of a stock of any number;
// nil: there is none.
func (t *inTurn) cheapest(duals []int64) (best *cutting.Pattern) {
	least := math.Inf(1)
	for s := range t.p.Stocks {
		if t.p.Stocks[s].Supply != cutting.Any {
			continue
		}
		t.pricers[s].Price(t.ask(t.duals, t.wanted))
		pattern := t.pricers[s].Walk(t.left, -1)
		if pattern == nil {
			continue
		}
		pattern.Worth = t.p.Worth(pattern)
		worth := 1.0
		for _, pl := range pattern.Places {
			worth += float64(duals[pl.Item])
		}
		if rate := float64(t.p.Cost(pattern)) / worth; rate < least {
			least, best = rate, pattern
		}
	}
	return best
}

// steepDuals are prices that grow faster than the area.
func (k *solver) steepDuals() []int64 {
	duals := areaDuals(k.p)
	most := int64(1)
	for _, d := range duals {
		most = max(most, d)
	}
	for i, d := range duals {
		duals[i] = int64(float64(most) * math.Pow(float64(d)/float64(most), steeper))
	}
	return duals
}

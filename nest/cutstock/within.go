package cutstock

import (
	"cmp"
	"math"
	"math/big"
	"slices"

	"rackwright/nest/price"
)

// Within the demands. The pricing of some stocks lets a pattern have any number of copies
// (price.Traits). But a pattern of a plan never has more copies a_i of an item than are wanted,
// d_i. So the relaxation is solved once more, over such patterns alone: the strict relaxation. Its
// pricing first looks for columns the quick way. Where that finds none it lists: every pattern
// within the demands that is worth more than
//
//	need_s = c_s - mu_s,   at which its reduced cost is 0.
//
// What is listed enters. Once nothing is, no pattern within the demands gives more than need_s. A
// leaf says so of those stocks of which a pattern with more copies would ([Within]).
//
// Where a stock of any number gives a little more than it costs, duals are lowered by a factor
// theta. What gives is convex in the duals, and bare_s at none. So at theta pi no pattern gives
// more than bare_s + theta (gives_s - bare_s): no second list is needed.

// Within says of a stock that at the duals of a leaf no pattern within the demands gives more.
type Within struct {
	Stock int
	Gives int64
}

const (
	// mostPriced is how many patterns one pricing by a list may give, enterListed how many of them
	// enter at a time: those that gain most.
	mostPriced, enterListed = 10_000, 100
	// nearer is how often a list is tried, for patterns nearer to the best where it is too long.
	nearer = 12
	// withinShare is which part of all work these tries may take together. They took twice all work
	// where a board gives far more with any number of copies (hemlock of month 5 with rips). A list
	// that was of use took a quarter.
	withinShare = 3
)

// strictly says whether a strict relaxation can be solved: all stocks list, and some count any
// number of copies.
func (k *solver) strictly() bool {
	return k.copies && k.mayList && !k.many && !k.long && !k.anyInexact()
}

// canList says whether patterns can be listed, so that a list proves more.
func (k *solver) canList() bool { return k.lists || k.listing }

// keepWithin solves the strict relaxation, and proves its bound; it gives its master. Nil where
// that is not to be had.
func (k *solver) keepWithin() *master {
	if !k.strictly() {
		return nil
	}
	m := newMasterOf(k.p, k.costs, &k.pool, k.buysTwo())
	m.within = true
	m.purge()
	duals, done := k.generate(m)
	if !done || k.anyInexact() { // some pricing took too long on the way
		return nil
	}
	k.listing = true
	k.budget.listing(k.opt.Work)
	k.certifyAt(m, duals)
	return m
}

// needOf is what a pattern of a stock must be worth more than so that its reduced cost is below 0,
// in a solved master; at duals that are made smaller, between that and the bare stock.
func (k *solver) needOf(m *master, s int) int64 {
	need := k.p.Stocks[s].Cost - int64(math.Floor(m.stockDual(s)+0.5))
	if k.theta > 0 && k.theta < 1 {
		need = k.bare[s] + int64(float64(need-k.bare[s])*k.theta)
	}
	return need
}

// columnsWithin adds the patterns within the demands that gain, of those stocks whose pricing
// counts any number of copies. False where there are too many to list.
func (k *solver) columnsWithin(m *master, duals []int64) (found int, ok bool) {
	for s := range k.pricers {
		if !k.pricers[s].Traits().Copies || m.most[s] == 0 {
			continue
		}
		need := k.needOf(m, s)
		top, ok := k.vouch(s, duals, m.demand, k.floorOf(s, m.limits()))
		if !ok {
			return found, false
		}
		gives, listed, ok := k.gives(s, duals, need, top)
		if !ok && len(listed) == 0 {
			return found, false
		}
		if float64(gives) <= k.threshold(m, s) {
			continue
		}
		slices.SortStableFunc(listed, func(a, b worthwhile) int {
			return cmp.Compare(b.value, a.value)
		})
		for _, l := range listed[:min(len(listed), enterListed)] {
			if float64(l.value) > k.threshold(m, s) &&
				m.pool.add(newColumn(k.p, *l.of.LayOut(l.n))) {
				found++
			}
		}
	}
	return found, true
}

// worthwhile is a pattern of a list and what it gives.
type worthwhile struct {
	of    *price.List
	n     int
	value int64
}

// gives is the most that a pattern of a stock within the demands gives at some duals, or need if
// that is more; and those that give more than need. No pattern gives more than top. Not ok: these
// are too many, and only some of the best are given.
func (k *solver) gives(s int, duals []int64, need, top int64) (most int64, listed []worthwhile,
	ok bool) {
	if top <= need {
		return top, nil, true
	}
	if g := &k.given[s]; g.need == need && g.top == top && slices.Equal(g.duals, duals) {
		return g.most, nil, true
	}
	demand := make([]int64, len(k.p.Items))
	for i := range demand {
		demand[i] = k.p.Items[i].Demand
	}
	ask, least, any := k.ask(duals, demand), need+1, top
	until := k.meter.Steps + k.opt.Work/withinShare
	for range nearer {
		found, all := k.pricers[s].List(&price.Listing{Ask: ask, Most: mostPriced,
			Steps: max(1, until-k.meter.Steps)}, any, least)
		if k.ctx.Err() != nil || !all && k.meter.Steps >= until {
			return top, nil, false
		}
		if !all {
			least = top - (top-least)/2
			continue
		}
		most = least - 1
		for n := range found.Len() {
			v := found.Value(n, duals)
			listed = append(listed, worthwhile{found, n, v})
			most = max(most, v)
		}
		if ok = least == need+1; ok {
			k.given[s] = given{slices.Clone(duals), need, any, most}
		}
		if ok || len(listed) > 0 {
			return most, listed, ok
		}
		top = least - 1 // none is above
		least = need + 1 + (top-need)/2
	}
	return top, nil, false
}

// given is what a list has come to.
type given struct {
	duals           []int64
	need, top, most int64
}

// one is the factor 1 in whole numbers.
const one = 1 << 30

// lowered is a number that is so far above another, by a factor of theta in parts of one, rounded
// up.
func lowered(v, above, theta int64) int64 {
	n := new(big.Int).Mul(big.NewInt(v-above), big.NewInt(theta))
	n.Add(n, big.NewInt(one-1))
	return above + n.Rsh(n, 30).Int64()
}

// cheapenUnmet makes an unmet piece in a node cost no more than two plans, or four of the dearest
// stock. What it costs elsewhere, far more, would make duals that must be cut down, at which
// nothing is proven.
func (k *solver) cheapenUnmet(m *master) {
	if k.incumbent.short > 0 || !k.listing {
		return
	}
	m.cheapenUnmet(k.incumbent.value)
}

// cheapenUnmet does so where no plan need cost more than that.
func (m *master) cheapenUnmet(value int64) {
	most := max(2*float64(value)/m.unit, 400) // the dearest stock costs 100
	for i, c := range m.unmet {
		m.lp.SetCost(i, min(float64(c)/m.unit, most))
	}
}

// beyondGoal is how many times the goal the bound of a node without a plan need be.
const beyondGoal = 1.5

// shrink makes the duals of a node smaller whose relaxation leaves pieces unmet, and so costs far
// more than any plan. They would be too large to list patterns by. What duals prove is concave in
// them, and 0 or more at none. So at a factor of theta they prove theta times as much, or more.
func (k *solver) shrink(m *master, duals []int64) {
	if k.listing && k.incumbent.short == 0 {
		k.theta = m.shrink(duals, k.goal())
	}
}

// shrink does so where a bound need be no more than a goal; 0: it makes them no smaller.
func (m *master) shrink(duals []int64, goal int64) (theta float64) {
	value, enough := m.lp.Value()*m.unit, beyondGoal*float64(goal)
	if enough <= 0 || value <= enough {
		return 0
	}
	theta = enough / value
	for i := range duals {
		duals[i] = int64(float64(duals[i]) * theta)
	}
	return theta
}

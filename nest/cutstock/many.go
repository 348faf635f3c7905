package cutstock

import (
	"cmp"
	"math"
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/lp"
)

// Programs of many items whose pricing takes long. Stocks of any number have no spots: they are
// priced in a moment, exactly. Those of which there are few have spots, are unlike each other, and
// take nearly all of the time. So
//
//   - columns of the others are looked for first, until there are hardly any more;
//   - the relaxation ends where its bound is near its value, or with its share of the work; with
//     very many items its duals lie on a surface (surface.go);
//   - a dive fixes some columns at a time, those of the few first: then their columns still fit,
//     and need not be looked for anew.

const (
	// manyItems is of how many items such a program is.
	manyItems = 64
	// mostCells is how many starts times lengths such a program may have on one stock; of more,
	// some of the starts do.
	mostCells = 1 << 15
	// fewPending is how many lengths a round of pricing takes besides those it chose, on one stock.
	fewPending = 8
	// turnShare is which part goes into the stocks with spots of the first plan at most.
	turnShare = 2
	// diveShare is which part goes into the first dive at most.
	diveShare = 12
	// relaxShare is which part of all work goes into the relaxation at most.
	relaxShare = 2
	// boundShare is which part goes into its bound.
	boundShare = 4
	// fewFound is how many columns are too few to go on with the stocks of any number alone.
	fewFound = 24
	// nearShare is which part of its value the bound of the relaxation may lack.
	nearShare = 1024
	// fewOpeners is how many items are tried first on a stock with spots.
	fewOpeners = 4
	// fixShare is which part of the columns that a relaxation uses a dive fixes at a time.
	fixShare = 8
	// leastFixed is how much of a column the relaxation must use so that it is fixed with others.
	leastFixed = 0.3
)

// manyLong says whether it is such a program.
func (k *solver) manyLong() bool { return k.many && k.long }

// relax solves the relaxation: with duals on surfaces where a master of all items takes too long.
func (k *solver) relax(root *master) {
	if n := len(k.p.Items); k.manyLong() && n >= veryMany && n <= mostOnSurfaces {
		k.onSurfaces()
		return
	}
	k.generate(root)
}

// pricingOrder is the order in which stocks are priced: of many items those of any number first.
func (k *solver) pricingOrder() []int {
	if k.order == nil {
		k.order = make([]int, len(k.p.Stocks))
		for s := range k.order {
			k.order[s] = s
		}
		if k.many {
			slices.SortStableFunc(k.order, func(a, b int) int {
				return cmp.Compare(min(0, k.p.Stocks[a].Supply), min(0, k.p.Stocks[b].Supply))
			})
		}
	}
	return k.order
}

// smooths says whether columns are looked for at smoothed duals. The duals of a program with few
// columns jump from round to round.
func (k *solver) smooths(m *master) bool {
	return k.manyLong() && !m.strict && !k.tree && m.surface == nil
}

// towards is half way from one set of duals to another.
func towards(from, to []int64) []int64 {
	if from == nil {
		return to
	}
	out := make([]int64, len(to))
	for i := range to {
		out[i] = from[i]/2 + to[i]/2
	}
	return out
}

// openersOf is how many items are tried first on a stock. Each takes long where there are spots.
// Where it is open how things are made up items are many, and a round is quicker with few.
func (k *solver) openersOf(m *master, s int) int {
	switch {
	case m.wants != nil && k.coarse:
		return mostOpeners
	case m.wants != nil:
		return fewOpeners
	case m.strict:
		return k.openers
	case k.p.Stocks[s].Supply != cutting.Any:
		return fewOpeners
	}
	return mostOpeners
}

// enough says whether the relaxation of such a program is to end. Near: its bound is near its
// value.
func (k *solver) enough(m *master, near bool) bool {
	if m.strict || k.tree || !k.manyLong() {
		return false
	}
	if near || k.meter.Steps > k.opt.Work/relaxShare {
		if k.rootDuals == nil { // those of a program of few columns say little
			k.rootDuals = areaDuals(k.p)
		}
		return true
	}
	return false
}

// manyDives are dives of such a program, each with more columns than the last, and longer.
func (k *solver) manyDives(m *master) {
	k.completeInTurn(nil, k.rootDuals, math.MaxInt64)
	share := k.opt.Work / diveShare
	for k.openers = 2; k.openers <= 8 && !k.over() && !k.closed(); k.openers *= 2 {
		k.shortDive(m, min(share, (k.opt.Work-k.meter.Steps)*2/3))
		share *= 2
	}
}

// shortDive is a dive that looks for columns for so many steps. Then it goes on with those that
// there are, and with stocks in turn.
func (k *solver) shortDive(root *master, steps int64) {
	m := root.clone()
	m.sync()
	m.purge()
	limit := k.meter.Steps + steps
	var uses []cutting.Use
	for !k.over() {
		if k.meter.Steps < limit {
			k.generate(m)
		} else if before := m.lp.Work(); true {
			status := k.solve(m.lp)
			if k.meter.Add(m.lp.Work() - before); status != lp.Optimal {
				break
			}
		}
		fixed := m.fixWhole()
		if len(fixed) == 0 {
			fixed = m.fixSome()
		}
		if len(fixed) == 0 {
			break
		}
		m.purge()
		uses = append(uses, fixed...)
	}
	k.completeInTurn(uses, k.rootDuals, math.MaxInt64)
}

// fixSome uses some columns once, of those that the relaxation uses most; none where it uses none.
func (m *master) fixSome() (uses []cutting.Use) {
	type used struct {
		*column
		x float64
	}
	var few, others []used
	fewX, othersX := 0.0, 0.0
	for j, c := range m.pool.cols[:m.added] {
		if x := m.x(j); x <= wholeTol || !m.proper(c) {
			continue
		} else if m.most[c.Stock] == cutting.Any {
			others, othersX = append(others, used{c, x}), othersX+x
		} else {
			few, fewX = append(few, used{c, x}), fewX+x
		}
	}
	if len(few) == 0 {
		few, fewX = others, othersX
	}
	slices.SortStableFunc(few, func(a, b used) int { return cmp.Compare(b.x, a.x) })
	most := max(1, int(fewX/fixShare))
	for n, c := range few {
		if len(uses) >= most || n > 0 && c.x < leastFixed {
			break
		}
		if m.proper(c.column) {
			m.fix(c.column, 1)
			uses = append(uses, cutting.Use{Pattern: c.Pattern, Times: 1})
		}
	}
	return uses
}

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

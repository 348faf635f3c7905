package cutstock

import (
	"slices"

	"rackwright/nest/lp"
)

// generate solves the relaxation: the program over the columns found, then the columns that its duals ask for, until
// there are none. In a strict master a column keeps to the copies still wanted. It gives the duals and, where the pricing was exact
// and the search went to its end, whether they are optimal.
func (k *solver) generate(m *master) (pi []int64, done bool) {
	duals := make([]float64, len(k.p.Items))
	best := make([]int64, len(k.pricers))
	for {
		m.sync()
		before := m.lp.Work()
		status := m.lp.Solve()
		k.work += m.lp.Work() - before
		if status != lp.Optimal {
			return nil, false
		}
		for i := range duals {
			duals[i] = m.lp.Dual(i)
		}
		pi = k.whole(duals, m.unit)
		found := 0
		for s, r := range k.pricers {
			if m.most[s] == 0 {
				best[s] = k.empty[s] * k.scale
				continue
			}
			k.work += r.work()
			best[s] = r.price(k.ask(pi, m.demand))
			mu := m.lp.Dual(len(k.p.Items)+s) * m.unit * float64(k.scale)
			found += k.columns(m, s, pi, best[s], mu)
		}
		if !m.strict {
			k.improve(m, pi, best)
		}
		if found == 0 {
			return pi, true
		}
		if k.over() {
			return pi, false
		}
	}
}

// ask makes a round of pricing; the demands are those of the moment.
func (k *solver) ask(duals, demand []int64) *ask {
	if k.asked == nil || !slices.Equal(k.asked.duals, duals) || !slices.Equal(k.asked.demand, demand) {
		k.rounds++
		for _, n := range k.sacks {
			k.work += n.work()
		}
		k.asked = &ask{slices.Clone(duals), k.scale, slices.Clone(demand), k.rounds}
	}
	return k.asked
}

// columns adds to the pool those columns of one stock that the duals ask for: the best, and the best that begin with each of the items.
func (k *solver) columns(m *master, s int, pi []int64, best int64, mu float64) (found int) {
	const tolerance = 1e-7 // of the dearest stock's cost: below it the relaxation gains nothing that counts
	stock := &k.p.Stocks[s]
	threshold := float64(stock.Cost*k.scale) - mu + tolerance*100*m.unit*float64(k.scale)
	if float64(best) <= threshold {
		return 0
	}
	var room []int64
	if m.strict {
		room = m.demand
	}
	try := func(first int) {
		places := k.pricers[s].walk(room, first)
		if len(places) == 0 {
			return
		}
		c := k.p.column(s, places)
		v := c.Worth * k.scale
		for n, i := range c.items {
			v += pi[i] * c.counts[n]
		}
		if float64(v) > threshold && k.pool.add(c) {
			found++
		}
	}
	try(-1)
	for _, i := range stock.Holds {
		if m.demand[i] > 0 && pi[i] > 0 {
			try(i)
		}
	}
	return found
}

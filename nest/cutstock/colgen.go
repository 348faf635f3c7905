package cutstock

import (
	"math"
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/lp"
)

// generate solves the relaxation: the program over the columns found, then the columns that its
// duals ask for, until there are none. In a strict master a column keeps to the copies still
// wanted, and a stock that can be ripped is asked no more once it has given nothing: its pricing
// takes long. It gives the duals and, where the pricing was exact and the search went to its end,
// whether they are optimal.
func (k *solver) generate(m *master) (at []int64, done bool) {
	duals := make([]float64, len(k.p.Items))
	best := make([]int64, len(k.pricers))
	var center []int64 // duals at which columns are looked for, where these are smoothed
	smooth := false
	k.fine = !k.coarse
	quiet := make([]bool, len(k.pricers))
	for round := 0; ; round++ {
		m.sync()
		begun := m.lp.Work()
		status := k.solve(m.lp)
		k.meter.Add(m.lp.Work() - begun)
		if status != lp.Optimal {
			return nil, false
		}
		m.readDuals(duals)
		at = k.wholeDuals(duals, m.unit)
		own := at
		if smooth = k.smooths(m); smooth {
			center = towards(center, own)
			at = center
		}
		found := m.wants.covers(m)
		each := k.pricedEach(m)
		before, all := k.meter.Steps, each > 0 && round%each == each-1
		for _, s := range k.pricingOrder() {
			if k.ctx.Err() != nil {
				return at, false
			}
			if m.most[s] == 0 {
				best[s] = k.bare[s]
				continue
			}
			if m.most[s] != cutting.Any {
				if k.many && !k.long && k.takesLong(k.meter.Steps-before) {
					k.long, all = true, false
				}
				if !all {
					continue
				}
			}
			if quiet[s] {
				continue
			}
			r := k.pricers[s]
			best[s] = r.Price(k.ask(at, m.demand))
			from, most := at, best[s]
			if smooth {
				from, most = own, math.MaxInt64
			}
			some := k.columns(m, s, from, most)
			quiet[s] = some == 0 && m.strict && !m.within && r.Traits().Copies
			found += some
		}
		if smooth && found == 0 && !slices.Equal(center, own) {
			center = own
			continue
		}
		switch {
		case all:
			k.noteLong(k.meter.Steps - before)
		case k.over():
			return at, false
		case found > 0:
			if k.enough(m, false) {
				return at, false
			}
			if smooth && found < fewFound {
				round = each - 2 // all of them next
			}
			k.diveInHaste(m)
			continue
		case m.strict:
			return at, true
		default:
			round = each - 2 // all of them next
			continue
		}
		if found == 0 && (!m.strict || m.within) && !k.fine && !k.tree { // now with the true kerfs
			k.fine = true
			continue
		}
		near := !m.strict && (k.fine || m.wants != nil) && k.noteDuals(m, at, best)
		if k.enough(m, near) {
			return at, false
		}
		if found == 0 && !m.strict { // the quick way found nothing more; the exact one may
			found = k.exactColumns(m, at, best)
		}
		if found == 0 && m.within {
			listed := false
			if found, listed = k.columnsWithin(m, at); !listed {
				return at, false
			}
		}
		if found == 0 { // unless the context has ended, there are none
			return at, k.ctx.Err() == nil
		}
		if k.over() {
			return at, false
		}
		k.diveInHaste(m)
	}
}

// noteLong notes whether a round of pricing of all stocks takes long, by the steps of one.
func (k *solver) noteLong(steps int64) {
	k.long = k.long || !k.patient && !k.tree && !k.coarse && k.takesLong(steps)
}

// takesLong says whether so many steps are long for one round of pricing.
func (k *solver) takesLong(steps int64) bool { return steps > k.opt.Work/longRound }

// diveInHaste dives into a long relaxation now and then, as it may never be ended.
func (k *solver) diveInHaste(m *master) {
	if m.strict || k.tree || k.manyLong() || k.meter.Steps <= k.hasty {
		return
	}
	k.hasty = max(k.hasty, k.meter.Steps) * 3 / 2
	k.hastyDive(m)
}

// exactColumns prices those stocks exactly whose pricing is quick, and takes their columns.
func (k *solver) exactColumns(m *master, at, best []int64) (found int) {
	for s, r := range k.pricers {
		if k.ctx.Err() != nil {
			return found
		}
		if r.Traits().Quick && m.most[s] != 0 && !(k.refines() && k.hurried(s)) {
			v, ok := k.vouch(s, at, m.demand, k.floorOf(s, m.limits()))
			if best[s] = v; ok && !k.bounds[s].inexact {
				found += k.columns(m, s, at, best[s])
			}
		}
	}
	return found
}

// Where a round of pricing takes more than one in longRound of all work, only the stocks of which
// there is any number are priced in each, and all of them in one of someRounds, or where the others
// give nothing more. Where it is open how things are made up, it is one of roundsOfWays; but not
// with awkward kerfs, where a round with the true ones takes long and there are to be few.
const longRound, someRounds, roundsOfWays = 48, 40, 4

// pricedEach is in one of how many rounds all stocks are priced; 0: in none.
func (k *solver) pricedEach(m *master) int {
	switch {
	case m.wants != nil && !k.coarse:
		return roundsOfWays
	case !k.long:
		return 1
	case m.strict:
		return 0
	}
	return someRounds
}

// mostPieces is how many pieces a column may have: those with more have far more copies than are
// wanted, or belong to programs that no search ends.
const mostPieces = 1 << 12

// mostOpeners is how many items are tried first on a stock, in one round of pricing.
const mostOpeners = 32

// threshold is what a column of a stock must be worth so that the relaxation gains by it.
func (k *solver) threshold(m *master, s int) float64 {
	// of the dearest stock's cost: below it the relaxation gains nothing that counts
	tolerance := 1e-7
	if k.precise {
		tolerance = 1e-9
	}
	return float64(k.p.Stocks[s].Cost) - m.stockDual(s) + tolerance*100*m.unit
}

// columns adds to the pool those columns of one stock that the duals ask for: the best, and the
// best that begin with each of the items.
func (k *solver) columns(m *master, s int, pi []int64, best int64) (found int) {
	stock, threshold := &k.p.Stocks[s], k.threshold(m, s)
	if float64(best) <= threshold {
		return 0
	}
	var allowed []int64
	if m.strict && m.wants == nil { // what wants may use is far more than any board gives
		allowed = m.demand
	}
	try := func(opener int) {
		t := k.pricers[s].Walk(allowed, opener)
		if t == nil {
			return
		}
		k.meter.Add(32 * int64(len(t.Places)))
		if len(t.Places) > mostPieces {
			return
		}
		c := newColumn(k.p, *t)
		v := c.Worth
		for n, i := range c.items {
			v += pi[i] * c.counts[n]
		}
		if float64(v) > threshold && m.pool.add(c) {
			found++
			if m.pool != &k.pool {
				k.pool.add(c)
			}
		}
	}
	try(-1)
	// Of very many items some are tried each time, in turn.
	holds, most := stock.Holds, mostOpeners
	if k.manyLong() || m.wants != nil {
		most = k.openersOf(m, s)
	}
	if n := len(holds); n > most {
		k.turn = (k.turn + most) % n
		holds = append(slices.Clone(holds[k.turn:]), holds[:k.turn]...)[:most]
	}
	for _, i := range holds {
		if m.demand[i] > 0 && pi[i] > 0 && !k.over() {
			try(i)
		}
	}
	return found
}

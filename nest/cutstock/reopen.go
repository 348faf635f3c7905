package cutstock

import (
	"cmp"
	"math/rand/v2"
	"slices"

	"rackwright/nest/cutting"
)

// Reopening. Dives end in plans that are good but for a few of their stocks, above all where a
// pattern holds many pieces. So some stocks of the incumbent are opened, again and again. What they
// hold, with the supply not used, is a small program of its own: column
// generation within just these demands, and an integer program over the columns. What the others
// hold stays. This is large neighbourhood search (P. Shaw, 1998). Where boards can be ripped
// pricing takes long: of the stocks that the incumbent does not use only few take part, drawn anew
// each time.
//
// Which are opened is drawn from a fixed sequence: sooner those whose patterns cost more than the
// duals say their pieces are worth, and then such as hold pieces of the same items.

const (
	fewestOpen, mostOpen = 3, 9
	// reopenTries is how often in a row nothing better is found before more stocks are opened at a
	// time. After as many turns through all sizes without anything better the phase ends.
	reopenTries = 12
	// spareOpen is how many stocks that are not used take part where boards can be ripped.
	spareOpen = 1
)

// reopen plans some stocks of the incumbent anew for so many steps.
func (k *solver) reopen(steps int64) {
	rng := rand.New(rand.NewPCG(1, 1))
	limit := k.meter.Steps + steps
	for size, failed, turns := fewestOpen, 0, 0; turns < reopenTries &&
		k.meter.Steps < limit && !k.over() && !k.closed(); {
		if k.copies && k.reshuffle(rng, limit) {
			failed, turns = 0, 0
		}
		before := k.incumbent
		open, stay := k.choose(rng, size, k.rootDuals)
		k.replan(rng, open, stay)
		if cmp.Or(cmp.Compare(k.incumbent.short, before.short),
			cmp.Compare(k.incumbent.value, before.value)) < 0 {
			failed, turns = 0, 0
			k.observe("reopening")
			continue
		}
		if len(stay) == 0 {
			return
		}
		if failed++; failed >= reopenTries {
			if failed, size = 0, size+1; size > mostOpen {
				size, turns = fewestOpen, turns+1
			}
		}
	}
}

// choose draws the stocks to open by the duals, each use by itself, and gives those that stay.
func (k *solver) choose(rng *rand.Rand, size int, duals []int64) (open, stay []cutting.Use) {
	var all []cutting.Use
	var excess []float64
	for _, u := range k.incumbent.uses {
		e := float64(k.p.Cost(&u.Pattern))
		for _, pl := range u.Pattern.Places {
			e -= float64(duals[pl.Item])
		}
		for range u.Times {
			all, excess = append(all, cutting.Use{Pattern: u.Pattern, Times: 1}),
				append(excess, max(0, e))
		}
	}
	taken := make([]bool, len(all))
	draw := func(weight func(n int) float64) {
		var sum float64
		for n := range all {
			if !taken[n] {
				sum += weight(n)
			}
		}
		at := rng.Float64() * sum
		for n := range all {
			if taken[n] {
				continue
			}
			if at -= weight(n); at < 0 || sum == 0 {
				taken[n] = true
				open = append(open, all[n])
				return
			}
		}
	}
	var mean float64
	for _, e := range excess {
		mean += e / float64(len(all))
	}
	wanted := make([]bool, len(k.p.Items))
	draw(func(n int) float64 { return excess[n] + mean/4 + 1 })
	for len(open) > 0 && len(open) < min(size, len(all)) {
		for _, pl := range open[len(open)-1].Pattern.Places {
			wanted[pl.Item] = true
		}
		draw(func(n int) float64 {
			shared := 1.0
			for _, pl := range all[n].Pattern.Places {
				if wanted[pl.Item] {
					shared++
				}
			}
			return (excess[n] + mean/4 + 1) * shared
		})
	}
	for n, u := range all {
		if !taken[n] {
			stay = append(stay, u)
		}
	}
	return open, stay
}

// Between two such turns there are quick ones, with more stocks and without pricing: an integer
// program over the columns that are known already.

const (
	quickTurns     = 8
	fewestQuick    = 4
	mostQuick      = 12
	columnsOfQuick = 300 // those that cost least beyond the duals
)

// reshuffle opens stocks again and again and plans them anew from columns that are known. It says
// whether the incumbent is better afterwards.
func (k *solver) reshuffle(rng *rand.Rand, limit int64) (better bool) {
	for turn := 0; turn < quickTurns && k.meter.Steps < limit && !k.over() && !k.closed(); turn++ {
		before := k.incumbent.value
		open, stay := k.choose(rng, fewestQuick+rng.IntN(mostQuick-fewestQuick+1),
			k.rootDuals)
		m := k.opened(open, stay)
		k.addLikely(m)
		k.combineBeside(m, stay, k.budget.columnsOpen/8)
		if k.incumbent.value < before {
			better = true
			k.observe("reopening")
		}
	}
	return better
}

// addLikely adds the known columns that a master may use and that cost least beyond the duals.
func (k *solver) addLikely(m *master) {
	type known struct {
		*column
		excess int64
	}
	var some []known
	for _, cols := range [][]*column{k.pool.cols, k.listed} {
		m.eachProper(cols, func(c *column) {
			e := c.cost
			for n, i := range c.items {
				e -= c.counts[n] * k.rootDuals[i]
			}
			some = append(some, known{c, e})
		})
	}
	slices.SortStableFunc(some, func(a, b known) int { return cmp.Compare(a.excess, b.excess) })
	k.meter.Add(int64(len(k.pool.cols)+len(k.listed))*16 + int64(len(some))*64)
	for _, c := range some[:min(len(some), columnsOfQuick)] {
		m.pool.add(c.column)
	}
}

// opened is the program of what is open, with the columns that it is cut into now.
func (k *solver) opened(open, stay []cutting.Use) *master {
	part := *k.p
	part.Items, part.Stocks = slices.Clone(k.p.Items), slices.Clone(k.p.Stocks)
	for i := range part.Items {
		part.Items[i].Demand = k.incumbent.unmet[i]
	}
	for _, u := range open {
		for _, pl := range u.Pattern.Places {
			part.Items[pl.Item].Demand++
		}
	}
	for _, u := range stay {
		if s := &part.Stocks[u.Pattern.Stock]; s.Supply != cutting.Any {
			s.Supply -= u.Times
		}
	}
	m := newMaster(&part, k.costs, &pool{seen: map[string]*column{}})
	m.strict = true
	for _, u := range open {
		m.pool.add(newColumn(k.p, u.Pattern))
	}
	return m
}

// fewSpare leaves a master the stocks that are open, those of any number, and few others.
func (k *solver) fewSpare(rng *rand.Rand, m *master, open []cutting.Use) {
	var spare []int
	for s, n := range m.most {
		if n > 0 && !slices.ContainsFunc(open, func(u cutting.Use) bool {
			return u.Pattern.Stock == s
		}) {
			spare = append(spare, s)
		}
	}
	rng.Shuffle(len(spare), func(i, j int) { spare[i], spare[j] = spare[j], spare[i] })
	for _, s := range spare[min(spareOpen, len(spare)):] {
		m.limitStock(s, 0, 0)
	}
}

// replan solves the program of what is open; the incumbent is better afterwards, or the same.
func (k *solver) replan(rng *rand.Rand, open, stay []cutting.Use) {
	m := k.opened(open, stay)
	if k.copies {
		k.fewSpare(rng, m, open)
	}
	m.eachProper(k.pool.cols, func(c *column) { m.pool.add(c) })
	k.meter.Add(int64(len(k.pool.cols)) * 8)
	if k.listed != nil {
		k.addLikely(m)
	}
	if _, done := k.generate(m); !done {
		return
	}
	k.diveBeside(m, stay, 0)
	k.combineBeside(m, stay, k.budget.columnsOpen)
}

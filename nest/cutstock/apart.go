package cutstock

import (
	"cmp"
	"math/rand/v2"
	"slices"

	"rackwright/nest/cutting"
)

// Large programs. Where a round of pricing takes long the relaxation is not solved for a long
// while. Before that some stocks of the incumbent are opened at a time, as in reopen.go. What they
// hold is planned apart, as a program of its own: of few items its tables are small, and so columns
// are soon found that the whole program would take long for.

const (
	fewestApart, mostApart = 4, 8
	// apartShare is which part of all work goes into it, oneShare into one such program at most.
	apartShare, oneShare = 8, 128
	// spareApart is how many stocks that the incumbent does not use are in such a program.
	spareApart = 4
)

// planApart plans some stocks of the incumbent anew, apart from the others, again and again. The
// duals say what pieces are worth.
func (k *solver) planApart(duals []int64) {
	k.observe("reopening")
	rng := rand.New(rand.NewPCG(2, 1))
	limit := k.meter.Steps + k.opt.Work/apartShare
	for size, failed := fewestApart, 0; k.meter.Steps < limit && !k.over() && !k.closed(); {
		before := k.incumbent
		open, stay := k.choose(rng, size, duals)
		k.solveApart(rng, open, stay)
		if cmp.Or(cmp.Compare(k.incumbent.short, before.short),
			cmp.Compare(k.incumbent.value, before.value)) < 0 {
			failed = 0
			k.observe("reopening")
		} else if failed++; failed >= reopenTries {
			failed = 0
			if size++; size > mostApart {
				size = fewestApart
			}
		}
		if len(stay) == 0 {
			return
		}
	}
}

// solveApart plans what some uses hold anew, with the supply that the others leave. The incumbent
// is better afterwards, or the same.
func (k *solver) solveApart(rng *rand.Rand, open, stay []cutting.Use) {
	part, items, stocks := k.apart(rng, open, stay)
	var start []cutting.Use
	for _, u := range open {
		start = append(start, renumbered(u, func(i int) int { return at(items, i) },
			func(s int) int { return at(stocks, s) }))
	}
	inner := newSolver(k.ctx, part, Options{Work: k.opt.Work, Memory: k.opt.Memory / 8,
		apart: true})
	inner.reserve = k.opt.Work - k.opt.Work/oneShare
	inner.offer(start)
	for _, u := range start {
		inner.pool.add(newColumn(part, u.Pattern))
	}
	m := newMaster(part, inner.costs, &inner.pool, nil)
	m.strict = true
	before := inner.incumbent.value
	if _, done := inner.generate(m); done {
		for _, second := range discrepancies[:5] {
			inner.dive(m, second)
		}
		inner.combine(m, inner.budget.columnsOpen)
	}
	k.meter.Add(inner.meter.Steps + 1<<16)
	if inner.incumbent.value >= before && inner.incumbent.short == 0 {
		return
	}
	uses := slices.Clone(stay)
	for _, u := range inner.incumbent.uses {
		uses = append(uses, renumbered(u, func(i int) int { return items[i] },
			func(s int) int { return stocks[s] }))
	}
	k.offer(uses)
}

// at is the index of a value in an ascending list that has it.
func at(list []int, v int) int {
	n, _ := slices.BinarySearch(list, v)
	return n
}

// apart is the program of what some uses hold and the incumbent leaves unmet, and which items and
// stocks of k's program its own are. It has the stocks of these uses, those of any number, and some
// others that are left.
func (k *solver) apart(rng *rand.Rand, open, stay []cutting.Use) (part *cutting.Problem,
	items, stocks []int) {
	wanted, left := slices.Clone(k.incumbent.unmet), make([]int64, len(k.p.Stocks))
	for s := range left {
		left[s] = k.p.Stocks[s].Supply
	}
	for _, u := range stay {
		if left[u.Pattern.Stock] != cutting.Any {
			left[u.Pattern.Stock] -= u.Times
		}
	}
	for _, u := range open {
		for _, pl := range u.Pattern.Places {
			wanted[pl.Item]++
		}
		stocks = append(stocks, u.Pattern.Stock)
	}
	spare := []int{}
	for s, n := range left {
		switch {
		case n == cutting.Any:
			stocks = append(stocks, s)
		case n > 0:
			spare = append(spare, s)
		}
	}
	rng.Shuffle(len(spare), func(i, j int) { spare[i], spare[j] = spare[j], spare[i] })
	stocks = append(stocks, spare[:min(len(spare), spareApart)]...)
	slices.Sort(stocks)
	stocks = slices.Compact(stocks)
	part = &cutting.Problem{Kerf: k.p.Kerf, Rip: k.p.Rip, RipCost: k.p.RipCost, Coin: k.p.Coin}
	number := make([]int, len(wanted))
	for i, n := range wanted {
		if number[i] = -1; n > 0 {
			number[i] = len(items)
			items = append(items, i)
			it := k.p.Items[i]
			it.Demand = n
			part.Items = append(part.Items, it)
		}
	}
	some := func(of []int) (out []int) {
		for _, i := range of {
			if number[i] >= 0 {
				out = append(out, number[i])
			}
		}
		return out
	}
	for _, s := range stocks {
		stock := k.p.Stocks[s]
		stock.Supply, stock.Holds = left[s], some(stock.Holds)
		if stock.Across != nil {
			a := *stock.Across
			a.Whole = some(a.Whole)
			stock.Across = &a
		}
		part.Stocks = append(part.Stocks, stock)
	}
	return part, items, stocks
}

// renumbered is a use with its items and its stock under other numbers.
func renumbered(u cutting.Use, item, stock func(int) int) cutting.Use {
	u.Pattern.Stock = stock(u.Pattern.Stock)
	u.Pattern.Places = slices.Clone(u.Pattern.Places)
	for n := range u.Pattern.Places {
		u.Pattern.Places[n].Item = item(u.Pattern.Places[n].Item)
	}
	return u
}

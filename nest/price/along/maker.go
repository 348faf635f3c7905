package along

import (
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// Maker makes the pricers of stocks without Across. Stocks whose clear runs can take the same items
// share a knapsack.
type Maker struct {
	PerRound int64 // steps that each round of pricing takes for the knapsacks
	p        *cutting.Problem
	longest  int64 // of all stocks
	m        *price.Meter
	sacks    []*knapsack
}

// NewMaker makes none yet.
func NewMaker(p *cutting.Problem, m *price.Meter) *Maker {
	k := &Maker{p: p, m: m}
	for s := range p.Stocks {
		k.longest = max(k.longest, p.Stocks[s].To-p.Stocks[s].From)
	}
	return k
}

// Pricer prices a stock by its clear runs where that is exact, else over starts.
func (k *Maker) Pricer(stock int) price.Pricer {
	s := &k.p.Stocks[stock]
	if tradable(k.p, s) {
		return newLinked(k.p, stock, false, k.m)
	}
	return newSeparate(k.p, stock, k.sack(s.Holds), k.m)
}

func (k *Maker) sack(holds []int) *knapsack {
	for _, n := range k.sacks {
		if slices.Equal(n.holds, holds) {
			return n
		}
	}
	n := newKnapsack(k.p, holds, k.longest)
	k.sacks = append(k.sacks, n)
	k.PerRound += n.work()
	return n
}

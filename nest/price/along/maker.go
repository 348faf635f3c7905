package along

import (
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// Maker makes the pricers of stocks without Across. Stocks that hold the same items share a
// knapsack.
type Maker struct {
	PerRound  int64 // steps that each round of pricing takes for the knapsacks made so far
	p         *cutting.Problem
	longest   int64 // of all stocks
	m         *price.Meter
	knapsacks []*knapsack
	shared    tables
}

// NewMaker gives a maker of pricers that count their work on a meter.
func NewMaker(p *cutting.Problem, m *price.Meter) *Maker {
	k := &Maker{p: p, m: m}
	for s := range p.Stocks {
		k.longest = max(k.longest, p.Stocks[s].To-p.Stocks[s].From)
	}
	return k
}

// Pricer prices a stock by its clear runs where none of its pieces can trade, else over starts.
func (k *Maker) Pricer(stock int) price.Pricer {
	s := &k.p.Stocks[stock]
	if tradable(k.p, s) {
		return newLinked(k.p, stock, k.m, &k.shared)
	}
	return newSeparate(k.p, stock, k.knapsackOf(s.Holds), k.m)
}

// base is what both pricers know of a stock.
type base struct {
	p     *cutting.Problem
	m     *price.Meter
	index int
	s     *cutting.Stock
	runs  []cutting.Span // clear runs, ascending
}

func newBase(p *cutting.Problem, index int, m *price.Meter) base {
	s := &p.Stocks[index]
	return base{p, m, index, s, s.ClearRuns()}
}

func (r *base) Bare() int64 { return r.p.Worth(&cutting.Pattern{Stock: r.index}) }

func (r *base) Traits() price.Traits { return price.Traits{Lists: true} }

func (r *base) Fill(left []int64, _ price.Asker) *cutting.Pattern {
	return r.p.Greedy(r.index, left)
}

// worth is w.
func (r *base) worth(length int64) int64 { return r.s.Slope * max(0, length-r.s.Keep) }

// tradable says whether a piece on a stock can trade.
func tradable(p *cutting.Problem, s *cutting.Stock) bool {
	var classes [cutting.Classes]bool
	for _, i := range s.Holds {
		classes[p.Items[i].Class] = true
	}
	for _, spot := range s.Spots {
		if spot.To-spot.From < p.Kerf {
			return true
		}
		for q, has := range classes {
			if has && spot.Tolerated[q] {
				return true
			}
		}
	}
	return false
}

// knapsackOf is the knapsack of so many items, made where there is none yet.
func (k *Maker) knapsackOf(holds []int) *knapsack {
	for _, n := range k.knapsacks {
		if slices.Equal(n.holds, holds) {
			return n
		}
	}
	n := newKnapsack(k.p, holds, k.longest)
	k.knapsacks = append(k.knapsacks, n)
	k.PerRound += n.steps()
	return n
}

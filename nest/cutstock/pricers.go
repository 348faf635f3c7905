package cutstock

import (
	"rackwright/nest/cutting"
	"slices"
)

// pricing is the pricers of a problem's stocks, and what a search must know of all of them.
type pricing struct {
	p        *cutting.Problem
	pricers  []Pricer // by stock
	fine     int64    // the finest of them
	lists    bool     // all of them list
	perRound int64    // steps that each round takes for what pricers share
	longest  int64    // of the stocks
	widest   int64    // of those that are more than one piece wide
}

// newPricing makes the pricer of every stock: across where pieces may lie beside each other; else
// by clear runs where that is exact, and over starts where it is not. Stocks whose runs can take
// the same items share a knapsack, stocks across that are alike but for their length a table.
func newPricing(p *cutting.Problem, m *Meter) *pricing {
	out := &pricing{p: p, fine: 1, lists: true}
	for s := range p.Stocks {
		out.longest = max(out.longest, p.Stocks[s].To-p.Stocks[s].From)
	}
	var sacks []*knapsack
	sack := func(holds []int) *knapsack {
		for _, n := range sacks {
			if slices.Equal(n.holds, holds) {
				return n
			}
		}
		n := newKnapsack(p, holds, out.longest)
		sacks = append(sacks, n)
		out.perRound += n.work()
		return n
	}
	var tables sheetTables
	for s := range p.Stocks {
		var r Pricer
		switch stock := &p.Stocks[s]; {
		case stock.Across != nil:
			out.widest = max(out.widest, stock.Across.Width)
			r = newSheet(p, s, &tables, m)
		case linked(p, stock):
			r = newChain(p, s, false, m)
		default:
			r = newRuns(p, s, sack(stock.Holds), m)
		}
		out.pricers = append(out.pricers, r)
		out.fine, out.lists = max(out.fine, r.Traits().Fine), out.lists && r.Traits().Lists
	}
	return out
}

// copiesOn is at least how many copies of an item the largest stock may have.
func (r *pricing) copiesOn(i int) int64 {
	it := &r.p.Items[i]
	return (r.longest/(it.Size+r.p.Kerf) + 1) * (r.widest/max(1, it.Width+r.p.Rip) + 1)
}

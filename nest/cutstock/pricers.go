package cutstock

import (
	"rackwright/nest/cutting"
	"rackwright/nest/price"
	"rackwright/nest/price/across"
	"rackwright/nest/price/along"
)

// pricing is the pricers of a problem's stocks, and what a search must know of all of them.
type pricing struct {
	p        *cutting.Problem
	pricers  []price.Pricer // by stock
	fine     int64          // the finest of them
	lists    bool           // all of them list
	perRound int64          // steps that each round takes for what pricers share
	longest  int64          // of the stocks
	widest   int64          // of those that are more than one piece wide
}

// newPricing makes the pricer of every stock: across where pieces may lie beside each other, else
// along.
func newPricing(p *cutting.Problem, m *price.Meter) *pricing {
	out := &pricing{p: p, fine: 1, lists: true}
	one, two := along.NewMaker(p, m), across.NewMaker(p, m)
	for s := range p.Stocks {
		stock := &p.Stocks[s]
		out.longest = max(out.longest, stock.To-stock.From)
		var r price.Pricer
		if stock.Across != nil {
			out.widest = max(out.widest, stock.Across.Width)
			r = two.Pricer(s)
		} else {
			r = one.Pricer(s)
		}
		out.pricers = append(out.pricers, r)
		out.fine, out.lists = max(out.fine, r.Traits().Fine), out.lists && r.Traits().Lists
	}
	out.perRound = one.PerRound
	return out
}

// copiesOn is at least how many copies of an item the largest stock may have.
func (r *pricing) copiesOn(i int) int64 {
	it := &r.p.Items[i]
	return (r.longest/(it.Size+r.p.Kerf) + 1) * (r.widest/max(1, it.Width+r.p.Rip) + 1)
}

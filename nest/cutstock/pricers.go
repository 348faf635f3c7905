package cutstock

import (
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
	"rackwright/nest/price/across"
	"rackwright/nest/price/along"
	"rackwright/nest/price/coarse"
	"rackwright/nest/price/rough"
)

// pricing is the pricers of a problem's stocks, and what a search must know of all of them.
type pricing struct {
	p        *cutting.Problem
	meter    *price.Meter
	pricers  []price.Pricer // by stock
	bare     []int64        // by stock, what it is worth without a piece
	bounds   []bounded      // by stock, by what its bound goes
	exact    []bool         // by stock, its pricer knows the best layout
	grids    *grids         // for bounds
	lists    bool           // all of them list, and count the copies
	mayList  bool           // all of them list
	copies   bool           // some count any number of copies
	coarse   bool           // some have a coarse way
	many     bool           // of so many items that many.go may apply
	thin     bool           // some never know the best layout
	fine     bool           // which is not asked for now
	perRound int64          // steps that each round takes for what pricers share
	asked    *price.Ask     // the last round
	longest  int64          // of the stocks
	widest   int64          // of those that are more than one piece wide
}

// newPricing makes the pricer of every stock: across where pieces may lie beside each other, else
// along; and rough where its tables would not fit in so much memory, or one round of pricing would
// take too much of the work. Where up is not nil columns are first looked for with its kerfs.
func newPricing(p *cutting.Problem, opt Options) *pricing {
	up, work, memory := opt.up, opt.Work, opt.Memory
	out := &pricing{p: p, meter: &price.Meter{}, mayList: true,
		bounds: make([]bounded, len(p.Stocks))}
	out.many = len(p.Items) >= manyItems && !opt.asFew &&
		slices.ContainsFunc(p.Stocks, func(s cutting.Stock) bool { return s.Rippable() })
	out.grids = newGrids(p, out.meter, work, memory/8, out.many)
	budget := &price.Budget{Memory: memory, Pricing: work / 8, Round: work / 2,
		Checked: true}
	if out.many {
		budget.Cells, budget.Pending = mostCells, fewPending
	}
	plain, rippable := along.NewMaker(p, out.meter), across.NewMaker(p, out.meter, budget)
	var coarser *across.Maker
	if up != nil {
		coarser = across.NewMaker(up, out.meter, budget)
	}
	for s := range p.Stocks {
		stock := &p.Stocks[s]
		out.longest = max(out.longest, stock.To-stock.From)
		var r price.Pricer
		if stock.Rippable() {
			out.widest = max(out.widest, stock.Across.Width)
			if q := rippable.Pricer(s); q != nil {
				r = q
			}
			if r != nil && up != nil {
				if q := coarser.Pricer(s); q != nil {
					r, out.coarse = coarse.NewPricer(p, up, q, r), true
				}
			}
		} else {
			r = plain.Pricer(s)
		}
		if r == nil {
			r = rough.NewPricer(p, s, out.meter)
			out.bounds[s].inexact = true
		}
		if r.Traits().Thin {
			out.bounds[s].inexact, out.thin = true, true
		}
		out.exact = append(out.exact, !out.bounds[s].inexact)
		out.pricers, out.bare = append(out.pricers, r), append(out.bare, r.Bare())
		out.mayList = out.mayList && r.Traits().Lists
		out.copies = out.copies || r.Traits().Copies
	}
	out.lists = out.mayList && !out.copies
	out.perRound = plain.PerRound
	return out
}

// copiesOn is at least how many copies of an item the largest stock may have.
func (r *pricing) copiesOn(i int) int64 {
	it := &r.p.Items[i]
	return (r.longest/(it.Size+r.p.Kerf) + 1) * (r.widest/max(1, it.Width+r.p.Rip) + 1)
}

// ask gives a round of pricing at duals with so many copies wanted: the last one, if it was of the
// same.
func (r *pricing) ask(duals, wanted []int64) *price.Ask {
	if r.asked != nil && r.asked.Fine == r.fine && slices.Equal(r.asked.Duals, duals) &&
		slices.Equal(r.asked.Demand, wanted) {
		return r.asked
	}
	round := 1
	if r.asked != nil {
		round = r.asked.Round + 1
	}
	r.meter.Add(r.perRound)
	r.asked = &price.Ask{Duals: slices.Clone(duals), Demand: slices.Clone(wanted),
		Fine: r.fine, Round: round}
	return r.asked
}

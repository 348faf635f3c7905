package cutstock

import (
	"math"

	"rackwright/nest/cutting"
	"rackwright/nest/price/rough"
)

// The bound by area. It needs no pricer, and so it is there from the start and for stocks for which
// no exact pricing is made ([rough.ByArea]).
//
//	c_s      cost of stock s
//	share    what a piece takes of a stock's room, as a part of it
//	pi_i     the least of  c_s x share  over the stocks of any number that hold item i, or where
//	         there is none the greatest over the others
//
// At these duals no stock of which there is any number gives more than it costs. The other stocks
// may, and the bound is the less for it. So the duals are tried at theta pi for the best theta in
// [0, 1]: the bound is concave in theta, with a breakpoint at c_s / (what s gives at pi) of each
// such stock.

// areaDuals are those duals.
func areaDuals(p *cutting.Problem) []int64 {
	duals := make([]float64, len(p.Items))
	set := make([]bool, len(p.Items)) // by a stock of any number
	for s := range p.Stocks {
		stock := &p.Stocks[s]
		long := stock.To - stock.From
		room := float64(long + p.Kerf)
		if stock.Across != nil {
			room *= float64(stock.Across.Width + p.Rip)
		}
		for _, i := range stock.Holds {
			if p.Items[i].Size > long || p.Items[i].Demand == 0 {
				continue
			}
			v := float64(stock.Cost) * float64(rough.Taken(p, s, i)) / room
			any := stock.Supply == cutting.Any
			switch {
			case any && !set[i]:
				duals[i], set[i] = v, true
			case any:
				duals[i] = min(duals[i], v)
			case !set[i]:
				duals[i] = max(duals[i], v)
			}
		}
	}
	whole := func(theta float64) []int64 {
		out := make([]int64, len(duals))
		for i, d := range duals {
			out[i] = max(0, int64(theta*d)-1)
		}
		return out
	}
	all := whole(1)
	var sum float64
	for i, d := range all {
		sum += float64(d) * float64(p.Items[i].Demand)
	}
	gives := make([]float64, len(p.Stocks))
	for s := range p.Stocks {
		gives[s] = float64(rough.ByArea(p, s, all))
	}
	best, most := 1.0, math.Inf(-1)
	try := func(theta float64) {
		b := theta * sum
		for s := range p.Stocks {
			if stock := &p.Stocks[s]; stock.Supply != cutting.Any {
				b += float64(stock.Supply) * min(0, float64(stock.Cost)-theta*gives[s])
			}
		}
		if b > most {
			best, most = theta, b
		}
	}
	try(1)
	for s := range p.Stocks {
		if c := float64(p.Stocks[s].Cost); c < gives[s] {
			try(c / gives[s])
		}
	}
	return whole(best)
}

// byArea is the bound by area, with its proof; no proof where it proves nothing.
func byArea(p *cutting.Problem) (int64, *Proof) {
	pi := areaDuals(p)
	var sum total
	for i, d := range pi {
		sum.add(d, p.Items[i].Demand)
	}
	all := make([]bool, len(p.Stocks))
	for s := range p.Stocks {
		all[s] = true
		stock := &p.Stocks[s]
		switch r := stock.Cost - rough.ByArea(p, s, pi); {
		case r >= 0:
		case stock.Supply == cutting.Any:
			return math.MinInt64, nil
		default:
			sum.add(r, stock.Supply)
		}
	}
	return sum.bound(), &Proof{Leaf: &Leaf{Duals: pi}, Rough: all}
}

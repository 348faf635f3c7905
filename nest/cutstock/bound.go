package cutstock

import (
	"math"
	"math/big"
	"slices"

	"rackwright/nest/cutstock/cuts"
	"rackwright/nest/cutting"
	"rackwright/nest/price"
	"rackwright/nest/price/rough"
)

// The bound. Everything is in whole ticks of money.
//
//	pi           duals of the items, any whole numbers >= 0
//	best_s(pi)   the most that a layout of stock s is worth at pi, by its pricer
//	z_s          how many of stock s a plan uses, between least_s and most_s
//
// A pattern p of s has c_s - v_p >= (c_s - best_s) + sum pi_i a_ip. So every plan costs at least
//
//	sum pi_i d_i + sum over s of min over z in [least_s, most_s] of z (c_s - best_s(pi)).
//
// Where most_s has no limit, c_s < best_s would make the sum worthless: there pi is scaled down.
// best_s is convex in pi, so best_s(theta pi) <= c_s for
//
//	theta = (c_s - best_s(0)) / (best_s(pi) - best_s(0)).
//
// Quotas (quota.go) make best_s smaller. Where exact pricing takes too long, a bound on a coarser
// grid takes its place (grids.go), or one by area (area.go).

// Proof proves a bound of all plans, or of a part of them: by a leaf, or by a split in two.
type Proof struct {
	Leaf  *Leaf
	Split *Split // nil: there is a leaf
	// At the root, by stock: what it gives is bounded by area; the grid on which it is worked out,
	// zero: its own. Nil: of none.
	Rough []bool
	Grids []rough.Grid
}

// Split parts plans by how many of a stock they use: at most AtMost, or more.
type Split struct {
	Stock     int
	AtMost    int64
	Low, High *Proof
}

// Leaf proves a bound within the limits that the splits above leave.
type Leaf struct {
	Duals  []int64
	Quotas []Quota
	List   *cuts.Proof // proves more than the duals, where it is not nil
}

// Quota is the price of a limit of copies: of an item of which one pattern of a stock may have no
// more than are wanted; at most the item's dual.
type Quota struct {
	Stock, Item int
	Dual        int64
}

// mostOnStock is what the pieces on one stock may be worth together, and what its quotas may give
// back.
const mostOnStock = 1 << 59

// wholeDuals rounds the duals of a relaxation, in its unit, to whole ticks. Any whole numbers will
// do for the bound. So those that unmet pieces make huge are cut down.
func (k *solver) wholeDuals(duals []float64, unit float64) []int64 {
	out := make([]int64, len(duals))
	for i, d := range duals {
		if v := math.Floor(d*unit + 0.5); v > 0 {
			out[i] = int64(min(v, float64(mostOnStock/k.copiesOn(i))))
		}
	}
	return out
}

// estimate gives, from the best of each stock at pi, the bound of theta pi, and theta as a fraction
// of 2^30. It is never more than what pricing theta pi again would give.
func (k *solver) estimate(m *master, pi []int64, best []int64) (bound float64, theta int64) {
	const one = 1 << 30
	theta = one
	for s := range best {
		c, v := k.p.Stocks[s].Cost, k.bare[s]
		if m.most[s] == cutting.Any && best[s] > c {
			theta = min(theta, int64(float64(c-v)/float64(best[s]-v)*one)-1)
		}
	}
	theta = max(theta, 0)
	f := float64(theta) / one
	for i, d := range m.demand {
		bound += f * float64(pi[i]) * float64(d)
	}
	for s := range best {
		v := float64(k.bare[s])
		r := float64(k.p.Stocks[s].Cost) - (v + f*(float64(best[s])-v))
		if m.most[s] != cutting.Any {
			bound += min(float64(m.least[s])*r, float64(m.most[s])*r)
		} else {
			bound += float64(m.least[s]) * r
		}
	}
	return bound, theta
}

// prove derives the bound of duals exactly, wherever pieces may lie, and scales them down as far as
// an unlimited stock asks for. It gives the bound, the duals it holds for, and what each stock
// gives at most by them. False where a stock takes too long to price; before there is a tree its
// bound by area will do.
func (k *solver) prove(least, most []int64, at prices) (bound int64, proven prices, best []int64,
	ok bool) {
	proven = at.clone()
	pi := proven.duals
	demand := make([]int64, len(pi))
	for i := range pi {
		if demand[i] = k.p.Items[i].Demand; demand[i] == 0 {
			pi[i] = 0
		}
	}
	best = make([]int64, len(k.pricers))
	order := k.provingOrder()
	for n := 0; n < len(best); n++ {
		s := order[n]
		if k.ctx.Err() != nil {
			return math.MinInt64, proven, best, false
		}
		duals, back := k.dualsFor(s, proven)
		if best[s], ok = k.vouch(s, duals, demand, k.floorOf(s, least[s], back)); !ok {
			return math.MinInt64, proven, best, false
		}
		best[s] += back
		c, v := k.p.Stocks[s].Cost, k.bareOf(s)
		if most[s] == cutting.Any && best[s] > c {
			if !slices.ContainsFunc(pi, func(d int64) bool { return d > 0 }) {
				return math.MinInt64, proven, best, true // by area even offcuts are worth more
			}
			theta := float64(c-v) / float64(best[s]-v)
			proven.lower(theta)
			n = -1
		}
	}
	var sum total
	for i, d := range pi {
		sum.add(d, k.p.Items[i].Demand)
	}
	for s, b := range best {
		r := k.p.Stocks[s].Cost - b
		if r < 0 && most[s] != cutting.Any {
			sum.add(r, most[s])
		} else {
			sum.add(r, least[s])
		}
	}
	return sum.bound(), proven, best, true
}

// provingOrder is the order in which stocks are priced for a bound. Those of any number may lower
// the duals: where others take long they come first.
func (k *solver) provingOrder() []int {
	order := make([]int, len(k.p.Stocks))
	for s := range order {
		order[s] = s
	}
	if k.long || k.anyInexact() {
		slices.SortStableFunc(order, func(a, b int) int {
			any := func(s int) int { return int(min(0, k.p.Stocks[s].Supply)) }
			return any(a) - any(b)
		})
	}
	return order
}

// floorOf is a value of a stock below which the bound is the same, where so many must be used at
// least: what the stock costs, if that is none.
func (k *solver) floorOf(s int, least, back int64) int64 {
	if floor := k.p.Stocks[s].Cost - back; least == 0 && floor >= k.bare[s] {
		return floor
	}
	return price.Never
}

// vouch gives a value that no pattern of a stock exceeds: the best, or a bound on a coarser grid or
// by area where that takes too long. False where it does in a tree, of which all leaves are to go
// by the same bounds.
func (k *solver) vouch(s int, duals, wanted []int64, floor int64) (int64, bool) {
	// one after the other, many would take too long
	if !k.bounds[s].inexact && (!k.long || k.tree || k.lists || k.p.Stocks[s].Supply == cutting.Any) {
		before := k.meter.Steps
		v, ok := k.pricers[s].Vouch(k.ask(duals, wanted), floor)
		k.vouching += k.meter.Steps - before
		switch {
		case k.tree || k.lists: // no list goes with a bound on a coarser grid
			return v, ok
		case ok && (k.vouching < k.opt.Work/16 || k.vouching < k.opt.Work/2 && !k.over()):
			return v, true
		}
	}
	return k.onGrid(s, duals, wanted, floor)
}

// Free is the bound that needs no search, with its proof: all duals are 0. Then no layout is worth
// more than the bare stock, for cutting never raises worth.
func Free(p *cutting.Problem) (int64, *Proof) {
	var sum total
	for s := range p.Stocks {
		net := p.Cost(&cutting.Pattern{Worth: p.Worth(&cutting.Pattern{Stock: s}), Stock: s})
		switch {
		case net >= 0:
		case p.Stocks[s].Supply == cutting.Any:
			return math.MinInt64, nil
		default:
			sum.add(net, p.Stocks[s].Supply)
		}
	}
	return sum.bound(), &Proof{Leaf: &Leaf{Duals: make([]int64, len(p.Items))}}
}

// total is a sum of products, exact.
type total struct{ sum, term, by big.Int }

func (t *total) add(v, times int64) {
	t.term.Mul(t.term.SetInt64(v), t.by.SetInt64(times))
	t.sum.Add(&t.sum, &t.term)
}

// bound is the sum as a bound: where it is too large it is lowered, where it is too small it says
// nothing.
func (t *total) bound() int64 {
	switch {
	case t.sum.BitLen() < 62:
		return t.sum.Int64()
	case t.sum.Sign() > 0:
		return 1 << 61
	}
	return math.MinInt64
}

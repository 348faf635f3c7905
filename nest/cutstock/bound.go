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
// Where something is made of pieces, pi_i d_i has a part for that, too (wants.go).
//
// Within the demands best_s may be smaller (within.go). Where exact pricing takes too long, a bound
// on a coarser grid takes its place, or one by area (gridbound.go).

// Proof proves a bound of all plans, or of a part of them: by a leaf, or by a split in two.
type Proof struct {
	Leaf   *Leaf
	Split  *Split  // nil: there is a leaf, or a choice
	Choice *Choice // nil: there is none
	// At the root, by stock: what it gives is bounded by area; the grid on which it is worked out,
	// zero: its own. Nil: of none.
	Rough []bool
	Grids []rough.Grid
}

// Split parts plans by how many of a stock they use, or how many boards they buy: at most AtMost,
// or more.
type Split struct {
	Stock     int // or AllBought
	AtMost    int64
	Low, High *Proof
}

// Choice parts plans by how many times a way of a want is used: at most AtMost, or more.
type Choice struct {
	Want, Way int
	AtMost    int64
	Low, High *Proof
}

// Leaf proves a bound within the limits that the splits above leave.
type Leaf struct {
	Duals  []int64
	Within []Within
	List   *cuts.Proof // proves more than the duals, where it is not nil
}

// mostOnStock is what the pieces on one stock may be worth together.
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
	theta = one
	for s := range best {
		c, v := k.p.Stocks[s].Cost, k.bare[s]
		if m.most[s] == cutting.Any && best[s] > c {
			theta = min(theta, int64(float64(c-v)/float64(best[s]-v)*one)-1)
		}
	}
	theta = max(theta, 0)
	f := float64(theta) / one
	if m.wants != nil {
		bound = f * m.wants.about(pi)
	} else {
		for i, d := range m.demand {
			bound += f * float64(pi[i]) * float64(d)
		}
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

// noteDuals keeps the duals that give the best bound so far. It says whether the bound at these is
// near the value of the program.
func (k *solver) noteDuals(m *master, at, best []int64) (near bool) {
	b, theta := k.estimate(m, at, best)
	value := m.lp.Value() * m.unit
	near = b >= value-value/nearShare
	if b <= k.rootEstimate {
		return near
	}
	k.rootEstimate = b
	k.rootDuals = slices.Clone(at)
	if theta < one {
		lower(k.rootDuals, float64(theta)/one)
	}
	return near
}

// certify proves the bound of the root.
func (k *solver) certify(root *master) {
	if k.rootDuals == nil {
		k.rootDuals = make([]int64, len(k.p.Items))
	}
	if k.refines() {
		k.rootDuals = k.affordable(k.rootDuals)
		share := int64(boundShare)
		if !k.many { // its dives take longer
			share *= 2
		}
		k.refine(k.rootDuals, k.opt.Work/share)
	}
	k.certifyAt(root, k.rootDuals)
	if k.anyInexact() && !k.many && !k.refines() && !k.over() {
		k.relaxOnGrids(root)
	}
}

// certifyAt proves the bound of the root at some prices.
func (k *solver) certifyAt(root *master, duals []int64) {
	k.grids.begin()
	at, _ := k.prove(root, duals)
	k.grids.begin() // the pricers are not needed for long
	b := at.bound
	cert := k.withBounds(&Proof{Leaf: &Leaf{Duals: at.duals, Within: at.within}})
	if b < k.free.Bound {
		b, cert = k.free.Bound, k.free.Certificate
	}
	if b > k.bound {
		k.bound, k.cert = b, cert
		k.plainBound, k.plain = k.bound, k.cert
		k.found()
	}
}

// proven is what some duals prove.
type proven struct {
	bound  int64
	duals  []int64
	best   []int64 // by stock, what no pattern gives more than, within the demands
	any    []int64 // by stock, what none gives more than with any number of copies
	within []Within
}

// prove derives the bound of duals exactly under the limits of a master, wherever pieces may lie,
// and scales them down as far as an unlimited stock asks for. False where a stock takes too long to
// price; before there is a tree its bound by area will do.
func (k *solver) prove(m *master, duals []int64) (out proven, ok bool) {
	out = proven{bound: math.MinInt64, duals: slices.Clone(duals)}
	pi := out.duals
	demand := make([]int64, len(pi))
	for i := range pi {
		if demand[i] = k.p.Items[i].Demand; demand[i] == 0 {
			pi[i] = 0
		}
	}
	best := make([]int64, len(k.pricers))
	out.best, out.any = best, make([]int64, len(best))
	theta := int64(one)
	order, limits := k.provingOrder(), m.limits()
	for n := 0; n < len(best); n++ {
		s := order[n]
		if k.ctx.Err() != nil {
			return out, false
		}
		if best[s], ok = k.vouch(s, pi, demand, k.floorOf(s, limits)); !ok {
			return out, false
		}
		out.any[s] = best[s]
		// the checker makes no list of what it bounds on a grid
		if m.within && k.pricers[s].Traits().Copies && m.most[s] != 0 && !k.bounds[s].inexact {
			if best[s], _, ok = k.gives(s, pi, k.needOf(m, s), best[s]); !ok {
				return out, false
			}
		}
		c := k.p.Stocks[s].Cost
		switch {
		case limits.end(k.p, s) || best[s] <= c:
		case !slices.ContainsFunc(pi, func(d int64) bool { return d > 0 }):
			return out, true // by area even offcuts are worth more
		case m.within:
			v := k.bareOf(s)
			theta = min(theta, int64(float64(c-v)/float64(best[s]-v)*one)-1)
		default:
			v := k.bareOf(s)
			lower(pi, float64(c-v)/float64(best[s]-v))
			n = -1
		}
	}
	if theta < one {
		theta = max(0, theta)
		for i := range pi {
			pi[i] = lowered(pi[i], 0, theta)
			pi[i] = max(0, pi[i]-1)
		}
		for s := range best {
			best[s] = lowered(best[s], k.bareOf(s), theta)
		}
	}
	out.bound = k.sum(m, pi, best)
	for s := range best {
		if best[s] < out.any[s] && m.within {
			out.within = append(out.within, Within{s, best[s]})
		}
	}
	return out, true
}

// sum is the bound of duals by which each stock gives at most so much.
func (k *solver) sum(m *master, pi, best []int64) int64 {
	var sum total
	if m.wants != nil {
		m.wants.add(&sum, pi)
	} else {
		for i, d := range pi {
			sum.add(d, k.p.Items[i].Demand)
		}
	}
	net := make([]int64, len(best))
	for s, b := range best {
		net[s] = k.p.Stocks[s].Cost - b
	}
	limits := m.limits()
	limits.add(&sum, k.p, net)
	return sum.bound()
}

// lower makes duals lower by a factor under 1.
func lower(duals []int64, theta float64) {
	for i := range duals {
		duals[i] = max(0, int64(float64(duals[i])*theta)-1)
	}
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

// floorOf is a value of a stock below which the bound is the same within some limits: what the
// stock costs, if none of it must be used.
func (k *solver) floorOf(s int, l limits) int64 {
	if floor := k.p.Stocks[s].Cost; !l.asks(k.p, s) && floor >= k.bare[s] {
		return floor
	}
	return price.Never
}

// vouch gives a value that no pattern of a stock exceeds: the best, or a bound on a coarser grid or
// by area where that takes too long. False where it does in a tree, of which all leaves are to go
// by the same bounds.
func (k *solver) vouch(s int, duals, wanted []int64, floor int64) (int64, bool) {
	if v, ok := k.refined.at(s, duals); ok {
		return v, true
	}
	// one after the other, many would take too long
	if !k.bounds[s].inexact && !k.hurried(s) {
		before := k.meter.Steps
		v, ok := k.pricers[s].Vouch(k.ask(duals, wanted), floor)
		k.vouching += k.meter.Steps - before
		switch {
		case k.tree || k.canList(): // no list goes with a bound on a coarser grid
			return v, ok
		case ok && k.mayVouch():
			return v, true
		}
	}
	return k.onGrid(s, duals, wanted, floor)
}

// mayVouch says whether exact pricing for bounds may go on. A patient search may spend as much on
// it as on its relaxation.
func (k *solver) mayVouch() bool {
	most := k.opt.Work
	return k.vouching < most/16 || k.vouching < most/2 && !k.over() ||
		k.patient && k.vouching < most
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

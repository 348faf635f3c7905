package cutstock

import (
	"math"

	"rackwright/nest/cutting"
)

// The bound. Everything is in money x scale; it is rounded up to whole money at the end.
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
// Quotas (quota.go) make best_s smaller.

// Leaf is one leaf of the branching on the use of stocks: its limits where they differ from [0,
// supply], and its duals in money x scale.
type Leaf struct {
	Least, Most map[int]int64 // by stock; Most Any: no limit
	Duals       []int64
	Quotas      []Quota
	List        *ListProof // proves more than the duals, where it is not nil
}

// Quota is the price of a limit of copies: of an item of which one pattern of a stock may have no
// more than are wanted; at most the item's dual.
type Quota struct {
	Stock, Item int
	Dual        int64
}

// Certificate is what proves a bound: the least over its leaves.
type Certificate struct {
	Scale  int64
	Leaves []Leaf
}

// scaleOf keeps every product below 2^62: money x demand x scale is under 2^47, and penalties are
// at most 2^11 times that.
func scaleOf(p *cutting.Problem) int64 {
	total := float64(dearestOf(p) + 1)
	for i := range p.Items {
		total += float64(p.Items[i].Demand) * float64(dearestOf(p)+1)
	}
	for s := range p.Stocks {
		total += float64(max(0, p.Stocks[s].Supply)) * float64(p.Stocks[s].Cost)
	}
	scale := int64(1)
	for scale < 1<<20 && total*float64(scale) < 1<<47 {
		scale *= 2
	}
	return scale
}

// wholeDuals rounds the duals of a relaxation, in its unit, to money x scale. Any whole numbers
// will do for the bound. So those that unmet pieces make huge are cut down: a stock full of such
// pieces must not be worth more than 2^58, nor more than 2^50 where pricing is fine.
func (k *solver) wholeDuals(duals []float64, unit float64) []int64 {
	out := make([]int64, len(duals))
	for i, d := range duals {
		if v := math.Floor(d*unit*float64(k.scale) + 0.5); v > 0 {
			limit := int64(1) << 58
			if k.fine > 1 {
				limit = 1 << 50
			}
			most := k.copiesOn(i)
			out[i] = int64(min(v, float64(limit/max(most, k.p.Items[i].Demand))))
		}
	}
	return out
}

// estimate gives, from the best of each stock at pi, the bound of theta pi (in money x scale) and
// theta as a fraction of 2^30. It is never more than what pricing theta pi again would give.
func (k *solver) estimate(m *master, pi []int64, best []int64) (bound float64, theta int64) {
	const one = 1 << 30
	theta = one
	for s := range best {
		c, v := k.p.Stocks[s].Cost*k.scale, k.bare[s]
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
		r := float64(k.p.Stocks[s].Cost*k.scale) - (v + f*(float64(best[s])-v))
		if m.most[s] != cutting.Any {
			bound += min(float64(m.least[s])*r, float64(m.most[s])*r)
		} else {
			bound += float64(m.least[s]) * r
		}
	}
	return bound, theta
}

// prove derives the bound of duals exactly, wherever pieces may lie, and scales them down as far as
// an unlimited stock asks for. It gives the bound in money x scale, the duals it holds for, and
// what each stock gives at most by them.
func (k *solver) prove(least, most []int64, at prices) (bound int64, proven prices, best []int64) {
	proven = at.clone()
	pi := proven.duals
	demand := make([]int64, len(pi))
	for i := range pi {
		if demand[i] = k.p.Items[i].Demand; demand[i] == 0 {
			pi[i] = 0
		}
	}
	best = make([]int64, len(k.pricers))
	for s := 0; s < len(best); s++ {
		duals, back := k.dualsFor(s, proven)
		best[s] = k.pricers[s].Vouch(k.ask(duals, demand)) + back
		c, v := k.p.Stocks[s].Cost*k.scale, k.bare[s]
		if most[s] == cutting.Any && best[s] > c {
			theta := float64(c-v) / float64(best[s]-v)
			proven.lower(theta)
			s = -1
		}
	}
	for i, d := range pi {
		bound += d * k.p.Items[i].Demand
	}
	for s, b := range best {
		r := k.p.Stocks[s].Cost*k.scale - b
		if most[s] == cutting.Any {
			bound += least[s] * r
		} else {
			bound += min(least[s]*r, most[s]*r)
		}
	}
	return bound, proven, best
}

// ceil is v/scale rounded up.
func ceil(v, scale int64) int64 {
	if v > 0 {
		return (v + scale - 1) / scale
	}
	return v / scale
}

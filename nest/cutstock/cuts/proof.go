package cuts

import (
	"math"
	"math/big"
)

// The proof over a list, by weak duality in whole numbers.
//
//	pi, tau   duals of the items and of the cuts, all >= 0
//	excess    of a pattern: cost - sum pi_i a_i - sum tau_c coef_c
//	net_s     the least excess of a pattern of stock s on the list
//
// A plan of patterns on the list costs at least
//
//	lb = sum pi_i d_i + sum tau_c least_c
//	   + sum over s of min over z in [least_s, most_s] of z net_s.
//
// A plan that uses a pattern costs at least excess - net_s more, and net_s more yet where that is
// above 0 and least_s is 0. Where that comes to the target or above, the pattern is struck off. The
// patterns left have no more nets below those before, so that lb only rises.

// mostSum is what no sum in a proof may come to.
const mostSum = 1 << 60

// prove rounds the duals of the relaxation, keeps the proof where it proves more than the last one,
// and says whether it reaches the target or the goal.
func (m *relaxation) prove() bool {
	goal := min(m.Target, m.Goal())
	unit := m.Unit
	if v, most := m.lp.Value()*m.Unit, 2*float64(goal+1); v > 2*most && most > 0 {
		unit *= most / v // where rows stay unmet: the bound falls no faster than the duals
	}
	pi, tau := make([]int64, len(m.Demand)), make([]int64, len(m.rows))
	for at, r := range m.rowOf {
		d := math.Floor(m.lp.Dual(at)*unit + 0.5)
		if least, _ := m.leastOf(r); d*math.Abs(float64(least)) > mostSum {
			return false
		}
		if r < len(pi) {
			pi[r] = max(0, int64(d))
		} else if r >= m.fixed() {
			tau[r-m.fixed()] = max(0, int64(d))
		}
	}
	const tries = 4 // what an unlimited stock asks for, its prices and rounding
	for range tries {
		b, theta, ok := m.bound(pi, tau)
		switch {
		case !ok:
			return false
		case theta == 1:
			if b.sum > m.proven {
				m.best, m.proven = &best{pi, tau, len(m.rows), len(m.struck)}, min(b.sum, m.Target)
			}
			m.pi, m.tau, m.proves = pi, tau, b
			return b.sum >= goal
		}
		for i := range pi {
			pi[i] = max(0, int64(float64(pi[i])*theta)-1)
		}
		for c := range tau {
			tau[c] = int64(float64(tau[c]) * theta)
		}
	}
	return false
}

// bounded is what some duals prove, and the excess and the nets by which they do.
type bounded struct {
	sum    int64
	excess []int64 // by entry
	net    []int64 // by stock; MaxInt64: no pattern is left
}

// bound derives the bound of duals; theta below 1 is what to multiply them with first. Not ok: too
// large to reckon with.
func (n *node) bound(pi, tau []int64) (b *bounded, theta float64, ok bool) {
	b = &bounded{excess: make([]int64, len(n.list)), net: make([]int64, len(n.Most))}
	sum, largest, named := new(big.Int), 0.0, 0
	add := func(v, times int64) {
		sum.Add(sum, new(big.Int).Mul(big.NewInt(v), big.NewInt(times)))
	}
	for i, d := range pi {
		add(d, n.Demand[i])
	}
	for c, d := range tau {
		if d == 0 {
			continue
		}
		named++
		add(d, n.rows[c].least)
		most := int64(0)
		for j, v := range n.rows[c].coefs {
			b.excess[j] -= d * int64(v)
			most = max(most, int64(v), -int64(v))
		}
		if largest += float64(d) * float64(most); largest > mostSum {
			return nil, 1, false
		}
	}
	for s := range b.net {
		b.net[s] = math.MaxInt64
	}
	worst := 1.0
	for j, e := range n.list {
		v := b.excess[j] + e.Cost
		for at, i := range e.Items {
			v -= pi[i] * int64(e.Counts[at])
		}
		b.excess[j] = v
		if v < 0 && n.Most[e.Stock] < 0 {
			c := float64(e.Cost)
			worst = min(worst, c/(c-float64(v)+1)*(1-1e-12))
		}
		b.net[e.Stock] = min(b.net[e.Stock], v)
	}
	n.Meter.Add(int64(len(n.list) * (8 + named)))
	if worst < 1 {
		return nil, worst, true
	}
	for s, v := range b.net {
		switch {
		case v == math.MaxInt64:
			if n.Least[s] > 0 { // no plan here
				b.sum = math.MaxInt64
				return b, 1, true
			}
		case v < 0:
			add(v, n.Most[s])
		default:
			add(v, n.Least[s])
		}
	}
	switch {
	case sum.BitLen() < 62:
		b.sum = sum.Int64()
	case sum.Sign() > 0:
		b.sum = 1 << 61
	default:
		b.sum = math.MinInt64
	}
	return b, 1, true
}

// worthStriking is which part of the list is to go before it is struck off.
const worthStriking = 8

// strike strikes patterns off the list that no plan below the target can use by the duals of the
// last proof. The relaxation is of no use afterwards.
func (m *relaxation) strike() {
	n, b := m.node, m.proves
	if b == nil || b.sum < n.Target-mostSum {
		return
	}
	room := n.Target - 1 - b.sum
	var left []int
	for j, e := range n.list {
		v := b.excess[j]
		if net := b.net[e.Stock]; net <= 0 || n.Least[e.Stock] > 0 {
			v -= net
		}
		if v <= room {
			left = append(left, j)
		}
	}
	if len(n.list)-len(left) < max(1, len(n.list)/worthStriking) {
		return
	}
	n.struck = append(n.struck, Struck{m.pi, m.tau})
	list, inside := make([]*Entry, len(left)), make([]bool, len(left))
	cost, values := make([]float64, len(left)), make([]float64, len(left))
	for at, j := range left {
		list[at], inside[at] = n.list[j], n.inside[j]
		cost[at], values[at] = n.cost[j], n.values[j]
	}
	for c, r := range n.rows {
		if r.coefs == nil {
			continue
		}
		coefs := make([]int32, len(left))
		for at, j := range left {
			coefs[at] = r.coefs[j]
		}
		n.rows[c].inequality = &inequality{coefs, r.least}
	}
	n.list, n.inside, n.cost, n.values = list, inside, cost, values
	n.lengths = append(n.lengths, len(left))
	n.making += n.toMake(m.tau) + int64(len(left)*n.active)
	n.Meter.Add(int64(len(left) * (4 + n.active)))
}

package cutstock

import (
	"math"

	"rackwright/nest/cutting"
)

// The proof over a list, by weak duality in whole numbers.
//
//	pi, tau   duals of the items and of the cuts, all >= 0
//	net_s     the least cost - sum pi_i a_i - sum tau_c coef_c of a pattern of stock s on the list
//
// A plan of patterns on the list costs at least
//
//	sum pi_i d_i + sum tau_c least_c + sum over s of min over z in [least_s, most_s] of z net_s.

// ListProof proves, over the list of all patterns that plans of a leaf below a target can use, that
// none there is cheaper than a bound.
type ListProof struct {
	Target   int64
	Cuts     []Cut
	Duals    []int64 // of the items
	CutDuals []int64
}

// mostSum is what no sum in a proof may come to.
const mostSum = 1 << 60

// prove rounds the duals of the relaxation and gives the proof and its bound where that reaches the
// target or the incumbent; else nil.
func (m *relaxation) prove() (*ListProof, int64) {
	k, p := m.k, m.k.p
	goal := min(m.target, k.goal())
	unit := m.unit
	if v, most := m.lp.Value()*m.unit, 2*float64(goal+k.coin); v > 2*most && most > 0 {
		unit *= most / v // where rows stay unmet: the bound falls no faster than the duals
	}
	pi, tau := make([]int64, len(p.Items)), make([]int64, len(m.cuts))
	for at, r := range m.rowOf {
		d := math.Floor(m.lp.Dual(at)*unit + 0.5)
		if d*math.Abs(float64(m.rows[r].least)) > mostSum {
			return nil, 0
		}
		if r < len(p.Items) {
			pi[r] = max(0, int64(d))
		} else if r >= m.fixed {
			tau[r-m.fixed] = max(0, int64(d))
		}
	}
	const tries = 4 // what an unlimited stock asks for, its prices and rounding
	for range tries {
		bound, theta, ok := m.bound(pi, tau)
		switch {
		case !ok || theta == 1 && bound < goal:
			return nil, 0
		case theta == 1:
			return m.sparse(pi, tau), min(bound, m.target)
		}
		for i := range pi {
			pi[i] = max(0, int64(float64(pi[i])*theta)-1)
		}
		for c := range tau {
			tau[c] = int64(float64(tau[c]) * theta)
		}
	}
	return nil, 0
}

// bound derives the bound of duals; theta below 1 is what to multiply them with first. Not ok: too
// large to reckon with.
func (f *finisher) bound(pi, tau []int64) (bound int64, theta float64, ok bool) {
	k, p := f.k, f.k.p
	var sum total
	for i, d := range pi {
		sum.add(d, p.Items[i].Demand)
	}
	largest := 0.0
	for c, d := range tau {
		row := f.rows[f.fixed+c]
		sum.add(d, row.least)
		largest += float64(d) * float64(row.largest())
	}
	if largest > mostSum {
		return 0, 1, false
	}
	net := make([]int64, len(p.Stocks))
	for s := range net {
		net[s] = math.MaxInt64
	}
	worst := 1.0
	for j, e := range f.list {
		v := e.cost
		for n, i := range e.items {
			v -= pi[i] * e.counts[n]
		}
		for c, d := range tau {
			if d != 0 {
				v -= d * f.rows[f.fixed+c].coefs[j]
			}
		}
		if v < 0 && f.n.most[e.Stock] == cutting.Any {
			c := float64(e.cost)
			worst = min(worst, c/(c-float64(v)+1)*(1-1e-12))
		}
		net[e.Stock] = min(net[e.Stock], v)
	}
	k.meter.Add(int64(len(f.list) * (4 + len(tau))))
	if worst < 1 {
		return 0, worst, true
	}
	for s, v := range net {
		least, most := f.n.least[s], f.n.most[s]
		switch {
		case v == math.MaxInt64:
			if least > 0 { // no plan here
				return math.MaxInt64, 1, true
			}
		case v < 0:
			sum.add(v, most)
		default:
			sum.add(v, least)
		}
	}
	return sum.bound(), 1, true
}

// sparse gives the proof without the cuts that it does not need.
func (f *finisher) sparse(pi, tau []int64) *ListProof {
	needed := make([]bool, len(f.cuts))
	for c := len(f.cuts) - 1; c >= 0; c-- {
		if needed[c] = needed[c] || tau[c] > 0; needed[c] {
			for _, r := range f.cuts[c].Rows {
				if r.Row >= f.fixed {
					needed[r.Row-f.fixed] = true
				}
			}
		}
	}
	proof := &ListProof{Target: f.target, Duals: pi}
	at := make([]int, len(f.cuts))
	for c, cut := range f.cuts {
		if !needed[c] {
			continue
		}
		at[c] = f.fixed + len(proof.Cuts)
		slim := Cut{Den: cut.Den}
		for _, r := range cut.Rows {
			if r.Row >= f.fixed {
				r.Row = at[r.Row-f.fixed]
			}
			slim.Rows = append(slim.Rows, r)
		}
		proof.Cuts, proof.CutDuals = append(proof.Cuts, slim), append(proof.CutDuals, tau[c])
	}
	return proof
}

package cutstock

import (
	"cmp"
	"math"
	"slices"
)

// Quotas. The pricing of some stocks lets a pattern have any number of copies (price.Traits). But a
// pattern of a plan never has more copies a_i of an item than are wanted, d_i. For any whole
// lambda >= 0 of the items of such a stock,
//
//	max over all patterns of ( sum of (pi_i - lambda_i) a_i + worth ) + sum of lambda_i d_i
//
// bounds the patterns with a_i <= d_i. So the stock is priced at lower duals, and what they are
// lower by is given back once for each piece wanted. In the master lambda is the dual of a row
//
//	sum over patterns p of s of (a_ip - d_i) x_p <= 0,
//
// made for those stocks and items where a relaxation without it uses too many copies.

// quota is such a row.
type quota struct{ stock, item int }

// prices are duals of a relaxation: of the items, and of the solver's quotas (the missing ones are
// 0).
type prices struct{ duals, quotas []int64 }

func (w prices) clone() prices { return prices{slices.Clone(w.duals), slices.Clone(w.quotas)} }

// dualsFor gives the duals by which one stock is priced, and what its quotas give back.
func (k *solver) dualsFor(s int, w prices) (duals []int64, back int64) {
	duals = w.duals
	for q, lambda := range w.quotas {
		if row := k.quotas[q]; row.stock == s && lambda > 0 {
			if back == 0 {
				duals = slices.Clone(duals)
			}
			lambda = min(lambda, duals[row.item])
			duals[row.item] -= lambda
			back += lambda * k.p.Items[row.item].Demand
		}
	}
	return duals, back
}

// quotaDuals are those of a master's rows, no more than the item's dual.
func (k *solver) quotaDuals(m *master, duals []int64) []int64 {
	if m.strict {
		return nil // no column has too many
	}
	out, back := make([]int64, len(m.quotas)), make([]int64, len(k.p.Stocks))
	for q, row := range m.quotas {
		v := math.Floor(-m.lp.Dual(len(k.p.Items)+len(k.p.Stocks)+q)*m.unit + 0.5)
		demand := k.p.Items[row.item].Demand
		out[q] = int64(min(max(0, v), float64(duals[row.item]),
			float64((mostOnStock-back[row.stock])/max(1, demand))))
		back[row.stock] += out[q] * demand
	}
	return out
}

// leafQuotas are the prices of quotas as a leaf has them.
func (k *solver) leafQuotas(w prices) (out []Quota) {
	for q, lambda := range w.quotas {
		if row := k.quotas[q]; min(lambda, w.duals[row.item]) > 0 {
			out = append(out, Quota{row.stock, row.item, min(lambda, w.duals[row.item])})
		}
	}
	return out
}

// lower makes prices lower by a factor under 1.
func (w prices) lower(theta float64) {
	for i := range w.duals {
		w.duals[i] = max(0, int64(float64(w.duals[i])*theta)-1)
	}
	for q := range w.quotas {
		w.quotas[q] = int64(float64(w.quotas[q]) * theta)
	}
}

// mostQuotas bounds how many rows there are, quotaRounds how often the relaxation is solved anew
// for more.
const mostQuotas, quotaRounds = 256, 8

// limitCopies adds quotas until the relaxation keeps to the demands, and gives its master.
func (k *solver) limitCopies(root *master) *master {
	for range quotaRounds {
		added := k.exceeded(root)
		if len(added) == 0 || len(k.quotas)+len(added) > mostQuotas || k.over() {
			return root
		}
		k.quotas = append(k.quotas, added...)
		root = newMaster(k.p, k.costs, &k.pool, k.quotas)
		k.generate(root)
	}
	return root
}

// exceeded are the stocks whose pricing counts any number of copies, and items of which the
// relaxation uses more copies than its uses of the stock may have.
func (k *solver) exceeded(m *master) (out []quota) {
	used := make([]float64, len(k.p.Stocks))
	copies := map[quota]float64{}
	for j, c := range m.pool.cols[:m.added] {
		x := m.x(j)
		if x < wholeTol || !k.pricers[c.Stock].Traits().Copies {
			continue
		}
		used[c.Stock] += x
		for n, i := range c.items {
			copies[quota{c.Stock, i}] += float64(c.counts[n]) * x
		}
	}
	for q, n := range copies {
		if n > float64(k.p.Items[q.item].Demand)*used[q.stock]+1e-6 {
			out = append(out, q)
		}
	}
	slices.SortFunc(out, func(a, b quota) int {
		return cmp.Or(cmp.Compare(a.stock, b.stock), cmp.Compare(a.item, b.item))
	})
	return out
}

// Package covers finds sets of staves that come to what a cover needs: the cheapest at given
// prices, and those for which the fewest are to be cut beside what is there.
package covers

import (
	"math"
	"math/big"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// Sets of staves are knapsacks whose weight has to be reached. With n_s staves of w_s steps
//
//	min  sum cost_s n_s   subject to   sum w_s n_s >= need
//
// and f(r), the least for a need of r:
//
//	f(0) = 0,   f(r) = min over s of  f(max(0, r - w_s)) + cost_s

// Cheapest is the set of the least price, and how many it has of each stave.
func Cheapest(v *cutting.Cover, price func(item int) float64) (float64, []int64) {
	cost, by := make([]float64, v.Need+1), make([]int, v.Need+1)
	for r := int64(1); r <= v.Need; r++ {
		cost[r] = math.Inf(1)
		for at, s := range v.Staves {
			if c := cost[max(0, r-s.Steps)] + price(s.Item); c < cost[r] {
				cost[r], by[r] = c, at
			}
		}
	}
	counts := make([]int64, len(v.Staves))
	for r := v.Need; r > 0; r -= v.Staves[by[r]].Steps {
		counts[by[r]]++
	}
	return cost[v.Need], counts
}

// Least is the least that the staves of a cover cost, in all its layers, exactly.
func Least(v *cutting.Cover, prices []int64) *big.Int {
	cost := make([]*big.Int, v.Need+1)
	cost[0] = new(big.Int)
	sum := new(big.Int)
	for r := int64(1); r <= v.Need; r++ {
		for _, s := range v.Staves {
			sum.Add(cost[max(0, r-s.Steps)], big.NewInt(prices[s.Item]))
			if cost[r] == nil || sum.Cmp(cost[r]) < 0 {
				cost[r] = new(big.Int).Set(sum)
			}
		}
	}
	return sum.Mul(cost[v.Need], big.NewInt(v.Layers))
}

// FromThose is the set for which the fewest steps are to be cut beside the staves that are there,
// by item, and of those that which takes the fewest steps. It takes what it uses away, and says
// whether it uses anything that was there.
func FromThose(w *cutting.Want, have []int64, meter *price.Meter) (cutting.Covered, bool) {
	var best cutting.Covered
	least := int64(math.MaxInt64)
	for at := range w.Covers {
		v := &w.Covers[at]
		if cost, counts := fewest(v, have, meter); cost < least {
			least, best = cost, cutting.Covered{Cover: at, Counts: counts}
		}
	}
	v, some := &w.Covers[best.Cover], false
	for at, n := range best.Counts {
		i := v.Staves[at].Item
		took := min(max(0, have[i]), n*v.Layers)
		have[i] -= took
		some = some || took > 0
	}
	return best, some
}

// missing is how many times more a step counts of a stave that is not there.
const missing = 1 << 12

// fewest is a knapsack in which of each stave as many are there as are left for all layers:
//
//	f_s(r), the least with the first s staves:   min over n of  f_s-1(r - n w_s) + n staves of s
func fewest(v *cutting.Cover, have []int64, meter *price.Meter) (int64, []int64) {
	type state struct{ cost, from, n int64 } // n staves were put to what came to from
	const never = math.MaxInt64
	last := make([]state, v.Need+1)
	for r := range last {
		last[r].cost = never
	}
	last[0].cost = 0
	all := make([][]state, len(v.Staves))
	for s, st := range v.Staves {
		next := make([]state, len(last))
		for r := range last {
			next[r] = state{last[r].cost, int64(r), 0}
		}
		free := max(0, have[st.Item]) / v.Layers
		for r := range last {
			for n := int64(1); last[r].cost < never && int64(r)+(n-1)*st.Steps < v.Need; n++ {
				to := min(v.Need, int64(r)+n*st.Steps)
				cost := last[r].cost + st.Steps*(min(n, free)+missing*max(0, n-free))
				if cost < next[to].cost {
					next[to] = state{cost, int64(r), n}
				}
			}
		}
		meter.Add(v.Need * (v.Need/st.Steps + 1))
		all[s], last = next, next
	}
	counts := make([]int64, len(v.Staves))
	for s, r := len(all)-1, v.Need; s >= 0; s-- {
		counts[s], r = all[s][r].n, all[s][r].from
	}
	return last[v.Need].cost, counts
}

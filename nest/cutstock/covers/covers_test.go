package covers

import (
	"math/big"
	"math/rand/v2"
	"slices"
	"testing"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// sets calls f with each set of a cover of which no stave may be left out.
func sets(v *cutting.Cover, f func(counts []int64)) {
	counts := make([]int64, len(v.Staves))
	var add func(s int, left int64)
	add = func(s int, left int64) {
		if left <= 0 {
			f(counts)
			return
		}
		for ; s < len(v.Staves); s++ {
			counts[s]++
			add(s, left-v.Staves[s].Steps)
			counts[s]--
		}
	}
	add(0, v.Need)
}

func randomCover(r *rand.Rand) *cutting.Cover {
	v := &cutting.Cover{Need: 1 + r.Int64N(14), Layers: 1 + r.Int64N(2)}
	for i := range 1 + r.IntN(4) {
		v.Staves = append(v.Staves, cutting.Stave{Item: i, Steps: int64(1 + i + r.IntN(2))})
	}
	return v
}

// Of small covers all sets are looked at: none is cheaper, and none takes fewer steps that are not
// there.
func TestAllSetsOfSmallCovers(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	for n := range 2000 {
		v := randomCover(r)
		prices, have := make([]int64, len(v.Staves)), make([]int64, len(v.Staves))
		for i := range prices {
			prices[i], have[i] = r.Int64N(9), r.Int64N(5)-1
		}
		cheapest, least := int64(1<<40), int64(1<<40)
		counted := func(counts []int64) (cost int64) {
			for s, k := range counts {
				free := max(0, have[s]) / v.Layers
				cost += v.Staves[s].Steps * (min(k, free) + missing*max(0, k-free))
			}
			return cost
		}
		sets(v, func(counts []int64) {
			cost := int64(0)
			for s, k := range counts {
				cost += k * prices[s]
			}
			cheapest, least = min(cheapest, cost), min(least, counted(counts))
		})
		cost, counts := Cheapest(v, func(i int) float64 { return float64(prices[i]) })
		if int64(cost) != cheapest || steps(v, counts) < v.Need {
			t.Fatalf("cover %d: %v of %v, not %d", n, cost, counts, cheapest)
		}
		if l := Least(v, prices); l.Cmp(big.NewInt(cheapest*v.Layers)) != 0 {
			t.Fatalf("cover %d: %v in all, not %d x %d", n, l, cheapest, v.Layers)
		}
		left := slices.Clone(have)
		w := &cutting.Want{Demand: 1, Covers: []cutting.Cover{*v}}
		set, some := FromThose(w, left, &price.Meter{})
		if counted(set.Counts) != least || steps(v, set.Counts) < v.Need {
			t.Fatalf("cover %d: %v counts %d, not %d", n, set.Counts, counted(set.Counts), least)
		}
		if some == slices.Equal(left, have) {
			t.Fatalf("cover %d: took of what was there is %v; %v of %v is left", n, some, left, have)
		}
		for s, k := range set.Counts {
			if took := have[s] - left[s]; took != min(k*v.Layers, max(0, have[s])) {
				t.Fatalf("cover %d: took %d of stave %d", n, took, s)
			}
		}
	}
}

func steps(v *cutting.Cover, counts []int64) (sum int64) {
	for s, k := range counts {
		sum += k * v.Staves[s].Steps
	}
	return sum
}

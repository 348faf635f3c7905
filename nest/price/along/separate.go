package along

import (
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// Pricing where no piece can trade. Every clear run is filled from its start, for itself:
//
//	R      the length of a run
//	T      what the pieces in it take, a kerf behind each, at most R + kerf
//	h(T)   the most that pieces which take T give: the front of knapsack.go
//	w(t)   the worth of a stretch of length t: slope x max(0, t - keep)
//
//	best = sum over runs of  max over T of  h(T) + w(R - T),   T > 0 in at least one run
//
// With one run this is exact. With several it is a bound that lets each run have all copies.

// separate prices one stock by its clear runs.
type separate struct {
	base
	knapsack *knapsack

	// The last pricing.
	asked *price.Ask
	taken []int // by run: the sum of the front that is best; 0: the empty one
}

func newSeparate(p *cutting.Problem, index int, n *knapsack, m *price.Meter) *separate {
	r := &separate{base: newBase(p, index, m), knapsack: n}
	r.taken = make([]int, len(r.runs))
	return r
}

func (r *separate) Vouch(a *price.Ask, _ int64) (int64, bool) { return r.Price(a), true }

func (r *separate) Price(a *price.Ask) int64 {
	r.asked = a
	r.m.Add(int64(len(r.runs)+1)*r.knapsack.lengths() + r.knapsack.fill(a))
	var sum int64
	used, least, at := false, int64(price.Never), 0
	for j := range r.runs {
		empty, v, t := r.fillRun(j, 0)
		if v >= empty {
			used = true
			sum += v
			r.taken[j] = t
			continue
		}
		sum += empty
		r.taken[j] = 0
		if v-empty > least {
			least, at = v-empty, j
		}
	}
	if !used && least > price.Never/2 { // a piece must go somewhere: where it costs least
		_, _, r.taken[at] = r.fillRun(at, 0)
		sum += least
	}
	return sum
}

// fillRun gives three facts of a run of which so many units are used up already: its value empty,
// its greatest value with pieces, and the sum of these.
func (r *separate) fillRun(j int, used int64) (empty, best int64, taken int) {
	length := r.runs[j].To - r.runs[j].From - used
	best, taken, ok := r.knapsack.scale(r.s.Slope).most(length, r.p.Kerf, r.s.Keep)
	if !ok {
		best = price.Never
	}
	return r.worth(length), best, taken
}

func (r *separate) Walk(allowed []int64, opener int) *cutting.Pattern {
	left := slices.Clone(allowed)
	var places []cutting.Place
	for j, run := range r.runs {
		if allowed == nil { // each run may have all copies
			left = slices.Clone(r.asked.Demand)
		}
		at := run.From
		put := func(i int) {
			if size := r.p.Items[i].Size; at+size <= run.To && left[i] > 0 {
				places = append(places, cutting.Place{Item: i, At: at})
				at += size + r.p.Kerf
				left[i]--
			}
		}
		taken := r.taken[j]
		if opener >= 0 && r.p.Items[opener].Size <= run.To-run.From {
			put(opener)
			if empty, v, t := r.fillRun(j, at-run.From); v > empty {
				taken = t
			} else {
				taken = 0
			}
			opener = -1
		}
		for _, i := range r.knapsack.pieces(taken) {
			put(i)
		}
	}
	return cutting.NewPattern(r.index, places)
}

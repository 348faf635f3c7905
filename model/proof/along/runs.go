package along

import (
	"slices"

	"rackwright/model"
	"rackwright/model/proof/internal/integer"
)

// The most that one board can give where each clear run stands for itself (see boundboard.go). In a
// run of length R, of each blank at most its demand d,
//
//	most over counts a_i <= d_i of sum a_i pi_i + scale w(R - T),  T = sum a_i (l_i + k) <= R + k,  w = 0 where T >= R,
//
// and the board gives the sum over its runs, at least one of them not empty: exact with one run;
// with several each may have all copies, which is never too low. The sums of duals by T are a
// knapsack with bounded copies, filled blank by blank: among the T of one remainder by l_i + k the
// best of the last d_i + 1 entries is at the front of a queue.

// sack is the greatest sum of duals by T / step; -1 where no blanks come to T. It is kept while the
// blanks stay the same.
type sack struct {
	items []Item
	kerf  model.Length
	step  int64
	sums  []int64
}

// fill makes the sums up to T = most.
func (k *sack) fill(items []Item, kerf, most model.Length) {
	k.items, k.kerf, k.step = slices.Clone(items), kerf, 0
	for _, i := range items {
		k.step = integer.GCD(k.step, int64(i.Length+kerf))
	}
	if k.step == 0 {
		k.step = int64(most) + 1 // no blanks, only T = 0
	}
	k.sums = make([]int64, int64(most)/k.step+1)
	for t := range k.sums {
		k.sums[t] = -1
	}
	k.sums[0] = 0
	var queue []entry
	for _, i := range items {
		size := int(int64(i.Length+kerf) / k.step)
		if size >= len(k.sums) {
			continue
		}
		before := slices.Clone(k.sums)
		for rest := 0; rest < size; rest++ {
			queue = queue[:0]
			for n, t := int64(0), rest; t < len(before); n, t = n+1, t+size {
				if before[t] >= 0 {
					v := before[t] - n*i.Dual // the same footing for every number of copies
					for len(queue) > 0 && queue[len(queue)-1].value <= v {
						queue = queue[:len(queue)-1]
					}
					queue = append(queue, entry{n, v})
				}
				for len(queue) > 0 && queue[0].copies < n-i.Demand {
					queue = queue[1:]
				}
				if len(queue) > 0 {
					k.sums[t] = queue[0].value + n*i.Dual
				}
			}
		}
	}
}

type entry struct{ copies, value int64 }

// best is the most that a board that is not linked can give, in 1/10000 x 1/scale. longest is the
// longest usable span of any board that the same blanks are asked for.
func (k *sack) best(b *Board, items []Item, kerf, longest model.Length, scale int64) int64 {
	longest = max(longest, b.To-b.From)
	same := k.step > 0 && slices.Equal(k.items, items) && k.kerf == kerf
	if !same || int64(len(k.sums)-1) < int64(longest+kerf)/k.step {
		k.fill(items, kerf, longest+kerf)
	}
	var sum, first int64
	placed := false
	for _, r := range b.runs() {
		run := r.To - r.From
		empty, full := scale*int64(b.Rate.Of(run, b.Keep)), int64(-1)
		for t := 1; t < len(k.sums) && int64(t)*k.step <= int64(run+kerf); t++ {
			if k.sums[t] >= 0 {
				full = max(full,
					k.sums[t]+scale*int64(b.Rate.Of(run-model.Length(int64(t)*k.step), b.Keep)))
			}
		}
		// first: what the first piece adds where it costs least to put one.
		if full >= 0 && (!placed || full-empty > first) {
			placed, first = true, full-empty
		}
		sum += max(empty, full)
	}
	if placed && first < 0 {
		sum += first
	}
	return sum
}

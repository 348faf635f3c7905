package along

import (
	"slices"

	"rackwright/model"
	"rackwright/model/proof/internal/integer"
)

// The most of a board on which each clear run stands for itself. The most of one run is a knapsack
// with bounded copies:
//
//	R      the length of the run
//	a_i    copies of blank i in the run, 0 to d_i
//	T      sum of a_i (l_i + k), at most R + k
//
//	most of the run = max over all a of  sum of a_i pi_i + w(R - T), w = 0 where T >= R
//
// The board gives the sum over its runs, where at least one run has a piece. That is exact with one
// run. With several runs each of them may have all copies, so the sum is never too low.
//
// The greatest sum of duals is worked out for every T, blank by blank. Among the T that leave one
// remainder by l_i + k, the best of the last d_i + 1 entries stands at the front of a queue.

// knapsack is the greatest sum of duals by T / step, -1 where no blanks come to T. It is kept while
// the blanks stay the same.
type knapsack struct {
	items []Item
	kerf  model.Length
	step  int64
	sums  []int64
}

// fill makes the sums up to T = most.
func (k *knapsack) fill(items []Item, kerf, most model.Length) {
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
	var queue []queued
	for _, i := range items {
		size := int(int64(i.Length+kerf) / k.step)
		if size >= len(k.sums) {
			continue
		}
		before := slices.Clone(k.sums)
		for remainder := 0; remainder < size; remainder++ {
			queue = queue[:0]
			for n, t := int64(0), remainder; t < len(before); n, t = n+1, t+size {
				if before[t] >= 0 {
					v := before[t] - n*i.Dual // the same footing for every number of copies
					for len(queue) > 0 && queue[len(queue)-1].value <= v {
						queue = queue[:len(queue)-1]
					}
					queue = append(queue, queued{n, v})
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

// queued is a number of copies in the queue, and the sum without their duals.
type queued struct{ copies, value int64 }

// best is the most that a board that is not linked can give; longest is as for [Most.One].
func (k *knapsack) best(b *Board, items []Item, kerf, longest model.Length) int64 {
	longest = max(longest, b.To-b.From)
	same := k.step > 0 && slices.Equal(k.items, items) && k.kerf == kerf
	if !same || int64(len(k.sums)-1) < int64(longest+kerf)/k.step {
		k.fill(items, kerf, longest+kerf)
	}
	var sum, added int64 // added: by a piece in the run where it adds most
	placed := false
	for _, r := range b.clearRuns() {
		run := r.To - r.From
		empty, full := b.worth(run), int64(-1)
		for t := 1; t < len(k.sums) && int64(t)*k.step <= int64(run+kerf); t++ {
			if k.sums[t] >= 0 {
				full = max(full, k.sums[t]+b.worth(run-model.Length(int64(t)*k.step)))
			}
		}
		if full >= 0 && (!placed || full-empty > added) {
			placed, added = true, full-empty
		}
		sum += max(empty, full)
	}
	if placed && added < 0 {
		sum += added
	}
	return sum
}

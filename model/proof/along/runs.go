package along

import (
	"slices"

	"rackwright/model"
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
// The greatest sum of duals by T is a flight of stairs: see stairs.go.

// knapsack is the stairs of one piece or more. It is kept while the blanks stay the same.
type knapsack struct {
	items []Item
	kerf  model.Length
	most  model.Length // of T
	sums  []stair
}

// fill makes the stairs up to T = most.
func (k *knapsack) fill(items []Item, kerf, most model.Length) {
	k.items, k.kerf, k.most, k.sums = slices.Clone(items), kerf, most, nil
	for _, i := range items {
		k.sums = addItem(k.sums, int64(i.Length+kerf), i.Dual, i.Demand, int64(most), false)
	}
}

// best is the most that a board that is not linked can give; longest is as for [Most.One].
func (k *knapsack) best(b *Board, items []Item, kerf, longest model.Length) int64 {
	longest = max(longest, b.To-b.From)
	if !slices.Equal(k.items, items) || k.kerf != kerf || k.most < longest+kerf {
		k.fill(items, kerf, longest+kerf)
	}
	var sum, added int64 // added: by a piece in the run where it adds most
	placed := false
	for _, r := range b.clearRuns() {
		run := r.To - r.From
		empty, full := b.worth(run), int64(-1)
		for _, s := range k.sums {
			if s.from > int64(run+kerf) {
				break
			}
			full = max(full, s.gives+b.worth(run-model.Length(s.from)))
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

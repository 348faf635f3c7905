package sawing

import (
	"cmp"
	"context"
	"slices"

	"rackwright/nest/openstacks"
)

// Least clutter: boards one after the other, each through all its passes.
//
// A commission is open from the first board that has a blank of it to the last. Which boards come
// when is the minimisation of open stacks: commissions are its customers, boards its products.
// Then boards are moved to where stop and fence stand as they need them, as long as no more
// commissions are open (moves.go).

// leastClutter goes board by board, with the fewest commissions open at once; exact says whether
// that is proven. The order of least time is one to fall back upon: its boards, in the order of
// their first cuts, have no more open than it has itself.
func (s *shop) leastClutter(ctx context.Context, time []cut) (order []cut, exact bool) {
	boards := s.sawnBoards(time)
	needs := make([][]bool, s.parties)
	for who := range needs {
		needs[who] = make([]bool, len(boards))
	}
	for n, b := range boards {
		for _, who := range s.whose[b] {
			needs[who][n] = true
		}
	}
	found := openstacks.Sequence(ctx, needs, s.due)
	var asTime [][]int
	for n := range boards {
		asTime = append(asTime, []int{n})
	}
	if found.Open > openstacks.Open(needs, slices.Concat(asTime...)) {
		found.Blocks, found.Exact = asTime, false
	}
	var sequence []int
	for _, block := range found.Blocks {
		slices.Sort(block) // those of one setting stand together in the order of least time
		for _, n := range block {
			sequence = append(sequence, boards[n])
		}
	}
	return newSaws(s).sawAll(ctx, sequence), found.Exact
}

// boardByBoard makes all cuts of one board after those of another, as the units stand.
func (s *shop) boardByBoard(boards []int) (order []cut) {
	for _, b := range boards {
		for _, u := range s.unitsOf[b] {
			for k := range s.units[u].Cuts {
				order = append(order, cut{u, k})
			}
		}
	}
	return order
}

// sawnBoards lists the boards that are cut, in the order of their first cuts.
func (s *shop) sawnBoards(order []cut) (boards []int) {
	met := make([]bool, len(s.whose))
	for _, c := range order {
		if b := s.units[c.unit].Board; !met[b] {
			met[b] = true
			boards = append(boards, b)
		}
	}
	return boards
}

// byDue gives each commission a rank by its due date; those that have none come last.
func byDue(due []string) (ranks []int64) {
	dates := slices.Clone(due)
	slices.SortFunc(dates, func(a, b string) int {
		return cmp.Or(compareBool(a == "", b == ""), cmp.Compare(a, b))
	})
	dates = slices.Compact(dates)
	for _, d := range due {
		ranks = append(ranks, int64(slices.Index(dates, d)))
	}
	return ranks
}

// compareBool puts false before true.
func compareBool(a, b bool) int {
	switch {
	case a == b:
		return 0
	case a:
		return 1
	}
	return -1
}

package sawing

import (
	"cmp"
	"context"
	"slices"

	"rackwright/nest/openstacks"
)

// leastClutter goes board by board, with the fewest commissions open at once; exact says whether
// that is proven. The order of least time is one to fall back upon: its boards, in the order of
// their first cuts, have no more open than it has itself.
func (s *shop) leastClutter(ctx context.Context, time []cut) (order []cut, exact bool) {
	boards := s.sawnBoards(time)
	needs := make([][]bool, s.parties)
	least := 0
	for n, b := range boards {
		least = max(least, len(s.whose[b]))
		for _, who := range s.whose[b] {
			if needs[who] == nil {
				needs[who] = make([]bool, len(boards))
			}
			needs[who][n] = true
		}
	}
	for who := range needs {
		if needs[who] == nil {
			needs[who] = make([]bool, len(boards))
		}
	}
	found := openstacks.Sequence(ctx, needs, s.due)
	blocks := found.Blocks
	if found.Open > s.open(s.boardByBoard(boards)) {
		blocks, found.Exact = nil, false
		for n := range boards {
			blocks = append(blocks, []int{n})
		}
	}
	var sequence []int
	for _, block := range blocks {
		slices.Sort(block)
		for _, n := range block {
			sequence = append(sequence, boards[n])
		}
	}
	order = s.boardByBoard(sequence)
	return order, found.Exact || s.open(order) == least
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

// boardByBoard makes all cuts of one board after those of another.
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

// byDue gives each commission a rank by its due date; those that have none come last.
func byDue(due []string) (ranks []int64) {
	dates := slices.Clone(due)
	slices.SortFunc(dates, later)
	dates = slices.Compact(dates)
	for _, d := range due {
		ranks = append(ranks, int64(slices.Index(dates, d)))
	}
	return ranks
}

func later(a, b string) int {
	return cmp.Or(compareBool(a == "", b == ""), cmp.Compare(a, b))
}

func compareBool(a, b bool) int {
	switch {
	case a == b:
		return 0
	case a:
		return 1
	}
	return -1
}

package sawing

import (
	"cmp"
	"context"
	"slices"
)

// A sequence of boards is given that has few commissions open. Orders of few minutes are looked for
// that have no more:
//
//   - From the first place on, that board comes next that saves most by where the stops stand, if
//     no more commissions are open then with the others behind it as they are.
//   - Then single boards are moved, as long as that saves minutes. What a move changes ends where
//     the stops stand as they did: mostly a board or two later.

// sequence is boards one after the other.
type sequence struct {
	*saws
	boards []int
	before []stands // where the stops stand before each board, and after the last
	cost   []int64  // minutes of each board
	most   int      // commissions that may be open
	open   []int    // for use within a step, by commission
}

// nearest puts next the board that saves most; of equals the one that comes first.
func (q *sequence) nearest(ctx context.Context) {
	var at stands
	for n := range q.boards {
		saved := make([]int64, len(q.boards))
		var order []int // places, those that save most first
		for k := n; k < len(q.boards) && q.moves <= mostMoves && ctx.Err() == nil; k++ {
			alone, _ := q.saw(ctx, q.boards[k], stands{})
			here, _ := q.saw(ctx, q.boards[k], at)
			saved[k] = alone - here
			order = append(order, k)
		}
		slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(saved[b], saved[a]) })
		for _, k := range order {
			if saved[k] <= saved[n] || q.move(k, n) {
				break
			}
		}
		_, at = q.saw(ctx, q.boards[n], at)
	}
}

// better moves boards as long as that saves minutes.
func (q *sequence) better(ctx context.Context) {
	q.settle(ctx)
	for again := true; again; {
		again = false
		for from := range q.boards {
			for to := range q.boards {
				if q.moves > mostMoves || ctx.Err() != nil {
					return
				}
				if from != to && q.change(ctx, from, to) < 0 && q.move(from, to) {
					q.settle(ctx)
					again = true
				}
			}
		}
	}
}

// settle works out where the stops stand.
func (q *sequence) settle(ctx context.Context) {
	q.before, q.cost = append(q.before[:0], stands{}), q.cost[:0]
	for n, b := range q.boards {
		m, at := q.saw(ctx, b, q.before[n])
		q.before, q.cost = append(q.before, at), append(q.cost, m)
	}
}

// change is by how much the minutes change when a board is moved to another place.
func (q *sequence) change(ctx context.Context, from, to int) (change int64) {
	first, at := min(from, to), q.before[min(from, to)]
	change = -q.cost[from]
	insert := func() {
		m, then := q.saw(ctx, q.boards[from], at)
		change, at = change+m, then
	}
	if to < from {
		insert()
	} else {
		first++
	}
	last := max(from, to)
	if to < from {
		last--
	}
	at = q.onFrom(ctx, first, last, at, &change)
	if to > from {
		insert()
	}
	q.onFrom(ctx, max(from, to)+1, len(q.boards)-1, at, &change)
	return change
}

// onFrom saws on from one place to another, from where the stops now stand, as long as they do not
// stand as they did. It gives where they stand then.
func (q *sequence) onFrom(ctx context.Context, first, last int, at stands,
	change *int64) stands {
	for n := first; n <= last; n++ {
		if at == q.before[n] {
			return q.before[last+1]
		}
		m, then := q.saw(ctx, q.boards[n], at)
		*change += m - q.cost[n]
		at = then
	}
	return at
}

// move moves a board, unless more commissions are open then.
func (q *sequence) move(from, to int) bool {
	was := slices.Clone(q.boards)
	b := q.boards[from]
	q.boards = slices.Insert(slices.Delete(q.boards, from, from+1), to, b)
	if q.mostOpen() <= q.most {
		return true
	}
	q.boards = was
	return false
}

// mostOpen counts the commissions that are begun and not finished.
func (q *sequence) mostOpen() (most int) {
	clear(q.open)
	for _, b := range q.boards {
		for _, who := range q.whose[b] {
			q.open[who]-- // below 0: so many boards are still to come, and none is begun
		}
	}
	open := 0
	for _, b := range q.boards {
		for _, who := range q.whose[b] {
			if q.open[who] < 0 {
				q.open[who], open = -q.open[who], open+1
			}
		}
		most = max(most, open)
		for _, who := range q.whose[b] {
			if q.open[who]--; q.open[who] == 0 {
				open--
			}
		}
	}
	return most
}

package nest

import (
	"cmp"
	"slices"
)

// Dealing. Blanks of one item are equal, so which part gets which costs nothing. Grain and colour
// match within a board, so the copies of one part, then the parts of one commission, are dealt to
// come from as few boards as possible: with x(b, p) the copies of part p on board b, first the
// number of pairs b, p with x > 0 is kept small, then that of pairs of a board and a commission.
// For one item alone the first is to part boards and parts into as many sets as possible in which
// blanks and copies come out even, which is hard in general (two boards and many parts: the
// partition problem), so it is done by a rule and mended: a deal from the largest part down, then
// swaps of blanks between two boards, up to mostSwaps together, as long as they help. All of 1000
// small deals so come from as few boards as any deal by parts, 996 also by commissions
// (TestDealAgainstAllDeals).
//
// Who goes short is settled before: the copies of an item are in the order in which they are
// served.

// dealWork is the most that is tried to mend the deal of one group, in swaps looked at.
const dealWork = 2_000_000

// mostSwaps are tried together.
const mostSwaps = 3

// count is how many of one thing, a part or a commission, a board has.
type count struct {
	of int
	n  int
}

// counts are those of one board, none of them 0.
type counts []count

func (c counts) get(of int) int {
	for _, e := range c {
		if e.of == of {
			return e.n
		}
	}
	return 0
}

func (c *counts) add(of, n int) {
	for i := range *c {
		if e := &(*c)[i]; e.of == of {
			if e.n += n; e.n == 0 {
				*c = slices.Delete(*c, i, i+1)
			}
			return
		}
	}
	*c = append(*c, count{of, n})
}

// dealing is who gets the blanks of one group. A swap changes neither how many blanks of an item a
// board gives nor how many a part gets.
type dealing struct {
	commission func(part int) int
	items      [][]share  // of each item, by board
	shares     [][]*share // of each board, by item
	whose      []counts   // of each board, by commission
	spread     [2]int     // pairs of a board and a part, and of a board and a commission
	work       int        // left
}

// share is what one board gives of one item.
type share struct {
	item, board int
	parts       counts
}

// deal gives blanks to copies. For each board there are the items of its blanks, from the marked
// end on, and come their copies; met is how many of each item there are.
func (g *group) deal(boards [][]int, met []int, commission func(part int) int) [][]copyOf {
	d := &dealing{commission: commission, items: make([][]share, len(g.items)),
		whose: make([]counts, len(boards)), work: dealWork}
	blanks := make([][]count, len(g.items)) // of each item, by board
	for b, items := range boards {
		for _, n := range items {
			if last := len(blanks[n]) - 1; last >= 0 && blanks[n][last].of == b {
				blanks[n][last].n++
			} else {
				blanks[n] = append(blanks[n], count{b, 1})
			}
		}
	}
	queue := map[int][]copyOf{} // the copies of each part that are met
	for n := range g.items {
		var parts []count
		for _, c := range g.items[n].copies[:met[n]] {
			if queue[c.part] == nil {
				parts = append(parts, count{of: c.part})
			}
			queue[c.part] = append(queue[c.part], c)
		}
		for i := range parts {
			parts[i].n = len(queue[parts[i].of])
		}
		d.first(n, blanks[n], parts)
	}
	d.mend()
	out := make([][]copyOf, len(boards))
	for b, items := range boards {
		for _, n := range items {
			at, _ := slices.BinarySearchFunc(d.items[n], b, func(s share, b int) int {
				return cmp.Compare(s.board, b)
			})
			x := &d.items[n][at]
			least := slices.MinFunc(x.parts, func(a, b count) int {
				return cmp.Compare(a.of, b.of)
			}).of
			x.parts.add(least, -1)
			out[b] = append(out[b], queue[least][0])
			queue[least] = queue[least][1:]
		}
	}
	return out
}

// first deals out one item, the part with most copies first: what is left of it to the board that
// has just that many blanks or the fewest beyond, else all blanks of the board that has most; of
// equals one that the commission has already.
func (d *dealing) first(n int, blanks, parts []count) {
	for _, b := range blanks {
		d.items[n] = append(d.items[n], share{item: n, board: b.of})
	}
	order := make([]int, len(blanks))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(parts, func(a, b count) int { return cmp.Compare(b.n, a.n) })
	for _, p := range parts {
		has := func(i int) int { return btoi(d.whose[blanks[i].of].get(d.commission(p.of)) > 0) }
		slices.SortFunc(order, func(a, b int) int {
			return cmp.Or(cmp.Compare(blanks[b].n, blanks[a].n), cmp.Compare(has(b), has(a)),
				cmp.Compare(a, b))
		})
		for at := 0; p.n > 0; {
			i := order[at]
			if blanks[i].n >= p.n {
				for _, j := range order[at:] {
					if blanks[j].n >= p.n && blanks[j].n < blanks[i].n {
						i = j
					}
				}
			}
			k := min(p.n, blanks[i].n)
			blanks[i].n, p.n, at = blanks[i].n-k, p.n-k, at+1
			d.give(&d.items[n][i], p.of, k)
		}
	}
}

// give lets a board give k copies more of a part; below 0, fewer.
func (d *dealing) give(s *share, part, k int) {
	c := &d.whose[s.board]
	d.spread[0] -= len(s.parts)
	d.spread[1] -= len(*c)
	s.parts.add(part, k)
	c.add(d.commission(part), k)
	d.spread[0] += len(s.parts)
	d.spread[1] += len(*c)
}

// mend swaps as long as it helps, first one swap at a time, then as many as mostSwaps together.
func (d *dealing) mend() {
	d.shares = make([][]*share, len(d.whose))
	for n := range d.items {
		for i := range d.items[n] {
			s := &d.items[n][i]
			d.shares[s.board] = append(d.shares[s.board], s)
		}
	}
	for swaps := 1; swaps <= mostSwaps; swaps++ {
		helped := false
		for a := range d.shares {
			for b := range a {
				if helped = d.boards(a, b, d.spread, swaps) || helped; d.work <= 0 {
					return
				}
			}
		}
		if helped {
			swaps = 0
		}
	}
}

// boards tries swaps of two boards, and more of one of them with others, that together make the
// spread less than before.
func (d *dealing) boards(a, b int, before [2]int, swaps int) bool {
	d.work--
	for i, k := 0, 0; i < len(d.shares[a]) && k < len(d.shares[b]) && d.work > 0; {
		x, y := d.shares[a][i], d.shares[b][k]
		if x.item == y.item && d.blanks(x, y, before, swaps) {
			return true
		}
		if x.item <= y.item {
			i++
		}
		if y.item <= x.item {
			k++
		}
	}
	return false
}

// blanks does so with a first swap in one item.
func (d *dealing) blanks(a, b *share, before [2]int, swaps int) bool {
	ps, qs := slices.Clone(a.parts), slices.Clone(b.parts)
	for _, p := range ps {
		for _, q := range qs {
			if d.work--; p.of == q.of || d.work < 0 {
				continue
			}
			k := min(p.n, q.n)
			d.swap(a, b, p.of, q.of, k)
			if slices.Compare(d.spread[:], before[:]) < 0 || swaps > 1 &&
				d.others(a.board, b.board, before, swaps-1) {
				return true
			}
			d.swap(b, a, p.of, q.of, k)
		}
	}
	return false
}

// others goes on with the same two boards, or with one of them and any other.
func (d *dealing) others(a, b int, before [2]int, swaps int) bool {
	if d.boards(a, b, before, swaps) {
		return true
	}
	for c := range d.shares {
		if c != a && c != b && d.work > 0 &&
			(d.boards(a, c, before, swaps) || d.boards(b, c, before, swaps)) {
			return true
		}
	}
	return false
}

func (d *dealing) swap(a, b *share, p, q, k int) {
	d.give(a, p, -k)
	d.give(a, q, k)
	d.give(b, q, -k)
	d.give(b, p, k)
}

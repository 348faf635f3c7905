package nest

import (
	"cmp"
	"slices"
)

// Dealing: which part gets which blank.
//
// Blanks of one item are equal, so any deal costs the same, and the checker accepts any. But grain
// and colour match within a board. So the copies of one part, then the parts of one commission, are
// to come from as few boards as possible:
//
//	x(b, p)	the copies of part p on board b
//	first	as few pairs b, p with x(b, p) > 0 as possible
//	then	as few pairs of a board and a commission
//
// For one item alone, the first is to part boards and parts into as many sets as possible in which
// blanks and copies come out even. That is hard in general: with two boards and many parts it is
// the partition problem. So the deal is made by a rule and mended. The rule deals from the largest
// part down. Mending swaps blanks between two boards, up to mostSwaps swaps together, as long as
// that helps. All of 1000 small deals so come from as few boards as any deal by parts, 996 also by
// commissions (TestDealAgainstAllDeals).
//
// Who goes short is settled before, by the order in which the copies of an item are served. The
// checker does not judge that either, as the bound says nothing of it.

// dealWork is the most that is tried to mend the deal of one group, in swaps looked at; hastyDeal
// where a plan is waited for.
const dealWork, hastyDeal = 2_000_000, 100_000

// mostPairs is how many pairs of a part and a board of one item the rule looks at, each several
// times; where there are more they are dealt in turn.
const mostPairs = 1 << 20

// mostSwaps are tried together.
const mostSwaps = 3

// count is how many of one thing there are: of a part or a commission on a board, or of blanks on
// one.
type count struct {
	id int // of the thing
	n  int
}

// counts are those of one board, none of them 0.
type counts []count

func (c counts) get(id int) int {
	for _, e := range c {
		if e.id == id {
			return e.n
		}
	}
	return 0
}

func (c *counts) add(id, n int) {
	for i := range *c {
		if e := &(*c)[i]; e.id == id {
			if e.n += n; e.n == 0 {
				*c = slices.Delete(*c, i, i+1)
			}
			return
		}
	}
	*c = append(*c, count{id, n})
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

// deal gives blanks to copies, which are those of each item in the order in which they are served.
// boards has the items of each board's blanks, in the order of the cuts; met is how many blanks of
// each item there are. What comes back has the copy of each blank. So many swaps are looked at.
func deal(boards [][]int, copies [][]copyOf, met []int, commission func(part int) int,
	work int) [][]copyOf {
	d := &dealing{commission: commission, items: make([][]share, len(copies)),
		whose: make([]counts, len(boards)), work: work}
	blanks := make([][]count, len(copies)) // of each item, by board
	for b, items := range boards {
		for _, n := range items {
			if last := len(blanks[n]) - 1; last >= 0 && blanks[n][last].id == b {
				blanks[n][last].n++
			} else {
				blanks[n] = append(blanks[n], count{b, 1})
			}
		}
	}
	queue := map[int][]copyOf{} // the copies of each part that are met
	for n := range copies {
		var parts []count
		for _, c := range copies[n][:met[n]] {
			if queue[c.part] == nil {
				parts = append(parts, count{id: c.part})
			}
			queue[c.part] = append(queue[c.part], c)
		}
		for i := range parts {
			parts[i].n = len(queue[parts[i].id])
		}
		d.byRule(n, blanks[n], parts)
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
				return cmp.Compare(a.id, b.id)
			}).id
			x.parts.add(least, -1)
			out[b] = append(out[b], queue[least][0])
			queue[least] = queue[least][1:]
		}
	}
	return out
}

// byRule deals out one item, the part with most copies first. What is left of a part goes to the
// board that has just that many blanks, or the fewest beyond; where none has so many, the part gets
// all blanks of the board that has most. Of equal boards one is taken that the commission has
// already.
func (d *dealing) byRule(n int, blanks, parts []count) {
	for _, b := range blanks {
		d.items[n] = append(d.items[n], share{item: n, board: b.id})
	}
	order := make([]int, len(blanks))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(parts, func(a, b count) int { return cmp.Compare(b.n, a.n) })
	if len(parts)*len(blanks) > mostPairs {
		d.inTurn(n, blanks, parts)
		return
	}
	for _, p := range parts {
		has := func(i int) int { return btoi(d.whose[blanks[i].id].get(d.commission(p.id)) > 0) }
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
			d.give(&d.items[n][i], p.id, k)
		}
	}
}

// inTurn deals out an item of too many parts and boards to look at each pair: in turn, from the
// board that has most to that which has least.
func (d *dealing) inTurn(n int, blanks, parts []count) {
	order := make([]int, len(blanks))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Compare(blanks[b].n, blanks[a].n)
	})
	for _, p := range parts {
		for p.n > 0 {
			i := order[0]
			k := min(p.n, blanks[i].n)
			if blanks[i].n -= k; blanks[i].n == 0 {
				order = order[1:]
			}
			p.n -= k
			d.give(&d.items[n][i], p.id, k)
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
				if helped = d.helps(a, b, d.spread, swaps) || helped; d.work <= 0 {
					return
				}
			}
		}
		if helped {
			swaps = 0
		}
	}
}

// helps tries swaps of two boards, and more of one of them with others, and keeps those that
// together make the spread less than before.
func (d *dealing) helps(a, b int, before [2]int, swaps int) bool {
	d.work--
	for i, k := 0, 0; i < len(d.shares[a]) && k < len(d.shares[b]) && d.work > 0; {
		x, y := d.shares[a][i], d.shares[b][k]
		if x.item == y.item && d.helpsIn(x, y, before, swaps) {
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

// helpsIn does so with the first swap in one item.
func (d *dealing) helpsIn(a, b *share, before [2]int, swaps int) bool {
	var some [2][16]count // for those of most shares
	ps, qs := append(some[0][:0], a.parts...), append(some[1][:0], b.parts...)
	for _, p := range ps {
		for _, q := range qs {
			if d.work--; p.id == q.id || d.work < 0 {
				continue
			}
			k := min(p.n, q.n)
			d.swap(a, b, p.id, q.id, k)
			if slices.Compare(d.spread[:], before[:]) < 0 || swaps > 1 &&
				d.helpsFurther(a.board, b.board, before, swaps-1) {
				return true
			}
			d.swap(b, a, p.id, q.id, k)
		}
	}
	return false
}

// helpsFurther goes on with the same two boards, or with one of them and any other.
func (d *dealing) helpsFurther(a, b int, before [2]int, swaps int) bool {
	if d.helps(a, b, before, swaps) {
		return true
	}
	for c := range d.shares {
		if c != a && c != b && d.work > 0 &&
			(d.helps(a, c, before, swaps) || d.helps(b, c, before, swaps)) {
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

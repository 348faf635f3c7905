package along

import (
	"slices"

	"rackwright/model"
)

// The list of a linked board (see boundlist.go). Positions lie on the grid of boundboard.go. The
// gaps are [S, y - k) before the first piece at y, [x, y - k) between pieces, where x is the end of
// the one before plus k, and [x, U) after the last; empty where they do not end above their start.
//
// Worth of a layout: a clear run met by a gap in a length t > keep has the exact amount rate (t -
// keep). A chain adds up exact amounts along the board and is rounded down at its end. A gap that
// meets at most one run adds its amount to the chain that goes on; one that meets more adds the
// first to it and ends it, each run between is rounded down by itself, and the last starts a new
// chain. That is never below the true worth, run by run rounded down.
//
// A row of touching pieces, a kerf apart, may slide; the amounts beside it are of one chain. Where
// the gap before it ends in a run that has an amount, a slide to the right gains there at least
// what the gap behind it loses, until that run ends, U or a spot that a piece does not tolerate
// bars the way, or the row touches the next. Else a slide to the left costs nothing before the row,
// until it touches; y = S; the gap before ends where a run ends that has an amount; a spot bars the
// way; or x after the row is where a run ends, which beyond would be met and end the chain. That
// loses nothing either where the chain has no fraction. All these places are on the grid, so no
// layout off the grid beats all on it, and it is enough to try rows that end their slide there. Of
// two neighbours in a row that may change places the item listed first comes first.
//
// The search (boundlabels.go) goes from S on. It needs the most that can follow, as in
// boundboard.go with the amount of each run rounded down, and a unit paid for its fraction and that
// of the chain, in place of flags; and the same from a piece at x on in a row whose slide owes yet
// a place to end.

// owing is what a row owes.
type owing uint8

const (
	nothing owing = iota
	left          // a spot that bars the way to the left; the chain has no fraction
	leftRun       // that, or the end of a run where the next gap begins
	right         // what bars the way to the right
	owings
)

// chain is the search on one linked board. Positions and lengths are in steps of the grid, from S.
type chain struct {
	*Lister
	table   table // for its arithmetic
	n, gap  int   // U, k
	size    []int // of the items
	stretch []stretch
	in      []int32              // the stretch at a position
	ends    []bool               // whether a run ends at a position below U
	free    [model.Faces][]int32 // the first position from here on that a face does not tolerate
	reach   int                  // the least length with an amount; above n where there is none
	amount  []quotient           // of a length
	along   []int64              // rate x position, rounded down
	kept    int64                // rate x keep, rounded down

	follow [owings][]int64 // the most that can follow, by what is owed
	// the most of scale along[r] + follow[right][r + k] over the r of the same run that have an
	// amount
	rise []int64
	rows [owings][]int32 // where a row may start that owes so, rising
	far  [owings][]int64 // the most of follow from here on

	labels []label
	at     map[labelKey]int32
	head   []int32 // the first label at a position; 0 for none
}

const nowhere = -1 << 61

// stretch is a clear run, or a block of spots.
type stretch struct {
	lo, hi int
	clear  bool
}

// measure sets what the board is on its grid.
func (c *chain) measure(l *Lister, grid int64) bool {
	b := l.bar
	c.Lister, c.table = l, table{Board: b, step: grid}
	l.cells = int64(b.To-b.From) / grid * int64(len(c.items)+8)
	if l.cells > maxCells {
		c.why = fineMeasure
		return false
	}
	c.n = c.table.at(b.To)
	c.gap = int(min(int64(c.kerf)/grid, int64(c.n)))
	c.size = c.size[:0]
	for _, i := range c.items {
		c.size = append(c.size, int(int64(i.Length)/grid))
	}
	c.stretches()
	for f := range c.free {
		c.free[f] = c.legal(model.Face(f))
	}
	c.reach = c.n + 1
	if b.Rate.Num > 0 {
		c.reach = int(min(int64(c.reach), int64(b.Keep)/grid+1))
	}
	c.amounts(grid)
	return true
}

// amounts fills what lengths are worth.
func (c *chain) amounts(grid int64) {
	c.amount, c.along, c.kept = make([]quotient, c.n+1), make([]int64, c.n+1), 0
	by, whole := c.table.times(grid), quotient{}
	for x := range c.along {
		c.along[x] = whole.whole
		whole = c.sum(whole, by)
		switch {
		case x > c.reach:
			c.amount[x] = c.sum(c.amount[x-1], by)
		case x == c.reach:
			c.amount[x] = c.table.times(int64(x)*grid - int64(c.bar.Keep))
			c.kept = c.table.times(int64(c.bar.Keep)).whole
		}
	}
}

func (c *chain) sum(a, b quotient) quotient {
	a.whole += b.whole
	if a.rest += b.rest; a.rest >= c.bar.Rate.Den {
		a.rest -= c.bar.Rate.Den
		a.whole++
	}
	return a
}

// stretches cuts the board into runs and blocks.
func (c *chain) stretches() {
	c.stretch = c.stretch[:0]
	c.in, c.ends = make([]int32, c.n), make([]bool, c.n+c.gap+1)
	at := 0
	for _, r := range append(c.bar.runs(), model.Span{From: c.bar.To, To: c.bar.To}) {
		lo, hi := c.table.at(r.From), c.table.at(r.To)
		if lo > at {
			c.stretch = append(c.stretch, stretch{at, lo, false})
		}
		if at = hi; hi > lo {
			c.stretch = append(c.stretch, stretch{lo, hi, true})
		}
	}
	for k, s := range c.stretch {
		c.ends[s.hi] = s.clear && s.hi < c.n
		for x := s.lo; x < s.hi; x++ {
			c.in[x] = int32(k)
		}
	}
}

// legal finds from each position on the first that a face does not tolerate.
func (c *chain) legal(f model.Face) []int32 {
	free := make([]int32, c.n+1)
	for x := range free {
		free[x] = int32(c.n)
	}
	for _, s := range c.bar.Spots {
		for x := c.table.at(s.From); x < c.table.at(s.To) && !s.Tolerated[f]; x++ {
			free[x] = int32(x)
		}
	}
	for x := c.n - 1; x >= 0; x-- {
		if free[x] != int32(x) {
			free[x] = free[x+1]
		}
	}
	return free
}

// fits says whether an item may lie at y.
func (c *chain) fits(i, y int) bool { return int(c.free[c.items[i].Face][y]) >= y+c.size[i] }

// look fills follow from the far end.
func (c *chain) look() {
	for o := range c.follow {
		f := make([]int64, c.n+c.gap+1)
		for x := range f {
			if o > 0 {
				f[x] = nowhere
			}
		}
		c.follow[o] = f
	}
	c.rise = make([]int64, c.n)
	f, row := c.follow[nothing], c.follow[right]
	var behind int64 // the most within a gap that comes to the stretch behind
	for k := len(c.stretch) - 1; k >= 0; k-- {
		s := c.stretch[k]
		best, rise, gap := int64(nowhere), int64(nowhere), behind
		for x := s.hi - 1; x >= s.lo; x-- {
			f[x] = max(f[x+1], c.pieces(x))
			gap = max(gap, f[x+c.gap])
			if r := x + c.reach; s.clear && r < s.hi {
				best = max(best, c.scale*c.along[r]+f[r+c.gap])
				gap = max(gap, best+c.most(x))
				if row[r+c.gap] > nowhere {
					rise = max(rise, c.scale*c.along[r]+row[r+c.gap])
				}
			}
			if s.clear && s.hi-x >= c.reach {
				gap = max(gap, behind+c.scale*(c.amount[s.hi-x].whole+1))
			}
			c.rise[x] = rise
			f[x] = max(f[x], gap)
		}
		behind = gap
	}
	c.starts()
}

// starts finds where rows may start that slide to the left.
func (c *chain) starts() {
	for o := left; o <= leftRun; o++ {
		c.rows[o], c.far[o] = c.rows[o][:0], make([]int64, c.n+1)
		c.far[o][c.n] = nowhere
		for y := c.n - 1; y >= 0; y-- {
			if c.follow[o][y] > nowhere {
				c.rows[o] = append(c.rows[o], int32(y))
			}
			c.far[o][y] = max(c.far[o][y+1], c.follow[o][y])
		}
		slices.Reverse(c.rows[o])
	}
}

// most is what to add to scale along[r] for no less than the amount from x to r and a unit for its
// fraction.
func (c *chain) most(x int) int64 { return c.scale * (1 - c.along[x] - c.kept) }

// pieces fills what follows with a piece at x, and gives it where nothing is owed.
func (c *chain) pieces(x int) int64 {
	most := int64(nowhere)
	for i := range c.items {
		if !c.fits(i, x) {
			continue
		}
		dual, after := c.items[i].Dual, x+c.size[i]+c.gap
		most = max(most, dual+c.follow[nothing][after])
		leans := c.leans(i, x)
		for o := left; o < owings; o++ {
			if v := c.follow[leans[o]][after]; v > nowhere {
				c.follow[o][x] = max(c.follow[o][x], dual+v)
			}
		}
	}
	return most
}

// leans says what is owed after a piece of item i at y by what was owed before.
func (c *chain) leans(i, y int) [owings]owing {
	free, end := c.free[c.items[i].Face], y+c.size[i]
	out := [owings]owing{nothing, left, leftRun, right}
	if int(free[end]) == end {
		out[right] = nothing
	}
	barred := y > 0 && int(free[y-1]) == y-1
	if barred {
		out[left] = nothing
	}
	if barred || c.ends[end+c.gap] {
		out[leftRun] = nothing
	}
	return out
}

package along

import (
	"slices"

	"rackwright/model"
)

// The list of a linked board. Positions lie on the grid of table.go.
//
// Gaps. With x the end of a piece plus k and y the start of the next piece:
//
//	[S, y - k)    before the first piece
//	[x, y - k)    between two pieces
//	[x, U)        after the last piece
//
// A gap that does not end above its start is empty.
//
// Worth. A clear run that a gap meets in a length t > keep has the exact amount rate (t - keep). A
// chain adds up exact amounts along the board, and is rounded down where it ends. A gap that meets
// at most one run adds the amount to the chain, which goes on. A gap that meets more adds the first
// amount to the chain and ends it. Each run between is rounded down by itself, and the last one
// starts a new chain. So w* is never below the true worth, which is rounded down run by run.
//
// Rows. A row is a number of pieces a kerf apart, between two gaps. It may slide as a whole, and
// the amounts beside it are of one chain. It is enough to try rows that cannot slide any further in
// the direction that loses nothing:
//
//   - Where the gap before the row ends in a run that has an amount, the row slides to the right.
//     That gap gains at least what the gap behind the row loses. The slide ends at the end of that
//     run, at U, or where the row touches the next row. It also ends where a spot bars the way that
//     a piece of the row does not tolerate.
//   - Else the row slides to the left, which costs nothing before it. The slide ends at S, where
//     the row touches the row before, or where a spot bars the way. It ends where the gap before
//     would end at the end of a run that has an amount. It also ends where the gap behind the row
//     begins at the end of a run. Any further, that gap would meet the run, and the chain would end
//     there. A chain without a fraction loses nothing by that, so it does not need this last stop.
//
// All these places are on the grid, so no layout off the grid beats all layouts on it. Of two
// neighbours in a row that may change places, the item listed ahead of the other comes first.
//
// The search goes from S on (labels.go). It needs the most that can follow a position. That is F of
// table.go, but for how rounding is made up for. There are no flags here. The amount of each run is
// rounded down, and a unit is paid for its fraction and that of the chain. It also needs the most
// that can follow a piece of a row whose slide still owes a place to end.

// owing is what the slide of a row still owes: a place to end.
type owing uint8

const (
	owesNothing owing = iota
	owesLeft          // a spot that bars the way to the left; the chain has no fraction
	owesLeftRun       // that, or the end of a run where the gap behind begins
	owesRight         // what bars the way to the right
	owings
)

// labelSearch is the search on one linked board. Positions and lengths are in steps of the grid,
// from S.
type labelSearch struct {
	*Lister
	table     table // for its arithmetic
	n, gap    int   // U, k
	size      []int // of the items
	stretch   []stretch
	in        []int32              // the stretch at a position
	runEnds   []bool               // whether a run ends at a position below U
	barredAt  [model.Faces][]int32 // the first position from here on that a face does not tolerate
	reach     int                  // the least length with an amount; above n where there is none
	amount    []quotient           // of a length
	worthTo   []int64              // rate x position, rounded down
	keepWorth int64                // rate x keep, rounded down

	follow [owings][]int64 // the most that can follow, by what is owed
	// by position x: the most of scale worthTo[r] + follow[owesRight][r + k], as duals are counted,
	// over the positions r >= x + reach of the run that x lies in; nowhere: there is none
	rise []int64
	rows [owings][]int32 // where a row may start that owes so, rising
	far  [owings][]int64 // the most of follow from here on

	labels []label
	at     map[labelKey]int32
	head   []int32 // the first label at a position; 0 for none
}

// nowhere is below all that can follow, and leaves room to add to.
const nowhere = -1 << 61

// stretch is a clear run, or a block of spots.
type stretch struct {
	lo, hi int
	clear  bool
}

// measure brings the board onto its grid; false where that has too many positions.
func (c *labelSearch) measure(l *Lister, grid int64) bool {
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
	for f := range c.barredAt {
		c.barredAt[f] = c.firstBarred(model.Face(f))
	}
	c.reach = c.n + 1
	if b.Rate.Num > 0 {
		c.reach = int(min(int64(c.reach), int64(b.Keep)/grid+1))
	}
	c.amounts(grid)
	return true
}

// amounts fills what lengths are worth.
func (c *labelSearch) amounts(grid int64) {
	c.amount, c.worthTo, c.keepWorth = make([]quotient, c.n+1), make([]int64, c.n+1), 0
	by, sum := c.table.times(grid), quotient{}
	for x := range c.worthTo {
		c.worthTo[x] = sum.quo
		sum = c.sum(sum, by)
		switch {
		case x > c.reach:
			c.amount[x] = c.sum(c.amount[x-1], by)
		case x == c.reach:
			c.amount[x] = c.table.times(int64(x)*grid - int64(c.bar.Keep))
			c.keepWorth = c.table.times(int64(c.bar.Keep)).quo
		}
	}
}

// sum adds two quotients.
func (c *labelSearch) sum(a, b quotient) quotient {
	a.quo += b.quo
	if a.rem += b.rem; a.rem >= c.bar.Rate.Den {
		a.rem -= c.bar.Rate.Den
		a.quo++
	}
	return a
}

// stretches cuts the board into runs and blocks.
func (c *labelSearch) stretches() {
	c.stretch = c.stretch[:0]
	c.in, c.runEnds = make([]int32, c.n), make([]bool, c.n+c.gap+1)
	at := 0
	for _, r := range append(c.bar.clearRuns(), model.Span{From: c.bar.To, To: c.bar.To}) {
		lo, hi := c.table.at(r.From), c.table.at(r.To)
		if lo > at {
			c.stretch = append(c.stretch, stretch{at, lo, false})
		}
		if at = hi; hi > lo {
			c.stretch = append(c.stretch, stretch{lo, hi, true})
		}
	}
	for k, s := range c.stretch {
		c.runEnds[s.hi] = s.clear && s.hi < c.n
		for x := s.lo; x < s.hi; x++ {
			c.in[x] = int32(k)
		}
	}
}

// firstBarred gives by position x the first position from x on in a spot that the face does not
// tolerate; n: there is none.
func (c *labelSearch) firstBarred(f model.Face) []int32 {
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
func (c *labelSearch) fits(i, y int) bool {
	return int(c.barredAt[c.items[i].Face][y]) >= y+c.size[i]
}

// lookAhead fills follow from the far end.
func (c *labelSearch) lookAhead() {
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
	f, row := c.follow[owesNothing], c.follow[owesRight]
	var behind int64 // the most within a gap that comes to the stretch behind
	for k := len(c.stretch) - 1; k >= 0; k-- {
		s := c.stretch[k]
		best, rise, gap := int64(nowhere), int64(nowhere), behind
		for x := s.hi - 1; x >= s.lo; x-- {
			f[x] = max(f[x+1], c.fillFollow(x))
			gap = max(gap, f[x+c.gap])
			if r := x + c.reach; s.clear && r < s.hi {
				best = max(best, c.scale*c.worthTo[r]+f[r+c.gap])
				gap = max(gap, best+c.amountFrom(x))
				if row[r+c.gap] > nowhere {
					rise = max(rise, c.scale*c.worthTo[r]+row[r+c.gap])
				}
			}
			if s.clear && s.hi-x >= c.reach {
				gap = max(gap, behind+c.scale*(c.amount[s.hi-x].quo+1))
			}
			c.rise[x] = rise
			f[x] = max(f[x], gap)
		}
		behind = gap
	}
	c.findRowStarts()
}

// findRowStarts finds where rows may start that slide to the left.
func (c *labelSearch) findRowStarts() {
	for o := owesLeft; o <= owesLeftRun; o++ {
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

// amountFrom bounds amounts by their ends. For positions x and r of one run, r >= x + reach:
//
//	scale worthTo[r] + amountFrom(x) >= scale (amount[r - x], rounded down, + 1)
//
// The 1 is the unit of money that is paid for the fraction.
func (c *labelSearch) amountFrom(x int) int64 { return c.scale * (1 - c.worthTo[x] - c.keepWorth) }

// fillFollow fills the most that can follow with a piece at x, and gives it where nothing is owed.
func (c *labelSearch) fillFollow(x int) int64 {
	most := int64(nowhere)
	for i := range c.items {
		if !c.fits(i, x) {
			continue
		}
		dual, after := c.items[i].Dual, x+c.size[i]+c.gap
		most = max(most, dual+c.follow[owesNothing][after])
		then := c.owedAfter(i, x)
		for o := owesLeft; o < owings; o++ {
			if v := c.follow[then[o]][after]; v > nowhere {
				c.follow[o][x] = max(c.follow[o][x], dual+v)
			}
		}
	}
	return most
}

// owedAfter says what is owed after a piece of item i at y by what was owed before.
func (c *labelSearch) owedAfter(i, y int) [owings]owing {
	free, end := c.barredAt[c.items[i].Face], y+c.size[i]
	out := [owings]owing{owesNothing, owesLeft, owesLeftRun, owesRight}
	if int(free[end]) == end {
		out[owesRight] = owesNothing
	}
	barred := y > 0 && int(free[y-1]) == y-1
	if barred {
		out[owesLeft] = owesNothing
	}
	if barred || c.runEnds[end+c.gap] {
		out[owesLeftRun] = owesNothing
	}
	return out
}

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
// A gap that does not end above its start is empty. A clear run that a gap meets in a length t is
// worth w(t) there, and w* is the greatest sum that a layout of the counts has.
//
// Rows. A row is a number of pieces a kerf apart, between two gaps. It may slide as a whole. It is
// enough to try rows that cannot slide any further in the direction that loses nothing:
//
//   - Where the gap before the row ends in a run that is worth something there, the row slides to
//     the right. That gap gains at least what the gap behind the row loses. The slide ends where
//     the gap before would end at the end of that run, at U, or where the row touches the next row.
//     It also ends where a spot bars the way that a piece of the row does not tolerate.
//   - Else the row slides to the left. The gap before loses nothing, the gap behind gains. The
//     slide ends at S, where the row touches the row before, or where a spot bars the way. It also
//     ends where the gap before would end at the end of a run that is worth something.
//
// Rows are slid one after the other from S on. What a slide does to the rows before it is to touch
// one of them; then the two are one row, which slides anew. So the slides end. Every place where
// one ends is on the grid.
//
// Of two neighbours in a row that may change places, the item listed ahead of the other comes
// first.
//
// The search goes from S on (labels.go). The most that can follow a position is F of table.go.
// Where the slide of a row still owes a place to end, only what ends it can follow.

// owing is what the slide of a row still owes: a place to end.
type owing uint8

const (
	owesNothing owing = iota
	owesLeft          // what bars the way to the left
	owesRight         // what bars the way to the right
	owings
)

// labelSearch is the search on one linked board. Positions and lengths are in steps of the grid,
// from S.
type labelSearch struct {
	*Lister
	table   table // that of F
	n, gap  int   // U, k
	size    []int // of the items
	stretch []stretch
	in      []int32              // the stretch at a position
	barred  [model.Faces][]int32 // the first position from here on that a face does not tolerate
	least   int64                // the worth of the shortest run that is worth anything
	perStep int64                // what each step more is worth

	follow [owings][]int64 // the most of a piece here and what follows, by what is owed
	// by position x: the most of w(r - x) + follow[owesRight][r + k], over the positions r >= x +
	// reach of the run that x lies in; nowhere: there is none
	rise []int64
	rows []int32 // where a row that owes to the left may start, rising
	far  []int64 // the most of follow[owesLeft] from here on

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
func (c *labelSearch) measure(l *Lister) bool {
	c.Lister = l
	items := make([]Item, len(l.items))
	for k, i := range l.items {
		items[k] = i.Item
	}
	grid := l.bar.gridStep(items, l.kerf)
	l.cells = int64(l.bar.To-l.bar.From) / grid * int64(len(l.items)+8)
	if l.cells > maxCells {
		c.why = fineMeasure
		return false
	}
	c.size = c.size[:0]
	for _, i := range items {
		c.size = append(c.size, int(int64(i.Length)/grid))
	}
	c.table.fill(l.bar, items, l.kerf)
	c.n, c.gap = c.table.n, c.table.kerf
	c.least = l.bar.worth(model.Length(int64(c.table.reach) * grid))
	c.perStep = l.bar.Slope * grid
	c.cutUp()
	for f := range c.barred {
		c.barred[f] = c.firstBarred(model.Face(f))
	}
	c.lookAhead()
	return true
}

// cutUp cuts the board into runs and blocks.
func (c *labelSearch) cutUp() {
	c.stretch = c.stretch[:0]
	c.in = make([]int32, c.n)
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
	return int(c.barred[c.items[i].Face][y]) >= y+c.size[i]
}

// lookAhead fills what can follow from the far end.
func (c *labelSearch) lookAhead() {
	c.follow[owesNothing] = c.table.f[0]
	for o := owesLeft; o < owings; o++ {
		c.follow[o] = slices.Repeat([]int64{nowhere}, c.n+c.gap+1)
	}
	c.rise = make([]int64, c.n)
	row := c.follow[owesRight]
	for k := len(c.stretch) - 1; k >= 0; k-- {
		s := c.stretch[k]
		rise := int64(nowhere)
		for x := s.hi - 1; x >= s.lo; x-- {
			c.followPiece(x)
			if rise > nowhere {
				rise += c.perStep
			}
			if r := x + c.table.reach; s.clear && r < s.hi && row[r+c.gap] > nowhere {
				rise = max(rise, c.least+row[r+c.gap])
			}
			c.rise[x] = rise
		}
	}
	c.rows, c.far = c.rows[:0], slices.Repeat([]int64{nowhere}, c.n+1)
	for y := c.n - 1; y >= 0; y-- {
		if c.follow[owesLeft][y] > nowhere {
			c.rows = append(c.rows, int32(y))
		}
		c.far[y] = max(c.far[y+1], c.follow[owesLeft][y])
	}
	slices.Reverse(c.rows)
}

// followPiece fills the most of a piece at x and what follows, where something is owed.
func (c *labelSearch) followPiece(x int) {
	for i := range c.items {
		if !c.fits(i, x) {
			continue
		}
		for o := owesLeft; o < owings; o++ {
			if v := c.follow[c.owedAfter(o, i, x)][x+c.size[i]+c.gap]; v > nowhere {
				c.follow[o][x] = max(c.follow[o][x], c.items[i].Dual+v)
			}
		}
	}
}

// owedAfter says what is still owed after a piece of item i at y.
func (c *labelSearch) owedAfter(o owing, i, y int) owing {
	free, end := c.barred[c.items[i].Face], y+c.size[i]
	if o == owesRight && int(free[end]) == end ||
		o == owesLeft && y > 0 && int(free[y-1]) == y-1 {
		return owesNothing
	}
	return o
}

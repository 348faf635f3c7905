package along

import (
	"slices"

	"rackwright/model"
	"rackwright/model/proof/internal/patterns"
)

// The list of a linked board. Positions lie on the grid of table.go. The rows below are all against
// something: so where a piece starts, and its end + k, are places of places.go, or U and beyond.
// Places go by their numbers here.
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
	points  []int // the places
	size    []int // of the items
	stretch []stretch
	in      []int32            // the stretch of a place
	barred  [model.Faces][]int // by place, the first position from it on that bars a face
	least   int64              // the worth of the shortest run that is worth anything
	perStep int64              // what each step more is worth

	// by place, the most of a piece there and what follows, by what is owed; at last, U
	follow [owings][]int64
	// by place x: the most of w(r - x) + follow[owesRight][r + k], over the positions r >= x +
	// reach of the run that x lies in; nowhere: there is none
	rise  []int64
	left  []int32 // places where a row that owes to the left may start, rising
	right []int32 // the same to the right
	far   []int64 // the most of follow[owesLeft] from here on

	labels patterns.Labels // by place
}

// nowhere is below all that can follow, and leaves room to add to.
const nowhere = -1 << 61

// stretch is a clear run, or a block of spots.
type stretch struct {
	lo, hi int
	clear  bool
}

// measure brings the board onto its grid; false where that has too many places.
func (c *labelSearch) measure(l *Lister) bool {
	c.Lister = l
	t := &c.table
	t.start(l.bar, l.items, l.kerf)
	if t.n > maxPositions || !t.places.fill(t, l.items, maxCells/(len(l.items)+8)) {
		c.why = fineMeasure
		return false
	}
	c.n, c.gap, c.points = t.n, t.kerf, t.places.points
	l.cells = int64(t.n/64) + int64(len(c.points))*int64(len(l.items)+8)
	t.fill()
	c.size = c.size[:0]
	for _, i := range l.items {
		c.size = append(c.size, int(int64(i.Length)/t.step))
	}
	c.least = l.bar.worth(model.Length(int64(t.reach) * t.step))
	c.perStep = l.bar.Slope * t.step
	c.cutUp()
	for f := range c.barred {
		c.barred[f] = c.barred[f][:0]
		for _, x := range c.points {
			c.barred[f] = append(c.barred[f], t.barredFrom(model.Face(f), x))
		}
	}
	c.lookAhead()
	return true
}

// cutUp cuts the board into runs and blocks.
func (c *labelSearch) cutUp() {
	c.stretch = c.stretch[:0]
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
	c.in = c.in[:0]
	k := 0
	for _, x := range c.points {
		for c.stretch[k].hi <= x {
			k++
		}
		c.in = append(c.in, int32(k))
	}
}

// fits says whether an item may lie at a place.
func (c *labelSearch) fits(i, place int) bool {
	return c.barred[c.items[i].Face][place] >= c.points[place]+c.size[i]
}

// fitsAt says whether an item may lie at a position.
func (c *labelSearch) fitsAt(i, y int) bool {
	return c.table.barredFrom(c.items[i].Face, y) >= y+c.size[i]
}

// behind is the place behind an item at another, its kerf paid; U and beyond are one. It is -1
// where that is no place: so no row that is against something can go on there.
func (c *labelSearch) behind(i, place int) int {
	return c.table.find(c.points[place]+c.size[i]+c.gap, c.n)
}

// lookAhead fills what can follow from the far end.
func (c *labelSearch) lookAhead() {
	n := len(c.points)
	c.follow[owesNothing] = c.table.f[0]
	for o := owesLeft; o < owings; o++ {
		c.follow[o] = slices.Repeat([]int64{nowhere}, n+1)
	}
	for y := n - 1; y >= 0; y-- {
		c.followPiece(y)
	}
	c.left, c.right, c.far = c.left[:0], c.right[:0], slices.Repeat([]int64{nowhere}, n+1)
	for y := n - 1; y >= 0; y-- {
		if c.follow[owesLeft][y] > nowhere {
			c.left = append(c.left, int32(y))
		}
		if c.follow[owesRight][y] > nowhere {
			c.right = append(c.right, int32(y))
		}
		c.far[y] = max(c.far[y+1], c.follow[owesLeft][y])
	}
	slices.Reverse(c.left)
	slices.Reverse(c.right)
	c.lookAcross()
}

// lookAcross fills the most of a gap of some worth and the row behind it that owes to the right.
func (c *labelSearch) lookAcross() {
	c.rise = slices.Repeat([]int64{nowhere}, len(c.points))
	next := len(c.right)
	run, most := -1, int64(nowhere) // of the run: least + follow, and each step up to r
	for x := len(c.points) - 1; x >= 0; x-- {
		if k := int(c.in[x]); k != run {
			run, most = k, nowhere
			next = c.firstOf(c.right, c.stretch[k].hi+c.gap)
		}
		if !c.stretch[run].clear {
			continue
		}
		for next > 0 {
			y := int(c.right[next-1])
			r := c.points[y] - c.gap
			if r < c.points[x]+c.table.reach {
				break
			}
			most = max(most, c.follow[owesRight][y]+c.least+int64(r-c.table.reach)*c.perStep)
			next--
		}
		if most > nowhere {
			c.rise[x] = most - int64(c.points[x])*c.perStep
		}
	}
}

// firstOf is where those of some places begin that lie at a position or later.
func (c *labelSearch) firstOf(some []int32, x int) int {
	at, _ := slices.BinarySearch(some, int32(c.table.index(x)))
	return at
}

// followPiece fills the most of a piece at a place and what follows, where something is owed.
func (c *labelSearch) followPiece(x int) {
	for i := range c.items {
		if !c.fits(i, x) {
			continue
		}
		y := c.behind(i, x)
		for o := owesLeft; o < owings && y >= 0; o++ {
			if v := c.follow[c.owedAfter(o, i, x)][y]; v > nowhere {
				c.follow[o][x] = max(c.follow[o][x], c.items[i].Dual+v)
			}
		}
	}
}

// owedAfter says what is still owed after a piece of item i at a place.
func (c *labelSearch) owedAfter(o owing, i, place int) owing {
	face, y := c.items[i].Face, c.points[place]
	end := y + c.size[i]
	if o == owesRight && c.table.barredFrom(face, end) == end ||
		o == owesLeft && c.table.barredBefore(face, y) {
		return owesNothing
	}
	return o
}

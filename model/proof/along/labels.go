package along

import "rackwright/model"

// The list of a linked board, by labels from S on. Positions are in steps of the grid of table.go.
// A label is what stands before a position x, a kerf before x paid: the counts and the worth so
// far.
//
//	from a label at x    a piece at each stop y >= x where it fits, behind the gap [x, y - k);
//	                     or no more pieces, behind the gap [x, U)
//	stops                where a row of pieces a kerf apart can slide no further either way:
//	                     sums of l + k from S, from where a spot ends, and from a kerf behind
//	                     where one starts; and such sums back from U, from where a spot starts,
//	                     and from a kerf before where one ends
//
// Why stops are enough. Slide a row of a layout, with the gaps on both sides of it. Until it meets
// another row or one of these places, the runs beside it gain and lose along a convex function. So
// nothing is lost in one of the two directions. The counts stay, so the layout that is worth most
// with its counts is met.
//
// A label goes no further where its duals, its worth and F of what can follow stay below the need.
// Nor where another of the same counts has no less worth and stands no later in the same run or
// block: all that can follow the one can follow the other.

// labelSearch is the search on one linked board.
type labelSearch struct {
	*Lister
	table   table
	n, gap  int   // U, k
	size    []int // of the items
	stretch []stretch
	in      []int32              // the stretch at a position
	barred  [model.Faces][]int32 // the first position from here on that a face does not tolerate
	stops   []int

	labels []label
	at     map[labelKey]int32 // by position
	lead   map[labelKey]int64 // by stretch: the greatest worth yet
	head   []int32            // the first label at a position; 0 for none
}

// stretch is a clear run, or a block of spots.
type stretch struct {
	lo, hi int
	clear  bool
}

// label is one way to have laid out the board up to a position.
type label struct {
	x, vector    int32 // position; number of the counts
	next         int32 // the next label at the same position; 0 for none
	duals, worth int64
}

// labelKey is counts at a place.
type labelKey struct{ place, vector int32 }

// list lists a linked board.
func (c *labelSearch) list(l *Lister) {
	if !c.measure(l) {
		return
	}
	if c.at == nil {
		c.at, c.lead = map[labelKey]int32{}, map[labelKey]int64{}
	}
	clear(c.at)
	clear(c.lead)
	c.labels = append(c.labels[:0], label{}, label{})
	c.head = make([]int32, c.n+c.gap+1)
	c.head[0] = 1
	first := 0 // stop
	for x := 0; x < len(c.head) && c.why == ""; x++ {
		for first < len(c.stops) && c.stops[first] < x {
			first++
		}
		for id := c.head[x]; id > 0 && c.why == ""; id = c.labels[id].next {
			c.grow(c.labels[id], c.stops[first:])
		}
	}
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
	c.cutUp()
	for f := range c.barred {
		c.barred[f] = c.firstBarred(model.Face(f))
	}
	c.findStops()
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

// findStops finds the stops, from both ends.
func (c *labelSearch) findStops() {
	stop, end := make([]bool, c.n+1), make([]bool, c.n+1) // where pieces start, and end
	mark := func(set []bool, x int) {
		if x >= 0 && x <= c.n {
			set[x] = true
		}
	}
	mark(stop, 0)
	mark(end, c.n)
	for _, s := range c.bar.Spots {
		from, to := c.table.at(s.From), c.table.at(s.To)
		mark(stop, to)
		mark(stop, from+c.gap)
		mark(end, from)
		mark(end, to-c.gap)
	}
	for x := range c.n {
		for i := range c.items {
			if stop[x] && c.fits(i, x) {
				mark(stop, x+c.size[i]+c.gap)
			}
		}
	}
	back := make([]bool, c.n+1)
	for x := c.n; x > 0; x-- {
		for i := range c.items {
			if y := x - c.size[i]; end[x] && y >= 0 && c.fits(i, y) {
				back[y] = true
				mark(end, y-c.gap)
			}
		}
	}
	c.stops = c.stops[:0]
	for x := range c.n {
		if stop[x] || back[x] {
			c.stops = append(c.stops, x)
		}
	}
}

// grow adds what can follow a label.
func (c *labelSearch) grow(l label, stops []int) {
	if x := int(l.x); x < c.n {
		key := labelKey{c.in[x], l.vector}
		if worth, known := c.lead[key]; known && worth >= l.worth {
			return
		}
		c.lead[key] = l.worth
	}
	layer := 0
	if l.vector == 0 {
		layer = 1
	}
	for _, y := range stops {
		worth := l.worth + c.gapWorth(int(l.x), y-c.gap)
		if !c.countStep() || l.duals+worth+c.table.f[layer][y] < c.need {
			continue
		}
		for i := range c.items {
			then := label{duals: l.duals + c.items[i].Dual, worth: worth}
			after := y + c.size[i] + c.gap
			if !c.fits(i, y) || int64(c.met.countsAt(l.vector)[i]) >= c.items[i].Demand ||
				!c.countStep() || then.duals+worth+c.table.f[0][after] < c.need {
				continue
			}
			then.x, then.vector = int32(after), c.met.oneMore(l.vector, i)
			c.note(then)
		}
	}
	worth := l.worth + c.gapWorth(int(l.x), c.n)
	if l.vector > 0 && l.duals+worth >= c.need {
		c.add(l.vector, worth)
	}
}

// gapWorth is the worth of a gap.
func (c *labelSearch) gapWorth(from, to int) (sum int64) {
	if from >= to {
		return 0
	}
	for _, s := range c.stretch[c.in[from]:] {
		if s.lo >= to {
			break
		}
		if s.clear {
			steps := min(to, s.hi) - max(from, s.lo)
			sum += c.bar.worth(model.Length(int64(steps) * c.table.step))
		}
	}
	return sum
}

// note keeps a label where no other of its counts at its place has more worth.
func (c *labelSearch) note(l label) {
	key := labelKey{l.x, l.vector}
	if id, known := c.at[key]; known {
		c.labels[id].worth = max(c.labels[id].worth, l.worth)
		return
	}
	id := int32(len(c.labels))
	c.at[key] = id
	l.next, c.head[l.x] = c.head[l.x], id
	c.labels = append(c.labels, l)
}

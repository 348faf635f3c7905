package along

// The search for the patterns of a linked board, by labels from S on. A label is what stands before
// a position: the counts, the worth so far, and what the row there owes. A label dominates another
// that differs from it in worth alone and has no more, since the same can follow both. A label goes
// no further where its duals, its worth and the most that can follow stay below the need.

// label is one way to have laid out the board up to a position.
type label struct {
	labelKey
	next  int32 // the next label at the same position; 0 for none
	duals int64
	worth int64
}

// labelKey is all that what can follow hangs on.
type labelKey struct {
	x      int32 // number of the place; U and beyond are one
	vector int32 // number of the counts so far
	last   int16 // the item before, plus one, where the next piece may yet touch it; else 0
	owes   owing
}

// list lists a linked board.
func (c *labelSearch) list(l *Lister) {
	if !c.measure(l) {
		return
	}
	if c.at == nil {
		c.at = map[labelKey]int32{}
	}
	clear(c.at)
	c.labels = append(c.labels[:0], label{}, label{})
	c.head = make([]int32, len(c.points)+1)
	c.head[0] = 1
	for x := 0; x < len(c.head) && c.why == ""; x++ {
		for id := c.head[x]; id > 0 && c.why == ""; id = c.labels[id].next {
			c.grow(c.labels[id])
		}
	}
}

// grow adds what can follow a label: the pieces after it by the gap between. l.worth takes in the
// runs that the gap has passed.
func (c *labelSearch) grow(l label) {
	x, k := c.n, len(c.stretch)
	if int(l.x) < len(c.points) {
		x, k = c.points[l.x], int(c.in[l.x])
		c.piece(l, int(l.x), l.owes, true)
	}
	if l.owes != owesNothing {
		return
	}
	c.startRows(l, x+1, x+c.gap)
	for ; k < len(c.stretch); k++ {
		s := c.stretch[k]
		from := max(x, s.lo)
		if !s.clear {
			c.startRows(l, from+c.gap+1, s.hi+c.gap)
			continue
		}
		c.startRows(l, from+c.gap+1, min(s.hi, from+c.table.reach-1)+c.gap)
		if s.hi-from < c.table.reach {
			continue
		}
		passed := l.worth
		if l.duals+passed+c.rise[c.table.index(from)] >= c.need {
			for n := c.firstOf(c.right, from+c.table.reach+c.gap); n < len(c.right); n++ {
				y := int(c.right[n])
				r := c.points[y] - c.gap
				if r >= s.hi {
					break
				}
				l.worth = passed + c.least + int64(r-from-c.table.reach)*c.perStep
				c.piece(l, y, owesRight, false)
			}
		}
		l.worth = passed + c.least + int64(s.hi-from-c.table.reach)*c.perStep
		if y := s.hi + c.gap; y < c.n {
			c.piece(l, c.table.index(y), owesNothing, false)
		}
	}
	if l.vector > 0 && l.duals+l.worth >= c.need {
		c.add(l.vector, l.worth)
	}
}

// startRows starts rows at lo to hi, after gaps that lose nothing where the row slides to the left.
func (c *labelSearch) startRows(l label, lo, hi int) {
	if lo > hi || lo >= c.n || l.duals+l.worth+c.far[c.table.index(lo)] < c.need {
		return
	}
	for k := c.firstOf(c.left, lo); k < len(c.left) && c.points[c.left[k]] <= hi; k++ {
		c.piece(l, int(c.left[k]), owesLeft, false)
	}
}

// piece adds each piece that may come at a place.
func (c *labelSearch) piece(l label, y int, owes owing, touching bool) {
	if most := c.follow[owes][y]; !c.countStep() || most == nowhere ||
		l.duals+l.worth+most < c.need {
		return
	}
	for i := range c.items {
		if !c.fits(i, y) || int64(c.met.countsAt(l.vector)[i]) >= c.items[i].Demand ||
			touching && i+1 < int(l.last) && c.mayChangePlaces(int(l.last)-1, i, y) {
			continue
		}
		behind := c.behind(i, y)
		if behind < 0 {
			continue
		}
		then := label{worth: l.worth, duals: l.duals + c.items[i].Dual}
		then.x, then.owes = int32(behind), c.owedAfter(owes, i, y)
		if most := c.follow[then.owes][behind]; !c.countStep() || most == nowhere ||
			then.duals+then.worth+most < c.need {
			continue
		}
		if behind < len(c.points) {
			then.last = int16(i + 1)
		}
		then.vector = c.met.oneMore(l.vector, i)
		c.note(then)
	}
}

// note keeps a label where no other dominates it.
func (c *labelSearch) note(l label) {
	id, known := c.at[l.labelKey]
	if !known {
		id = int32(len(c.labels))
		c.at[l.labelKey] = id
		l.next, c.head[l.x] = c.head[l.x], id
		c.labels = append(c.labels, l)
		return
	}
	c.labels[id].worth = max(c.labels[id].worth, l.worth)
}

// mayChangePlaces says whether item i may stand before item a instead of behind it, where a ends a
// kerf before y.
func (c *labelSearch) mayChangePlaces(a, i, y int) bool {
	x := c.points[y] - c.gap - c.size[a]
	return c.fitsAt(i, x) && c.fitsAt(a, x+c.size[i]+c.gap)
}

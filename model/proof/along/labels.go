package along

import "slices"

// The search for the patterns of a linked board, by labels from S on. A label is what stands before
// a position: the counts, the worth so far, and what the row there owes. A label dominates another
// that differs from it in worth alone and has no more, since the same can follow both. A label goes
// no further where its duals, its worth and the most that can follow stay below the need.

// label is one way to have laid out the board up to a position.
type label struct {
	labelKey
	next  int32 // the next label at the same position; 0 for none
	duals int64
	worth quotient
}

// labelKey is all that what can follow hangs on.
type labelKey struct {
	x      int32 // position
	vector int32 // number of the counts so far
	last   int16 // the item before, plus one, where the next piece may yet touch it; else 0
	owes   owing
}

// list lists a linked board.
func (c *labelSearch) list(l *Lister, grid int64) {
	if !c.measure(l, grid) {
		return
	}
	c.lookAhead()
	if c.at == nil {
		c.at = map[labelKey]int32{}
	}
	clear(c.at)
	c.labels = append(c.labels[:0], label{}, label{})
	c.head = make([]int32, c.n+c.gap+1)
	c.head[0] = 1
	for x := 0; x < len(c.head) && c.why == ""; x++ {
		for id := c.head[x]; id > 0 && c.why == ""; id = c.labels[id].next {
			c.grow(c.labels[id])
		}
	}
}

// grow adds what can follow a label.
func (c *labelSearch) grow(l label) {
	x, worth := int(l.x), l.worth
	if x < c.n {
		c.piece(l, x, worth, l.owes, true)
	}
	if l.owes != owesNothing {
		return
	}
	c.startRows(l, worth, x+1, x+c.gap)
	for k, met := c.stretchAt(x), false; k < len(c.stretch); k++ {
		s := c.stretch[k]
		from := max(x, s.lo)
		if !s.clear {
			c.startRows(l, worth, from+c.gap+1, s.hi+c.gap)
			continue
		}
		if met {
			worth.rem = 0
		}
		met = true
		c.startRows(l, worth, from+c.gap+1, min(s.hi, from+c.reach-1)+c.gap)
		if s.hi-from < c.reach {
			continue
		}
		if c.value(&l, worth)+c.rise[from]+c.amountFrom(from) >= c.need {
			for r := from + c.reach; r < s.hi && r+c.gap < c.n; r++ {
				c.piece(l, r+c.gap, c.plus(worth, r-from), owesRight, false)
			}
		}
		worth = c.plus(worth, s.hi-from)
		if y := s.hi + c.gap; y < c.n {
			c.piece(l, y, worth, owesNothing, false)
		}
	}
	if l.vector > 0 && l.duals+c.scale*worth.quo >= c.need {
		c.add(l.vector, worth.quo)
	}
}

// stretchAt is the stretch at a position.
func (c *labelSearch) stretchAt(x int) int {
	if x >= c.n {
		return len(c.stretch)
	}
	return int(c.in[x])
}

// startRows starts rows at lo to hi, after gaps that lose nothing where the row slides to the left.
func (c *labelSearch) startRows(l label, worth quotient, lo, hi int) {
	owes := owesLeft
	if worth.rem > 0 {
		owes = owesLeftRun
	}
	if lo > hi || lo >= c.n || c.value(&l, worth)+c.far[owes][lo] < c.need {
		return
	}
	k, _ := slices.BinarySearch(c.rows[owes], int32(lo))
	for ; k < len(c.rows[owes]) && int(c.rows[owes][k]) <= hi; k++ {
		c.piece(l, int(c.rows[owes][k]), worth, owes, false)
	}
}

// piece adds each piece that may come at y.
func (c *labelSearch) piece(l label, y int, worth quotient, owes owing, touching bool) {
	if most := c.follow[owes][y]; !c.countStep() || most == nowhere ||
		c.value(&l, worth)+most < c.need {
		return
	}
	for i := range c.items {
		end := y + c.size[i]
		if !c.fits(i, y) || int64(c.met.countsAt(l.vector)[i]) >= c.items[i].Demand ||
			touching && i+1 < int(l.last) && c.mayChangePlaces(int(l.last)-1, i, y) {
			continue
		}
		then := label{worth: worth, duals: l.duals + c.items[i].Dual}
		then.x, then.owes = int32(end+c.gap), c.owedAfter(i, y)[owes]
		if most := c.follow[then.owes][then.x]; !c.countStep() || most == nowhere ||
			c.value(&then, worth)+most < c.need {
			continue
		}
		if end+c.gap < c.n {
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
	if old := &c.labels[id]; l.worth.quo > old.worth.quo || l.worth.quo == old.worth.quo &&
		l.worth.rem > old.worth.rem {
		old.worth = l.worth
	}
}

// value is what a label has with a worth. The unit paid for the next run makes up for its fraction.
func (c *labelSearch) value(l *label, worth quotient) int64 { return l.duals + c.scale*worth.quo }

// plus adds the amount of a run that a gap meets in so many steps.
func (c *labelSearch) plus(worth quotient, steps int) quotient {
	if steps >= c.reach {
		worth = c.sum(worth, c.amount[steps])
	}
	return worth
}

// mayChangePlaces says whether item i may stand before item a instead of behind it, where a ends a
// kerf before y.
func (c *labelSearch) mayChangePlaces(a, i, y int) bool {
	x := y - c.gap - c.size[a]
	return c.fits(i, x) && c.fits(a, x+c.size[i]+c.gap)
}

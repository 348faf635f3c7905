package along

import "rackwright/model/proof/internal/patterns"

// The search for the patterns of a linked board, by labels from S on. A label is what stands before
// a position: the counts, what they and the offcuts are worth so far, and what the row there owes.
// Of labels that differ in worth alone the one with most is kept, since the same can follow all of
// them. A label goes no further where its value and the most that can follow stay below the need.

// stateOf is the state of a label: what the row owes, and the item before where the next piece may
// yet touch it, plus one, else 0.
func stateOf(owes owing, last int) int32 { return int32(last)*int32(owings) + int32(owes) }

// stateFrom is what a state says.
func stateFrom(state int32) (owes owing, last int) {
	return owing(state % int32(owings)), int(state / int32(owings))
}

// list lists a linked board.
func (c *labelSearch) list(l *Lister) {
	if !c.measure(l) {
		return
	}
	c.labels.Start(len(c.points) + 1) // U and beyond are one place
	c.labels.Put(patterns.Label{})
	for x := range len(c.points) + 1 {
		for one := range c.labels.At(x) {
			if c.why != "" {
				return
			}
			c.grow(one)
		}
	}
}

// grow adds what can follow a label: the pieces after it by the gap between. l.Value takes in the
// runs that the gap has passed.
func (c *labelSearch) grow(l patterns.Label) {
	x, k := c.n, len(c.stretch)
	owes, last := stateFrom(l.State)
	if at := int(l.Place); at < len(c.points) {
		x, k = c.points[at], int(c.in[at])
		c.piece(l, at, owes, last)
	}
	if owes != owesNothing {
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
		passed := l.Value
		if passed+c.rise[c.table.index(from)] >= c.need {
			for n := c.firstOf(c.right, from+c.table.reach+c.gap); n < len(c.right); n++ {
				y := int(c.right[n])
				r := c.points[y] - c.gap
				if r >= s.hi {
					break
				}
				l.Value = passed + c.least + int64(r-from-c.table.reach)*c.perStep
				c.piece(l, y, owesRight, 0)
			}
		}
		l.Value = passed + c.least + int64(s.hi-from-c.table.reach)*c.perStep
		if y := s.hi + c.gap; y < c.n {
			c.piece(l, c.table.index(y), owesNothing, 0)
		}
	}
	if l.Value >= c.need {
		c.add(l.Vec, l.Value)
	}
}

// startRows starts rows at lo to hi, after gaps that lose nothing where the row slides to the left.
func (c *labelSearch) startRows(l patterns.Label, lo, hi int) {
	if lo > hi || lo >= c.n || l.Value+c.far[c.table.index(lo)] < c.need {
		return
	}
	for k := c.firstOf(c.left, lo); k < len(c.left) && c.points[c.left[k]] <= hi; k++ {
		c.piece(l, int(c.left[k]), owesLeft, 0)
	}
}

// piece adds each piece that may come at a place; last is the item that it touches, plus one.
func (c *labelSearch) piece(l patterns.Label, y int, owes owing, last int) {
	if most := c.follow[owes][y]; !c.countStep() || most == nowhere ||
		l.Value+most < c.need {
		return
	}
	for i := range c.items {
		if !c.fits(i, y) || c.met.Count(l.Vec, i) >= c.items[i].Demand ||
			i+1 < last && c.mayChangePlaces(last-1, i, y) {
			continue
		}
		behind := c.behind(i, y)
		if behind < 0 {
			continue
		}
		owed, value := c.owedAfter(owes, i, y), l.Value+c.items[i].Dual
		if most := c.follow[owed][behind]; !c.countStep() || most == nowhere ||
			value+most < c.need {
			continue
		}
		touching := 0
		if behind < len(c.points) {
			touching = i + 1
		}
		c.labels.Put(patterns.Label{Place: int32(behind), State: stateOf(owed, touching),
			Vec: c.met.OneMore(l.Vec, i), Value: value})
	}
}

// mayChangePlaces says whether item i may stand before item a instead of behind it, where a ends a
// kerf before y.
func (c *labelSearch) mayChangePlaces(a, i, y int) bool {
	x := c.points[y] - c.gap - c.size[a]
	return c.fitsAt(i, x) && c.fitsAt(a, x+c.size[i]+c.gap)
}

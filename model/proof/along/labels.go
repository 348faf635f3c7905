package along

import "slices"

// The search for the patterns of a linked board (see boundchain.go), from S on. A label is what
// stands before x: the counts, the worth so far, and what the row there owes. Of labels alike but
// for the worth the greatest is kept, since what can follow is the same. A label goes no further
// where its duals, its worth and the most that can follow are below the need.

// label: last is the item before, plus one, where a piece may yet touch it.
type label struct {
	labelKey
	next  int32 // at the same position; 0 for none
	duals int64
	worth quotient
}

type labelKey struct {
	x, vector int32
	last      int16
	owes      owing
}

func (c *chain) list(l *Lister, grid int64) {
	if !c.measure(l, grid) {
		return
	}
	c.look()
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
func (c *chain) grow(l label) {
	x, worth := int(l.x), l.worth
	if x < c.n {
		c.piece(l, x, worth, l.owes, true)
	}
	if l.owes != nothing {
		return
	}
	c.debtors(l, worth, x+1, x+c.gap)
	for k, met := c.where(x), false; k < len(c.stretch); k++ {
		s := c.stretch[k]
		from := max(x, s.lo)
		if !s.clear {
			c.debtors(l, worth, from+c.gap+1, s.hi+c.gap)
			continue
		}
		if met {
			worth.rest = 0
		}
		met = true
		c.debtors(l, worth, from+c.gap+1, min(s.hi, from+c.reach-1)+c.gap)
		if s.hi-from < c.reach {
			continue
		}
		if c.value(&l, worth)+c.rise[from]+c.most(from) >= c.need {
			for r := from + c.reach; r < s.hi && r+c.gap < c.n; r++ {
				c.piece(l, r+c.gap, c.plus(worth, r-from), right, false)
			}
		}
		worth = c.plus(worth, s.hi-from)
		if y := s.hi + c.gap; y < c.n {
			c.piece(l, y, worth, nothing, false)
		}
	}
	if l.vector > 0 && l.duals+c.scale*worth.whole >= c.need {
		c.add(l.vector, worth.whole)
	}
}

// where is the stretch at a position.
func (c *chain) where(x int) int {
	if x >= c.n {
		return len(c.stretch)
	}
	return int(c.in[x])
}

// debtors starts rows at lo to hi, after a gap to whose last run a slide to the left costs nothing.
func (c *chain) debtors(l label, worth quotient, lo, hi int) {
	owes := left
	if worth.rest > 0 {
		owes = leftRun
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
func (c *chain) piece(l label, y int, worth quotient, owes owing, touching bool) {
	if most := c.follow[owes][y]; !c.step() || most == nowhere || c.value(&l, worth)+most < c.need {
		return
	}
	for i := range c.items {
		end := y + c.size[i]
		if !c.fits(i, y) || int64(c.counts.of(l.vector)[i]) >= c.items[i].Demand ||
			touching && i+1 < int(l.last) && c.swap(int(l.last)-1, i, y) {
			continue
		}
		then := label{worth: worth, duals: l.duals + c.items[i].Dual}
		then.x, then.owes = int32(end+c.gap), c.leans(i, y)[owes]
		if most := c.follow[then.owes][then.x]; !c.step() || most == nowhere ||
			c.value(&then, worth)+most < c.need {
			continue
		}
		if end+c.gap < c.n {
			then.last = int16(i + 1)
		}
		then.vector = c.counts.more(l.vector, i)
		c.note(then)
	}
}

// note keeps a label where none alike is worth as much.
func (c *chain) note(l label) {
	id, known := c.at[l.labelKey]
	if !known {
		id = int32(len(c.labels))
		c.at[l.labelKey] = id
		l.next, c.head[l.x] = c.head[l.x], id
		c.labels = append(c.labels, l)
		return
	}
	if old := &c.labels[id]; l.worth.whole > old.worth.whole || l.worth.whole == old.worth.whole &&
		l.worth.rest > old.worth.rest {
		old.worth = l.worth
	}
}

// value is what a label has with a worth; of its fraction the unit paid for the next run makes up.
func (c *chain) value(l *label, worth quotient) int64 { return l.duals + c.scale*worth.whole }

// plus adds the amount of a run that a gap meets in so many steps.
func (c *chain) plus(worth quotient, steps int) quotient {
	if steps >= c.reach {
		worth = c.sum(worth, c.amount[steps])
	}
	return worth
}

// swap says whether item i may stand before a, which ends a kerf before y, instead of behind.
func (c *chain) swap(a, i, y int) bool {
	x := y - c.gap - c.size[a]
	return c.fits(i, x) && c.fits(a, x+c.size[i]+c.gap)
}

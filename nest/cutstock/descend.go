package cutstock

import (
	"cmp"
	"math"
	"slices"

	"rackwright/nest/cutstock/covers"
	"rackwright/nest/cutting"
	"rackwright/nest/lp"
)

// Descending from a relaxation in which it is open how what is wanted is made. First the ways are
// made whole, then the patterns, each time what is nearest to a whole number. Sets of staves stay
// free till the end: a panel is made of what the boards give. Where patterns are whole, so are the
// counts of all pieces; and where one copy is wanted, what the relaxation puts together of sets is
// a set.

// priceEach is after how many patterns are fixed new ones are priced.
const priceEach = 6

// Plan is a plan under way of a program with wants. Pieces may be unmet.
type Plan struct {
	Uses   []cutting.Use
	Chosen []cutting.Chosen
}

// Descend walks down under limits to a plan; some of it may be unmet. Patterns are looked for anew
// where something stays unmet without them; where it prices, before the descent and on the way down
// as well. It is false where the search ends before.
func (c *Choosing) Descend(limits Limits, price bool) (p Plan, ok bool) {
	m := newMaster(c.k.p, c.k.costs, &c.k.pool)
	m.wants = c.addTo(m, limits)
	m.purge()
	if !c.solve(m) || price && c.look(m, nil) > 0 && !c.solve(m) || !c.makeWhole(m) {
		return p, false
	}
	var uses []cutting.Use
	for n, looked := 1, false; ; n++ {
		if price && n%priceEach == 0 {
			c.look(m, nil)
		}
		if !c.solve(m) {
			return p, false
		}
		fixed := m.fixWhole()
		if len(fixed) == 0 {
			j := m.nearest(false)
			if j < 0 && !looked && m.lacks() {
				looked = true
				c.look(m, nil)
				continue
			}
			if j < 0 {
				break
			}
			m.fix(m.pool.cols[j], 1)
			fixed = []cutting.Use{{Pattern: m.pool.cols[j].Pattern, Times: 1}}
		}
		m.purge()
		uses, looked = append(uses, fixed...), false
	}
	return Plan{uses, m.wants.whole(m, uses)}, true
}

// Know takes in the patterns of a plan.
func (c *Choosing) Know(uses []cutting.Use) {
	for _, u := range uses {
		c.k.pool.add(newColumn(c.k.p, u.Pattern))
	}
}

// look prices each stock that is left once, at the duals of a solved master, or each of some.
func (c *Choosing) look(m *master, some []bool) (found int) {
	k := c.k
	duals := make([]float64, len(k.p.Items))
	for i := range duals {
		duals[i] = m.lp.Dual(i)
	}
	at := k.wholeDuals(duals, m.unit)
	for _, s := range k.pricingOrder() {
		if m.most[s] != 0 && (some == nil || some[s]) && !k.over() {
			found += k.columns(m, s, at, k.pricers[s].Price(k.ask(at, m.demand)))
		}
	}
	return found
}

// lacks says whether a solved master leaves something unmet.
func (m *master) lacks() bool {
	for i := range m.p.Items {
		if m.lp.X(i) > wholeTol {
			return true
		}
	}
	return false
}

// solve solves a master over the patterns that are known, with the sets of staves that it asks for.
func (c *Choosing) solve(m *master) bool {
	for {
		m.sync()
		before := m.lp.Work()
		status := m.lp.Solve()
		c.k.meter.Add(m.lp.Work() - before)
		if status != lp.Optimal || c.k.over() {
			return false
		}
		if m.wants.covers(m) == 0 {
			return true
		}
	}
}

// makeWhole makes the ways whole, the one nearest to a whole number first, and leaves them so.
func (c *Choosing) makeWhole(m *master) bool {
	w := m.wants
	w.tighten(m)
	for {
		if !c.solve(m) {
			return false
		}
		want, at, off := -1, 0, 1.0
		for j := range w.ways {
			for n, col := range w.columnsOf(j) {
				x := m.lp.X(col)
				if d := math.Abs(x - math.Round(x)); d > wholeTol && d < off {
					want, at, off = j, n, d
				}
			}
		}
		if want < 0 {
			break
		}
		col := w.columnsOf(want)[at]
		x, below := m.lp.X(col), math.Floor(m.lp.X(col))
		lo, hi := m.wholeBounds(col)
		if x-below < 0.5 && w.enough(m, want, at, below) {
			m.lp.SetColumn(col, lo, below)
			continue
		}
		m.lp.SetColumn(col, below+1, hi)
		w.tighten(m)
	}
	for j := range w.ways {
		for _, col := range w.columnsOf(j) {
			x := math.Round(m.lp.X(col))
			m.lp.SetColumn(col, x, x)
		}
	}
	return true
}

// columnsOf are the columns of the ways of a want, and last that of what is forgone, if any may be.
func (w *wanting) columnsOf(j int) []int {
	if w.forgone[j] < 0 {
		return w.ways[j]
	}
	return append(slices.Clip(w.ways[j]), w.forgone[j])
}

// copiesOf is how many copies of a want a use of its nth column stands for.
func (w *wanting) copiesOf(j, n int) float64 {
	if n == len(w.ways[j]) {
		return 1
	}
	return float64(w.p.Wants[j].Ways[n].Copies)
}

// wholeBounds are the bounds of a column, which are whole.
func (m *master) wholeBounds(col int) (lo, hi float64) {
	lo, hi = m.lp.Bounds(col)
	return math.Round(lo), math.Round(hi)
}

// enough says whether all copies of a want may come about with at most so many uses of its nth
// column.
func (w *wanting) enough(m *master, j, n int, most float64) bool {
	copies := most * w.copiesOf(j, n)
	for k, col := range w.columnsOf(j) {
		if k != n {
			_, hi := m.wholeBounds(col)
			copies += hi * w.copiesOf(j, k)
		}
	}
	return len(w.p.Wants[j].Covers) > 0 || copies >= float64(w.p.Wants[j].Demand)
}

// tighten leaves no column of a want more uses than may be of use beside those that are sure. Where
// pieces are left over a relaxation may use more, as they cost nothing.
func (w *wanting) tighten(m *master) {
	for j := range w.ways {
		cols, need := w.columnsOf(j), float64(w.p.Wants[j].Demand)
		for n, col := range cols {
			lo, _ := m.wholeBounds(col)
			need -= lo * w.copiesOf(j, n)
		}
		for n, col := range cols {
			lo, hi := m.wholeBounds(col)
			if most := lo + math.Ceil(max(0, need)/w.copiesOf(j, n)); most < hi {
				m.lp.SetColumn(col, lo, most)
			}
		}
	}
}

// whole is the choice of a solved master in which the ways are whole: panels are made of the staves
// that some uses give.
func (w *wanting) whole(m *master, uses []cutting.Use) []cutting.Chosen {
	have := make([]int64, len(w.p.Items))
	for i := range have {
		have[i] = -w.p.Items[i].Demand
	}
	for _, u := range uses {
		for _, pl := range u.Pattern.Places {
			have[pl.Item] += u.Times
		}
	}
	out, need := make([]cutting.Chosen, len(w.p.Wants)), make([]int64, len(w.p.Wants))
	for j := range out {
		want := &w.p.Wants[j]
		out[j].Times = make([]int64, len(want.Ways))
		need[j] = want.Demand
		for at, col := range w.ways[j] {
			n := int64(math.Round(m.lp.X(col)))
			out[j].Times[at] = n
			have[want.Ways[at].Item] -= n * want.Ways[at].Pieces
			need[j] -= n * want.Ways[at].Copies
		}
		if w.forgone[j] >= 0 {
			need[j] -= int64(math.Round(m.lp.X(w.forgone[j])))
		}
	}
	for j := range out {
		if len(w.p.Wants[j].Covers) == 0 {
			continue
		}
		var last cutting.Covered
		for some := true; need[j] > 0; need[j]-- {
			if some { // else all that are left are the same
				last, some = covers.FromThose(&w.p.Wants[j], have, w.k.meter)
			}
			out[j].Covers = append(out[j].Covers, last)
		}
		slices.SortStableFunc(out[j].Covers, func(a, b cutting.Covered) int {
			return cmp.Or(cmp.Compare(a.Cover, b.Cover), slices.Compare(a.Counts, b.Counts))
		})
	}
	return out
}

// beside is how many copies of an item may be of use beside those that it is wanted for itself.
func (w *wanting) beside(i int) int64 {
	if w == nil {
		return 0
	}
	return w.k.p.Items[i].Demand - w.p.Items[i].Demand
}

func (w *wanting) clone() *wanting {
	if w == nil {
		return nil
	}
	c := *w
	c.sets, c.limits = slices.Clone(w.sets), w.limits.Clone()
	return &c
}

package cutstock

import (
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/lp"
)

// discrepancies are the dives of a limited-discrepancy search (W. D. Harvey, M. L. Ginsberg, 1995):
// at most two times among the first four choices the second nearest column is taken instead of the
// nearest.
var discrepancies = []uint{0, 1, 2, 4, 8, 3, 5, 9, 6, 10, 12}

// divesAcross is how many of them there are where lists of patterns cannot be made.
const divesAcross = 5

// dives looks for plans under the limits of a master by limited discrepancies.
func (k *solver) dives(m *master) {
	some := discrepancies
	if !k.lists {
		some = some[:divesAcross]
	}
	for _, second := range some {
		if k.over() || k.closed() {
			return
		}
		k.dive(m, second)
	}
}

// dive fixes the columns of the relaxation one by one, most nearly whole first, generates columns
// anew for what is left after each, and so walks straight down to a plan. Only proper columns take
// part. Bit n of second says that the nth choice falls on the second nearest.
func (k *solver) dive(root *master, second uint) { k.diveBeside(root, nil, second) }

// diveBeside does so beside uses that stay as they are; the master is that of what is left.
func (k *solver) diveBeside(root *master, stay []cutting.Use, second uint) {
	m := root.clone()
	m.within = false
	m.sync()
	m.purge()
	uses := slices.Clone(stay)
	for {
		k.generate(m)
		fixed := m.fixWhole()
		if len(fixed) == 0 {
			j := m.nearest(second&1 == 1)
			if j < 0 {
				break
			}
			second >>= 1
			m.fix(m.pool.cols[j], 1)
			fixed = []cutting.Use{{Pattern: m.pool.cols[j].Pattern, Times: 1}}
		}
		m.purge()
		if uses = append(uses, fixed...); k.over() {
			break
		}
	}
	k.offer(uses)
}

// hastyDive walks down to a plan over the columns found so far, without any pricing as long as they
// reach.
func (k *solver) hastyDive(root *master) {
	m, uses := k.downColumns(root)
	k.diveBeside(m, uses, 0)
}

// quickDive does so without any pricing at all; what is left unmet is filled as it comes.
func (k *solver) quickDive(root *master) {
	_, uses := k.downColumns(root)
	k.offer(uses)
}

// downColumns fixes the columns found so far one by one, and gives what is left, and the plan.
func (k *solver) downColumns(root *master) (*master, []cutting.Use) {
	m := root.clone()
	m.within = false
	m.sync()
	m.purge()
	var uses []cutting.Use
	for !k.over() {
		m.sync()
		before := m.lp.Work()
		status := m.lp.Solve()
		if k.meter.Add(m.lp.Work() - before); status != lp.Optimal {
			break
		}
		fixed := m.fixWhole()
		if len(fixed) == 0 {
			j := m.nearest(false)
			if j < 0 {
				break
			}
			m.fix(m.pool.cols[j], 1)
			fixed = []cutting.Use{{Pattern: m.pool.cols[j].Pattern, Times: 1}}
		}
		m.purge()
		uses = append(uses, fixed...)
	}
	return m, uses
}

// fixWhole uses every column as often as the relaxation does in whole, as far as that is still
// wanted.
func (m *master) fixWhole() (uses []cutting.Use) {
	for j, c := range m.pool.cols[:m.added] {
		times := int64(0)
		for x := m.x(j); float64(times+1) <= x+wholeTol && m.proper(c); times++ {
			m.fix(c, 1)
		}
		if times > 0 {
			uses = append(uses, cutting.Use{Pattern: c.Pattern, Times: times})
		}
	}
	return uses
}

// nearest is the column most nearly used once, or the second if there is one; -1: none is used.
func (m *master) nearest(second bool) int {
	best, next := -1, -1
	for j, c := range m.pool.cols[:m.added] {
		if x := m.x(j); x > wholeTol && m.proper(c) {
			switch {
			case best < 0 || x > m.x(best):
				best, next = j, best
			case next < 0 || x > m.x(next):
				next = j
			}
		}
	}
	if second && next >= 0 {
		return next
	}
	return best
}

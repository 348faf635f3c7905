package cutstock

import (
	"math"
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/lp"
)

// combine looks for the best plan that the columns found so far can make, by branch and bound on
// that integer program, under the limits of a master: first on how many of a stock are used, then
// on single columns. It says nothing of the bound: other columns may do better. steps is how much
// work it may take.
func (k *solver) combine(root *master, steps int64) { k.combineBeside(root, nil, steps) }

// combineBeside does so beside uses that stay as they are; the master is that of what is left.
func (k *solver) combineBeside(root *master, stay []cutting.Use, steps int64) {
	cost := float64(k.p.Value(stay))
	m := k.promising(root, cost)
	if m == nil {
		return
	}
	visited := 0
	search := branchAndBound[*master]{
		program: func(m *master) (*lp.Problem, int) { return m.lp, m.added },
		// a plan that is not cheaper by a coin is of no use
		beaten: func(m *lp.Problem) bool {
			return cost+m.Value()*k.costs.unit > k.cutoff()-float64(k.coin)*(1-1e-4)
		},
		split: func(m *master) []*master { return k.split(m, stay) },
		done: func() bool {
			if visited++; visited%64 == 0 {
				k.observe(k.phase)
			}
			return k.closed()
		},
	}
	search.run(k, m, steps)
}

// cutoff is what a plan must cost less than, penalties for unmet pieces included.
func (k *solver) cutoff() float64 {
	v := float64(k.incumbent.value)
	for i, n := range k.incumbent.unmet {
		v += float64(n) * float64(k.costs.unmet[i])
	}
	return v
}

// promising makes the program of the columns whose reduced costs still allow a better plan under
// the limits of a master, beside uses of a cost.
func (k *solver) promising(root *master, beside float64) *master {
	root.sync()
	if k.solve(root.lp) != lp.Optimal {
		return nil
	}
	slack := (k.cutoff()-beside)/root.unit - root.lp.Value()
	some := &pool{seen: map[string]*column{}}
	for j, c := range root.pool.cols {
		if root.lp.ReducedCost(root.index(j)) <= slack {
			some.add(c)
		}
	}
	m := newMaster(root.p, root.costs, some)
	for s := range m.most {
		if m.least[s] != root.least[s] || m.most[s] != root.most[s] {
			m.limitStock(s, root.least[s], root.most[s])
		}
	}
	m.purge()
	return m
}

// split gives the two children of a solved node, the more likely one last; none where its solution
// is whole, which is then offered.
func (k *solver) split(m *master, stay []cutting.Use) []*master {
	children := m.children()
	if children == nil {
		k.offer(wholeUses(slices.Clone(stay), m.added, m.x, func(j int) *cutting.Pattern {
			return &m.pool.cols[j].Pattern
		}))
	}
	return children
}

// children are the two of a solved master, the more likely one last: by how many of a stock are
// used, or else by a column. Nil: all of that is whole.
func (m *master) children() []*master {
	if s, z := m.fractionalStock(); s >= 0 {
		later, first := m.clone(), m // which goes on from where its program is
		down, up := later, first
		if z-math.Floor(z) < 0.5 {
			down, up = first, later
		}
		least, most := m.least[s], m.most[s]
		down.limitStock(s, least, int64(math.Floor(z)))
		up.limitStock(s, int64(math.Ceil(z)), most)
		return []*master{later, first}
	}
	at := leastWhole(m.added, m.x)
	if at < 0 {
		return nil
	}
	x := m.x(at)
	down, up := m.clone(), m
	least, most := m.times[at][0], math.Inf(1)
	if b, ok := m.times[at]; ok {
		most = b[1]
	}
	down.limitColumn(at, least, math.Floor(x))
	up.limitColumn(at, math.Ceil(x), most)
	return []*master{down, up}
}

// fractionalStock is the stock whose use is least whole in the relaxation, and that use; -1 if all
// are whole.
func (m *master) fractionalStock() (int, float64) {
	used := m.used()
	at := leastWhole(len(used), func(s int) float64 { return used[s] })
	if at < 0 {
		return -1, 0
	}
	return at, used[at]
}

// used is how many of each stock the relaxation uses.
func (m *master) used() []float64 {
	used := make([]float64, len(m.p.Stocks))
	for j, c := range m.pool.cols[:m.added] {
		used[c.Stock] += m.x(j)
	}
	return used
}

// Integer programs over columns are solved by branch and bound, depth first: the children of a node
// stand last to first in the order in which they are tried.

// branchAndBound says what the nodes of one such search are.
type branchAndBound[N any] struct {
	program func(N) (m *lp.Problem, columns int) // the relaxation, and how many columns it has
	beaten  func(*lp.Problem) bool               // no better plan lies below the solved relaxation
	// the children of a solved node, the likeliest last
	split func(N) []N
	done  func() bool // nothing better is to be found
}

// run searches from a root until nothing is left, or so many steps are spent.
func (b *branchAndBound[N]) run(k *solver, root N, steps int64) {
	open := []N{root}
	limit := k.meter.Steps + steps
	for len(open) > 0 && k.meter.Steps < limit && !k.over() && !b.done() {
		top := open[len(open)-1]
		open = open[:len(open)-1]
		m, columns := b.program(top)
		before := m.Work()
		status := k.solve(m)
		k.meter.Add(m.Work() - before + int64(columns))
		if status == lp.Optimal && !b.beaten(m) {
			open = append(open, b.split(top)...)
		}
	}
}

// wholeTol is how near to a whole number counts as whole.
const wholeTol = 1e-6

// leastWhole is the number that is farthest from whole of n; -1 if all are whole.
func leastWhole(n int, x func(j int) float64) int {
	at, away := -1, wholeTol
	for j := range n {
		if d := math.Abs(x(j) - math.Round(x(j))); d > away {
			at, away = j, d
		}
	}
	return at
}

// wholeUses adds to uses those of n columns that a whole solution uses.
func wholeUses(uses []cutting.Use, n int, x func(j int) float64,
	pattern func(j int) *cutting.Pattern) []cutting.Use {
	for j := range n {
		if times := int64(math.Round(x(j))); times > 0 {
			uses = append(uses, cutting.Use{Pattern: *pattern(j), Times: times})
		}
	}
	return uses
}

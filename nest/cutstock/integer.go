package cutstock

import (
	"math"

	"rackwright/nest/cutting"
	"rackwright/nest/lp"
)

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

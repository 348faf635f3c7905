package cutstock

import (
	"math"

	"rackwright/nest/cutting"
	"rackwright/nest/lp"
)

// Ties. Of the plans that cost the same, the one of fewest stocks is wanted, then of those with the
// lowest sum of Rank. A second integer program finds it, over the patterns that a plan of the
// incumbent's cost may use (list.go):
//
//	min   sum over uses of (tieOfStock + Rank)
//	s.t.  the demands, the supplies, and  sum of costs <= the incumbent's
//
// by branch and bound on single patterns, as far as a small share of the work goes.

// tieOfStock is above the sum of Rank over any plan's stocks of one kind: a stock less is better
// than any ranks.
const tieOfStock = 1 << 20

// tieOf is what a plan is judged by where costs are equal.
func tieOf(p *cutting.Problem, uses []cutting.Use) int64 {
	var sum int64
	for _, u := range uses {
		sum += u.Times * (tieOfStock + p.Stocks[u.Pattern.Stock].Rank)
	}
	return sum
}

// ties looks for a plan of the same cost that is better to have.
func (k *solver) ties(root *master, steps int64) {
	if k.incumbent.short > 0 || k.rootPrices.duals == nil || !k.lists {
		return
	}
	n := k.node(root)
	if n == nil {
		return
	}
	list, ok := k.list(n, k.incumbent.value)
	if !ok {
		return
	}
	search := branchAndBound[*lp.Problem]{
		program: func(m *lp.Problem) (*lp.Problem, int) { return m, len(list) },
		beaten: func(m *lp.Problem) bool {
			return m.Value()*tieOfStock > float64(k.incumbent.tie)-0.5
		},
		split: func(m *lp.Problem) []*lp.Problem { return k.splitTie(m, list) },
		done:  func() bool { return false },
	}
	search.run(k, k.tieProgram(list), steps)
}

// splitTie gives the two children of a solved node, by the pattern whose use is least whole; none
// where all are whole: then the plan is offered.
func (k *solver) splitTie(m *lp.Problem, list []*column) []*lp.Problem {
	at := leastWhole(len(list), m.X)
	if at < 0 {
		k.offer(wholeUses(nil, len(list), m.X, func(j int) *cutting.Pattern {
			return &list[j].Pattern
		}))
		return nil
	}
	x, down := m.X(at), m.Clone()
	lo, hi := down.Bounds(at)
	down.SetColumn(at, lo, math.Floor(x))
	m.SetColumn(at, math.Ceil(x), hi)
	return []*lp.Problem{down, m}
}

func (k *solver) tieProgram(list []*column) *lp.Problem {
	p, m := k.p, lp.New()
	for i := range p.Items {
		m.AddRow(float64(p.Items[i].Demand), math.Inf(1))
	}
	for s := range p.Stocks {
		m.AddRow(0, upper(p.Stocks[s].Supply))
	}
	cost := m.AddRow(math.Inf(-1), float64(k.incumbent.value)/k.costs.unit)
	for _, e := range list {
		var rows []int
		var coefs []float64
		for n, i := range e.items {
			rows, coefs = append(rows, i), append(coefs, float64(e.counts[n]))
		}
		rows, coefs = append(rows, len(p.Items)+e.Stock, cost),
			append(coefs, 1, float64(p.Cost(&e.Pattern))/k.costs.unit)
		m.AddColumn(float64(tieOfStock+p.Stocks[e.Stock].Rank)/tieOfStock, 0, math.Inf(1), rows,
			coefs)
	}
	return m
}

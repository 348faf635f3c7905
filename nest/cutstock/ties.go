package cutstock

import (
	"cmp"
	"math"

	"rackwright/nest/cutting"
	"rackwright/nest/lp"
)

// Ties. Of the plans that cost the same, the one of fewest stocks is wanted, then the one with the
// shortest rips, then the lowest sum of Rank, then the fewest cuts. A second integer program finds
// it:
//
//	min   sum over uses of (tieOfStock + Rank), or
//	      where stocks are ripped
//	      sum over uses of (1 + length of rips / twice that of the incumbent's)
//	s.t.  the demands, the supplies, and  sum of costs <= the incumbent's
//
// by branch and bound on single patterns, as far as a small share of the work goes. The patterns
// are all that a plan of the incumbent's cost may use, where they can be listed (list.go). Else
// they are those found and the incumbent's own.

// tieOfStock is above the sum of Rank over any plan's stocks of one kind: a stock less is better
// than any ranks.
const tieOfStock = 1 << 20

// tieList is how many patterns the program for ties may have.
const tieList = 5000

// tie is what a plan is judged by where costs are equal.
type tie struct{ stocks, rips, rank, cuts int64 }

// compare is below 0 where a is the better one.
func (a tie) compare(b tie) int {
	return cmp.Or(cmp.Compare(a.stocks, b.stocks), cmp.Compare(a.rips, b.rips),
		cmp.Compare(a.rank, b.rank), cmp.Compare(a.cuts, b.cuts))
}

// tieOf is that of a plan.
func tieOf(p *cutting.Problem, uses []cutting.Use) (t tie) {
	for i := range uses {
		u := &uses[i]
		cuts, rips := p.Cuts(&u.Pattern)
		t.stocks += u.Times
		t.rips += u.Times * rips
		t.rank += u.Times * p.Stocks[u.Pattern.Stock].Rank
		t.cuts += u.Times * cuts
	}
	return t
}

// tieSearch is a search for a plan of the incumbent's cost that is better to have.
type tieSearch struct {
	*solver
	list []*column
	rips int64 // of the incumbent at the start; 0: none of the stocks can be ripped
}

// ties looks for a plan of the same cost that is better to have.
func (k *solver) ties(root *master, steps int64) {
	if k.incumbent.short > 0 || k.rootDuals == nil {
		return
	}
	t := &tieSearch{solver: k}
	if !t.find(root) {
		return
	}
	search := branchAndBound[*lp.Problem]{
		program: func(m *lp.Problem) (*lp.Problem, int) { return m, len(t.list) },
		beaten:  func(m *lp.Problem) bool { return m.Value() > t.goal() },
		split:   t.split,
		done:    func() bool { return false },
	}
	search.run(k, t.program(), steps)
}

// find lists the patterns of which a plan of the incumbent's cost may be made; false where there is
// nothing to look for.
func (t *tieSearch) find(root *master) bool {
	if t.lists {
		n := t.node(root)
		if n == nil {
			return false
		}
		l, ok := t.solver.list(n, t.incumbent.value, tieList)
		for j := 0; ok && j < l.Len(); j++ {
			t.list = append(t.list, newColumn(t.p, *l.layOut(j)))
		}
		return ok
	}
	if t.rips = t.incumbent.tie.rips; t.rips == 0 {
		return false
	}
	m := t.promising(root, 0)
	if m == nil {
		return false
	}
	for _, u := range t.incumbent.uses {
		m.pool.add(newColumn(t.p, u.Pattern))
	}
	t.list = m.pool.cols
	return true
}

// cost is what a use of a pattern counts in the program.
func (t *tieSearch) cost(e *column) float64 {
	if t.rips == 0 {
		return float64(tieOfStock+t.p.Stocks[e.Stock].Rank) / tieOfStock
	}
	return 1 + float64(e.rips)/float64(2*t.rips)
}

// goal is what a better plan comes to at most: less than the incumbent by half the least amount.
func (t *tieSearch) goal() float64 {
	now := t.incumbent.tie
	if t.rips == 0 {
		return (float64(now.stocks*tieOfStock+now.rank) - 0.5) / tieOfStock
	}
	return float64(now.stocks) + (float64(now.rips)-0.5)/float64(2*t.rips)
}

// split gives the two children of a solved node, by the pattern whose use is least whole; none
// where all are whole: then the plan is offered.
func (t *tieSearch) split(m *lp.Problem) []*lp.Problem {
	at := leastWhole(len(t.list), m.X)
	if at < 0 {
		t.offer(wholeUses(nil, len(t.list), m.X, func(j int) *cutting.Pattern {
			return &t.list[j].Pattern
		}))
		return nil
	}
	x, down := m.X(at), m.Clone()
	lo, hi := down.Bounds(at)
	down.SetColumn(at, lo, math.Floor(x))
	m.SetColumn(at, math.Ceil(x), hi)
	return []*lp.Problem{down, m}
}

func (t *tieSearch) program() *lp.Problem {
	p, m := t.p, lp.New()
	for i := range p.Items {
		m.AddRow(float64(p.Items[i].Demand), math.Inf(1))
	}
	for s := range p.Stocks {
		m.AddRow(0, upper(p.Stocks[s].Supply))
	}
	cost := m.AddRow(math.Inf(-1), float64(t.incumbent.value)/t.costs.unit)
	for _, e := range t.list {
		var rows []int
		var coefs []float64
		for n, i := range e.items {
			rows, coefs = append(rows, i), append(coefs, float64(e.counts[n]))
		}
		rows, coefs = append(rows, len(p.Items)+e.Stock, cost),
			append(coefs, 1, float64(p.Cost(&e.Pattern))/t.costs.unit)
		m.AddColumn(t.cost(e), 0, math.Inf(1), rows, coefs)
	}
	return m
}

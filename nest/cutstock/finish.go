package cutstock

import (
	"cmp"
	"math"
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/lp"
)

// Finishing a node. It takes three steps:
//
//   - list.go lists what a plan below a target may use;
//   - cuts.go adds cuts, until the relaxation over the list costs no less than the target;
//   - listproof.go proves that.
//
// The target is just above a coin less than the incumbent's cost, where the list is short enough.
// Else it is one nearer to the node's bound, and the bound is raised to it.

const (
	cutRounds   = 40
	cutsOfRound = 25 // at most, the most violated
)

// finish raises the bound of a node by a list, to the incumbent's cost if it can; better plans
// found on the way are offered in any case.
func (k *solver) finish(n *node) {
	for part := int64(1); part <= 8 && !k.over(); {
		// at relaxed + (goal - relaxed) / part
		target := k.goal() - (k.goal()-n.relaxed)/part*(part-1)
		if target <= n.claim.bound {
			return
		}
		list, ok := k.list(n, target-1)
		if !ok {
			part *= 2
			continue
		}
		before := k.incumbent.value
		f := &finisher{k: k, n: n, target: target, list: list,
			rows: baseRows(k.p, list, n.least, n.most)}
		f.fixed = len(f.rows)
		for r, row := range f.rows {
			f.active = append(f.active, row != nil &&
				(r < len(k.p.Items)+len(k.p.Stocks) || row.least > 0))
		}
		if proof, bound := f.run(); proof != nil && bound > n.claim.bound {
			n.claim = &claim{prices{duals: n.duals}, proof, bound}
		}
		if part == 1 || k.incumbent.value == before {
			return
		}
		part = 1 // with a better plan the whole list may be short enough
	}
}

type finisher struct {
	k      *solver
	n      *node
	target int64
	list   []*column
	rows   []*inequality
	active []bool // rows that the relaxation holds; the others rest
	fixed  int    // rows before the cuts
	cuts   []*Cut
}

// run adds cuts round by round; it gives a proof and what it proves, or nil where they do not reach
// the target.
func (f *finisher) run() (*ListProof, int64) {
	limit := f.k.meter.Steps + f.k.budget.cutsOfList
	for round := 0; round < cutRounds && f.k.meter.Steps < limit && !f.k.over(); round++ {
		m := f.relax()
		if m == nil {
			return nil, 0
		}
		if proof, bound := m.prove(); proof != nil {
			return proof, bound
		}
		m.dropSlack()
		cuts, rows := m.violated()
		if len(cuts) == 0 { // all whole
			if m.unmet() {
				return nil, 0
			}
			f.k.offer(m.uses())
			return m.prove()
		}
		f.cuts, f.rows = append(f.cuts, cuts...), append(f.rows, rows...)
		for range cuts {
			f.active = append(f.active, true)
		}
	}
	return nil, 0
}

// relaxation is the relaxation over a list and the active rows, solved.
type relaxation struct {
	*finisher
	lp     *lp.Problem
	unit   float64
	rowOf  []int // of each row of the linear program
	offset int   // column of the first entry; those before it leave rows unmet
}

func (f *finisher) relax() *relaxation {
	p := f.k.p
	m := &relaxation{finisher: f, lp: lp.New(), unit: f.k.costs.unit}
	for r, row := range f.rows {
		if f.active[r] {
			m.rowOf = append(m.rowOf, r)
			m.lp.AddRow(float64(row.least), math.Inf(1))
		}
	}
	dearest := int64(0)
	for i := range p.Items {
		dearest = max(dearest, f.k.costs.unmet[i])
	}
	for at, r := range m.rowOf {
		cost := dearest
		if r < len(p.Items) {
			cost = f.k.costs.unmet[r]
		}
		if f.rows[r].least > 0 {
			m.lp.AddColumn(float64(cost)/m.unit, 0, math.Inf(1), []int{at}, []float64{1})
			m.offset++
		}
	}
	for j, e := range f.list {
		var at []int
		var coefs []float64
		for n, r := range m.rowOf {
			if v := f.rows[r].coefs[j]; v != 0 {
				at, coefs = append(at, n), append(coefs, float64(v))
			}
		}
		m.lp.AddColumn(float64(e.cost)/m.unit, 0, math.Inf(1), at, coefs)
	}
	status := f.k.solve(m.lp)
	f.k.meter.Add(m.lp.Work() + int64(2*len(f.list)*len(m.rowOf)))
	if status != lp.Optimal {
		return nil
	}
	return m
}

func (m *relaxation) x(j int) float64 { return m.lp.X(m.offset + j) }

// unmet says whether the relaxation leaves rows unmet.
func (m *relaxation) unmet() bool {
	for j := range m.offset {
		if m.lp.X(j) > wholeTol {
			return true
		}
	}
	return false
}

func (m *relaxation) uses() []cutting.Use {
	return wholeUses(nil, len(m.list), m.x, func(j int) *cutting.Pattern {
		return &m.list[j].Pattern
	})
}

// dropSlack takes out of the relaxation the cuts that do not bind.
func (m *relaxation) dropSlack() {
	for at, r := range m.rowOf {
		if r >= m.fixed && m.lp.Dual(at) < 1e-9 &&
			m.lp.Activity(at) > float64(m.rows[r].least)+1e-6 {
			m.active[r] = false
		}
	}
}

// violated finds the cuts that the relaxation violates most; none where it is whole.
func (m *relaxation) violated() (cuts []*Cut, rows []*inequality) {
	type found struct {
		cut   *Cut
		row   *inequality
		depth float64
	}
	var all []found
	try := func(u []float64) {
		c := m.cutOf(u)
		if c == nil {
			return
		}
		row := roundCut(m.rows, c)
		if row == nil {
			return
		}
		left, norm := 0.0, 0.0
		for j, v := range row.coefs {
			if x := m.x(j); x > 0 {
				left += float64(v) * x
				norm += float64(v) * float64(v)
			}
		}
		same := func(f found) bool {
			return f.row.least == row.least && slices.Equal(f.row.coefs, row.coefs)
		}
		if depth := (float64(row.least) - left) / math.Sqrt(norm+1e-9); depth > 1e-3 &&
			!slices.ContainsFunc(all, same) {
			all = append(all, found{c, row, depth})
		}
	}
	part := func(v float64) bool { return math.Abs(v-math.Round(v)) > 1e-5 }
	for j := range m.list {
		if part(m.x(j)) {
			try(m.lp.ColumnMultipliers(m.offset + j))
		}
	}
	for at := range m.rowOf {
		if part(m.lp.Activity(at)) {
			try(m.lp.RowMultipliers(at))
		}
	}
	m.k.meter.Add(int64((len(all) + 1) * len(m.list) * 8))
	slices.SortStableFunc(all, func(a, b found) int { return cmp.Compare(b.depth, a.depth) })
	for _, f := range all[:min(len(all), cutsOfRound)] {
		cuts, rows = append(cuts, f.cut), append(rows, f.row)
	}
	return cuts, rows
}

// cutOf makes whole multipliers, each modulo 1, of those of a row of the basis; nil where all are
// whole.
func (m *relaxation) cutOf(u []float64) *Cut {
	for at := range u {
		if u[at] -= math.Floor(u[at]); u[at] < 1e-7 || u[at] > 1-1e-7 {
			u[at] = 0
		}
	}
	c := &Cut{Den: denominator(u)}
	for at, v := range u {
		if w := int64(math.Round(v*float64(c.Den))) % c.Den; w != 0 {
			c.Rows = append(c.Rows, RowOf{m.rowOf[at], w})
		}
	}
	if len(c.Rows) == 0 {
		return nil
	}
	return c
}

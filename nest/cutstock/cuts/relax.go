package cuts

import (
	"cmp"
	"math"
	"slices"

	"rackwright/nest/lp"
)

const (
	firstInside = 200  // patterns that the linear program begins with
	entering    = 200  // that enter it at a time, those that gain most
	mostInside  = 1500 // with which a round begins
	wholeTol    = 1e-6 // how near to a whole number counts as whole
)

// root is the node of all plans; its linear program begins with the patterns that are nearest.
func (p *Program) root() *node {
	n := &node{Program: p, list: p.List, inside: make([]bool, len(p.List)),
		lengths: []int{len(p.List)}}
	order := make([]int, len(p.List))
	for j := range order {
		order[j] = j
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(p.Near[a], p.Near[b]) })
	for _, j := range order[:min(len(order), firstInside)] {
		n.inside[j] = true
	}
	for _, r := range p.Rows {
		n.rows = append(n.rows, row{n.side(&r.Sum, r.AtMost, r.High), &origin{needed: true}})
		n.active++
	}
	return n
}

// relaxation is the relaxation over the list and the rows that do not rest, solved.
type relaxation struct {
	*node
	lp     *lp.Problem
	rowOf  []int // of each row of the linear program
	offset int   // column of the first entry; those before it leave rows unmet
	column []int // by entry its column, less offset; -1: none
	entry  []int // by column, less offset, its entry
	// rows beside these, to try: numbers by entry
	trials [][]int32

	// Whole duals, as by prove, and what they prove; nil: nothing that strikes anything off.
	pi, tau []int64
	proves  *bounded
}

// begin begins a relaxation with the patterns that are inside, and with rows to try.
func (n *node) begin(trials [][]int32) *relaxation {
	m := &relaxation{node: n, lp: lp.New(), column: make([]int, len(n.list)), trials: trials}
	m.addRows()
	for range trials {
		m.lp.AddRow(math.Inf(-1), math.Inf(1))
	}
	for j := range n.list {
		m.column[j] = -1
		if n.inside[j] {
			m.enter(j)
		}
	}
	return m
}

// relax solves the relaxation: over some patterns, then with those that gain, until none does. Nil
// where that cannot be done.
func (n *node) relax() *relaxation {
	for _, c := range n.resting {
		n.rows[c].inequality = &inequality{nil, n.rows[c].least}
	}
	n.active -= len(n.resting)
	n.resting = nil
	m := n.begin(nil)
	n.cost = make([]float64, len(n.list))
	for {
		if n.solve(m.lp) != lp.Optimal {
			return nil
		}
		gaining := m.inspect()
		if len(gaining) == 0 {
			m.thin()
			return m
		}
		for _, j := range gaining {
			m.enter(j)
		}
		if n.Over() {
			return nil
		}
	}
}

// solve solves a linear program, on the meter.
func (p *Program) solve(m *lp.Problem) lp.Status {
	before := m.Work()
	status := p.Solve(m)
	p.Meter.Add(m.Work() - before)
	return status
}

// addRows adds the rows that can bind, and for those that ask for something a column that leaves
// it unmet.
func (m *relaxation) addRows() {
	n, s := len(m.Demand), len(m.Most)
	dearest := slices.Max(m.Unmet)
	for r := range m.fixed() + len(m.rows) {
		least, ok := m.leastOf(r)
		switch {
		case !ok, r >= n+s && r < n+2*s && least == 0, r >= n+2*s && m.rows[r-n-2*s].coefs == nil:
			continue
		}
		m.rowOf = append(m.rowOf, r)
		m.lp.AddRow(float64(least), math.Inf(1))
	}
	for at, r := range m.rowOf {
		cost := dearest
		if r < n {
			cost = m.Unmet[r]
		}
		if least, _ := m.leastOf(r); least > 0 {
			m.lp.AddColumn(float64(cost)/m.Unit, 0, math.Inf(1), []int{at}, []float64{1})
			m.offset++
		}
	}
}

// coef is the number of an entry in a row.
func (m *relaxation) coef(row, j int) int64 {
	if row < m.fixed() {
		return m.base(row, m.list[j])
	}
	return int64(m.rows[row-m.fixed()].coefs[j])
}

func (m *relaxation) enter(j int) {
	var at []int
	var coefs []float64
	for n, r := range m.rowOf {
		if v := m.coef(r, j); v != 0 {
			at, coefs = append(at, n), append(coefs, float64(v))
		}
	}
	for n, row := range m.trials {
		if v := row[j]; v != 0 {
			at, coefs = append(at, len(m.rowOf)+n), append(coefs, float64(v))
		}
	}
	m.Meter.Add(int64(4 * len(m.rowOf)))
	m.inside[j] = true
	m.column[j] = len(m.entry)
	m.entry = append(m.entry, j)
	m.lp.AddColumn(float64(m.list[j].Cost)/m.Unit, 0, math.Inf(1), at, coefs)
}

// inspect works out the reduced costs of all patterns, and gives those outside that gain most.
func (m *relaxation) inspect() (gaining []int) {
	items, stocks := make([]float64, len(m.Demand)), make([]float64, len(m.Most))
	n, s := len(items), len(stocks)
	named := 0
	for j, e := range m.list {
		m.cost[j] = float64(e.Cost) / m.Unit
	}
	for at, r := range m.rowOf {
		d := m.lp.Dual(at)
		switch {
		case d == 0:
		case r < n:
			items[r] = d
		case r < n+s:
			stocks[r-n] -= d
		case r < n+2*s:
			stocks[r-n-s] += d
		default:
			named++
			for j, v := range m.rows[r-n-2*s].coefs {
				m.cost[j] -= d * float64(v)
			}
		}
	}
	const tolerance = 1e-7
	for j, e := range m.list {
		c := m.cost[j] - stocks[e.Stock]
		for at, i := range e.Items {
			c -= items[i] * float64(e.Counts[at])
		}
		m.cost[j] = c
		if m.column[j] < 0 && c < -tolerance {
			gaining = append(gaining, j)
		}
	}
	m.Meter.Add(int64(len(m.list)) * int64(8+named))
	if len(gaining) > entering {
		slices.SortFunc(gaining, m.byCost)
		gaining = gaining[:entering]
	}
	return gaining
}

// byCost compares entries by their reduced costs, then by their numbers.
func (m *relaxation) byCost(a, b int) int {
	return cmp.Or(cmp.Compare(m.cost[a], m.cost[b]), a-b)
}

// thin takes the patterns of greatest reduced cost out of the next linear program, where it has too
// many.
func (m *relaxation) thin() {
	if len(m.entry) <= mostInside {
		return
	}
	order := slices.Clone(m.entry)
	slices.SortFunc(order, m.byCost)
	for _, j := range order[mostInside/2:] {
		m.inside[j] = m.x(j) > 0
	}
}

func (m *relaxation) x(j int) float64 {
	if m.column[j] < 0 {
		return 0
	}
	return m.lp.X(m.offset + m.column[j])
}

// unmet says whether the relaxation leaves rows unmet.
func (m *relaxation) unmet() bool {
	for j := range m.offset {
		if m.lp.X(j) > wholeTol {
			return true
		}
	}
	return false
}

// rest takes out of later relaxations the cuts that do not bind.
func (m *relaxation) rest() {
	for at, r := range m.rowOf {
		if c := r - m.fixed(); c >= 0 && m.lp.Dual(at) < 1e-9 &&
			m.lp.Activity(at) > float64(m.rows[c].least)+1e-6 {
			m.resting = append(m.resting, c)
		}
	}
}

package cuts

import (
	"math"
	"slices"

	"rackwright/nest/lp"
)

// mostSearched is with how many patterns a plan is looked for.
const mostSearched = 1000

// search looks for a plan where cuts gain nothing more: by branch and bound on single patterns,
// depth first, over the last relaxation with its cuts and the patterns of least reduced cost.
func (m *relaxation) search() {
	m.widen()
	limit := m.Meter.Steps + m.Searching
	for open := []*lp.Problem{m.lp}; len(open) > 0 && m.Meter.Steps < limit && !m.Over(); {
		m.lp = open[len(open)-1]
		open = open[:len(open)-1]
		m.Meter.Add(int64(len(m.entry)))
		if m.solve(m.lp) != lp.Optimal || m.lp.Value()*m.Unit >= float64(m.Goal()) {
			continue
		}
		open = append(open, m.halves()...)
	}
}

// widen takes in the patterns of least reduced cost.
func (m *relaxation) widen() {
	var order []int
	for j := range m.list {
		if m.column[j] < 0 {
			order = append(order, j)
		}
	}
	slices.SortFunc(order, m.byCost)
	for _, j := range order[:min(len(order), max(0, mostSearched-len(m.entry)))] {
		m.enter(j)
	}
}

// halves gives the two children of a solved node, the likelier one last: none where all is whole,
// which is offered.
func (m *relaxation) halves() []*lp.Problem {
	at, away := -1, wholeTol
	for n := range m.entry {
		x := m.lp.X(m.offset + n)
		if d := math.Abs(x - math.Round(x)); d > away {
			at, away = m.offset+n, d
		}
	}
	if at < 0 {
		if !m.unmet() {
			m.Offer(m.list, m.x)
		}
		return nil
	}
	x, down, up := m.lp.X(at), m.lp.Clone(), m.lp
	lo, hi := down.Bounds(at)
	down.SetColumn(at, lo, math.Floor(x))
	up.SetColumn(at, math.Ceil(x), hi)
	m.Meter.Add(int64(8 * len(m.entry)))
	if x-math.Floor(x) < 0.5 {
		return []*lp.Problem{up, down}
	}
	return []*lp.Problem{down, up}
}

package cuts

import (
	"math"
	"slices"
)

// node is a part of the plans over the list: those that keep its rows. The root has all.
type node struct {
	*Program
	list    []*Entry  // those that are not struck off
	inside  []bool    // by entry: it is in the linear program
	cost    []float64 // by entry, its reduced cost in the last relaxation
	rows    []row     // those made above it first
	resting []int     // rows that the next relaxation goes without
	above   int       // how many rows were made above it
	level   int       // how many splits are above it
	active  int       // rows that later relaxations may have
	lengths []int     // of the list: at first, and after each strike

	struck []Struck
	best   *best // of the greatest bound so far, and that
	proven int64
	known  int64 // the most that it or one above proves

	values    []float64 // of the last relaxation, by entry; nil: it is whole, or there is none
	sum       Sum       // of the split
	atMost    int64
	low, high *node // its children, nil: none
}

// row is a row and what it was made from.
type row struct {
	*inequality
	from *origin
}

// origin is what a row was made from: a cut, or a side of a split.
type origin struct {
	cut    *Cut // nil: of a split
	needed bool // by a proof, and what it is counted there
	number int
}

// best is the duals that prove most, of so many rows after so many were struck.
type best struct {
	pi, tau      []int64
	rows, struck int
}

const (
	rounds      = 60
	roundsBelow = 2       // in a node that is not the root
	cutsOfRound = 25      // at most, the most violated
	mostNumbers = 1 << 25 // that the rows of a node may have
)

// addCuts adds cuts round by round, until the node is proven, or they gain nothing more. Then
// values are those to branch on.
func (n *node) addCuts(rounds int, limit int64) {
	stalled, last := 0, 0.0
	for round := 0; n.Meter.Steps < limit && !n.Over(); round++ {
		n.values = nil
		m := n.relax()
		if m == nil || m.prove() {
			break
		}
		if m.whole() {
			if !m.unmet() {
				n.Offer(n.list, m.x)
				m.prove()
			}
			break
		}
		m.keepValues()
		if round == rounds {
			break
		}
		better := m.better(&last, &stalled)
		var found []*Cut
		if better {
			m.rest()
			found = m.violated()
		}
		if len(found) == 0 {
			if n.level == 0 {
				m.search()
			}
			break
		}
		m.strike()
		if !n.add(found) {
			break
		}
	}
	if n.best != nil {
		n.making += n.toMake(n.best.tau)
	}
}

// toMake is what it takes to work out what some duals prove.
func (n *node) toMake(tau []int64) int64 {
	named := 8
	for _, d := range tau {
		if d > 0 {
			named++
		}
	}
	return int64(len(n.list)) * int64(named)
}

// whole says whether all uses are whole.
func (m *relaxation) whole() bool {
	return !slices.ContainsFunc(m.entry, func(j int) bool {
		x := m.x(j)
		return math.Abs(x-math.Round(x)) > fractional
	})
}

// keepValues keeps the uses of patterns to branch on.
func (m *relaxation) keepValues() {
	m.values = make([]float64, len(m.list))
	for _, j := range m.entry {
		m.values[j] = m.x(j)
	}
}

// better says whether one of the last rounds gained something.
func (m *relaxation) better(last *float64, stalled *int) bool {
	if v := m.lp.Value() * m.Unit; v > *last+float64(m.Target)*1e-6 {
		*last, *stalled = v, 0
	} else {
		*stalled++
	}
	return *stalled < stalledRounds
}

// add adds the rows of cuts; false where there are none, or they would be too many.
func (n *node) add(found []*Cut) (added bool) {
	rows := n.active
	if n.level == 0 {
		rows = len(n.rows) // the proof may need all of them
	}
	if int64(rows+len(found)+8)*int64(len(n.list)) > mostNumbers {
		return false
	}
	for _, c := range found {
		n.making += int64(len(n.list)) * int64(8+len(c.Rows))
		if made := n.round(c); made != nil {
			n.rows = append(n.rows, row{made, &origin{cut: c}})
			n.active++
			added = true
		}
	}
	return added
}

// stalledRounds is after how many rounds that gain nothing the rounds end.
const stalledRounds = 6

package cuts

import (
	"math"
	"slices"

	"rackwright/nest/lp"
)

// Branching over a list. Where cuts gain nothing more, the plans of a node are parted by a sum that
// is whole in each of them and not in the relaxation: it is at most some number, or more. Each side
// has one row more, and goes on with cuts and strikes of its own. So nothing is listed again.
//
// The node that proves least is split next: the program proves the least of all leaves. Sums are
// tried first: how far each side raises the relaxation over the patterns that are in it. The one
// that raises both sides most is taken.

// mostOpen is how many numbers the rows of all open nodes may have. Past it the newest node is
// split next, so that few are open.
const mostOpen = 1 << 25

// Deepest is how many splits of a list may lie above a node. The checker's limit is above it.
const Deepest = 100

// branch splits nodes until all prove the target or the goal, or the work is spent.
func (p *Program) branch(root *node) {
	if len(root.list) > p.Few {
		return
	}
	limit, least := p.Meter.Steps+p.Branching, int64(math.MaxInt64)
	for open := []*node{root}; len(open) > 0; {
		if p.Meter.Steps >= limit || p.making >= p.Checking || p.Over() {
			return
		}
		at := next(open)
		n := open[at]
		open = slices.Delete(open, at, at+1)
		if p.beaten(n) {
			n.forget()
			continue
		}
		switch {
		case n.known >= least: // more of it would be of no use
		case n.level < Deepest && n.split(limit):
			open = append(open, n.low, n.high)
		default: // it stays a leaf
			least = n.known
		}
	}
}

// beaten says that a node has no plan that is worth finding.
func (p *Program) beaten(n *node) bool { return n.known >= min(p.Target, p.Goal()) }

// next is which open node is split next.
func next(open []*node) int {
	size := int64(0)
	for _, n := range open {
		size += n.size()
	}
	if size > mostOpen {
		return len(open) - 1
	}
	return leastOf(open)
}

// leastOf is which of some nodes proves least.
func leastOf(open []*node) int {
	at := 0
	for k, n := range open {
		if n.known < open[at].known {
			at = k
		}
	}
	return at
}

// size is how many numbers its rows have.
func (n *node) size() int64 { return int64(n.active+8) * int64(len(n.list)) }

// split makes the children of a node; false where no sum is to be had.
func (n *node) split(limit int64) bool {
	if n.values == nil {
		return false
	}
	c, ok := n.choose()
	if !ok {
		return false
	}
	n.sum, n.atMost = c.sum, int64(math.Floor(c.value))
	n.low, n.high = n.child(false), n.child(true)
	n.forget()
	for _, child := range []*node{n.low, n.high} {
		child.addCuts(roundsBelow, limit)
		if child.known = max(child.proven, n.known); n.beaten(child) {
			child.forget()
		}
	}
	return true
}

// forget gives up what only later rounds or splits would need.
func (n *node) forget() {
	n.list, n.inside, n.cost, n.values = nil, nil, nil, nil
	for c := range n.rows {
		n.rows[c].inequality = nil
	}
}

// child is one side of a split, without cuts of its own yet.
func (n *node) child(high bool) *node {
	out := &node{Program: n.Program, list: n.list, inside: slices.Clone(n.inside),
		rows: slices.Clone(n.rows), above: len(n.rows), level: n.level + 1,
		resting: slices.Clone(n.resting), active: n.active + 1, lengths: []int{len(n.list)}}
	out.rows = append(out.rows, row{n.side(&n.sum, n.atMost, high), &origin{needed: true}})
	n.making += int64(2 * len(n.list))
	return out
}

// choose tries the candidates and takes the one that raises both sides most.
func (n *node) choose() (best candidate, ok bool) {
	all := n.candidates()
	if len(all) < 2 {
		return slices.Concat(all, []candidate{{}})[0], len(all) > 0
	}
	var trials [][]int32
	for k := range all {
		trials = append(trials, n.side(&all[k].sum, 0, true).coefs)
	}
	m := n.begin(trials)
	from := len(m.rowOf)
	if n.solve(m.lp) != lp.Optimal {
		return best, false
	}
	most, value, room := -1.0, m.lp.Value(), float64(n.Target)/n.Unit-m.lp.Value()
	gain := func(k int, lo, hi float64) float64 {
		side := m.lp.Clone()
		side.SetRow(from+k, lo, hi)
		n.Meter.Add(int64(8 * len(m.entry)))
		switch n.solve(side) {
		case lp.Optimal:
			return max(1e-6*room, min(room, side.Value()-value))
		case lp.Infeasible:
			return room
		}
		return 0
	}
	for k := range all {
		floor := math.Floor(all[k].value)
		low := gain(k, math.Inf(-1), floor)
		if v := low * gain(k, floor+1, math.Inf(1)); v > most {
			best, most = all[k], v
		}
	}
	return best, true
}

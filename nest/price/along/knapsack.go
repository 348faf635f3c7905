package along

import (
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// knapsack is a bounded knapsack over one set of items: the front of the lengths that pieces take,
// each with a kerf behind it, and of the duals that they have. No item has more copies than wanted.
type knapsack struct {
	p     *cutting.Problem
	holds []int
	items []int // longest first
	step  int64 // every size + kerf is a multiple of it
	round int   // Ask.Round of what the front was made for

	adder
	front  front
	scales scales

	listing *price.Listing // that of the tails
	tails   []*tail
	counted map[[2]int64]bool // by slope and length to keep: the work for the tails is counted
}

// newKnapsack makes one for lengths up to longest.
func newKnapsack(p *cutting.Problem, items []int, longest int64) *knapsack {
	n := &knapsack{p: p, holds: items, items: slices.Clone(items), round: -1,
		adder: adder{longest: longest + p.Kerf}}
	cutting.SortBySize(p, n.items)
	slices.Reverse(n.items)
	for _, i := range items {
		n.step = price.GCD(n.step, p.Items[i].Size+p.Kerf)
	}
	n.step = max(1, n.step)
	return n
}

// fill makes the front for one ask, once, and gives the steps beyond those of [knapsack.steps].
func (n *knapsack) fill(a *price.Ask) int64 {
	if n.round == a.Round {
		return 0
	}
	n.round = a.Round
	n.scales = scales{}
	n.front = n.adder.start(n.front)
	for _, i := range n.items {
		n.front = n.adder.add(n.front, i, a.Demand[i], n.p.Items[i].Size+n.p.Kerf, a.Duals[i])
	}
	return max(0, n.merged-n.steps())
}

// scale is the front with a slope; the empty sum does not count.
func (n *knapsack) scale(slope int64) *scale { return n.scales.get(n.front, 1, slope) }

// pieces are the items of a sum of the front, longest first.
func (n *knapsack) pieces(at int) []int {
	items := n.adder.pieces(n.front[at])
	slices.Reverse(items)
	return items
}

// finest is how many lengths are counted at most where work is counted by lengths: a finer measure
// makes hardly more work.
const finest = 1 << 13

// lengths is how many there are to count work by.
func (n *knapsack) lengths() int64 { return min(n.longest/n.step+1, finest) }

// steps are about those of one fill.
func (n *knapsack) steps() int64 { return n.lengths() * int64(2*len(n.items)) }

// tail is what some of the items can give together: those from one place in the knapsack's order
// on.
type tail struct {
	front
	scales
}

// tailsOf gives the tails for one listing, by where they begin; the last has no item.
func (n *knapsack) tailsOf(l *price.Listing) []*tail {
	if n.listing == l {
		return n.tails
	}
	n.listing, n.counted = l, map[[2]int64]bool{}
	n.tails = make([]*tail, len(n.items)+1)
	a := adder{longest: n.longest + n.step} // lengths are rounded up to steps
	f := a.start(nil)
	for m := len(n.items); ; m-- {
		n.tails[m] = &tail{slices.Clone(f), scales{}}
		if m == 0 {
			return n.tails
		}
		i := n.items[m-1]
		f = a.add(f, i, l.Ask.Demand[i], n.p.Items[i].Size+n.p.Kerf, l.Ask.Duals[i])
	}
}

// tailSteps are the steps of a table of the tails by lengths.
func (n *knapsack) tailSteps(a *price.Ask) (steps int64) {
	all := n.longest/n.step + 2
	some := min(all, finest)
	for _, i := range n.items {
		steps += some
		each := max(1, (n.p.Items[i].Size+n.p.Kerf)/n.step*some/all)
		for c := int64(1); c <= a.Demand[i] && c*each < some; c++ {
			steps += some - c*each
		}
	}
	return steps
}

package along

import (
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// knapsack is a bounded knapsack over one set of items.
//
//	T      a length that pieces take, each with a kerf behind it
//	h(T)   the greatest sum of duals of pieces that take T, no item with more copies than wanted
//
// Copies are split into batches by powers of two. Each batch is one layer of the dynamic program.
type knapsack struct {
	p     *cutting.Problem
	holds []int
	items []int   // longest first
	step  int64   // every size + kerf is a multiple of it
	h     []int64 // by T / step; -1: no set of pieces takes T
	round int     // Ask.Round of what h was made for

	batches []batch

	listing *price.Listing // that of the tails
	tails   map[tailKey][][]int64
}

// batch is a number of copies of an item, and where taking them was better.
type batch struct {
	item  int
	count int64
	took  []uint64 // a bit for each T / step
}

// newKnapsack makes one for lengths up to longest.
func newKnapsack(p *cutting.Problem, items []int, longest int64) *knapsack {
	n := &knapsack{p: p, holds: items, items: slices.Clone(items), round: -1}
	cutting.SortBySize(p, n.items)
	slices.Reverse(n.items)
	for _, i := range items {
		n.step = price.GCD(n.step, p.Items[i].Size+p.Kerf)
	}
	n.step = max(1, n.step)
	n.h = make([]int64, (longest+p.Kerf)/n.step+1)
	return n
}

// tailsOf are the tails made so far for one listing (fillings.go).
func (n *knapsack) tailsOf(l *price.Listing) map[tailKey][][]int64 {
	if n.listing != l {
		n.listing, n.tails = l, map[tailKey][][]int64{}
	}
	return n.tails
}

// fill makes h for one ask, once.
func (n *knapsack) fill(a *price.Ask) {
	if n.round == a.Round {
		return
	}
	n.round = a.Round
	for t := range n.h {
		n.h[t] = -1
	}
	n.h[0] = 0
	used := 0
	for _, i := range n.items {
		size := (n.p.Items[i].Size + n.p.Kerf) / n.step
		copies := min(a.Demand[i], int64(len(n.h)-1)/size)
		for c := int64(1); copies > 0; c *= 2 {
			c = min(c, copies)
			if used == len(n.batches) {
				n.batches = append(n.batches, batch{took: make([]uint64, len(n.h)/64+1)})
			}
			l := &n.batches[used]
			l.item, l.count = i, c
			n.put(l, int(c*size), c*a.Duals[i])
			used++
			copies -= c
		}
	}
	n.batches = n.batches[:used]
}

// put lets h take the copies of a batch, of a size in steps and a value all together.
func (n *knapsack) put(l *batch, size int, value int64) {
	clear(l.took)
	for t := len(n.h) - 1; t >= size; t-- {
		if before := n.h[t-size]; before >= 0 && before+value > n.h[t] {
			n.h[t] = before + value
			l.took[t/64] |= 1 << (t % 64)
		}
	}
}

// pieces are the items that h is made of at t = T / step, longest first.
func (n *knapsack) pieces(t int) (items []int) {
	for at := len(n.batches) - 1; at >= 0; at-- {
		l := &n.batches[at]
		if l.took[t/64]>>(t%64)&1 == 0 {
			continue
		}
		t -= int(l.count * (n.p.Items[l.item].Size + n.p.Kerf) / n.step)
		for range l.count {
			items = append(items, l.item)
		}
	}
	slices.Reverse(items)
	return items
}

// steps are about those of one fill.
func (n *knapsack) steps() int64 { return int64(len(n.h)) * int64(2*len(n.items)) }

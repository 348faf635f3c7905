package cutstock

import (
	"rackwright/nest/cutstock/cuts"
	"rackwright/nest/cutting"
)

// Finishing a node. list.go lists what a plan below a target may use. Package cuts adds cuts over
// it and branches, until nothing there costs less than the target.
//
// The target is just above a coin less than the incumbent's cost, where the list is short enough.
// Else it is one nearer to the node's bound, and the bound is raised to it.

// mostParts is how much nearer to the node's bound a target may be.
const mostParts = 8

// mostProving is how much work the proofs over lists may take together. The checker's limit is
// above it.
const mostProving = 1 << 33

// fewLeft is how many patterns may be left for branching over a list, fewLast in a node that cannot
// be split. With more each node takes long. To branch on uses and list each node anew gains more
// then, or to look for plans: measured on months 2, 7, 9 and 107 of the benchmarks.
const fewLeft, fewLast = 2_000, 20_000

// listingAgain is about what it takes to list one pattern again.
const listingAgain = 64

// finish raises the bound of a node by a list, to the incumbent's cost if it can; better plans
// found on the way are offered in any case. A list may have so many patterns.
func (k *solver) finish(n *node, most int) {
	for part := int64(1); part <= mostParts && !k.over(); {
		// at relaxed + (goal - relaxed) / part
		target := k.goal() - (k.goal()-n.relaxed)/part*(part-1)
		if target <= n.claim.bound {
			return
		}
		list, ok := k.list(n, target-1, most)
		if !ok && part == 1 && most == LongestList && target-n.relaxed < k.coin {
			list, ok = k.centralList(n, target-1, most) // it is of next to no waste
		}
		if !ok {
			part *= 2
			continue
		}
		before := k.incumbent.value
		over := k.overList(n, list, target)
		proof, bound := over.Prove()
		if proof != nil && bound > n.claim.bound && k.proving <= mostProving {
			n.claim = &claim{prices{duals: n.duals}, proof, bound}
			k.proving += int64(len(list)*listingAgain) + over.Making()
		}
		if part == 1 || k.incumbent.value == before {
			return
		}
		part = 1 // with a better plan the whole list may be short enough
	}
}

// overList is the integer program of a node over a list.
func (k *solver) overList(n *node, list []*column, target int64) *cuts.Program {
	p := &cuts.Program{Least: n.least, Most: n.most, Target: target, Unit: k.costs.unit,
		Unmet: k.costs.unmet, Steps: k.budget.cutsOfList,
		Searching: k.budget.searchOfList, Branching: k.budget.branchOfList, Few: fewLeft,
		Checking: mostProving - k.proving - int64(len(list)*listingAgain),
		Meter:    k.meter, Solve: k.solve, Over: k.over, Goal: k.goal}
	if n.last {
		p.Few = fewLast
	}
	for i := range k.p.Items {
		p.Demand = append(p.Demand, k.p.Items[i].Demand)
	}
	for j, c := range list {
		p.List = append(p.List, &cuts.Entry{Index: j, Stock: c.Stock, Cost: c.cost, Items: c.items,
			Counts: c.counts})
		excess := c.cost - min(0, k.p.Stocks[c.Stock].Cost-n.best[c.Stock])
		for at, i := range c.items {
			excess -= n.duals[i] * c.counts[at]
		}
		p.Near = append(p.Near, excess)
	}
	p.Offer = func(left []*cuts.Entry, uses func(j int) float64) {
		k.offer(wholeUses(nil, len(left), uses, func(j int) *cutting.Pattern {
			return &list[left[j].Index].Pattern
		}))
	}
	return p
}

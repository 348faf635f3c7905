package cutstock

import (
	"cmp"
	"slices"

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

// growth is about how many times longer a list is whose target is twice as far.
const growth = 6

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
	for !k.over() {
		target, l := k.farthest(n, most)
		if l == nil {
			return
		}
		before := k.incumbent.value
		k.raise(n, l, target)
		if k.incumbent.value == before {
			return
		} // with a better plan the whole list may be short enough
	}
}

// raise raises the bound of a node towards a target by the list of what plans below it may use.
func (k *solver) raise(n *node, l *list, target int64) {
	over := k.overList(n, l, target)
	if n.depth == 0 && k.listing {
		k.remember(l, over.Near)
	}
	proof, bound := over.Prove()
	if proof != nil && bound > n.claim.bound && k.proving <= mostProving {
		n.claim = &claim{n.duals, n.within, proof, bound}
		k.proving += int64(l.Len()*listingAgain) + over.Making()
	}
}

// finishLast does so in a node that cannot be split. Where the node lacks less than a coin a nearer
// target is worth nothing: there lists at central duals are tried in turn. Cuts close only some of
// them, and not always the shortest.
func (k *solver) finishLast(n *node) {
	k.finish(n, LongestList)
	target, value := k.goal(), k.incumbent.value
	if n.claim.bound >= target || target-n.bound >= k.coin {
		return
	}
	k.centralLists(n, target-1, func(at *node, l *list) bool {
		if k.raise(at, l, target); at.claim.bound > n.claim.bound {
			n.proven, n.claim = at.proven, at.claim
		}
		return n.claim.bound >= target || k.incumbent.value < value
	})
}

// farthest gives the farthest target up to the goal of which the list has no more than so many
// patterns, and that list; nil: none. Where boards can be ripped a list that is too long takes
// long: there the nearest target comes first, else the farthest. Where a list above says how long
// one is likely to be, it may be the longest, and is not begun if it is likely to be longer still.
func (k *solver) farthest(n *node, most int) (target int64, l *list) {
	for part := int64(1); !k.listing && part <= mostParts && !k.over(); part *= 2 {
		if target = k.partOf(n, part); target <= n.claim.bound {
			return target, nil
		}
		limit := most
		if n.listed.long > 0 {
			limit = LongestList
		}
		if part < mostParts && n.listed.upTo(target-n.bound) > LongestList {
			continue
		}
		l, ok := k.list(n, target-1, limit)
		if ok {
			n.listed = listed{target - n.bound, l.Len()}
		}
		if ok {
			return target, l
		}
	}
	rate := growth
	for part := int64(mostParts); k.listing && part > 0 && !k.over(); part /= 2 {
		next := k.partOf(n, part)
		if next <= n.claim.bound {
			continue
		}
		if l.Len()*rate > most {
			break
		}
		longer, ok := k.list(n, next-1, most)
		if !ok {
			break
		}
		if l != nil {
			rate = max(growth, longer.Len()/max(1, l.Len()))
		}
		target, l = next, longer
	}
	return target, l
}

// listed is a list of a node or of one above: how far its target was from the bound, and how long
// it was; of none it is zero.
type listed struct {
	far  int64
	long int
}

// upTo is about how long a list is whose target is so far; more than the longest may be any such.
func (l listed) upTo(far int64) int {
	for ; 0 < l.long && l.long <= LongestList && l.far < far/4*3; l.far *= 2 {
		l.long *= growth
	}
	return l.long
}

// partOf is a target at the bound of a node and a part of what it is short of the goal.
func (k *solver) partOf(n *node, part int64) int64 {
	return k.goal() - (k.goal()-n.bound)/part*(part-1)
}

// mostListed is how many patterns of the root's list are remembered.
const mostListed = 10_000

// remember keeps those patterns of a list that cost least beyond the duals, for part programs.
func (k *solver) remember(l *list, excess []int64) {
	order := make([]int, l.Len())
	for j := range order {
		order[j] = j
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(excess[a], excess[b]) })
	k.listed = k.listed[:0]
	for _, j := range order[:min(len(order), mostListed)] {
		k.listed = append(k.listed, newColumn(k.p, *l.layOut(j)))
	}
}

// overList is the integer program of a node over a list.
func (k *solver) overList(n *node, l *list, target int64) *cuts.Program {
	p := &cuts.Program{Least: n.least, Most: n.most, Target: target, Unit: k.costs.unit,
		Unmet: k.costs.unmet, Steps: k.budget.cutsOfList,
		Searching: k.budget.searchOfList, Branching: k.budget.branchOfList, Few: fewLeft,
		Checking: mostProving - k.proving - int64(l.Len()*listingAgain),
		Meter:    k.meter, Solve: k.solve, Over: k.over, Goal: k.goal}
	if n.last {
		p.Few = fewLast
	}
	p.Rows = n.rows(k.p)
	for i := range k.p.Items {
		p.Demand = append(p.Demand, k.p.Items[i].Demand)
	}
	p.Near = make([]int64, 0, l.Len())
	for j := range l.entries {
		e := &l.entries[j]
		p.List = append(p.List, e)
		excess := e.Cost - min(0, k.p.Stocks[e.Stock].Cost-n.best[e.Stock])
		for at, i := range e.Items {
			excess -= n.duals[i] * int64(e.Counts[at])
		}
		p.Near = append(p.Near, excess)
	}
	p.Offer = func(left []*cuts.Entry, uses func(j int) float64) {
		k.offer(wholeUses(nil, len(left), uses, func(j int) *cutting.Pattern {
			return l.layOut(left[j].Index)
		}))
	}
	return p
}

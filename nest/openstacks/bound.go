package openstacks

// least is a lower bound of the value of a component.
//
// All customers of one product are open during it. And the value of the best order is the
// pathwidth of the graph plus 1 (N. G. Kinnersley, The vertex separation number of a graph equals
// its path-width, Information Processing Letters 42 (1992) 345-350). No minor of a graph has more
// pathwidth, and each has a node with no more neighbours than that. So one node after the other
// grows together with a neighbour, and the most neighbours that the poorest node ever had, plus 1,
// is a bound. Which two grow together is a rule of thumb: the poorest node, and the neighbour with
// which it shares fewest (H. L. Bodlaender, A. M. C. A. Koster, Treewidth computations II: lower
// bounds, Information and Computation 209 (2011) 1103-1119).
func (g *graph) least(part set) (bound int) {
	near := make([]set, g.n)
	left := newSet(g.n)
	left.unite(part)
	for c := range part.all {
		bound = max(bound, g.biggest[c])
		near[c] = newSet(g.n)
		near[c].unite(g.near[c])
		near[c].remove(c)
	}
	for left.size() > bound {
		poorest := fewest(left, func(c int) int { return near[c].size() })
		bound = max(bound, near[poorest].size()+1)
		into := fewest(near[poorest], func(c int) int {
			return near[c].size() - near[c].without(near[poorest])
		})
		left.remove(poorest)
		for c := range near[poorest].all {
			near[c].remove(poorest)
			if c != into {
				near[c].add(into)
				near[into].add(c)
			}
		}
	}
	return bound
}

// fewest is the first of some customers with the least count.
func fewest(of set, count func(c int) int) (best int) {
	best = -1
	least := 0
	for c := range of.all {
		if n := count(c); best < 0 || n < least {
			best, least = c, n
		}
	}
	return best
}

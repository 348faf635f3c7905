package openstacks

import "slices"

// plan finds an order for the whole graph, and a bound that no order is below. Components follow
// each other: only the worst of them matters, so that the others are not searched to their ends.
func (g *graph) plan(newBudget func(customers int) *budget) (order []int, bound int) {
	type part struct {
		of    set
		order []int
		value int
	}
	var parts []part
	for _, of := range g.components() {
		p := part{of: of}
		p.order, p.value = g.greedy(of, newBudget(of.size()))
		bound = max(bound, g.least(of))
		parts = append(parts, p)
	}
	for i := range parts {
		p := &parts[i]
		b := newBudget(p.of.size())
		for p.value > bound {
			s := newSearch(g, p.value-1, b)
			v := s.close(p.of, newSet(g.n), newSet(g.n))
			if v == none {
				bound = p.value
			}
			if v != found {
				break
			}
			p.order, p.value = s.order, g.value(s.order)
		}
	}
	for _, p := range parts {
		order = append(order, p.order...)
	}
	return order, bound
}

// greedy starts with each customer of a component and closes next who opens fewest others; of
// these the first. The best of these orders is kept, with its value.
func (g *graph) greedy(part set, b *budget) (best []int, value int) {
	value = part.size() + 1
	for first := range part.all {
		closed, opened := newSet(g.n), newSet(g.n)
		var order []int
		most := 0
		for c := first; c >= 0 && most < value; c = g.cheapest(part, closed, opened) {
			opened.unite(g.near[c])
			most = max(most, opened.without(closed))
			closed.add(c)
			order = append(order, c)
		}
		if most < value {
			best, value = order, most
		}
		if !b.spend(len(order) * part.size() * len(part)) {
			break
		}
	}
	return best, value
}

// cheapest is the first of those that open fewest, or -1 if all are closed.
func (g *graph) cheapest(part, closed, opened set) int {
	left := slices.Clone(part)
	for c := range closed.all {
		left.remove(c)
	}
	return fewest(left, func(c int) int { return g.near[c].without(opened) })
}

// components are the customers that have to do with each other.
func (g *graph) components() (out []set) {
	seen := newSet(g.n)
	for c := range g.live.all {
		if seen.has(c) {
			continue
		}
		part := newSet(g.n)
		for todo := []int{c}; len(todo) > 0; {
			next := todo[len(todo)-1]
			todo = todo[:len(todo)-1]
			for d := range g.near[next].all {
				if !part.has(d) {
					part.add(d)
					todo = append(todo, d)
				}
			}
		}
		seen.unite(part)
		out = append(out, part)
	}
	return out
}

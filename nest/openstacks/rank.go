package openstacks

import (
	"cmp"
	"slices"
)

// byRank makes another order out of one, in which those of low rank close first where the limit
// allows it.
//
// At each step, those close that wait for no product. Else it is asked of one after the other,
// lowest rank first, whether it may be next. It may if the order at hand keeps the limit with it
// moved to the front, or if a search finds another order that does. A component of which nobody is
// open may wait until all others have closed, so that the search leaves it out.
func (g *graph) byRank(order []int, limit int, rank []int64, b *budget) (out []int) {
	parts := g.components()
	closed, opened, made := newSet(g.n), newSet(g.n), make(set, len(g.wants[0]))
	s := newSearch(g, limit, b)
	for len(order) > 0 && b.spend(len(order)*(len(closed)+len(made))) {
		for _, m := range g.wishes(order, opened, made, rank) {
			if next := s.with(m.customer, order, parts, closed, opened); next != nil {
				order = next
				break
			}
		}
		c := order[0]
		order = order[1:]
		opened.unite(g.near[c])
		made.unite(g.wants[c])
		closed.add(c)
		out = append(out, c)
	}
	return append(out, order...)
}

// wishes are customers in the sequence in which they are asked for as the next to close.
func (g *graph) wishes(order []int, opened, made set, rank []int64) (out []move) {
	waits := make([]int, g.n)
	for _, c := range order {
		waits[c] = min(1, g.wants[c].without(made))
		out = append(out, move{c, g.near[c].without(opened)})
	}
	slices.SortFunc(out, func(a, b move) int {
		c, d := a.customer, b.customer
		return cmp.Or(waits[c]-waits[d], cmp.Compare(rank[c], rank[d]), a.more-b.more, c-d)
	})
	return out
}

// with is an order of the same customers that begins with c and keeps the limit, or nil if none is
// found.
func (s *search) with(c int, order []int, parts []set, closed, opened set) []int {
	at := slices.Index(order, c)
	if at == 0 {
		return order
	}
	first := slices.Concat([]int{c}, order[:at])
	if s.budget.left <= 0 || !s.keeps(first[:1], closed, opened) {
		return nil
	}
	if s.keeps(first, closed, opened) {
		return append(first, order[at+1:]...)
	}
	closed, opened = slices.Clone(closed), slices.Clone(opened)
	opened.unite(s.near[c])
	closed.add(c)
	wanted := newSet(s.n)
	for _, p := range parts {
		if p.without(opened) < p.size() {
			wanted.unite(p)
		}
	}
	s.order = append(s.order[:0], c)
	if s.close(wanted, closed, opened) != found {
		return nil
	}
	next := slices.Clone(s.order)
	for _, d := range order {
		if !wanted.has(d) {
			next = append(next, d)
		}
	}
	return next
}

// keeps says whether customers can close in this order without going over the limit.
func (s *search) keeps(order []int, closed, opened set) bool {
	closed, opened = slices.Clone(closed), slices.Clone(opened)
	for _, c := range order {
		opened.unite(s.near[c])
		if !s.budget.spend(len(closed)) || opened.without(closed) > s.limit {
			return false
		}
		closed.add(c)
	}
	return true
}

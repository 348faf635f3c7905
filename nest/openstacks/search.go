package openstacks

import (
	"cmp"
	"encoding/binary"
	"slices"
)

// Given a limit and the set S of the closed customers, can the others close without more than the
// limit open? That hangs on S alone, so that each S is looked at once: a dynamic program over sets,
// in depth first order. Let new(c) = N(c) - N(S), and a = |N(S) - S|, those open. Closing c next
// costs a + |new(c)|.
//
//	at once    c with |new(c)| <= 1 that costs no more than the limit. Whatever closes later has
//	           with c closed at most one opened more, and one open less, which is c.
//	dominated  d, where new(c) is within new(d). After d, c would close at once; and to close c
//	           first costs no more, and opens nothing that d does not.
//
// The second rule also covers a customer all of whose products are for another one, too. Both are
// of Chu and Stuckey (graph.go).

// verdict is what a search found out.
type verdict int

const (
	none    verdict = iota // there is no way to close all within the limit
	found                  // there is
	stopped                // the budget was spent
)

// search looks for orders within one limit.
type search struct {
	*graph
	limit  int
	budget *budget
	order  []int               // closed so far, by this search
	failed map[string]struct{} // sets of closed customers from which there is no way
	key    []byte
}

func newSearch(g *graph, limit int, b *budget) *search {
	return &search{graph: g, limit: limit, budget: b, failed: map[string]struct{}{}}
}

// close closes the wanted customers, of whom those of closed are closed and those of opened open.
// If it finds a way, its steps are added to the order. The wanted ones are a whole component, or
// the whole of each that has someone open.
func (s *search) close(wanted, closed, opened set) verdict {
	closed, opened = slices.Clone(closed), slices.Clone(opened)
	before := len(s.order)
	s.atOnce(wanted, closed, opened)
	if wanted.without(closed) == 0 {
		return found
	}
	if _, known := s.failed[string(s.name(closed))]; known {
		s.order = s.order[:before]
		return none
	}
	for _, m := range s.moves(wanted, closed, opened) {
		after := slices.Clone(opened)
		after.unite(s.near[m.customer])
		closed.add(m.customer)
		s.order = append(s.order, m.customer)
		if v := s.close(wanted, closed, after); v != none {
			return v
		}
		s.order = s.order[:len(s.order)-1]
		closed.remove(m.customer)
	}
	if !s.budget.spend(1) {
		return stopped
	}
	s.failed[string(s.name(closed))] = struct{}{}
	s.order = s.order[:before]
	return none
}

// name is a set as a key.
func (s *search) name(closed set) []byte {
	s.key = s.key[:0]
	for _, w := range closed {
		s.key = binary.LittleEndian.AppendUint64(s.key, w)
	}
	return s.key
}

// atOnce closes whom it can never be wrong to close next.
func (s *search) atOnce(wanted, closed, opened set) {
	open := opened.without(closed)
	for again := true; again; {
		again = false
		for c := range wanted.all {
			if closed.has(c) {
				continue
			}
			more := s.near[c].without(opened)
			if more > 1 || open+more > s.limit {
				continue
			}
			opened.unite(s.near[c])
			closed.add(c)
			s.order = append(s.order, c)
			open += more - 1
			again = true
		}
	}
}

// move is a customer to close next, and how many that opens.
type move struct{ customer, more int }

// moves are the customers that can close next within the limit and are not dominated, those first
// that open fewest. There are none if the budget is spent.
func (s *search) moves(wanted, closed, opened set) (out []move) {
	open := opened.without(closed)
	for c := range wanted.all {
		if closed.has(c) {
			continue
		}
		if more := s.near[c].without(opened); open+more <= s.limit {
			out = append(out, move{c, more})
		}
	}
	slices.SortStableFunc(out, func(a, b move) int { return cmp.Compare(a.more, b.more) })
	kept := out[:0]
	steps := wanted.without(closed)
	for _, m := range out {
		if !slices.ContainsFunc(kept, func(k move) bool {
			return s.near[k.customer].within(s.near[m.customer], opened)
		}) {
			kept = append(kept, m)
		}
		steps += len(kept)
	}
	if !s.budget.spend(steps * len(closed)) {
		return nil
	}
	return kept
}

package cutstock

import (
	"cmp"
	"slices"

	"rackwright/nest/price"
)

// The list. Under the limits of a node, with its duals pi, its bound lb, and net_s = c_s -
// best_s(pi), a plan costs at least lb and, for each of its patterns p, the excess (c_s - w_p) -
// sum pi_i a_ip - net_s, and net_s once more where the node does not charge for that stock yet. So
// a plan that costs at most C, one unit less than the incumbent, uses only patterns with
//
//	excess + (net_s, where least_s = 0 < net_s) <= C - lb,    that is    sum pi_i a_ip + w_p >= best_s + (net_s) - (C - lb).
//
// Few patterns are so good: they are listed, each set of counts once with the most w that its
// layouts give, and finish.go solves the integer program over them. Here w is the worth, but on
// linked stocks (positions.go) the clear runs of one chain are summed as exact fractions and
// rounded down once, at the end of the chain, where a gap passes from one run to another: so no
// layout off the starts considered has more (price.go).
//
// Runs that stand alone are filled one by one, longest items first, as long as the best of what may
// follow keeps the layout on the list. On linked stocks labels (counts and worth so far) walk over
// the starts in order, under the same condition by the tables of price.go. Of two labels with the
// same counts in one stretch without a run's edge, the later one with no more worth leads to
// nothing that the other does not.

// entry is one set of counts on the list.
type entry struct {
	column
	bonus int64 // w less the worth of the layout at hand
}

const longestList = 5000

// list gives the patterns that a plan of at most a cost may use in a node; false where they are too
// many.
func (k *solver) list(n *node, cost int64) ([]*entry, bool) {
	if !k.lists {
		return nil, false
	}
	demand := make([]int64, len(k.p.Items))
	for i := range demand {
		demand[i] = k.p.Items[i].Demand
	}
	l := &price.Listing{Ask: k.ask(n.duals, demand), Most: longestList, Shared: map[any]any{}}
	slack := cost*k.scale - n.relaxed
	var out []*entry
	for s := range k.p.Stocks {
		if n.most[s] == 0 {
			continue
		}
		best := n.best[s]
		least := best - slack
		if net := k.p.Stocks[s].Cost*k.scale - best; net > 0 && n.least[s] == 0 {
			least += net
		}
		found, ok := k.pricers[s].List(l, best, least)
		if l.Most -= len(found); !ok || l.Most < 0 {
			return nil, false
		}
		out = append(out, k.entries(found)...)
	}
	return out, true
}

// entries are listed layouts as columns of a program, in an order of their own.
func (k *solver) entries(found []price.Listed) (out []*entry) {
	for _, f := range found {
		c := newColumn(k.p, f.Pattern)
		e := &entry{column: *c, bonus: f.Worth - c.Worth}
		e.cost -= e.bonus
		out = append(out, e)
	}
	slices.SortFunc(out, func(a, b *entry) int {
		return cmp.Or(slices.Compare(a.items, b.items), slices.Compare(a.counts, b.counts))
	})
	return out
}

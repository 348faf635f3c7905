package cutstock

import (
	"cmp"
	"slices"

	"rackwright/nest/price"
)

// The list: every pattern that a plan of at most a cost can use in a node.
//
//	C          that cost: one unit less than the incumbent's, or than a nearer target
//	pi, lb     the duals of the node, and the bound they prove
//	net_s      c_s - best_s(pi)
//	w_p        the most that layouts with the counts of p are worth: at least the worth of p
//	excess_p   (c_s - w_p) - sum pi_i a_ip - net_s, never below 0
//
// A plan of the node costs at least lb and the excess of each of its patterns. It costs net_s once
// more where that is above 0 and the node does not charge for stock s yet (least_s = 0). So a plan
// of at most C uses only patterns with
//
//	excess_p + (net_s) <= C - lb,   that is   sum pi_i a_ip + w_p >= best_s + (net_s) - (C - lb).
//
// Few patterns are so good. The pricers list them, each set of counts once with its w; finish.go
// solves the integer program over them.

// entry is one set of counts on the list.
type entry struct {
	column
	bonus int64 // w less the worth of the layout at hand; the column's cost goes by w
}

// LongestList is how many patterns a list may have. The checker's limit is above it.
const LongestList = 5000

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
	l := &price.Listing{Ask: k.ask(n.duals, demand), Most: LongestList}
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

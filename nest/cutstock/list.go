package cutstock

import (
	"cmp"
	"encoding/binary"
	"slices"
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

// lister lists the patterns of one node.
type lister struct {
	k     *solver
	a     *ask
	room  int // entries still allowed
	steps int64
	tails map[string][][]int64
}

const (
	longestList = 5000
	stepsOfList = 1 << 21
)

// list gives the patterns that a plan of at most a cost may use in a node; false where they are too
// many.
func (k *solver) list(n *node, cost int64) ([]*entry, bool) {
	if k.across { // there are too many ways across
		return nil, false
	}
	demand := make([]int64, len(k.p.Items))
	for i := range demand {
		demand[i] = k.p.Items[i].Demand
	}
	a := k.ask(n.duals, demand)
	slack := cost*k.scale - n.relaxed
	l := &lister{k: k, a: a, room: longestList, tails: map[string][][]int64{}}
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
		if best+l.chains(s)*k.scale < least {
			continue
		}
		found, ok := l.stock(s, least)
		k.work += 8 * l.steps
		l.steps = 0
		if !ok {
			return nil, false
		}
		out = append(out, found...)
	}
	return out, true
}

// chains is how much more than the tables of price.go say the w of a linked stock can be: chains go
// on here where there a flag is taken back, which is a unit at most for each stretch that is worth
// something.
func (l *lister) chains(s int) int64 {
	r, linked := l.k.pricers[s].(*chain)
	if !linked {
		return 0
	}
	usable, shortest := r.s.To-r.s.From, r.s.To-r.s.From
	for _, i := range r.s.Holds {
		shortest = min(shortest, l.k.p.Items[i].Size)
	}
	return min(usable/(r.s.Keep+1), usable/max(1, shortest)+int64(len(r.s.Spots))+1) + 1
}

func (l *lister) stock(s int, least int64) ([]*entry, bool) {
	var found map[string]layoutOf
	var ok bool
	if r, linked := l.k.pricers[s].(*chain); linked {
		found, ok = l.chain(r, least)
	} else {
		found, ok = l.runs(l.k.pricers[s].(*runs), least)
	}
	if !ok {
		return nil, false
	}
	var out []*entry
	for _, f := range found {
		if len(f.places) == 0 {
			continue
		}
		c := l.k.p.column(Pattern{Stock: s, Places: f.places})
		e := &entry{column: *c, bonus: f.worth - c.Worth}
		e.cost -= e.bonus
		out = append(out, e)
	}
	if l.room -= len(out); l.room < 0 {
		return nil, false
	}
	slices.SortFunc(out, func(a, b *entry) int {
		return cmp.Or(slices.Compare(a.items, b.items), slices.Compare(a.counts, b.counts))
	})
	return out, true
}

// layoutOf is a layout and its w.
type layoutOf struct {
	places []Place
	worth  int64
}

// countsKey is a key for a set of counts.
func countsKey(counts []int64) string {
	b := make([]byte, 0, 2*len(counts))
	for _, n := range counts {
		b = binary.AppendUvarint(b, uint64(n))
	}
	return string(b)
}

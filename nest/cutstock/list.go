package cutstock

import (
	"math"
	"math/rand/v2"
	"slices"

	"rackwright/nest/cutstock/cuts"
	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// The list: every pattern that a plan of at most a cost can use in a node.
//
//	C          that cost: a coin less than the incumbent's, or less than a nearer target
//	pi, lb     the duals of the node, and the bound they prove
//	net_s      c_s - best_s(pi)
//	excess_p   (c_s - v_p) - sum pi_i a_ip - net_s, never below 0
//	more_s     by how much lb rises where a board of s must be used: net_s where that is above 0
//	           and no board is asked for (limits.go)
//
// A plan of the node costs at least lb and the excess of each of its patterns, and more_s if it
// uses the stock. So a plan of at most C uses only patterns with
//
//	excess_p + more_s <= C - lb,   that is   sum pi_i a_ip + v_p >= best_s + more_s - (C - lb).
//
// Few patterns are so good. The pricers list them, each set of counts once, in the layout that is
// worth most; finish.go solves the integer program over them.

// longList is how many patterns a list may have, LongestList in a node that cannot be split. The
// checker's limit is above both.
const longList, LongestList = 100_000, 300_000

// listShare is which part of all work a list may take where boards can be ripped.
const listShare = 8

// list is what was listed of all stocks, in their order.
type list struct {
	entries []cuts.Entry
	of      []*price.List // by stock; nil: nothing
	from    []int         // by stock, its first entry
}

// Len is how many patterns are listed.
func (l *list) Len() int {
	if l == nil {
		return 0
	}
	return len(l.entries)
}

// add adds what was listed of the next stock.
func (l *list) add(p *cutting.Problem, s int, found *price.List) {
	l.of, l.from = append(l.of, found), append(l.from, len(l.entries))
	if found.Len() == 0 {
		return
	}
	l.entries = slices.Grow(l.entries, found.Len())
	var items, counts []int32
	for n, worth := range found.Worth {
		if cap(items)-len(items) < len(p.Stocks[s].Holds) { // the next ones have room of their own
			room := max(numbersAtOnce, len(p.Stocks[s].Holds))
			items, counts = make([]int32, 0, room), make([]int32, 0, room)
		}
		from := len(items)
		items, counts = found.Form.AppendTally(items, counts, found.Counts.At(n))
		l.entries = append(l.entries, cuts.Entry{Index: len(l.entries), Stock: s,
			Cost: p.Stocks[s].Cost - worth, Items: items[from:len(items):len(items)],
			Counts: counts[from:len(counts):len(counts)]})
	}
}

// numbersAtOnce is for how many numbers of entries room is made at a time.
const numbersAtOnce = 1 << 12

// layOut gives the layout of an entry.
func (l *list) layOut(j int) *cutting.Pattern {
	s := l.entries[j].Stock
	return l.of[s].LayOut(j - l.from[s])
}

// list gives the patterns that a plan of at most a cost may use in a node; false where they are
// more than so many.
func (k *solver) list(n *node, cost int64, most int) (*list, bool) {
	if !k.canList() {
		return nil, false
	}
	demand := make([]int64, len(k.p.Items))
	for i := range demand {
		demand[i] = k.p.Items[i].Demand
	}
	of := &price.Listing{Ask: k.ask(n.duals, demand), Most: most}
	slack, until := cost-n.bound, k.meter.Steps+k.opt.Work/listShare
	net := make([]int64, len(k.p.Stocks))
	for s := range net {
		net[s] = k.p.Stocks[s].Cost - n.best[s]
	}
	out := &list{}
	for s := range k.p.Stocks {
		more, can := n.more(k.p, net, s)
		if !can {
			out.add(k.p, s, nil)
			continue
		}
		least := n.best[s] - slack + more
		if of.Steps = until - k.meter.Steps; k.listing && of.Steps <= 0 {
			return nil, false
		}
		found, ok := k.pricers[s].List(of, n.any[s], least)
		if of.Most -= found.Len(); !ok || of.Most < 0 {
			return nil, false
		}
		out.add(k.p, s, found)
	}
	return out, true
}

// Central duals. A node may have many duals with the greatest bound. Those of its linear program
// are a corner of them, and a pattern that costs nothing beyond a corner is on the list: there may
// be millions. Beyond the mean of some corners it costs nothing only where it does beyond each. So
// that list is short, and the bound of the mean is no lower, as bounds are concave in the duals.
//
// Corners are those of programs whose demands are changed by a little, this way and that.
// Measured on bins to be filled to the brim: some hundred patterns in place of over 500,000.

const (
	mostCorners = 20
	nudge       = 0.05 // of a piece: by how much a demand is changed at most
	// centralShare is which part of all work they may take in a node.
	centralShare = 4
)

// centralLists lists a node up to a cost at the mean of more and more corners, where there are few
// enough patterns, until one list will do.
func (k *solver) centralLists(n *node, cost int64, willDo func(at *node, l *list) bool) {
	k.precise = true
	defer func() { k.precise = false }()
	rng := rand.New(rand.NewPCG(1, 1))
	sum := make([]float64, len(n.duals))
	until := k.meter.Steps + k.opt.Work/centralShare
	next := 2 // a list that will not do is likely to come again with a corner more
	for corners := 1; corners <= mostCorners && k.meter.Steps < until && !k.over(); corners++ {
		m := n.m.clone()
		for i, d := range m.demand {
			if corners > 1 { // the first is that of the node itself, more precisely
				m.lp.SetRow(i, float64(d)+nudge*(2*rng.Float64()-1), math.Inf(1))
			}
		}
		duals, done := k.generate(m)
		if !done {
			return
		}
		mean := make([]int64, len(sum))
		for i := range sum {
			sum[i] += float64(duals[i])
			mean[i] = int64(sum[i] / float64(corners))
		}
		if corners < next { // the list of the first was too long
			continue
		}
		at, ok := *n, false
		if at.proven, ok = k.prove(m, mean); !ok {
			return
		}
		l, ok := k.list(&at, cost, LongestList)
		switch {
		case !ok:
		case willDo(&at, l):
			return
		default:
			next = corners * 3 / 2
		}
	}
}

// Package baseline fills stocks by simple rules, without any search, to have something that a plan can be compared with.
//
// Every rule takes one piece after another and never moves it again:
//
//	first fit                 into the first open stock where it fits, in the order of opening
//	first fit, longest first  the same, the pieces sorted by size
//	best fit, longest first   into the open stock where the longest stretch left free is the shortest;
//	                          in the end each bought stock is exchanged for the cheapest one that takes its pieces
//
// Only when no open stock takes the piece is a new one opened: the shortest on hand that can give it, or else the
// cheapest per length of the others. The layouts obey all that a plan obeys: kerfs, spots, holding and supply.
package baseline

import (
	"cmp"
	"math/bits"
	"slices"

	"rackwright/nest/cutstock"
)

// Rule is a way to fill stocks.
type Rule int

// The rules.
const (
	FirstFit           Rule = iota // in list order
	FirstFitDecreasing             // longest first
	BestFitDecreasing              // longest first; bought stocks exchanged for cheaper ones in the end
)

// Rules gives all rules, the simplest first.
func Rules() []Rule { return []Rule{FirstFit, FirstFitDecreasing, BestFitDecreasing} }

func (r Rule) String() string {
	return [...]string{"first fit", "first fit, longest first", "best fit, longest first"}[r]
}

// Plan fills stocks by one rule. The list holds an item index for each copy wanted, in the order in which they were
// asked for; the demands of the problem are not looked at. onHand says for each stock whether it lies there already;
// the others are bought. Costs are at least 0.
//
// It gives one use, of one time, for each stock taken, in the order of opening, and the copies of each item
// that no stock could give. The same input gives the same plan.
func Plan(p *cutstock.Problem, onHand []bool, list []int, rule Rule) (uses []cutstock.Use, unmet []int64) {
	if rule != FirstFit {
		list = slices.Clone(list)
		slices.SortStableFunc(list, func(a, b int) int {
			x, y := &p.Items[a], &p.Items[b]
			return cmp.Or(cmp.Compare(y.Size, x.Size), cmp.Compare(x.Class, y.Class))
		})
	}
	f := &filling{p: p, onHand: onHand, order: openingOrder(p, onHand), used: make([]int64, len(p.Stocks))}
	unmet = make([]int64, len(p.Items))
	for _, i := range list {
		if !f.intoOpen(i, rule) && !f.intoNew(i) {
			unmet[i]++
		}
	}
	if rule == BestFitDecreasing {
		f.exchange()
	}
	for _, b := range f.open {
		b.Worth = p.Worth(b.Stock, b.Places)
		uses = append(uses, cutstock.Use{Pattern: *b, Times: 1})
	}
	return uses, unmet
}

// openingOrder is the order in which stocks are tried when one must be opened: on hand, the shortest first; then the
// others, the cheapest per length first, then the shortest. Stocks with no length are left out.
func openingOrder(p *cutstock.Problem, onHand []bool) []int {
	var order []int
	for s := range p.Stocks {
		if p.Stocks[s].To > p.Stocks[s].From {
			order = append(order, s)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int {
		x, y := &p.Stocks[a], &p.Stocks[b]
		lengths := cmp.Compare(x.To-x.From, y.To-y.From)
		switch {
		case onHand[a] && onHand[b]:
			return lengths
		case onHand[a]:
			return -1
		case onHand[b]:
			return 1
		}
		xHigh, xLow := bits.Mul64(uint64(x.Cost), uint64(y.To-y.From))
		yHigh, yLow := bits.Mul64(uint64(y.Cost), uint64(x.To-x.From))
		return cmp.Or(cmp.Compare(xHigh, yHigh), cmp.Compare(xLow, yLow), lengths)
	})
	return order
}

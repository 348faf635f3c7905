// Package baseline fills stocks by simple rules, without any search.
//
// Its plans are what others are compared with, and what a search starts from.
//
// Every rule takes one piece after another, alike ones together (runs.go), and never moves it
// again:
//
//	first fit                 into the first open stock where it fits, in the order of opening
//	first fit, longest first  the same, the pieces sorted by size
//	best fit, longest first   into the open stock where the longest stretch left free is the
//	                          shortest; in the end each bought stock is exchanged for the
//	                          cheapest one that takes its pieces
//
// Only when no open stock takes the piece is a new one opened. It is the shortest on hand that can
// give the piece, or else the cheapest per length of the others. The layouts obey all that a plan
// obeys: kerfs, spots, holding and supply.
//
// Where some stock has Across, each rule is followed in three ways:
//
//   - no stock is ripped, and each piece takes the whole width;
//   - stocks are crosscut into lengths first, which are ripped for pieces beside each other;
//   - stocks are ripped into strips first (shelf.go), the pieces sorted by width, then by size.
//
// Where stocks are ripped, two orders of opening are tried: the cheapest per length first, and the
// cheapest per area first. The best fit is then where least area is left. What counts is the plan
// that meets most, and of equals the cheapest.
package baseline

import (
	"cmp"
	"context"
	"math/bits"
	"slices"

	"rackwright/nest/cutting"
)

// Rule is a way to fill stocks.
type Rule int

// The rules.
const (
	FirstFit           Rule = iota // in list order
	FirstFitDecreasing             // longest first
	// longest first; bought stocks exchanged for cheaper ones in the end
	BestFitDecreasing
)

// Rules gives all rules, the simplest first.
func Rules() []Rule { return []Rule{FirstFit, FirstFitDecreasing, BestFitDecreasing} }

func (r Rule) String() string {
	return [...]string{"first fit", "first fit, longest first", "best fit, longest first"}[r]
}

// Plan fills stocks by one rule. The list holds an item index for each copy wanted, in the order in
// which the copies were asked for. The demands of the problem are not looked at. onHand says for
// each stock whether it lies there already; the others are bought. Costs are at least 0.
//
// It gives the stocks taken, in the order of opening, alike ones that follow each other as one use;
// and the copies of each item that no stock could give. The same input gives the same plan. Once
// the context has ended, the plan is completed in a hurry (runs.go): it is as whole, and not as
// good.
func Plan(ctx context.Context, p *cutting.Problem, onHand []bool, list []int,
	rule Rule) (uses []cutting.Use, unmet []int64) {
	runs := runsOf(list)
	uses, unmet = wholeWidth(ctx, p, onHand, runs, rule)
	if !slices.ContainsFunc(p.Stocks, func(s cutting.Stock) bool { return s.Rippable() }) {
		return uses, unmet
	}
	orders := [][]int{openingOrder(p, onHand, nil)}
	if byArea := openingOrder(p, onHand, stockWidths(p)); !slices.Equal(byArea, orders[0]) {
		orders = append(orders, byArea)
	}
	for _, by := range []way{byLengths, byStrips} {
		for _, order := range orders {
			if ctx.Err() != nil && sizeOf(p, unmet) == 0 {
				return uses, unmet
			}
			u, m := fill(ctx, p, onHand, runs, rule, by, order)
			if cmp.Or(cmp.Compare(sizeOf(p, m), sizeOf(p, unmet)),
				cmp.Compare(p.Value(u), p.Value(uses))) < 0 {
				uses, unmet = u, m
			}
		}
	}
	return uses, unmet
}

// openingOrder is the order in which stocks are tried when one must be opened. Those on hand come
// first, the shortest ahead. The others follow, the cheapest per length ahead (per area where
// widths are given), then the shortest. Stocks with no length are left out.
func openingOrder(p *cutting.Problem, onHand []bool, widths []int64) []int {
	extent := func(s int) uint64 {
		if widths == nil {
			return uint64(p.Stocks[s].To - p.Stocks[s].From)
		}
		return uint64(p.Stocks[s].To-p.Stocks[s].From) * uint64(widths[s])
	}
	var order []int
	for s := range p.Stocks {
		if p.Stocks[s].To > p.Stocks[s].From {
			order = append(order, s)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int {
		x, y := &p.Stocks[a], &p.Stocks[b]
		shorter := cmp.Compare(x.To-x.From, y.To-y.From)
		switch {
		case onHand[a] && onHand[b]:
			return shorter
		case onHand[a]:
			return -1
		case onHand[b]:
			return 1
		}
		xHigh, xLow := bits.Mul64(uint64(x.Cost), extent(b))
		yHigh, yLow := bits.Mul64(uint64(y.Cost), extent(a))
		return cmp.Or(cmp.Compare(xHigh, yHigh), cmp.Compare(xLow, yLow), shorter)
	})
	return order
}

// Package openstacks puts products in a sequence in which the fewest customers are open at once.
//
// Start at [Sequence]. A customer needs some products, and each product is made once. A customer is
// open from the first of these products to the last, both included. The most that are open during
// one product is the value of a sequence: the minimisation of open stacks.
//
// Decided: sequences are searched as orders in which customers close (graph.go says why), and a
// search is ended by counted work, so that the same input gives the same sequence anywhere.
package openstacks

import (
	"context"
	"slices"
)

// Result is a sequence of products.
type Result struct {
	// Blocks are all products, each once, in sequence. A block ends where a customer closes, or
	// where the sequence does. Products of one block may be permuted: Open stays a limit.
	Blocks [][]int
	// Open is the most customers that are open at once, in whatever way blocks are permuted.
	Open int
	// Exact says that no sequence has fewer open at once.
	Exact bool
}

// Order is the sequence without its blocks.
func (r Result) Order() []int { return slices.Concat(r.Blocks...) }

// Sequence finds a sequence of products with few customers open at once, where customer c needs
// product p if needs[c][p]. All rows are of one length.
//
// With up to 20 customers the sequence is exact, and mostly with up to 60. Beyond that the search
// may run out of work. Then the sequence is the best that it found, or that a simple rule gives:
// who opens fewest others closes next, from each customer as the first.
//
// At each closing, of all customers that can close next without more open at once, the one of
// lowest rank does. The rank is nil, or a number for each customer; equal ones: who opens fewest
// others, then the first. Products that nobody needs come last. Once ctx has ended, what is known
// is returned at once.
func Sequence(ctx context.Context, needs [][]bool, rank []int64) Result {
	g := newGraph(needs)
	order, bound := g.plan(func(n int) *budget { return newBudget(ctx, n, work) })
	if rank != nil && g.n > 0 {
		order = g.byRank(order, g.value(order), rank, newBudget(ctx, g.live.size(), work))
	}
	open := g.value(order)
	return Result{Blocks: blocks(needs, order), Open: open, Exact: open == bound}
}

// Open counts the most customers that are open at once in a sequence of products, straight from
// the definition. The sequence may leave products out, for which then nobody waits.
func Open(needs [][]bool, order []int) int {
	change := make([]int, len(order)+1)
	for _, row := range needs {
		needed := func(p int) bool { return row[p] }
		first := slices.IndexFunc(order, needed)
		if first < 0 {
			continue
		}
		last := first
		for i, p := range order[first:] {
			if row[p] {
				last = first + i
			}
		}
		change[first]++
		change[last+1]--
	}
	most, open := 0, 0
	for _, d := range change {
		open += d
		most = max(most, open)
	}
	return most
}

// blocks are the products as customers close in an order: what the next one still waits for is a
// block. Products that nobody needs come last, in the last block.
func blocks(needs [][]bool, order []int) (out [][]int) {
	if len(needs) == 0 {
		return nil
	}
	made := make([]bool, len(needs[0]))
	block := func(wanted func(p int) bool) (products []int) {
		for p := range made {
			if !made[p] && wanted(p) {
				made[p] = true
				products = append(products, p)
			}
		}
		return products
	}
	for _, c := range order {
		if b := block(func(p int) bool { return needs[c][p] }); b != nil {
			out = append(out, b)
		}
	}
	rest := block(func(int) bool { return true })
	if rest != nil && out == nil {
		return [][]int{rest}
	}
	if rest != nil {
		out[len(out)-1] = append(out[len(out)-1], rest...)
	}
	return out
}

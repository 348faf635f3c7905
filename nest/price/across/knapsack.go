package across

import (
	"math"

	"rackwright/nest/price"
)

// knapsack holds the best rows of things of several sizes by the total T of their sizes + kerfs,
// any number of each:
//
//	f0[T/step]  the most that a row of total T is worth
//	f1[T/step]  the same of rows with at least one thing of full size
//
// price.Never: there is no such row.
type knapsack struct {
	f0, f1         []int64
	f0UpTo, f1UpTo []int64 // the greatest of f0, f1 for all totals up to T
}

// fill computes the rows of totals up to n steps. Each size + kerf is a multiple of step.
func (h *knapsack) fill(values []pieceValue, sizes []int64, kerf, step int64, n int) {
	if len(h.f0) != n+1 {
		h.f0, h.f1 = make([]int64, n+1), make([]int64, n+1)
	}
	f0, f1 := h.f0, h.f1
	for at := range f0 {
		f0[at], f1[at] = price.Never, price.Never
	}
	f0[0] = 0
	list := undominated(values, sizes, math.MaxInt64)
	for m := range list {
		list[m].size = (list[m].size + kerf) / step
	}
	for at := 0; at <= n; at++ {
		b0, b1 := f0[at], f1[at]
		if b0 < 0 && b1 < 0 {
			continue
		}
		for m := range list {
			o := &list[m]
			to := at + int(o.size)
			if to > n {
				break
			}
			f0[to] = max(f0[to], b0+o.any)
			f1[to] = max(f1[to], b1+o.any, b0+o.full)
		}
	}
}

// table is f0 for a row that has its full-size thing elsewhere, f1 for one that has not.
func (h *knapsack) table(full bool) []int64 {
	if full {
		return h.f0
	}
	return h.f1
}

// sumUp computes the greatest values up to each total.
func (h *knapsack) sumUp() {
	h.f0UpTo, h.f1UpTo = runningMax(h.f0UpTo, h.f0), runningMax(h.f1UpTo, h.f1)
}

// runningMax gives the greatest of f up to each index, in out.
func runningMax(out, f []int64) []int64 {
	out = append(out[:0], f...)
	for n := 1; n < len(out); n++ {
		out[n] = max(out[n], out[n-1])
	}
	return out
}

// option is what a thing of one size may be worth; n is the index of the size.
type option struct {
	n    int
	size int64
	pieceValue
}

// undominated gives the options up to a size, ascending, without those that are dominated: a
// smaller one is worth as much. Values so dominated are price.Never.
func undominated(values []pieceValue, sizes []int64, longest int64) (out []option) {
	best := noPiece
	for n, v := range values {
		if sizes[n] > longest {
			break
		}
		o := option{n, sizes[n], noPiece}
		if v.any > best.any {
			o.any, best.any = v.any, v.any
		}
		if v.full > best.full {
			o.full, best.full = v.full, v.full
		}
		if o.any >= 0 || o.full >= 0 {
			out = append(out, o)
		}
	}
	return out
}

package across

import "rackwright/nest/price"

// knapsack holds the best rows of things without gaps, any number of each thing, by the total T of
// their sizes + kerfs:
//
//	f0[T/grid]  the most that a row of total T is worth
//	f1[T/grid]  the most that one is worth with a thing of full size in it
//
// price.Never: there is no such row.
type knapsack struct {
	f0, f1         []int64
	f0UpTo, f1UpTo []int64 // the greatest of f0, f1 for all totals up to T
}

// compute computes the rows of things of a list, of totals up to n x grid. Each size + kerf is a
// multiple of grid.
func (h *knapsack) compute(list []option, kerf, grid int64, n int) {
	if len(h.f0) != n+1 {
		h.f0, h.f1 = make([]int64, n+1), make([]int64, n+1)
	}
	f0, f1 := h.f0, h.f1
	for at := range f0 {
		f0[at], f1[at] = price.Never, price.Never
	}
	f0[0] = 0
	for m := range list {
		list[m].size = (list[m].size + kerf) / grid
	}
	for at := 0; at <= n; at++ {
		b0, b1 := f0[at], f1[at]
		if price.None(b0) && price.None(b1) {
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

// sumUp computes f0UpTo and f1UpTo.
func (h *knapsack) sumUp() {
	h.f0UpTo, h.f1UpTo = runningMax(h.f0UpTo, h.f0), runningMax(h.f1UpTo, h.f1)
}

// runningMax gives, in out, by index the greatest of f up to there.
func runningMax(out, f []int64) []int64 {
	out = append(out[:0], f...)
	for n := 1; n < len(out); n++ {
		out[n] = max(out[n], out[n-1])
	}
	return out
}

// option is a thing of one size and the most that it may be worth.
type option struct {
	n    int // the index of the size
	size int64
	pieceValue
}

// options are all things that have a value.
func options(values []pieceValue, sizes []int64) (out []option) {
	for n, v := range values {
		if !price.None(v.any) {
			out = append(out, option{n, sizes[n], v})
		}
	}
	return out
}

// undominated gives the options up to a size, ascending. A value is price.Never if it is dominated:
// a smaller thing is worth as much. An option without a value is left out.
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
		if !price.None(o.any) || !price.None(o.full) {
			out = append(out, o)
		}
	}
	return out
}

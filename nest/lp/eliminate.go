package lp

import "math"

// elimination is the active part while factorising: columns with numbers, rows with the numbers of
// their columns only, and both chained by how many entries they have.
type elimination struct {
	cols    [][]entry
	rows    [][]int32
	byCol   chains
	byRow   chains
	spot    []int32 // row -> 1 + its place in the column at hand
	rowOf   []int32
	pivoted []bool
}

// chains links the numbers 0 to m-1 by count; a count of 0 is in no chain.
type chains struct {
	head, next, prev, count []int32
}

func (c *chains) reset(m int) {
	if len(c.head) != m+2 {
		c.head, c.next, c.prev, c.count = make([]int32, m+2), make([]int32, m), make([]int32, m),
			make([]int32, m)
	}
	clear(c.count)
	for i := range c.head {
		c.head[i] = -1
	}
}

// set moves k to the chain of count n.
func (c *chains) set(k int32, n int) {
	old := c.count[k]
	if int(old) == n {
		return
	}
	if old > 0 {
		if p := c.prev[k]; p >= 0 {
			c.next[p] = c.next[k]
		} else {
			c.head[old] = c.next[k]
		}
		if s := c.next[k]; s >= 0 {
			c.prev[s] = c.prev[k]
		}
	}
	c.count[k] = int32(n)
	if n > 0 {
		h := c.head[n]
		c.next[k], c.prev[k], c.head[n] = h, -1, k
		if h >= 0 {
			c.prev[h] = k
		}
	}
}

// start empties everything for m rows; the caller then fills e.cols.
func (f *factor) start(m int) {
	e := &f.space
	if len(e.cols) != m {
		e.cols, e.rows = make([][]entry, m), make([][]int32, m)
		e.spot, e.rowOf, e.pivoted = make([]int32, m), make([]int32, m), make([]bool, m)
	}
	if f.triangles == nil || f.shared {
		f.triangles, f.shared = &triangles{diag: make([]float64, m)}, false
	}
	for i := range e.cols {
		e.cols[i], e.rows[i] = e.cols[i][:0], e.rows[i][:0]
		e.rowOf[i], e.pivoted[i] = -1, false
	}
	e.byCol.reset(m)
	e.byRow.reset(m)
	f.order = f.order[:0]
	f.lcol.reset(m)
	f.urow.reset(m)
}

// factorise factors the columns in f.space.cols. It returns each column's pivot row, -1 for a
// dependent column.
func (f *factor) factorise() []int32 {
	e := &f.space
	for k, col := range e.cols {
		for _, a := range col {
			e.rows[a.at] = append(e.rows[a.at], int32(k))
		}
	}
	// Chained backwards, so that ties go to the lowest number.
	for k := len(e.cols) - 1; k >= 0; k-- {
		e.byCol.set(int32(k), len(e.cols[k]))
		e.byRow.set(int32(k), len(e.rows[k]))
	}
	for {
		p, q := f.choose()
		if q < 0 {
			break
		}
		f.eliminate(p, q)
	}
	f.finish(e.rowOf, e.pivoted)
	return e.rowOf
}

// choose finds the next pivot; q is -1 if none is left.
func (f *factor) choose() (p, q int32) {
	e := &f.space
	for k := e.byCol.head[1]; k >= 0; k = e.byCol.head[1] {
		if a := e.cols[k][0]; math.Abs(a.val) > luSingular {
			return a.at, k
		}
		e.byCol.set(k, 0)
	}
	for i := e.byRow.head[1]; i >= 0; i = e.byRow.next[i] {
		k := e.rows[i][0]
		if math.Abs(find(e.cols[k], i)) > luSingular {
			return i, k // alone in its row: nothing to subtract, so any size is stable
		}
	}
	p, q = -1, -1
	best, seen := math.MaxInt, 0
	for n := 2; n < len(e.byCol.head); n++ {
		if best <= (n-1)*(n-1) {
			return p, q
		}
		for k := e.byCol.head[n]; k >= 0; k = e.byCol.next[k] {
			max := largest(e.cols[k])
			f.work += int64(n)
			if max <= luSingular {
				continue
			}
			for _, a := range e.cols[k] {
				fill := (n - 1) * int(e.byRow.count[a.at]-1)
				if fill < best && math.Abs(a.val) >= luThreshold*max {
					best, p, q = fill, a.at, k
				}
			}
			if seen++; seen >= luSearch && q >= 0 {
				return p, q
			}
		}
		for i := e.byRow.head[n]; i >= 0; i = e.byRow.next[i] {
			f.work += int64(n)
			for _, k := range e.rows[i] {
				fill := (n - 1) * int(e.byCol.count[k]-1)
				if fill >= best {
					continue
				}
				max := largest(e.cols[k])
				if a := math.Abs(find(e.cols[k], i)); a > luSingular && a >= luThreshold*max {
					best, p, q = fill, i, k
				}
			}
			if seen++; seen >= luSearch && q >= 0 {
				return p, q
			}
		}
	}
	return p, q
}

// eliminate takes pivot (p, q) out of the active part.
func (f *factor) eliminate(p, q int32) {
	e := &f.space
	e.byCol.set(q, 0)
	e.byRow.set(p, 0)
	e.rowOf[q], e.pivoted[p] = p, true
	f.order = append(f.order, p)
	pivot := find(e.cols[q], p)
	f.diag[p] = pivot
	f.lcol.from[p] = int32(len(f.lcol.entries))
	for _, a := range e.cols[q] {
		if a.at != p {
			f.lcol.entries = append(f.lcol.entries, entry{a.at, a.val / pivot})
			e.rows[a.at] = without(e.rows[a.at], q)
		}
	}
	f.lcol.to[p] = int32(len(f.lcol.entries))
	multipliers := f.lcol.of(p)

	f.urow.from[p] = int32(len(f.urow.entries))
	for _, k := range e.rows[p] {
		if k == q {
			continue
		}
		col := e.cols[k]
		for n, a := range col {
			if a.at == p {
				f.urow.entries = append(f.urow.entries, entry{k, a.val})
				col[n] = col[len(col)-1]
				e.cols[k] = col[:len(col)-1]
				if len(multipliers) > 0 {
					e.subtract(k, a.val, multipliers)
				}
				break
			}
		}
		e.byCol.set(k, len(e.cols[k]))
		f.work += int64(len(e.cols[k]) + len(multipliers))
	}
	f.urow.to[p] = int32(len(f.urow.entries))
	for _, a := range multipliers {
		e.byRow.set(a.at, len(e.rows[a.at]))
	}
	e.cols[q], e.rows[p] = e.cols[q][:0], e.rows[p][:0]
}

// subtract takes u times the multipliers from column k.
func (e *elimination) subtract(k int32, u float64, multipliers []entry) {
	col := e.cols[k]
	for n, a := range col {
		e.spot[a.at] = int32(n + 1)
	}
	for _, l := range multipliers {
		if n := e.spot[l.at]; n > 0 {
			col[n-1].val -= u * l.val
		} else {
			col = append(col, entry{l.at, -u * l.val})
			e.rows[l.at] = append(e.rows[l.at], k)
		}
	}
	kept := col[:0]
	for _, a := range col {
		e.spot[a.at] = 0
		if math.Abs(a.val) > luDrop {
			kept = append(kept, a)
		} else {
			e.rows[a.at] = without(e.rows[a.at], k)
		}
	}
	e.cols[k] = kept
}

// find gives the number in row i of a column.
func find(col []entry, i int32) float64 {
	for _, a := range col {
		if a.at == i {
			return a.val
		}
	}
	return 0
}

// without removes k from a list whose order does not matter.
func without(list []int32, k int32) []int32 {
	for n, v := range list {
		if v == k {
			list[n] = list[len(list)-1]
			return list[:len(list)-1]
		}
	}
	return list
}

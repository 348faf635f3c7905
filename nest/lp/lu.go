package lp

import (
	"math"
	"slices"
)

// Factors of the basis.
//
// With rows and columns permuted, B = L U. Each step takes a pivot (row p, column q) out of the
// active part, stores
//
//	L column p:  l_i = a_iq / a_pq   (rows still active)
//	U row p:     a_pk                (columns still active)
//
// and subtracts l_i a_pk from every a_ik left. The pivot minimises (row count - 1)(column count -
// 1), the fill it may cause (Markowitz 1957, from memory). The pivot is sought over few short rows
// and columns. Only entries of at least luThreshold times the largest of their column count, so
// that no multiplier is large. Columns of the basis take the number of their pivot row, so both
// triangular solves work in place. L and U are kept by rows and by columns: every solve skips
// zeros.
//
// Let column r be exchanged for one with B^-1 a = alpha. That multiplies B by an elementary matrix
// (product form of the inverse, Dantzig & Orchard-Hays 1954, from memory). (r, alpha) is put on a
// file that each solve runs through.

// Tolerances of the factors.
const (
	luThreshold = 0.1   // stability against sparsity; 0.1 is customary
	luSingular  = 1e-9  // a column with nothing larger left depends on the others
	luDrop      = 1e-14 // a cancelled entry: rounding of numbers near 1
	luSearch    = 4     // rows and columns looked at for a pivot (Zlatev: few suffice, from memory)
	// exchanges before factorising afresh: about where solves and factoring cost alike
	maxUpdates = 64
)

// entry is a number in a sparse row or column.
type entry struct {
	at  int32
	val float64
}

// packed is a set of sparse vectors, one a row number.
type packed struct {
	from, to []int32
	entries  []entry
}

func (s *packed) of(i int32) []entry { return s.entries[s.from[i]:s.to[i]] }

func (s *packed) reset(m int) {
	if len(s.from) != m {
		s.from, s.to = make([]int32, m), make([]int32, m)
	}
	s.entries = s.entries[:0]
	clear(s.from)
	clear(s.to)
}

// transpose makes s the transpose of t.
func (s *packed) transpose(t *packed) {
	s.reset(len(t.from))
	for i := range t.from {
		for _, e := range t.of(int32(i)) {
			s.to[e.at]++
		}
	}
	sum := int32(0)
	for i, n := range s.to {
		s.from[i], s.to[i] = sum, sum
		sum += n
	}
	if cap(s.entries) < int(sum) {
		s.entries = make([]entry, sum, sum+sum/2)
	}
	s.entries = s.entries[:sum]
	for i := range t.from {
		for _, e := range t.of(int32(i)) {
			s.entries[s.to[e.at]] = entry{int32(i), e.val}
			s.to[e.at]++
		}
	}
}

// triangles are L and U. They stay as they are once made, so that clones share them.
type triangles struct {
	order                  []int32 // rows in order of their pivots
	diag                   []float64
	lcol, lrow, ucol, urow packed
	// rows with a column in L, in order of pivots; with a row in L, in reverse
	lcols, lrows []int32
}

// factor holds L, U and the file of exchanges.
type factor struct {
	*triangles
	shared bool // with a clone: not to be written over

	exchanged []int32 // pivot row of each exchange
	pivots    []float64
	ends      []int32 // of each exchange in etas
	etas      []entry

	work  int64
	space elimination
}

func (f *factor) updates() int { return len(f.exchanged) }

// share returns factors that go on from the same triangles.
func (f *factor) share() factor {
	f.shared = true
	return factor{triangles: f.triangles, shared: true, work: f.work,
		exchanged: slices.Clone(f.exchanged), pivots: slices.Clone(f.pivots),
		ends: slices.Clone(f.ends), etas: slices.Clone(f.etas)}
}

// take takes v times a row or column from x, and gives how many numbers it has.
func take(x []float64, from []entry, v float64) int {
	for _, e := range from {
		x[e.at] -= e.val * v
	}
	return len(from)
}

// solve overwrites x, by rows, with B^-1 x, by basis position.
func (f *factor) solve(x []float64) {
	touched := len(f.order) + len(f.exchanged)
	for _, r := range f.lcols {
		if v := x[r]; v != 0 {
			touched += take(x, f.lcol.of(r), v)
		}
	}
	for t := len(f.order) - 1; t >= 0; t-- {
		r := f.order[t]
		if v := x[r]; v != 0 {
			v /= f.diag[r]
			x[r] = v
			touched += take(x, f.ucol.of(r), v)
		}
	}
	from := int32(0)
	for k, r := range f.exchanged {
		end := f.ends[k]
		if v := x[r]; v != 0 {
			v /= f.pivots[k]
			x[r] = v
			touched += take(x, f.etas[from:end], v)
		}
		from = end
	}
	f.work += int64(touched)
}

// solveTransposed overwrites y, by basis position, with B^-T y, by rows.
func (f *factor) solveTransposed(y []float64) {
	touched := len(f.order) + len(f.etas)
	for k := len(f.exchanged) - 1; k >= 0; k-- {
		from := int32(0)
		if k > 0 {
			from = f.ends[k-1]
		}
		r := f.exchanged[k]
		y[r] = less(y[r], f.etas[from:f.ends[k]], y) / f.pivots[k]
	}
	for _, r := range f.order {
		if v := y[r]; v != 0 {
			v /= f.diag[r]
			y[r] = v
			touched += take(y, f.urow.of(r), v)
		}
	}
	for _, r := range f.lrows {
		if v := y[r]; v != 0 {
			touched += take(y, f.lrow.of(r), v)
		}
	}
	f.work += int64(touched)
}

// exchange notes that position r now holds the column whose B^-1 a is alpha, nonzero at nz.
func (f *factor) exchange(r int32, alpha []float64, nz []int32) {
	for _, i := range nz {
		if i != r {
			f.etas = append(f.etas, entry{i, alpha[i]})
		}
	}
	f.exchanged = append(f.exchanged, r)
	f.pivots = append(f.pivots, alpha[r])
	f.ends = append(f.ends, int32(len(f.etas)))
}

// overgrown tells that running through the file costs more than factorising pays for.
func (f *factor) overgrown() bool {
	return f.updates() >= maxUpdates ||
		len(f.etas) > 3*(len(f.lcol.entries)+len(f.ucol.entries)+4*len(f.order))
}

// finish turns what elimination left into the form that solves need. rowOf gives each column's
// pivot row, -1 where the column was found dependent; rows without a pivot get a unit column -e
// instead.
func (f *factor) finish(rowOf []int32, pivoted []bool) {
	for i, done := range pivoted {
		if !done {
			f.order = append(f.order, int32(i))
			f.diag[i] = -1
		}
	}
	for i := range f.urow.from {
		row := f.urow.of(int32(i))
		kept := row[:0]
		for _, e := range row {
			if r := rowOf[e.at]; r >= 0 {
				kept = append(kept, entry{r, e.val})
			}
		}
		f.urow.to[i] = f.urow.from[i] + int32(len(kept))
	}
	f.ucol.transpose(&f.urow)
	f.lrow.transpose(&f.lcol)
	f.lcols, f.lrows = f.lcols[:0], f.lrows[:0]
	for t, r := range f.order {
		if len(f.lcol.of(r)) > 0 {
			f.lcols = append(f.lcols, r)
		}
		if back := f.order[len(f.order)-1-t]; len(f.lrow.of(back)) > 0 {
			f.lrows = append(f.lrows, back)
		}
	}
	f.exchanged, f.pivots, f.ends, f.etas = f.exchanged[:0], f.pivots[:0], f.ends[:0], f.etas[:0]
	f.work += int64(2*len(f.lcol.entries) + 3*len(f.ucol.entries) + 2*len(f.order))
}

// largest gives the largest magnitude in a column.
func largest(col []entry) float64 {
	max := 0.0
	for _, e := range col {
		max = math.Max(max, math.Abs(e.val))
	}
	return max
}

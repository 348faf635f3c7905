package across

import (
	"iter"
	"slices"
)

// The worth u(s,t) of a gap [s,t) along a board, as rowalong.go needs it. It is a sum over bands:
// lines of the width that are clear in the same runs. The edges of all defects cut [S,U) into
// cells. With s in cell i and t in cell j the worth comes apart:
//
//	u(s,t) = alpha(s) + beta(t)
//
//	a run that holds cell i and ends before cell j     max(0, end - s - keep)       alpha
//	a run between the two cells                        does not change              beta
//	a run that begins after cell i and holds cell j    max(0, t - start - keep)     beta
//	a run that holds both cells                        t - s - keep                 both
//
// So the best t in cell j is the same for every s in cell i. Within one cell it is the best of
// those t behind s. From one j to the next, alpha changes only by the runs of cell i that end
// between them. U is a cell of its own. beta never falls along a cell, so only those t matter after
// which F(t+k) falls.
//
// The last line should be no less than 0. Where it is below 0, no run in the gap is longer than
// keep, so all other lines are 0 and the gap is worth 0. The sum is then too low, which does no
// harm: a gap of no worth is reckoned with besides.

// band is lines of the width that are clear in the same runs.
type band struct {
	worth int64 // of each length unit beyond keep in a run, in all lines together
	clear []gridSpan
}

// gridSpan is [from, to) on the grid.
type gridSpan struct{ from, to int }

// outside gives the stretches of [0, n) that none of the spans covers; spans are sorted by start.
func outside(spans []gridSpan, n int) iter.Seq[gridSpan] {
	return func(yield func(gridSpan) bool) {
		at := 0
		for _, s := range spans {
			if s.from > at && at < n && !yield(gridSpan{at, min(s.from, n)}) {
				return
			}
			at = max(at, s.to)
		}
		if at < n {
			yield(gridSpan{at, n})
		}
	}
}

// bend is where a run of a band starts, and what it is worth.
type bend struct {
	at    int64 // length units from S
	worth int64
}

// cellPair is how the worth of a gap from cell i into cell j comes apart.
type cellPair struct {
	right []bend        // the runs that begin after cell i and hold cell j
	ends  int64         // worth of the runs that hold cell i and end where cell j begins
	both  int64         // worth of the runs that hold both cells
	fixed int64         // worth of the runs between
	most  [layers]int64 // of beta(t) + F(t+k) in cell j
	then  [layers]int32 // the place t + k of it
}

// beyondKeep is what a run gives beyond keep, in length units.
func beyondKeep(run, keep int64) int64 { return max(0, run-keep) }

// takeApart sets the cells, and takes apart what gaps between them are worth.
func (r *rowAlong) takeApart(bands []band) {
	r.edges = append(r.edges[:0], 0, r.n)
	for _, b := range bands {
		for _, c := range b.clear {
			r.edges = append(r.edges, c.from, c.to)
		}
	}
	slices.Sort(r.edges)
	r.edges = slices.Compact(r.edges)
	cells := len(r.edges) - 1
	r.pairs, r.own, r.bends = make([][]cellPair, cells), make([]int64, cells), r.bends[:0]
	for i := range cells {
		r.pairs[i] = make([]cellPair, cells-i)
		for j := i + 1; j <= cells; j++ {
			r.pairs[i][j-i-1] = r.pairOf(bands, i, j)
		}
		for _, b := range bands {
			for _, c := range b.clear {
				if c.from <= r.edges[i] && r.edges[i+1] <= c.to {
					r.own[i] += b.worth
				}
			}
		}
	}
}

// pairOf takes apart the worth of gaps from cell i into cell j. Where j is the number of cells, t
// is U.
func (r *rowAlong) pairOf(bands []band, i, j int) cellPair {
	var p cellPair
	end, from := r.edges[j], len(r.bends) // end: of what is passed for sure
	for _, b := range bands {
		for _, c := range b.clear {
			here, there := c.from <= r.edges[i] && c.to >= r.edges[i+1], c.from <= end && c.to > end
			switch {
			case here && there:
				p.both += b.worth
			case here:
				if c.to == end {
					p.ends += b.worth
				}
			case c.from >= r.edges[i+1] && c.to <= end:
				p.fixed += b.worth * beyondKeep(int64(c.to-c.from)*r.grid, r.keep)
			case c.from >= r.edges[i+1] && there:
				r.addBend(from, bend{int64(c.from) * r.grid, b.worth})
			}
		}
	}
	p.right = r.bends[from:len(r.bends):len(r.bends)]
	return p
}

// addBend adds a bend to those from an index on, of which no two start at one place.
func (r *rowAlong) addBend(from int, b bend) {
	for k := from; k < len(r.bends); k++ {
		if r.bends[k].at == b.at {
			r.bends[k].worth += b.worth
			return
		}
	}
	r.bends = append(r.bends, b)
}

// beta is beta(t), with what hangs on t of the runs that hold both cells.
func (p *cellPair) beta(t, keep int64) int64 {
	v := p.fixed + p.both*(t-keep)
	for _, b := range p.right {
		v += b.worth * beyondKeep(t-b.at, keep)
	}
	return v
}

// closeCell finds the best t of a cell for the cells before it.
func (r *rowAlong) closeCell(cell int) {
	for i := range cell {
		p := &r.pairs[i][cell-i-1]
		p.most = nothing
		if cell == len(r.edges)-1 { // U
			p.most[0], p.then[0] = p.beta(int64(r.n)*r.grid, r.keep), int32(r.places.n)
		}
	}
	if cell == len(r.edges)-1 {
		return
	}
	first, end := r.places.within(r.edges[cell]+r.kerf, min(r.edges[cell+1]-1+r.kerf, r.n-1))
	for layer := range r.layers {
		f := r.f[layer]
		for n := first; n < end; n++ {
			v := f[n]
			if v <= impossible || n+1 < end && v == f[n+1] {
				continue
			}
			t := int64(int(r.places.at[n])-r.kerf) * r.grid
			for i := range cell {
				p := &r.pairs[i][cell-i-1]
				if b := p.beta(t, r.keep) + v; b > p.most[layer] {
					p.most[layer], p.then[layer] = b, int32(n)
				}
			}
		}
	}
}

package across

import "slices"

// What a gap [s,t) along a rippable board is worth is a sum over bands: those lines of the width
// that are clear in the same runs, by how many they are. The edges of all defects cut [S,U) into
// cells. With s in cell i and t in cell j it is alpha(s) + beta(t):
//
//	a run that holds cell i and ends before cell j   (end - s - keep)+
//	a run between them                               constant
//	a run that begins after cell i and holds cell j  (t - start - keep)+
//	a run that holds both                            t - s - keep
//
// The last should be no less than 0. But where it is below 0 no run in the gap is longer than keep,
// so that all the others are 0 and the gap is worth 0: the sum is then too low, and a gap of no
// worth is reckoned with besides. So the best t in cell j is the same for every s in cell i; within
// a cell it is the best of those t behind s. From one j to the next alpha changes only by the runs
// of cell i that end between them. U is a cell of its own.
//
// beta never falls along a cell, so only those t matter after which F(t+k) falls.

// band is lines of the width that are clear in the same runs; what each length unit beyond keep in
// a run is worth in all of them together.
type band struct {
	worth int64
	clear []gridSpan
}

// gridSpan is [from, to) on the grid.
type gridSpan struct{ from, to int }

// bend is where a run of a band starts, and what it is worth.
type bend struct {
	at    int64 // length units from S
	worth int64
}

// apart is how the worth of a gap from cell i into cell j comes apart.
type apart struct {
	right []bend
	ends  int64 // worth of the runs that hold cell i and end where cell j begins
	both  int64 // worth of the runs that hold both cells
	fixed int64
	most  [layers]int64 // of beta(t) + F(t+k) in cell j
	at    [layers]int32
}

// over is what a run gives beyond keep, in length units.
func over(run, keep int64) int64 { return max(0, run-keep) }

// takeApart sets the cells and what gaps between them are worth.
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
	r.pairs, r.own = make([][]apart, cells), make([]int64, cells)
	for i := range cells {
		r.pairs[i] = make([]apart, cells-i)
		for j := i + 1; j <= cells; j++ {
			r.pairs[i][j-i-1] = r.part(bands, i, j)
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

// part takes the worth of gaps from cell i into cell j apart; where j is the number of cells, t is
// U.
func (r *rowAlong) part(bands []band, i, j int) apart {
	var p apart
	end := r.edges[j] // of what is passed for sure
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
				p.fixed += b.worth * over(int64(c.to-c.from)*r.grid, r.keep)
			case c.from >= r.edges[i+1] && there:
				p.right = append(p.right, bend{int64(c.from) * r.grid, b.worth})
			}
		}
	}
	return p
}

// beta is what a gap that ends at t has of the rest.
func (p *apart) beta(t, keep int64) int64 {
	v := p.fixed + p.both*(t-keep)
	for _, b := range p.right {
		v += b.worth * over(t-b.at, keep)
	}
	return v
}

// close finds the best t of a cell for the cells before it.
func (r *rowAlong) close(cell int) {
	for i := range cell {
		p := &r.pairs[i][cell-i-1]
		p.most = [layers]int64{impossible, impossible}
		if cell == len(r.edges)-1 { // U
			p.most[0], p.at[0] = p.beta(int64(r.n)*r.grid, r.keep), int32(r.n)
		}
	}
	if cell == len(r.edges)-1 {
		return
	}
	for layer := range r.layers {
		f := r.f[layer]
		for t := r.edges[cell]; t < r.edges[cell+1] && t+r.kerf < r.n; t++ {
			v := f[t+r.kerf]
			if v <= impossible || t+1 < r.edges[cell+1] && v == f[t+r.kerf+1] {
				continue
			}
			for i := range cell {
				p := &r.pairs[i][cell-i-1]
				if b := p.beta(int64(t)*r.grid, r.keep) + v; b > p.most[layer] {
					p.most[layer], p.at[layer] = b, int32(t+r.kerf)
				}
			}
		}
	}
}

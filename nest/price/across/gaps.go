package across

import (
	"slices"

	"rackwright/nest/cutting"
)

// band is a part of the width with the same clear runs everywhere, over the whole length. It is so
// many steps wide, and need not be in one piece.
type band struct {
	steps int64
	runs  []cutting.Span
}

// bandsOf parts a span of the width into bands.
func (r *pricer) bandsOf(across cutting.Span) (out []band) {
	edges := r.spots.edges(nil, r.allAlong(), across)
	for n := 1; n < len(edges); n++ {
		part := cutting.Span{From: edges[n-1], To: edges[n]}
		steps := (part.To - part.From) / r.clear.step
		runs := slices.Collect(r.spots.clearRuns(r.allAlong(), part))
		same := func(b band) bool { return slices.Equal(b.runs, runs) }
		if at := slices.IndexFunc(out, same); at >= 0 {
			out[at].steps += steps
		} else {
			out = append(out, band{steps, runs})
		}
	}
	return out
}

// worthOfBands is u of the bands over a span of the length, at s0.
func (r *pricer) worthOfBands(bands []band, along cutting.Span, s0 int64) (sum int64) {
	for n := range bands {
		var counted int64
		for _, run := range bands[n].runs {
			counted += r.clear.beyondKeep(min(run.To, along.To) - max(run.From, along.From))
		}
		sum += s0 * bands[n].steps * counted
	}
	return sum
}

// gapTable gives the worth of each gap [x, z) along a strip, or along the stock over its whole
// width. The edges part the length into cells. For x in a cell c and z in a cell d
//
//	u = s0 x (fixed + perFrom * x + perTo * z + joined * max(0, z - x - keep))
//
// with four numbers for each c and d. joined is how many steps wide the bands are that have one
// clear run from cell c to cell d. The other numbers sum up all other runs: those that the gap has
// from x on, up to z, or all of.
type gapTable struct {
	keep  int64
	steps int64 // how wide all bands are
	edges []int64
	pairs []cellPair // by c and d
}

// cellPair has the numbers of a pair of cells.
type cellPair struct{ fixed, perFrom, perTo, joined int64 }

// newGapTable makes the table of bands. An edge is where a run begins or ends. One is also where a
// gap that begins or ends in a run has just keep of the run.
func (r *pricer) newGapTable(bands []band) gapTable {
	g := gapTable{keep: r.stock.Keep, edges: []int64{0, r.extent}}
	for _, b := range bands {
		g.steps += b.steps
		for _, run := range b.runs {
			g.edges = append(g.edges, run.From, run.To)
			if run.From > 0 && run.From+g.keep < run.To {
				g.edges = append(g.edges, run.From+g.keep)
			}
			if run.To < r.extent && run.To-g.keep > run.From {
				g.edges = append(g.edges, run.To-g.keep)
			}
		}
	}
	slices.Sort(g.edges)
	g.edges = slices.Compact(g.edges)
	cells := g.cells()
	g.pairs = make([]cellPair, cells*cells)
	for c := range cells {
		for d := c; d < cells; d++ {
			for _, b := range bands {
				g.addBand(b, c, d)
			}
		}
	}
	return g
}

func (g *gapTable) cells() int { return len(g.edges) - 1 }

// cell is the cell in which x lies; for an edge, the later one.
func (g *gapTable) cell(x int64) int { return cellOf(g.edges[:g.cells()], x) }

// pair has the numbers of gaps from cell c to cell d.
func (g *gapTable) pair(c, d int) *cellPair { return &g.pairs[c*g.cells()+d] }

// addBand adds a band to the numbers of gaps from cell c to cell d.
func (g *gapTable) addBand(b band, c, d int) {
	p := g.pair(c, d)
	holds := func(run cutting.Span, cell int) bool {
		return run.From <= g.edges[cell] && run.To >= g.edges[cell+1]
	}
	for _, run := range b.runs {
		switch {
		case holds(run, c) && holds(run, d):
			p.joined += b.steps
			return
		case holds(run, c): // the gap has the run from x on
			if g.edges[c+1] <= run.To-g.keep {
				p.fixed += b.steps * (run.To - g.keep)
				p.perFrom -= b.steps
			}
		case holds(run, d): // the gap has the run up to z
			if g.edges[d] >= run.From+g.keep {
				p.fixed -= b.steps * (run.From + g.keep)
				p.perTo += b.steps
			}
		case run.From >= g.edges[c] && run.To <= g.edges[d+1]: // the gap has all of the run
			p.fixed += b.steps * max(0, run.To-run.From-g.keep)
		}
	}
}

// worth is u of the gap [x, z).
func (g *gapTable) worth(s0, x, z int64) int64 {
	if z <= x {
		return 0
	}
	p := g.pair(g.cell(x), g.cell(z))
	return s0 * (p.fixed + p.perFrom*x + p.perTo*z + p.joined*max(0, z-x-g.keep))
}

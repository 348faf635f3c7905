package offcuts

import (
	"slices"

	"rackwright/nest/cutting"
)

// Band is a part of the width with the same clear runs everywhere, over the whole length. It is so
// many steps wide, and need not be in one piece.
type Band struct {
	steps int64
	runs  []cutting.Span
}

// BandsOf parts a span of the width into bands, in steps, over so much length.
func (s Spots) BandsOf(across cutting.Span, length, step int64) (out []Band) {
	along := cutting.Span{To: length}
	edges := cutting.BandEdges(nil, s, along, across)
	for n := 1; n < len(edges); n++ {
		part := cutting.Span{From: edges[n-1], To: edges[n]}
		steps := (part.To - part.From) / step
		runs := slices.Collect(s.clearRuns(along, part))
		same := func(b Band) bool { return slices.Equal(b.runs, runs) }
		if at := slices.IndexFunc(out, same); at >= 0 {
			out[at].steps += steps
		} else {
			out = append(out, Band{steps, runs})
		}
	}
	return out
}

// Worth is u of bands over a span of the length, at s0. keep of each clear run is worth nothing.
func Worth(bands []Band, along cutting.Span, s0, keep int64) (sum int64) {
	for n := range bands {
		var counted int64
		for _, run := range bands[n].runs {
			counted += max(0, min(run.To, along.To)-max(run.From, along.From)-keep)
		}
		sum += s0 * bands[n].steps * counted
	}
	return sum
}

// Table gives the worth of each gap [x, z) along a strip, or along the stock over its whole
// width. The edges part the length into cells. For x in a cell c and z in a cell d
//
//	u = s0 x (fixed + perFrom * x + perTo * z + joined * max(0, z - x - keep))
//
// with four numbers for each c and d. joined is how many steps wide the bands are that have one
// clear run from cell c to cell d. The other numbers sum up all other runs: those that the gap has
// from x on, up to z, or all of.
type Table struct {
	keep  int64
	steps int64 // how wide all bands are
	edges []int64
	pairs []cellPair // by c and d
}

// cellPair has the numbers of a pair of cells.
type cellPair struct{ fixed, perFrom, perTo, joined int64 }

// NewTable makes the table of bands of so much length. An edge is where a run begins or ends. One
// is also where a gap that begins or ends in a run has just keep of the run.
func NewTable(bands []Band, length, keep int64) *Table {
	g := &Table{keep: keep, edges: []int64{0, length}}
	for _, b := range bands {
		g.steps += b.steps
		for _, run := range b.runs {
			g.edges = append(g.edges, run.From, run.To)
			if run.From > 0 && run.From+g.keep < run.To {
				g.edges = append(g.edges, run.From+g.keep)
			}
			if run.To < length && run.To-g.keep > run.From {
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

// Size is about how much the table is; of none it is 0.
func (g *Table) Size() int {
	if g == nil {
		return 0
	}
	return len(g.edges)
}

func (g *Table) cells() int { return len(g.edges) - 1 }

// cell is the cell in which x lies; for an edge, the later one.
func (g *Table) cell(x int64) int { return cellOf(g.edges[:g.cells()], x) }

// pair has the numbers of gaps from cell c to cell d.
func (g *Table) pair(c, d int) *cellPair { return &g.pairs[c*g.cells()+d] }

// addBand adds a band to the numbers of gaps from cell c to cell d.
func (g *Table) addBand(b Band, c, d int) {
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

// Worth is u of the gap [x, z).
func (g *Table) Worth(s0, x, z int64) int64 {
	if z <= x {
		return 0
	}
	p := g.pair(g.cell(x), g.cell(z))
	return s0 * (p.fixed + p.perFrom*x + p.perTo*z + p.joined*max(0, z-x-g.keep))
}

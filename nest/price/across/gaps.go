package across

import (
	"slices"

	"rackwright/nest/cutting"
)

// band is a part of a rectangle's width in which the spots are the same all over: so many steps
// wide, clear in runs.
type band struct {
	steps int64
	runs  []cutting.Span
}

// bands parts [left, right) of the width.
func (r *pricer) makeBands(left, right int64) (out []band) {
	cuts := []int64{left, right}
	for n := range r.spots {
		if s := &r.spots[n]; s.Left < right && s.Right > left {
			cuts = append(cuts, max(left, s.Left), min(right, s.Right))
		}
	}
	slices.Sort(cuts)
	cuts = slices.Compact(cuts)
	for n := 1; n < len(cuts); n++ {
		b := band{steps: (cuts[n] - cuts[n-1]) / r.clear.step}
		b.runs = slices.Collect(cutting.ClearRuns(r.spots, 0, r.extent, func(s *cutting.Spot) bool {
			return s.Left < cuts[n] && s.Right > cuts[n-1]
		}))
		if same := slices.IndexFunc(out, func(o band) bool {
			return slices.Equal(o.runs, b.runs)
		}); same >= 0 {
			out[same].steps += b.steps
			continue
		}
		out = append(out, b)
	}
	return out
}

// worthOf is u of [from, to) of the bands.
func worthOfBands(bands []band, s0, keep, from, to int64) (sum int64) {
	for n := range bands {
		var clear int64
		for _, run := range bands[n].runs {
			clear += max(0, min(run.To, to)-max(run.From, from)-keep)
		}
		sum += s0 * bands[n].steps * clear
	}
	return sum
}

// gaps gives the worth of gaps along a strip, or the stock. The length is cut into cells in which
// everything is linear: with s in cell i and t in cell j, u([s, t)) = s0 x (fixed + fromS x s +
// fromT x t + joined x max(0, t - s - keep)) of pair i, j. joined counts the bands that are clear
// from cell i to cell j, the rest the others.
type gapTable struct {
	keep  int64
	steps int64 // across
	edges []int64
	pairs []cellPair
}

type cellPair struct{ fixed, perFrom, perTo, joined int64 }

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
	n := len(g.edges) - 1
	g.pairs = make([]cellPair, n*n)
	for i := range n {
		for j := i; j < n; j++ {
			for _, b := range bands {
				g.pairs[i*n+j].add(b, &g, i, j)
			}
		}
	}
	return g
}

func (p *cellPair) add(b band, g *gapTable, i, j int) {
	in := func(run cutting.Span, c int) bool {
		return run.From <= g.edges[c] && run.To >= g.edges[c+1]
	}
	for _, run := range b.runs {
		switch {
		case in(run, i) && in(run, j):
			p.joined += b.steps
			return
		case in(run, i):
			if g.edges[i+1] <= run.To-g.keep {
				p.fixed += b.steps * (run.To - g.keep)
				p.perFrom -= b.steps
			}
		case in(run, j):
			if g.edges[j] >= run.From+g.keep {
				p.fixed -= b.steps * (run.From + g.keep)
				p.perTo += b.steps
			}
		case run.From >= g.edges[i] && run.To <= g.edges[j+1]:
			p.fixed += b.steps * max(0, run.To-run.From-g.keep)
		}
	}
}

// cell is the one that x lies in; on an edge the later one.
func (g *gapTable) cell(x int64) int {
	n := len(g.edges) - 2
	for n > 0 && g.edges[n] > x {
		n--
	}
	return n
}

// worth is u of [s, t).
func (g *gapTable) worth(s0, s, t int64) int64 {
	if t <= s {
		return 0
	}
	n := len(g.edges) - 1
	p := &g.pairs[g.cell(s)*n+g.cell(t)]
	return s0 * (p.fixed + p.perFrom*s + p.perTo*t + p.joined*max(0, t-s-g.keep))
}

package offcuts

import (
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// Along are the gaps of a line along a strip, or along the stock.
type Along struct {
	scan Scan
	gaps *Table // nil: none is worth anything
	s0   int64
	xs   []int64 // the starts
	ends []int64 // by start: where a gap before it ends; last, the far end
}

// NewAlong makes those of some starts; Set says what they are worth.
func NewAlong(xs []int64, kerf, end int64) *Along {
	g := &Along{xs: xs}
	for _, x := range xs {
		g.ends = append(g.ends, x-kerf)
	}
	g.ends = append(g.ends, end)
	return g
}

// Set sets what gaps are worth, at s0; of a table that is nil none is worth anything.
func (g *Along) Set(gaps *Table, s0 int64) { g.gaps, g.s0 = gaps, s0 }

func (g *Along) Begin(f []int64) {
	if g.gaps != nil {
		g.scan.Reset(g.gaps, g.s0, g.xs[:len(f)-1], g.ends[:len(f)], f)
	}
}

func (g *Along) Best(n int, floor int64) int64 {
	if g.gaps == nil {
		return price.Never
	}
	return g.scan.BestFrom(n, floor)
}

func (g *Along) Worth(n, to int) (int64, bool) {
	if g.gaps == nil {
		return 0, false
	}
	return g.gaps.Worth(g.s0, g.xs[n], g.ends[to]), g.ends[to] >= g.xs[n]
}

// Empty gives, in out, what the last gap is worth, by start.
func (g *Along) Empty(out []int64) []int64 {
	out = slices.Grow(out[:0], len(g.xs)+1)[:len(g.xs)+1]
	out[len(g.xs)] = 0
	for n := range g.xs {
		out[n], _ = g.Worth(n, len(g.xs))
	}
	return out
}

// Before bounds, in out, what precedes each start. reach raises the bounds of later starts by the
// things that may lie at one.
func (g *Along) Before(out []int64, reach func(out []int64, n int)) []int64 {
	out = slices.Grow(out[:0], len(g.xs)+1)[:len(g.xs)+1]
	for n := range out {
		out[n] = price.Never
	}
	out[0] = 0
	slope, gap, from := int64(0), int64(price.Never), 0
	if g.gaps != nil {
		slope = g.s0 * g.gaps.steps // as if no spot were there
	}
	for n := range g.xs {
		if n > 0 {
			out[n] = max(out[n], out[n-1])
		}
		if g.gaps != nil {
			end := g.ends[n] - g.gaps.keep
			for ; from < n && g.xs[from] <= end; from++ {
				gap = max(gap, out[from]-slope*g.xs[from])
			}
			out[n] = max(out[n], gap+slope*end)
		}
		reach(out, n)
	}
	return out
}

// Across are the gaps of a line across a length, or across the stock.
type Across struct {
	rip    int64
	wide   int64   // the stock
	keep   int64   // no gap is narrower
	ys     []int64 // the starts
	to     []int64 // by start: what the width up to it is worth; last, all of it
	upTo   []int64 // the same up to a kerf before the start
	f      []int64
	far    int   // from there on starts are far enough for a gap
	behind int64 // the best of these, with what a gap up to there is worth from the left edge
}

// NewAcross makes those of some starts; Set says what they are worth.
func NewAcross(ys []int64, rip int64, a *cutting.Across) *Across {
	return &Across{rip: rip, wide: a.Width, keep: a.Keep, ys: ys,
		to: make([]int64, len(ys)+1), upTo: make([]int64, len(ys)+1)}
}

// Set sets what gaps are worth, by the areas between the starts.
func (g *Across) Set(areas *Areas) {
	for n, y := range g.ys {
		g.to[n], g.upTo[n] = areas.UpTo(y), areas.UpTo(max(0, y-g.rip))
	}
	last := len(g.ys)
	g.to[last] = areas.UpTo(g.wide)
	g.upTo[last] = g.to[last]
}

// end is where a gap before a start ends.
func (g *Across) end(n int) int64 {
	if n == len(g.ys) {
		return g.wide
	}
	return g.ys[n] - g.rip
}

func (g *Across) Begin(f []int64) { g.f, g.far, g.behind = f, len(f), price.Never }

func (g *Across) Best(n int, _ int64) int64 {
	for g.far > n+1 && g.end(g.far-1)-g.ys[n] >= g.keep {
		g.far--
		if v := g.f[g.far]; !price.None(v) {
			g.behind = max(g.behind, v+g.upTo[g.far])
		}
	}
	if price.None(g.behind) {
		return price.Never
	}
	return g.behind - g.to[n]
}

func (g *Across) Worth(n, to int) (int64, bool) {
	wide := g.end(to) - g.ys[n]
	return g.upTo[to] - g.to[n], wide >= 0 && wide >= g.keep
}

// Empty gives, in out, what the last gap is worth, by start.
func (g *Across) Empty(out []int64) []int64 {
	out = slices.Grow(out[:0], len(g.ys)+1)[:len(g.ys)+1]
	out[len(g.ys)] = 0
	for n := len(g.ys) - 1; n >= 0; n-- {
		if out[n] = out[n+1]; g.wide-g.ys[n] >= g.keep {
			out[n] = max(out[n], g.upTo[len(g.ys)]-g.to[n])
		}
	}
	return out
}

// Before bounds, in out, what precedes each start. reach raises the bounds of later starts by the
// things that may lie at one.
func (g *Across) Before(out []int64, reach func(out []int64, n int)) []int64 {
	out = slices.Grow(out[:0], len(g.ys)+1)[:len(g.ys)+1]
	for n := range out {
		out[n] = price.Never
	}
	out[0] = 0
	gap, from := int64(price.Never), 0
	for n := range g.ys {
		if n > 0 {
			out[n] = max(out[n], out[n-1])
		}
		for ; from < n && g.end(n)-g.ys[from] >= g.keep; from++ {
			gap = max(gap, out[from]-g.to[from])
		}
		if !price.None(gap) {
			out[n] = max(out[n], gap+g.upTo[n])
		}
		reach(out, n)
	}
	return out
}

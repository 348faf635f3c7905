package offcuts

import (
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// Across are the gaps of a line across a length, or across the stock.
type Across struct {
	rip    int64
	wide   int64 // the stock
	keep   int64 // no gap is narrower
	areas  Areas
	ys     []int64 // the starts
	to     []int64 // by start: what the width up to it is worth
	upTo   []int64 // the same up to a kerf before the start; last, all of the width
	f      []int64
	far    int   // from there on starts are far enough for a gap
	behind int64 // the best of these, with what a gap up to there is worth from the left edge
}

// NewAcross makes those of a stock; Set says where things start, and what gaps are worth.
func NewAcross(rip int64, a *cutting.Across) *Across {
	return &Across{rip: rip, wide: a.Width, keep: a.Keep}
}

// Set sets the starts, and what gaps are worth by the bands between them, at s0.
func (g *Across) Set(ys []int64, step, s0 int64, bands []ClearBand) {
	g.areas.SetBands(step, s0, bands)
	g.ys, g.to, g.upTo = ys, g.to[:0], g.upTo[:0]
	for _, y := range ys {
		g.to = append(g.to, g.areas.UpTo(y))
		g.upTo = append(g.upTo, g.areas.UpTo(max(0, y-g.rip)))
	}
	g.upTo = append(g.upTo, g.areas.UpTo(g.wide))
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
		g.behind = max(g.behind, g.f[g.far]+g.upTo[g.far])
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
	best, from := int64(price.Never), 0
	return before(out, len(g.ys), func(out []int64, n int) int64 {
		for ; from < n && g.end(n)-g.ys[from] >= g.keep; from++ {
			best = max(best, out[from]-g.to[from])
		}
		return best + g.upTo[n]
	}, reach)
}

package offcuts

import (
	"slices"

	"rackwright/nest/price"
)

// Along are the gaps of a line along a strip, or along the stock. Best finds the best gap from a
// start x on, together with what follows the gap:
//
//	max over later starts y, and the far end, of  u of [x, z) + f[y]
//
// where z is the gap end of y, a kerf before y. The starts x are asked for from the last to the
// first. All z in one cell have the same formula, so that each cell needs only its best y.
type Along struct {
	gaps *Table // nil: none is worth anything
	s0   int64
	xs   []int64 // the starts
	ends []int64 // by start: its gap end; last, the far end

	f       []int64    // by start: what follows from the start on; last, the end
	cell    int        // the cell of x; -1: none yet
	cells   []cellScan // the cells of z
	reached int        // the first start whose gap end is keep or more behind x

	searched bool
	at, most int64 // no gap from at on is worth anything and gives more than most
}

// NewAlong makes those of some starts, each with its gap end; Set says what they are worth.
func NewAlong(xs, ends []int64) *Along { return &Along{xs: xs, ends: ends} }

// GapEnds are where gaps before starts end, a kerf before each; last, the far end.
func GapEnds(xs []int64, kerf, end int64) (ends []int64) {
	for _, x := range xs {
		ends = append(ends, x-kerf)
	}
	return append(ends, end)
}

// Set sets what gaps are worth, at s0; of a table that is nil none is worth anything.
func (g *Along) Set(gaps *Table, s0 int64) { g.gaps, g.s0 = gaps, s0 }

// cellScan has the best of the gaps from x that end in one cell. What depends on x in the formula
// of Table is left out.
type cellScan struct {
	from, to int   // the starts y whose gap ends are in the cell
	reached  int   // the first of them whose gap end is keep or more behind x
	joined   int64 // max of f[y] + s0 (perTo + joined) z over the starts from reached on
	apart    int64 // max of f[y] + s0 perTo z over all of them
}

// Begin begins with what follows, f, up to just behind the last start of it. It need not be known
// yet: f[y] is read when an earlier start is asked for.
func (g *Along) Begin(f []int64) {
	if g.gaps == nil {
		return
	}
	n, ends := g.gaps.cells(), g.ends[:len(f)]
	g.f, g.cell, g.reached, g.searched = f, -1, len(f), false
	g.cells = slices.Grow(g.cells[:0], n)[:n]
	y := 0
	for y < len(ends) && ends[y] < 0 {
		y++
	}
	for d := range g.cells {
		e := &g.cells[d]
		e.from = y
		for y < len(ends) && (ends[y] < g.gaps.edges[d+1] || d == n-1) {
			y++
		}
		e.to = y
	}
}

// Best gives the most that a gap from start t on gives, together with what follows the gap.
// Where that is no more than floor, what the caller has without a gap, it may give less.
//
// Most starts need no search. Let the gap begin at x, by d before at. From at on it would be worth
// less by a gain, which is at most the worth of d of the whole width.
//
//   - If the gap is worth something from at on, it gives at most most + gain.
//   - If not, it is worth at most the gain. Where it is worth anything it ends keep or more behind
//     x. Then f[reached] is the most that can follow, as f falls along the stock.
//
// The greater of the two is most from x on. If it is no more than floor, x needs no search.
func (g *Along) Best(t int, floor int64) int64 {
	last := len(g.f) - 1
	switch {
	case g.gaps == nil:
		return price.Never
	case g.s0 == 0:
		return g.f[last]
	}
	x := g.xs[t]
	for g.reached > t+1 && g.ends[g.reached-1] >= x+g.gaps.keep {
		g.reached--
	}
	follows := int64(price.Never)
	if g.reached <= last {
		follows = g.f[g.reached]
	}
	if g.searched {
		g.most = max(g.most, follows) + g.s0*g.gaps.steps*(g.at-x)
		g.at = x
		if g.most <= floor {
			return price.Never
		}
	}
	best := g.search(t)
	g.searched, g.most, g.at = true, max(best, follows), x
	return best
}

// search gives that exactly, cell by cell.
func (g *Along) search(t int) int64 {
	best, x := int64(price.Never), g.xs[t]
	if g.cell < 0 || x < g.gaps.edges[g.cell] {
		g.enter(g.gaps.cell(x))
	}
	for d := g.cell; d < len(g.cells); d++ {
		e, p := &g.cells[d], g.gaps.pair(g.cell, d)
		v := e.apart
		if p.joined > 0 {
			slope := g.s0 * (p.perTo + p.joined)
			for e.reached > max(e.from, t+1) && g.ends[e.reached-1] >= x+g.gaps.keep {
				e.reached--
				e.joined = max(e.joined, g.f[e.reached]+slope*g.ends[e.reached])
			}
			v = max(v, e.joined-g.s0*p.joined*(x+g.gaps.keep))
		}
		if v > price.Never/2 {
			best = max(best, v+g.s0*(p.fixed+p.perFrom*x))
		}
	}
	return max(best, g.f[len(g.f)-1])
}

// enter prepares all cells for gaps that begin in a cell.
func (g *Along) enter(cell int) {
	g.cell = cell
	for d := cell; d < len(g.cells); d++ {
		e, p := &g.cells[d], g.gaps.pair(cell, d)
		e.apart, e.joined, e.reached = price.Never, price.Never, e.to
		if d == cell || p.fixed == 0 && p.perFrom == 0 && p.perTo == 0 {
			continue // only joined bands are worth anything
		}
		slope := g.s0 * p.perTo
		for y := e.from; y < e.to; y++ {
			e.apart = max(e.apart, g.f[y]+slope*g.ends[y])
		}
	}
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
	if g.gaps == nil {
		return before(out, len(g.xs), func([]int64, int) int64 { return price.Never }, reach)
	}
	best, from := int64(price.Never), 0
	slope := g.s0 * g.gaps.steps // as if no spot were there
	return before(out, len(g.xs), func(out []int64, n int) int64 {
		end := g.ends[n] - g.gaps.keep
		for ; from < n && g.xs[from] <= end; from++ {
			best = max(best, out[from]-slope*g.xs[from])
		}
		return best + slope*end
	}, reach)
}

// before bounds, in out, what precedes each of so many starts:
//
//	before(n) = max of
//	   before(n - 1)         nothing ends at n
//	   gap(n)                a gap does, of which the earlier bounds are known
//	   before(m) + a thing   which starts at m, by reach
func before(out []int64, starts int, gap func(out []int64, n int) int64,
	reach func(out []int64, n int)) []int64 {
	out = slices.Grow(out[:0], starts+1)[:starts+1]
	for n := range out {
		out[n] = price.Never
	}
	out[0] = 0
	for n := range starts {
		out[n] = max(out[n], out[max(0, n-1)], gap(out, n))
		reach(out, n)
	}
	return out
}

package offcuts

import (
	"slices"

	"rackwright/nest/price"
)

// Scan finds the best gap from a start x on, together with what follows the gap:
//
//	max over later starts y, and the stock's end, of  u of [x, z) + f[y]
//
// where z is the gap end of y, a kerf before y. The starts x are asked for from the last to the
// first. All z in one cell have the same formula, so that each cell needs only its best y.
type Scan struct {
	gaps *Table
	s0   int64
	xs   []int64 // the starts
	ends []int64 // by start: its gap end; last, the stock's end
	f    []int64 // by start: what follows from the start on; last, from the stock's end on

	cell    int        // the cell of x; -1: none yet
	cells   []cellScan // the cells of z
	reached int        // the first start whose gap end is keep or more behind x

	searched bool
	at, most int64 // no gap from at on is worth anything and gives more than most
}

// cellScan has the best of the gaps from x that end in one cell. What depends on x in the formula
// of Table is left out.
type cellScan struct {
	from, to int   // the starts y whose gap ends are in the cell
	reached  int   // the first of them whose gap end is keep or more behind x
	joined   int64 // max of f[y] + s0 (perTo + joined) z over the starts from reached on
	apart    int64 // max of f[y] + s0 perTo z over all of them
}

// Reset begins a scan. f need not be known yet: f[y] is read when an earlier start is asked for.
func (c *Scan) Reset(g *Table, s0 int64, xs, ends, f []int64) {
	n := g.cells()
	*c = Scan{gaps: g, s0: s0, xs: xs, ends: ends, f: f, cell: -1,
		cells: slices.Grow(c.cells[:0], n)[:n], reached: len(ends)}
	y := 0
	for y < len(ends) && ends[y] < 0 {
		y++
	}
	for d := range c.cells {
		e := &c.cells[d]
		e.from = y
		for y < len(ends) && (ends[y] < g.edges[d+1] || d == n-1) {
			y++
		}
		e.to = y
	}
}

// BestFrom gives the most that a gap from start t on gives, together with what follows the gap.
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
func (c *Scan) BestFrom(t int, floor int64) int64 {
	if c.s0 == 0 {
		return c.f[len(c.xs)]
	}
	x := c.xs[t]
	for c.reached > t+1 && c.ends[c.reached-1] >= x+c.gaps.keep {
		c.reached--
	}
	follows := int64(price.Never)
	if c.reached < len(c.ends) {
		follows = c.f[c.reached]
	}
	if c.searched {
		c.most = max(c.most, follows) + c.s0*c.gaps.steps*(c.at-x)
		c.at = x
		if c.most <= floor {
			return price.Never
		}
	}
	best := c.search(t)
	c.searched, c.most, c.at = true, max(best, follows), x
	return best
}

// search gives that exactly, cell by cell.
func (c *Scan) search(t int) int64 {
	best, x := int64(price.Never), c.xs[t]
	if c.cell < 0 || x < c.gaps.edges[c.cell] {
		c.enter(c.gaps.cell(x))
	}
	for d := c.cell; d < len(c.cells); d++ {
		e, p := &c.cells[d], c.gaps.pair(c.cell, d)
		v := e.apart
		if p.joined > 0 {
			slope := c.s0 * (p.perTo + p.joined)
			for e.reached > max(e.from, t+1) && c.ends[e.reached-1] >= x+c.gaps.keep {
				e.reached--
				e.joined = max(e.joined, c.f[e.reached]+slope*c.ends[e.reached])
			}
			v = max(v, e.joined-c.s0*p.joined*(x+c.gaps.keep))
		}
		if v > price.Never/2 {
			best = max(best, v+c.s0*(p.fixed+p.perFrom*x))
		}
	}
	return max(best, c.f[len(c.xs)])
}

// enter prepares all cells for gaps that begin in a cell.
func (c *Scan) enter(cell int) {
	c.cell = cell
	for d := cell; d < len(c.cells); d++ {
		e, p := &c.cells[d], c.gaps.pair(cell, d)
		e.apart, e.joined, e.reached = price.Never, price.Never, e.to
		if d == cell || p.fixed == 0 && p.perFrom == 0 && p.perTo == 0 {
			continue // only joined bands are worth anything
		}
		slope := c.s0 * p.perTo
		for y := e.from; y < e.to; y++ {
			e.apart = max(e.apart, c.f[y]+slope*c.ends[y])
		}
	}
}

// Trace gives the last start to which a gap from start t on leads that gives value; -1: there is
// none.
func (c *Scan) Trace(t int, value int64) int {
	for y := len(c.xs); y > t; y-- {
		if c.f[y] > price.Never/2 && c.ends[y] >= c.xs[t] &&
			c.f[y]+c.gaps.Worth(c.s0, c.xs[t], c.ends[y]) == value {
			return y
		}
	}
	return -1
}

package across

import (
	"slices"

	"rackwright/nest/price"
)

// gapScan finds for each start the best gap that begins there, with what follows the gap:
//
//	max over later starts y with a gap end z of  u of [x, z) + f[y]
//
// The starts are asked for from the last to the first, so that the best of each cell is kept up to
// date as x falls.
type gapScan struct {
	gaps *gapTable
	s0   int64
	xs   []int64 // the starts
	ends []int64 // by start y: z, where a gap before it ends; last, the stock's end
	f    []int64 // by start: what follows from there on; last, from the stock's end on

	cell  int        // that of x; -1: none yet
	cells []cellScan // of the ends z

	searched bool
	most, at int64 // no gap from at or later that is worth anything gives more than most
	near     int   // the first start with a gap end at least keep behind x
}

// cellScan is what is known of the gaps that end in one cell. In the formula of gapTable all that
// does not depend on x is a sum over y.
type cellScan struct {
	from, to int   // the starts y whose gap ends are in the cell
	apart    int64 // the greatest f[y] + s0 perTo z, the joined bands left out
	joined   int64 // the greatest f[y] + s0 (perTo + joined) z of the starts from reached on
	reached  int   // the first start with a gap end at least keep behind x
}

// reset begins a scan. The starts' values f may still be unknown; each must be there before an
// earlier start is asked for.
func (c *gapScan) reset(g *gapTable, s0 int64, xs, ends, f []int64) {
	n := g.cells()
	*c = gapScan{gaps: g, s0: s0, xs: xs, ends: ends, f: f, cell: -1,
		cells: slices.Grow(c.cells[:0], n)[:n], near: len(ends)}
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

// best gives the most that a gap from start t on gives with what follows it. Where that is no more
// than floor, it may be less: floor is what the caller has without a gap.
//
// Most starts need no search. Let x be d before at, the last start searched. A gap that is worth
// something from at on gains at most the worth of d of the whole width, and so gives most + gain at
// most. A gap that is worth nothing from at on but something from x on is worth at most the gain. It
// ends keep or more behind x, so that what follows is f[near] at most: f falls along the stock.
func (c *gapScan) best(t int, floor int64) int64 {
	if c.s0 == 0 {
		return c.f[len(c.xs)]
	}
	x := c.xs[t]
	for c.near > t+1 && c.ends[c.near-1] >= x+c.gaps.keep {
		c.near--
	}
	follows := int64(price.Never)
	if c.near < len(c.ends) {
		follows = c.f[c.near]
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

// search gives the same exactly.
func (c *gapScan) search(t int) int64 {
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

// enter prepares all cells for gaps that begin in one.
func (c *gapScan) enter(cell int) {
	c.cell = cell
	for d := cell; d < len(c.cells); d++ {
		e, p := &c.cells[d], c.gaps.pair(cell, d)
		e.apart, e.joined, e.reached = price.Never, price.Never, e.to
		if d == cell || p.fixed == 0 && p.perFrom == 0 && p.perTo == 0 {
			continue // no gap is worth anything but for joined bands
		}
		slope := c.s0 * p.perTo
		for y := e.from; y < e.to; y++ {
			e.apart = max(e.apart, c.f[y]+slope*c.ends[y])
		}
	}
}

// trace finds the start to which a gap from start t on leads that gives value; -1: there is none.
func (c *gapScan) trace(t int, value int64) int {
	for y := len(c.xs); y > t; y-- {
		if c.f[y] > price.Never/2 && c.ends[y] >= c.xs[t] &&
			c.f[y]+c.gaps.worth(c.s0, c.xs[t], c.ends[y]) == value {
			return y
		}
	}
	return -1
}

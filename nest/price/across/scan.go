package across

import (
	"slices"

	"rackwright/nest/price"
)

// gapScan finds the best gap from each start on, the starts taken from the last to the first.
type gapScan struct {
	g      *gaps
	s0     int64
	xs, te []int64
	f      []int64 // what follows, by start; the last: the stock's end

	i        int     // the cell of s; -1: none yet
	lo, hi   []int   // by cell, the starts before which a gap ends in it
	far, any []int64 // by cell, the best of those starts with, and without, what is joined
	to       []int   // by cell, the first start that far counts

	// no gap from at on that is worth anything is worth more than most with what follows
	most, at int64
	near     int // the first start at least keep behind at
}

func (c *gapScan) reset(g *gaps, s0 int64, xs, te, f []int64) {
	c.g, c.s0, c.xs, c.te, c.f, c.i = g, s0, xs, te, f, -1
	n := len(g.edges) - 1
	c.lo, c.hi = c.lo[:0], c.hi[:0]
	at := 0
	for at < len(te) && te[at] < 0 {
		at++
	}
	for j := range n {
		c.lo = append(c.lo, at)
		for at < len(te) && (te[at] < g.edges[j+1] || j == n-1) {
			at++
		}
		c.hi = append(c.hi, at)
	}
	c.most, c.at, c.near = 1<<62, 0, len(te)
	c.far, c.any, c.to = slices.Grow(c.far[:0], n)[:n], slices.Grow(c.any[:0], n)[:n],
		slices.Grow(c.to[:0], n)[:n]
}

// enter begins cell i.
func (c *gapScan) enter(i int) {
	c.i = i
	n := len(c.lo)
	for j := i; j < n; j++ {
		c.far[j], c.any[j], c.to[j] = price.Never, price.Never, c.hi[j]
		p := &c.g.pairs[i*n+j]
		if j == i || p.fixed == 0 && p.fromS == 0 && p.fromT == 0 {
			continue
		}
		slope := c.s0 * p.fromT
		for y := c.lo[j]; y < c.hi[j]; y++ {
			c.any[j] = max(c.any[j], c.f[y]+slope*c.te[y])
		}
	}
}

// from is the best of u of a gap from start t on and what follows it, or anything less where that
// is not more than floor.
//
// A start d before the last, a gap gains at most the worth of d of the whole width; one that ended
// within keep of the last, and was worth nothing, has no more than that, and f falls along the
// stock. So most starts need not be looked at.
func (c *gapScan) from(t int, floor int64) int64 {
	if c.s0 == 0 {
		return c.f[len(c.xs)]
	}
	x := c.xs[t]
	for c.near > t+1 && c.te[c.near-1] >= x+c.g.keep {
		c.near--
	}
	near := int64(price.Never)
	if c.near < len(c.te) {
		near = c.f[c.near]
	}
	if c.most < 1<<62 {
		c.most = max(c.most, near) + c.s0*c.g.steps*(c.at-x)
		c.at = x
		if c.most <= floor {
			return price.Never
		}
	}
	best := c.look(x, t)
	c.most, c.at = max(best, near), x
	return best
}

// look is that best, exactly.
func (c *gapScan) look(x int64, t int) int64 {
	best := int64(price.Never)
	if c.i < 0 || x < c.g.edges[c.i] {
		c.enter(c.g.cell(x))
	}
	n := len(c.lo)
	for j := c.i; j < n; j++ {
		p := &c.g.pairs[c.i*n+j]
		v := c.any[j]
		if p.joined > 0 {
			slope, joined := c.s0*(p.fromT+p.joined), c.s0*p.joined
			for c.to[j] > max(c.lo[j], t+1) && c.te[c.to[j]-1] >= x+c.g.keep {
				c.to[j]--
				c.far[j] = max(c.far[j], c.f[c.to[j]]+slope*c.te[c.to[j]])
			}
			v = max(v, c.far[j]-joined*(x+c.g.keep))
		}
		if v > price.Never/2 {
			best = max(best, v+c.s0*(p.fixed+p.fromS*x))
		}
	}
	return max(best, c.f[len(c.xs)])
}

// follow finds where the best gap from start t on leads.
func (c *gapScan) follow(t int, value int64) int {
	for y := len(c.xs); y > t; y-- {
		if c.f[y] > price.Never/2 && c.te[y] >= c.xs[t] &&
			c.f[y]+c.g.worth(c.s0, c.xs[t], c.te[y]) == value {
			return y
		}
	}
	return -1
}

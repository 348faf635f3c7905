package across

import (
	"slices"

	"rackwright/nest/price"
)

// gapScan finds the best gap from each start on, the starts taken from the last to the first.
type gapScan struct {
	gaps     *gapTable
	s0       int64
	xs, ends []int64
	f        []int64 // what follows, by start; the last: the stock's end

	cell             int     // the cell of s; -1: none yet
	endsFrom, endsTo []int   // by cell, the starts before which a gap ends in it
	joined, apart    []int64 // by cell, the best of those starts with, and without, what is joined
	joinedFrom       []int   // by cell, the first start that far counts

	// no gap from at on that is worth anything is worth more than most with what follows
	most, at int64
	near     int // the first start at least keep behind at
}

func (c *gapScan) reset(g *gapTable, s0 int64, xs, te, f []int64) {
	c.gaps, c.s0, c.xs, c.ends, c.f, c.cell = g, s0, xs, te, f, -1
	n := len(g.edges) - 1
	c.endsFrom, c.endsTo = c.endsFrom[:0], c.endsTo[:0]
	at := 0
	for at < len(te) && te[at] < 0 {
		at++
	}
	for j := range n {
		c.endsFrom = append(c.endsFrom, at)
		for at < len(te) && (te[at] < g.edges[j+1] || j == n-1) {
			at++
		}
		c.endsTo = append(c.endsTo, at)
	}
	c.most, c.at, c.near = 1<<62, 0, len(te)
	c.joined, c.apart, c.joinedFrom = slices.Grow(c.joined[:0], n)[:n], slices.Grow(c.apart[:0], n)[:n],
		slices.Grow(c.joinedFrom[:0], n)[:n]
}

// enter begins cell i.
func (c *gapScan) enter(i int) {
	c.cell = i
	n := len(c.endsFrom)
	for j := i; j < n; j++ {
		c.joined[j], c.apart[j], c.joinedFrom[j] = price.Never, price.Never, c.endsTo[j]
		p := &c.gaps.pairs[i*n+j]
		if j == i || p.fixed == 0 && p.perFrom == 0 && p.perTo == 0 {
			continue
		}
		slope := c.s0 * p.perTo
		for y := c.endsFrom[j]; y < c.endsTo[j]; y++ {
			c.apart[j] = max(c.apart[j], c.f[y]+slope*c.ends[y])
		}
	}
}

// from is the best of u of a gap from start t on and what follows it, or anything less where that
// is not more than floor.
//
// A start d before the last, a gap gains at most the worth of d of the whole width; one that ended
// within keep of the last, and was worth nothing, has no more than that, and f falls along the
// stock. So most starts need not be looked at.
func (c *gapScan) best(t int, floor int64) int64 {
	if c.s0 == 0 {
		return c.f[len(c.xs)]
	}
	x := c.xs[t]
	for c.near > t+1 && c.ends[c.near-1] >= x+c.gaps.keep {
		c.near--
	}
	near := int64(price.Never)
	if c.near < len(c.ends) {
		near = c.f[c.near]
	}
	if c.most < 1<<62 {
		c.most = max(c.most, near) + c.s0*c.gaps.steps*(c.at-x)
		c.at = x
		if c.most <= floor {
			return price.Never
		}
	}
	best := c.search(x, t)
	c.most, c.at = max(best, near), x
	return best
}

// look is that best, exactly.
func (c *gapScan) search(x int64, t int) int64 {
	best := int64(price.Never)
	if c.cell < 0 || x < c.gaps.edges[c.cell] {
		c.enter(c.gaps.cell(x))
	}
	n := len(c.endsFrom)
	for j := c.cell; j < n; j++ {
		p := &c.gaps.pairs[c.cell*n+j]
		v := c.apart[j]
		if p.joined > 0 {
			slope, joined := c.s0*(p.perTo+p.joined), c.s0*p.joined
			for c.joinedFrom[j] > max(c.endsFrom[j], t+1) && c.ends[c.joinedFrom[j]-1] >= x+c.gaps.keep {
				c.joinedFrom[j]--
				c.joined[j] = max(c.joined[j], c.f[c.joinedFrom[j]]+slope*c.ends[c.joinedFrom[j]])
			}
			v = max(v, c.joined[j]-joined*(x+c.gaps.keep))
		}
		if v > price.Never/2 {
			best = max(best, v+c.s0*(p.fixed+p.perFrom*x))
		}
	}
	return max(best, c.f[len(c.xs)])
}

// follow finds where the best gap from start t on leads.
func (c *gapScan) trace(t int, value int64) int {
	for y := len(c.xs); y > t; y-- {
		if c.f[y] > price.Never/2 && c.ends[y] >= c.xs[t] &&
			c.f[y]+c.gaps.worth(c.s0, c.xs[t], c.ends[y]) == value {
			return y
		}
	}
	return -1
}

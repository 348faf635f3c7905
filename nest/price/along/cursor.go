package along

import (
	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// cursor goes over the starts of a stock from the far end on. It keeps what the recursion of
// linked.go looks up at each: indices that only go down, so that no search is needed. The index of
// a point is that of the first start at or after it.
type cursor struct {
	r *linked
	t int   // the start at which the cursor stands
	x int64 // where that is

	pieces   [cutting.Classes]followed
	steps    []int    // the stock's end, and the starts where F falls, the last first
	pastKerf int      // of x + kerf
	run      int      // the first clear run that ends after x
	inRun    bool     // x lies in it
	pastRun  int      // of the end of the run + kerf
	next     int      // the last y of the run whose stretch is longer than keep
	best     [2]int64 // by layer: the greatest slope (y - k) + F(y) of these
}

// followed is the most of a piece of a class with what follows it. That changes only where a piece
// ends at a start where F falls, or where other items fit: elsewhere nothing is looked up.
type followed struct {
	items []follower // shortest first
	known []fit      // those of the cursor's start and before it
	fits  int        // how many items may start
	best  int64
	until int64 // best stands for starts above it
}

// follower is an item, and which of cursor.steps lies behind its piece, the nearest.
type follower struct {
	advance int64 // size + kerf
	dual    int64
	at      int
}

func (r *linked) newCursor() *cursor {
	n := len(r.starts)
	c := &cursor{r: r, t: n, pastKerf: n, run: len(r.runs), pastRun: n, next: n, steps: []int{n}}
	for q, items := range r.items {
		c.pieces[q] = followed{items: make([]follower, len(items)), known: r.fits[q],
			best: price.Never, until: price.Never}
		for k, i := range items {
			c.pieces[q].items[k] = follower{r.p.Items[i].Size + r.p.Kerf, r.duals[i], 0}
		}
	}
	return c
}

// noteStep takes in F at the start of the cursor.
func (c *cursor) noteStep() {
	f := c.r.f[0]
	if f[c.t] == f[c.t+1] {
		return
	}
	c.steps = append(c.steps, c.t)
	for q := range c.pieces {
		if p := &c.pieces[q]; len(p.items) > 0 {
			p.until = max(p.until, c.x-p.items[0].advance)
		}
	}
}

// piece is the most that a piece at the cursor's start gives with what follows it.
func (c *cursor) piece() int64 {
	best := int64(price.Never)
	for q := range c.pieces {
		p := &c.pieces[q]
		for int(p.known[len(p.known)-1].from) > c.t {
			p.known = p.known[:len(p.known)-1]
		}
		if fits := int(p.known[len(p.known)-1].items); fits != p.fits || c.x <= p.until {
			p.fits = fits
			c.follow(p)
		}
		best = max(best, p.best)
	}
	return best
}

// follow looks up what follows the pieces of a class.
func (c *cursor) follow(p *followed) {
	starts, f := c.r.starts, c.r.f[0]
	p.best, p.until = price.Never, price.Never
	for k := range p.items[:p.fits] {
		i := &p.items[k]
		for i.at+1 < len(c.steps) && starts[c.steps[i.at+1]] >= c.x+i.advance {
			i.at++
		}
		if i.at+1 < len(c.steps) {
			p.until = max(p.until, starts[c.steps[i.at+1]]-i.advance)
		}
		p.best = max(p.best, i.dual+f[c.steps[i.at]])
	}
}

// back moves an index down to that of x.
func (r *linked) back(i int, x int64) int {
	for i > 0 && r.starts[i-1] >= x {
		i--
	}
	return i
}

// moveTo moves the cursor down to start t.
func (c *cursor) moveTo(t int) {
	r, k := c.r, c.r.p.Kerf
	c.t, c.x = t, r.starts[t]
	c.pastKerf = r.back(c.pastKerf, c.x+k)
	for c.run > 0 && r.runs[c.run-1].To > c.x {
		c.run--
		c.pastRun = r.back(c.pastRun, r.runs[c.run].To+k)
		c.next, c.best = c.pastRun, [2]int64{price.Never, price.Never}
		if c.next < len(r.starts) && r.starts[c.next] == r.runs[c.run].To+k {
			c.next++
		}
	}
	c.inRun = c.run < len(r.runs) && r.runs[c.run].From <= c.x
	for y := c.next - 1; y >= 0 && r.starts[y]-k-c.x > r.s.Keep; y-- {
		c.next = y
		for layer, f := range r.f {
			c.best[layer] = max(c.best[layer], r.s.Slope*(r.starts[y]-k-r.s.From)+f[y])
		}
	}
}

func (c *cursor) atRunStart() bool { return c.inRun && c.r.runs[c.run].From == c.x }

// gap gives G(x) in a layer.
func (c *cursor) gap(layer int) int64 {
	r, f := c.r, c.r.f[layer]
	g := int64(price.Never)
	if c.pastKerf > c.t {
		g = f[c.pastKerf]
	}
	if !c.inRun {
		if c.run < len(r.runs) {
			return max(g, r.enter[layer][c.run])
		}
		return max(g, f[len(r.starts)])
	}
	g = max(g, r.worth(r.runs[c.run].To-c.x)+c.pass(layer))
	if v := c.best[layer]; v > price.Never {
		g = max(g, v-r.s.Slope*(c.x-r.s.From+r.s.Keep))
	}
	return g
}

// pass gives E in a layer.
func (c *cursor) pass(layer int) int64 {
	r, f := c.r, c.r.f[layer]
	if r.runs[c.run].To >= r.s.To {
		return f[len(r.starts)]
	}
	v := f[c.pastRun]
	if c.run+1 < len(r.runs) {
		v = max(v, r.enter[layer][c.run+1])
	}
	return v
}

package along

import (
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// cursor walks over the positions of a stock from the far end on and keeps what the recursion of
// price.go looks up there. Every index is that of the first position at or after a point.
type cursor struct {
	r *Linked
	t int
	x int64
	// where a piece of bySize[class] that starts at x leaves off, its kerf paid
	after    [cutting.Classes][]int
	pastKerf int    // x + k
	run      int    // the first run that ends after x
	inRun    bool   // x lies in it
	pastRun  int    // end of the run + k
	next     [2]int // the last candidate y taken for the run, by layer
	stairs   [2][]step
}

// step is a candidate y: what it gives but for the part of w that depends on x, and the remainder
// that decides its rounding.
type step struct{ value, rem int64 }

func (r *Linked) cursor() *cursor {
	n := len(r.pos)
	c := &cursor{r: r, t: n, pastKerf: n, run: len(r.runs), pastRun: n, next: [2]int{n, n}}
	for q := range r.items {
		c.after[q] = make([]int, len(r.items[q]))
		for i := range c.after[q] {
			c.after[q][i] = n
		}
	}
	return c
}

// back moves an index down to the first position at or after x.
func (r *Linked) back(i int, x int64) int {
	for i > 0 && r.pos[i-1] >= x {
		i--
	}
	return i
}

func (c *cursor) to(t int) {
	r, k := c.r, c.r.p.Kerf
	c.t, c.x = t, r.pos[t]
	for q := range r.items {
		for n, i := range r.items[q][:r.fit[q][t]] {
			c.after[q][n] = r.back(c.after[q][n], c.x+r.p.Items[i].Size+k)
		}
	}
	c.pastKerf = r.back(c.pastKerf, c.x+k)
	for c.run > 0 && r.runs[c.run-1].To > c.x {
		c.run--
		c.pastRun = r.back(c.pastRun, r.runs[c.run].To+k)
		next := c.pastRun
		if next < len(r.pos) && r.pos[next] == r.runs[c.run].To+k {
			next++
		}
		for layer := range c.next {
			c.next[layer], c.stairs[layer] = next, c.stairs[layer][:0]
		}
	}
	c.inRun = c.run < len(r.runs) && r.runs[c.run].From <= c.x
}

func (c *cursor) atRunStart() bool { return c.inRun && c.r.runs[c.run].From == c.x }

// gap gives G(x) in a layer, for both flags.
func (c *cursor) gap(layer int) (g [2]int64) {
	r, f := c.r, &c.r.f[layer]
	g = [2]int64{price.Never, price.Never}
	if c.pastKerf > c.t {
		g = [2]int64{f[0][c.pastKerf], f[1][c.pastKerf]}
	}
	if !c.inRun {
		v := f[0][len(r.pos)]
		if c.run < len(r.runs) {
			v = r.open[layer][c.run]
		}
		return [2]int64{max(g[0], v), max(g[1], v)}
	}
	last, bonus := 0, int64(0) // the flag after a run longer than keep
	if r.linked {
		last, bonus = 1, r.scale
	}
	if v, ok := c.offcut(layer, f[last]); ok {
		g = [2]int64{max(g[0], v), max(g[1], v+bonus)}
	}
	if w, long := c.tail(); long {
		v := w*r.scale + c.pass(layer, last)
		return [2]int64{max(g[0], v), max(g[1], v+bonus)}
	}
	return [2]int64{max(g[0], c.pass(layer, 0)), max(g[1], c.pass(layer, 1))}
}

// pass is E: the run is passed with flag b.
func (c *cursor) pass(layer, b int) int64 {
	r, f := c.r, c.r.f[layer][b]
	if r.runs[c.run].To >= r.s.To {
		return f[len(r.pos)]
	}
	v := f[c.pastRun]
	if c.run+1 < len(r.runs) {
		v = max(v, r.open[layer][c.run+1])
	}
	return v
}

// tail is w from x to the end of the run, and whether that is longer than keep.
func (c *cursor) tail() (int64, bool) {
	r := c.r
	if r.s.Rate.Num == 0 || r.runs[c.run].To-c.x <= r.s.Keep {
		return 0, false
	}
	w := r.runQ[c.run] - r.fromQ[c.t]
	if r.runM[c.run] < r.fromM[c.t] {
		w--
	}
	return w, true
}

// offcut is the greatest of w(y - k - x) + f(y) over later starts y in the run that leave more than
// keep.
func (c *cursor) offcut(layer int, f []int64) (int64, bool) {
	r := c.r
	if r.s.Rate.Num == 0 {
		return 0, false
	}
	for y := c.next[layer] - 1; y >= 0 && r.pos[y]-r.p.Kerf-c.x > r.s.Keep; y-- {
		c.next[layer] = y
		c.add(&c.stairs[layer], step{r.starQ[y]*r.scale + f[y], r.starM[y]})
	}
	stairs := c.stairs[layer]
	if len(stairs) == 0 {
		return 0, false
	}
	best := stairs[0].value - r.scale
	for _, s := range stairs {
		if s.rem >= r.fromM[c.t] {
			best = max(best, s.value)
			break
		}
	}
	return best - r.fromQ[c.t]*r.scale, true
}

// add keeps the staircase: values falling, remainders rising, none a whole unit below the best.
func (c *cursor) add(stairs *[]step, s step) {
	old := *stairs
	if len(old) > 0 && s.value <= old[0].value-c.r.scale {
		return
	}
	at := 0
	for ; at < len(old) && old[at].value >= s.value; at++ {
		if old[at].rem >= s.rem {
			return
		}
	}
	end := at
	for ; end < len(old) && old[end].rem <= s.rem; end++ {
	}
	old = slices.Replace(old, at, end, s)
	n := len(old)
	for ; old[n-1].value <= old[0].value-c.r.scale; n-- {
	}
	*stairs = old[:n]
}

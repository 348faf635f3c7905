package along

import (
	"slices"

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

	// by class and item: behind the item's piece at x, its kerf paid
	after    [cutting.Classes][]int
	pastKerf int            // of x + kerf
	run      int            // the first clear run that ends after x
	inRun    bool           // x lies in it
	pastRun  int            // of the end of the run + kerf
	next     [2]int         // by layer: the last candidate taken for the run
	stairs   [2][]candidate // by layer: those that may be best
}

// The greatest w(y - k - x) + F(y) is found without going over all later starts y of the run.
// Lengths count from the stock's start; N / D is the rate:
//
//	r = y - k,  c = x + keep
//	w(y - k - x) = floor(N r / D) - floor(N c / D) - [ N r mod D < N c mod D ]
//
// [ a < b ] is 1 where a < b, else 0.
//
// The first term and F(y) are a value of y alone. The second term is one of x alone. The last is a
// unit at most. So a staircase is kept of the y whose value is less than a unit below the greatest:
// values fall, remainders N r mod D rise. Best is the first y whose remainder is not below N c mod
// D, or the greatest value less a unit.

// candidate is a start y by its value and its remainder.
type candidate struct{ value, rem int64 }

func (r *linked) newCursor() *cursor {
	n := len(r.starts)
	c := &cursor{r: r, t: n, pastKerf: n, run: len(r.runs), pastRun: n, next: [2]int{n, n}}
	for q := range r.items {
		c.after[q] = slices.Repeat([]int{n}, len(r.items[q]))
	}
	return c
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
	for q := range r.items {
		for n, i := range r.items[q][:r.fits[q][t]] {
			c.after[q][n] = r.back(c.after[q][n], c.x+r.p.Items[i].Size+k)
		}
	}
	c.pastKerf = r.back(c.pastKerf, c.x+k)
	for c.run > 0 && r.runs[c.run-1].To > c.x {
		c.run--
		c.pastRun = r.back(c.pastRun, r.runs[c.run].To+k)
		next := c.pastRun
		if next < len(r.starts) && r.starts[next] == r.runs[c.run].To+k {
			next++
		}
		for layer := range c.next {
			c.next[layer], c.stairs[layer] = next, c.stairs[layer][:0]
		}
	}
	c.inRun = c.run < len(r.runs) && r.runs[c.run].From <= c.x
}

func (c *cursor) atRunStart() bool { return c.inRun && c.r.runs[c.run].From == c.x }

// gap gives G(x) in a layer, with either flag.
func (c *cursor) gap(layer int) (g [2]int64) {
	r, f := c.r, &c.r.f[layer]
	g = [2]int64{price.Never, price.Never}
	if c.pastKerf > c.t {
		g = [2]int64{f[0][c.pastKerf], f[1][c.pastKerf]}
	}
	if !c.inRun {
		v := f[0][len(r.starts)]
		if c.run < len(r.runs) {
			v = r.enter[layer][c.run]
		}
		return [2]int64{max(g[0], v), max(g[1], v)}
	}
	// the flag after a stretch longer than keep, what it earns with flag 1
	flag, bonus := 0, int64(0)
	if r.trades {
		flag, bonus = 1, r.scale
	}
	if v, ok := c.offcut(layer, f[flag]); ok {
		g = [2]int64{max(g[0], v), max(g[1], v+bonus)}
	}
	if w, long := c.tail(); long {
		v := w*r.scale + c.pass(layer, flag)
		return [2]int64{max(g[0], v), max(g[1], v+bonus)}
	}
	return [2]int64{max(g[0], c.pass(layer, 0)), max(g[1], c.pass(layer, 1))}
}

// pass gives E in a layer, with flag b.
func (c *cursor) pass(layer, b int) int64 {
	r, f := c.r, c.r.f[layer][b]
	if r.runs[c.run].To >= r.s.To {
		return f[len(r.starts)]
	}
	v := f[c.pastRun]
	if c.run+1 < len(r.runs) {
		v = max(v, r.enter[layer][c.run+1])
	}
	return v
}

// tail gives w(e - x), and whether that stretch is longer than keep.
func (c *cursor) tail() (int64, bool) {
	r := c.r
	if r.s.Rate.Num == 0 || r.runs[c.run].To-c.x <= r.s.Keep {
		return 0, false
	}
	w := r.endQ[c.run] - r.keptQ[c.t]
	if r.endM[c.run] < r.keptM[c.t] {
		w--
	}
	return w, true
}

// offcut gives the greatest w(y - k - x) + f(y) over later starts y of the run. f is F in a layer,
// with a flag. False where no y leaves a stretch longer than keep.
func (c *cursor) offcut(layer int, f []int64) (int64, bool) {
	r := c.r
	if r.s.Rate.Num == 0 {
		return 0, false
	}
	for y := c.next[layer] - 1; y >= 0 && r.starts[y]-r.p.Kerf-c.x > r.s.Keep; y-- {
		c.next[layer] = y
		c.add(&c.stairs[layer], candidate{r.startQ[y]*r.scale + f[y], r.startM[y]})
	}
	stairs := c.stairs[layer]
	if len(stairs) == 0 {
		return 0, false
	}
	best := stairs[0].value - r.scale
	for _, s := range stairs {
		if s.rem >= r.keptM[c.t] {
			best = max(best, s.value)
			break
		}
	}
	return best - r.keptQ[c.t]*r.scale, true
}

// add puts a candidate into its place on the stairs, and takes away those that it makes useless.
func (c *cursor) add(stairs *[]candidate, s candidate) {
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

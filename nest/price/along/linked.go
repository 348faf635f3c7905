package along

import (
	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// Pricing: the layout of one stock that is worth most at given duals,
//
//	best = max over layouts with at least one piece of sum of duals of its pieces + worth of its offcuts,
//
// copies unlimited, by dynamic programming from the far end over the starts x of positions.go. k is
// the kerf, w(t) = floor(rate x (t - keep)), at least 0; everything is a whole number, in money x
// scale.
//
//	F(x)  a kerf before x is already paid, anything may start:
//	      max( F(next x); dual_i + F(x + size_i + k) for each piece that may lie at x; G(x) )
//	G(x)  inside a gap that becomes one offcut, x in a clear run that ends at e:
//	      max( F(x + k); w(y - k - x) + F(y) for each later start y with y - k <= e; w(e - x) + E )
//	E     the run is passed: 0 at the stock's end, else max( F(e + k); G(start of the next run) )
//	G(x)  x inside spots: max( F(x + k); G(start of the next run) )
//
// A kerf is paid towards pieces only, never between two clear runs of one offcut. With k = 0 the
// term F(x + k) of G(x) is F(x) itself, and left out. A stock is used for at least one piece (else
// a branch that asks for a stock would get it for nothing): until there is one, the same recursion
// runs in a layer of its own, in which the stock's end is worth minus infinity and a piece leads to
// the first layer.
//
// The bonus. Worth is rounded down run by run. Off the starts considered, a piece that lies over a
// spot it tolerates (or beside a spot narrower than the kerf) can trade clear wood on its left for
// clear wood on its right, and the roundings with it. In a chain of runs so linked, c of them
// longer than keep, the unrounded worth is greatest at a start considered, and the roundings there
// lose less than one unit each: an arrangement elsewhere is worth at most c-1 units more. So on
// linked stocks each run longer than keep after the first in a chain earns one unit more, whatever
// its own worth, which makes best a bound for every arrangement; a chain ends where a gap passes
// over a spot from one run to the next. The flag b says that the chain has a run longer than keep
// already. On other stocks nothing is lost: see runs.go.
//
// The greatest over y costs O(1): with c = x + keep, w = floor(N r/D) - floor(N c/D) - [N r mod D <
// N c mod D] at r = y - k, so a staircase of the candidates within one unit of the best, by
// remainder, answers it exactly.

// Linked prices one stock over the starts of positions.go.
type Linked struct {
	p      *cutting.Problem
	m      *price.Meter
	index  int
	s      *cutting.Stock
	linked bool
	dense  *Linked // over every position; made when first asked for

	pos   []int64                  // starts, ascending; pos[0] = From
	fit   [cutting.Classes][]int32 // how many of bySize[class] may start there
	items [cutting.Classes][]int   // held items of a class, shortest first
	runs  []cutting.Span           // clear runs, ascending

	starQ, starM []int64 // N r divided by D at r = pos - k: quotient and remainder
	runQ, runM   []int64 // at the end of each run
	fromQ, fromM []int64 // N c divided by D at c = pos + keep

	// The last pricing.
	duals []int64
	scale int64
	// F by layer (1: no piece yet) and flag; one more entry than pos, the stock's end
	f    [2][2][]int64
	open [2][]int64 // G at the start of each run, flag 0, by layer

	walked int64 // steps of walks not yet counted
}

func newLinked(p *cutting.Problem, index int, everywhere bool, m *price.Meter) *Linked {
	s := &p.Stocks[index]
	r := &Linked{p: p, m: m, index: index, s: s, linked: tradable(p, s), runs: s.ClearRuns()}
	if everywhere {
		r.pos = everyStart(p, s)
	} else {
		r.pos = startsOf(p, s)
	}
	for _, i := range s.Holds {
		r.items[p.Items[i].Class] = append(r.items[p.Items[i].Class], i)
	}
	lim := limitsOf(p, s)
	for q := range r.items {
		cutting.SortBySize(p, r.items[q])
		r.fit[q] = make([]int32, len(r.pos))
		for t, x := range r.pos {
			for room, n := lim.of(q, x)-x, 0; n < len(r.items[q]) &&
				p.Items[r.items[q][n]].Size <= room; n++ {
				r.fit[q][t] = int32(n + 1)
			}
		}
	}
	n := len(r.pos)
	for layer, end := range []int64{0, price.Never} {
		for b := range r.f[layer] {
			r.f[layer][b] = make([]int64, n+1)
			r.f[layer][b][n] = end
		}
		r.open[layer] = make([]int64, len(r.runs))
	}
	r.divide()
	return r
}

// divide prepares the roundings of worth. Lengths count from the stock's start.
func (r *Linked) divide() {
	rate := r.s.Rate
	if rate.Num == 0 {
		return
	}
	n := len(r.pos)
	r.starQ, r.starM = make([]int64, n), make([]int64, n)
	r.fromQ, r.fromM = make([]int64, n), make([]int64, n)
	for t, x := range r.pos {
		r.starQ[t], r.starM[t] = rate.Split(max(0, x-r.s.From-r.p.Kerf))
		r.fromQ[t], r.fromM[t] = rate.Split(x - r.s.From + r.s.Keep)
	}
	r.runQ, r.runM = make([]int64, len(r.runs)), make([]int64, len(r.runs))
	for j, run := range r.runs {
		r.runQ[j], r.runM[j] = rate.Split(run.To - r.s.From)
	}
}

func (r *Linked) Bare(scale int64) int64 {
	return r.p.Worth(&cutting.Pattern{Stock: r.index}) * scale
}

func (r *Linked) Traits() price.Traits { return price.Traits{Fine: 1, Lists: true} }

func (r *Linked) Fill(left []int64, _ price.Asker) *cutting.Pattern {
	return r.p.Greedy(r.index, left)
}

func (r *Linked) Price(a *price.Ask) int64 {
	best := r.run(a)
	r.m.Add(r.steps() + r.walked)
	r.walked = 0
	return best
}

// Vouch prices over every position.
func (r *Linked) Vouch(a *price.Ask) int64 {
	all := r.dense
	if all == nil {
		all = newLinked(r.p, r.index, true, r.m)
		if len(all.pos) <= 1<<14 { // larger ones are made anew each time, to spare memory
			r.dense = all
		}
	}
	return all.Price(a)
}

// steps are those of one pricing.
func (r *Linked) steps() int64 { return int64(16+2*len(r.s.Holds)) * int64(len(r.pos)) }

// run runs the recursion; where no piece may lie anywhere, the value of a whole offcut stands in
// for minus infinity.
func (r *Linked) run(a *price.Ask) int64 {
	r.duals, r.scale = a.Duals, a.Scale
	flags := 1
	if r.linked {
		flags = 2
	}
	c := r.cursor()
	for t := len(r.pos) - 1; t >= 0; t-- {
		c.to(t)
		var piece [2]int64
		for b := range flags {
			piece[b] = r.piece(t, b, c)
		}
		for layer := range 2 {
			g := c.gap(layer)
			for b := range flags {
				f := r.f[layer][b]
				f[t] = max(f[t+1], piece[b], g[b])
			}
			if c.atRunStart() {
				r.open[layer][c.run] = g[0]
			}
		}
	}
	if best := r.f[1][0][0]; best >= 0 {
		return best
	}
	return r.f[0][0][0]
}

// piece is the best piece that may start at position t and what may follow it.
func (r *Linked) piece(t, b int, c *cursor) int64 {
	f := r.f[0][b]
	best := int64(price.Never)
	for q := range r.items {
		for n, i := range r.items[q][:r.fit[q][t]] {
			if v := r.duals[i] + f[c.after[q][n]]; v > best {
				best = v
			}
		}
	}
	return best
}

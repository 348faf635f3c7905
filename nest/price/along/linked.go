package along

import (
	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// The pricing of linked stocks: dynamic programming from the far end over the starts of starts.go.
// An item may have any number of copies. All values are whole numbers, in money x scale.
//
//	x, y   starts
//	k      the kerf
//	w(t)   what a stretch of length t is worth: floor( rate x (t - keep) ), at least 0
//	F(x)   the most from x on, where the kerf before x is paid and anything may begin
//	G(x)   the most from x on, where x lies in a gap
//	e, E   where the clear run ends in which x lies; the most from there on, where the gap goes on
//
//	F(x) = max of  F(next x)                      nothing begins at x
//	               dual_i + F(x + size_i + k)     a piece of item i that may lie at x
//	               G(x)                           a gap begins
//
//	G(x) = max of  F(x + k)                       the gap ends at x
//	               w(y - k - x) + F(y)            it ends a kerf before a later start y <= e + k
//	               w(e - x) + E                   it goes on behind the run
//
//	G(x) = max of  F(x + k)                       the same where x lies in a spot
//	               G(start of the next run)
//
//	E    = max of  F(e + k)                       the gap ends there; 0 at the stock's end
//	               G(start of the next run)
//
// With k = 0 the term F(x + k) of G(x) is F(x) itself, and left out. A kerf is paid towards pieces
// only, never between two stretches of one gap.
//
// At least one piece. Two layers of F and G are kept: in layer 1 no piece has come yet. There the
// stock's end is worth minus infinity, and a piece leads to layer 0.
//
// The bonus. Worth is rounded down stretch by stretch. A piece that can trade links the stretches
// on its two sides, and moves their roundings with it. Stretches so linked are a chain. Of a chain
// let c be the number of stretches longer than keep.
//
//	Before rounding, a chain is worth most with its pieces at starts considered.
//	Rounding loses less than a unit of money for each of the c stretches.
//	So with its pieces anywhere, a chain is worth at most c - 1 units more than at those starts.
//
// Hence every stretch longer than keep, after the first of its chain, earns one unit more. That
// makes best a bound for every layout. A chain ends where a gap passes over a spot from one run to
// the next. The flag b of F and G is 1 where the chain has a stretch longer than keep already.
// Where no piece can trade there is no bonus, and the recursion is exact.

// linked prices one stock over the starts of starts.go.
type linked struct {
	p      *cutting.Problem
	m      *price.Meter
	index  int
	s      *cutting.Stock
	trades bool    // a piece can trade: there is a bonus
	dense  *linked // over every position of the grid; made when first asked for

	starts []int64                  // ascending; starts[0] = From
	items  [cutting.Classes][]int   // held items of a class, shortest first
	fits   [cutting.Classes][]int32 // by start: how many items of the class may start there
	runs   []cutting.Span           // clear runs, ascending

	// rate x a length from the stock's start, as quotient and remainder: w is a difference of two
	startQ, startM []int64 // to a kerf before each start
	endQ, endM     []int64 // to the end of each run
	keptQ, keptM   []int64 // to each start, plus keep

	// The last pricing.
	duals []int64
	scale int64
	f     [2][2][]int64 // F by layer and flag; one more entry than starts, the stock's end
	enter [2][]int64    // by layer: G at the start of each run, flag 0

	walked int64 // steps of walks, not yet counted
}

// newLinked prices over the starts that an exact pricing needs, or over all of the grid.
func newLinked(p *cutting.Problem, index int, everywhere bool, m *price.Meter) *linked {
	s := &p.Stocks[index]
	r := &linked{p: p, m: m, index: index, s: s, trades: tradable(p, s), runs: s.ClearRuns()}
	if everywhere {
		r.starts = everyStart(p, s)
	} else {
		r.starts = startsOf(p, s)
	}
	for _, i := range s.Holds {
		r.items[p.Items[i].Class] = append(r.items[p.Items[i].Class], i)
	}
	spans := clearOf(p, s)
	for q := range r.items {
		cutting.SortBySize(p, r.items[q])
		r.fits[q] = make([]int32, len(r.starts))
		for t, x := range r.starts {
			for free, n := spans.reach(q, x)-x, 0; n < len(r.items[q]) &&
				p.Items[r.items[q][n]].Size <= free; n++ {
				r.fits[q][t] = int32(n + 1)
			}
		}
	}
	n := len(r.starts)
	for layer, end := range []int64{0, price.Never} {
		for b := range r.f[layer] {
			r.f[layer][b] = make([]int64, n+1)
			r.f[layer][b][n] = end
		}
		r.enter[layer] = make([]int64, len(r.runs))
	}
	r.divide()
	return r
}

// divide prepares the roundings of worth.
func (r *linked) divide() {
	rate := r.s.Rate
	if rate.Num == 0 {
		return
	}
	n := len(r.starts)
	r.startQ, r.startM = make([]int64, n), make([]int64, n)
	r.keptQ, r.keptM = make([]int64, n), make([]int64, n)
	for t, x := range r.starts {
		r.startQ[t], r.startM[t] = rate.Split(max(0, x-r.s.From-r.p.Kerf))
		r.keptQ[t], r.keptM[t] = rate.Split(x - r.s.From + r.s.Keep)
	}
	r.endQ, r.endM = make([]int64, len(r.runs)), make([]int64, len(r.runs))
	for j, run := range r.runs {
		r.endQ[j], r.endM[j] = rate.Split(run.To - r.s.From)
	}
}

func (r *linked) Bare(scale int64) int64 {
	return r.p.Worth(&cutting.Pattern{Stock: r.index}) * scale
}

func (r *linked) Traits() price.Traits { return price.Traits{Fine: 1, Lists: true} }

func (r *linked) Fill(left []int64, _ price.Asker) *cutting.Pattern {
	return r.p.Greedy(r.index, left)
}

func (r *linked) Price(a *price.Ask) int64 {
	best := r.solve(a)
	r.m.Add(r.steps() + r.walked)
	r.walked = 0
	return best
}

// mostDense is how many starts a dense pricer that is kept may have; a larger one is made anew each
// time, to spare memory.
const mostDense = 1 << 14

// Vouch prices over every position of the grid.
func (r *linked) Vouch(a *price.Ask) int64 {
	all := r.dense
	if all == nil {
		all = newLinked(r.p, r.index, true, r.m)
		if len(all.starts) <= mostDense {
			r.dense = all
		}
	}
	return all.Price(a)
}

// steps are those of one pricing.
func (r *linked) steps() int64 { return int64(16+2*len(r.s.Holds)) * int64(len(r.starts)) }

// solve fills F and gives best: where no piece may lie anywhere, the value of the empty stock
// stands in for minus infinity.
func (r *linked) solve(a *price.Ask) int64 {
	r.duals, r.scale = a.Duals, a.Scale
	flags := 1
	if r.trades {
		flags = 2
	}
	c := r.newCursor()
	for t := len(r.starts) - 1; t >= 0; t-- {
		c.moveTo(t)
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
				r.enter[layer][c.run] = g[0]
			}
		}
	}
	if best := r.f[1][0][0]; best >= 0 {
		return best
	}
	return r.f[0][0][0]
}

// piece is the most that a piece at start t gives with what follows it, with flag b.
func (r *linked) piece(t, b int, c *cursor) int64 {
	f := r.f[0][b]
	best := int64(price.Never)
	for q := range r.items {
		for n, i := range r.items[q][:r.fits[q][t]] {
			if v := r.duals[i] + f[c.after[q][n]]; v > best {
				best = v
			}
		}
	}
	return best
}

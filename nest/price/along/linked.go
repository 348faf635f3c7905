package along

import (
	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// The pricing of linked stocks: dynamic programming from the far end over the starts of starts.go.
// An item may have any number of copies.
//
//	x, y   starts
//	k      the kerf
//	w(t)   what a stretch of length t is worth: slope x max(0, t - keep)
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
// only, never between two stretches of one gap. Where a stretch is longer than keep,
//
//	w(y - k - x) + F(y) = slope (y - k) + F(y) - slope (x + keep),
//
// so the best y is that of the greatest slope (y - k) + F(y), whatever x.
//
// At least one piece. Two layers of F and G are kept: in layer 1 no piece has come yet. There the
// stock's end is worth minus infinity, and a piece leads to layer 0.

// linked prices one stock over the starts of starts.go.
type linked struct {
	p     *cutting.Problem
	m     *price.Meter
	index int
	s     *cutting.Stock

	starts []int64                  // ascending; starts[0] = From
	first  buckets                  // where to look for a start
	items  [cutting.Classes][]int   // held items of a class, shortest first
	fits   [cutting.Classes][]int32 // by start: how many items of the class may start there
	runs   []cutting.Span           // clear runs, ascending

	// The last pricing.
	duals  []int64
	pieces []int64    // by start: the most of a piece there with what follows it
	f      [2][]int64 // F by layer; one more entry than starts, the stock's end
	enter  [2][]int64 // by layer: G at the start of each run

	walked int64 // steps of walks, not yet counted
}

// newLinked prices a stock.
func newLinked(p *cutting.Problem, index int, m *price.Meter) *linked {
	s := &p.Stocks[index]
	r := &linked{p: p, m: m, index: index, s: s, runs: s.ClearRuns(), starts: startsOf(p, s)}
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
	r.first, r.pieces = newBuckets(r.starts), make([]int64, n)
	for layer, end := range []int64{0, price.Never} {
		r.f[layer] = make([]int64, n+1)
		r.f[layer][n] = end
		r.enter[layer] = make([]int64, len(r.runs))
	}
	return r
}

func (r *linked) Bare() int64 { return r.p.Worth(&cutting.Pattern{Stock: r.index}) }

func (r *linked) Traits() price.Traits { return price.Traits{Lists: true} }

func (r *linked) Fill(left []int64, _ price.Asker) *cutting.Pattern {
	return r.p.Greedy(r.index, left)
}

func (r *linked) Vouch(a *price.Ask) int64 { return r.Price(a) }

func (r *linked) Price(a *price.Ask) int64 {
	best := r.solve(a)
	r.m.Add(r.steps() + r.walked)
	r.walked = 0
	return best
}

// steps are those of one pricing.
func (r *linked) steps() int64 { return int64(16+2*len(r.s.Holds)) * int64(len(r.starts)) }

// solve fills F and gives best: where no piece may lie anywhere, the value of the empty stock
// stands in for minus infinity.
func (r *linked) solve(a *price.Ask) int64 {
	r.duals = a.Duals
	c := r.newCursor()
	for t := len(r.starts) - 1; t >= 0; t-- {
		c.moveTo(t)
		piece := c.piece()
		r.pieces[t] = piece
		for layer := range 2 {
			f, g := r.f[layer], c.gap(layer)
			f[t] = max(f[t+1], piece, g)
			if c.atRunStart() {
				r.enter[layer][c.run] = g
			}
		}
		c.noteStep()
	}
	if best := r.f[1][0]; best >= 0 {
		return best
	}
	return r.f[0][0]
}

// worth is w.
func (r *linked) worth(length int64) int64 { return r.s.Slope * max(0, length-r.s.Keep) }

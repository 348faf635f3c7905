package along

import (
	"slices"
	"sort"

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
	base
	starts []int64                // ascending; starts[0] = From
	first  buckets                // where to look for a start
	items  [cutting.Classes][]int // held items of a class, shortest first
	fits   [cutting.Classes][]fit // how many items of the class may start where

	// The last pricing.
	asked *price.Ask
	duals []int64
	*tables
	enter [2][]int64 // by layer: G at the start of each run

	walked int64 // steps of walks, not yet counted
}

// fit is how many items of a class may start at a start and the next ones.
type fit struct {
	from  int32 // number of the start
	items int32
}

// tables are what a pricing fills. Stocks share them: those that a layout is asked of after another
// stock was priced fill them again.
type tables struct {
	of     *linked
	pieces []int64    // by start: the most of a piece there with what follows it
	f      [2][]int64 // F by layer; one more entry than starts, the stock's end
}

// newLinked prices a stock; it may share tables with others.
func newLinked(p *cutting.Problem, index int, m *price.Meter, shared *tables) *linked {
	s := &p.Stocks[index]
	spans := clearOf(p, s)
	r := &linked{base: newBase(p, index, m), starts: startsOf(p, s, spans), tables: shared}
	for _, i := range s.Holds {
		r.items[p.Items[i].Class] = append(r.items[p.Items[i].Class], i)
	}
	for q := range r.items {
		cutting.SortBySize(p, r.items[q])
		old := -1
		for t, x := range r.starts {
			free := spans.reach(q, x) - x
			n := sort.Search(len(r.items[q]), func(n int) bool {
				return p.Items[r.items[q][n]].Size > free
			})
			if n != old {
				old = n
				r.fits[q] = append(r.fits[q], fit{int32(t), int32(n)})
			}
		}
	}
	r.first = newBuckets(r.starts)
	m.Add(max(0, int64(len(r.starts))-finest) * int64(len(s.Holds))) // to find them
	for layer := range r.enter {
		r.enter[layer] = make([]int64, len(r.runs))
	}
	return r
}

// fitting are the items of a class that may start at a start, shortest first.
func (r *linked) fitting(q, t int) []int {
	after := sort.Search(len(r.fits[q]), func(n int) bool { return int(r.fits[q][n].from) > t })
	if after == 0 {
		return nil
	}
	return r.items[q][:r.fits[q][after-1].items]
}

func (r *linked) Vouch(a *price.Ask, _ int64) (int64, bool) { return r.Price(a), true }

func (r *linked) Price(a *price.Ask) int64 {
	best := r.solve(a)
	r.m.Add(r.steps() + r.walked)
	r.walked = 0
	return best
}

// steps are those of one pricing. Where starts are many, most lie where nothing is looked up.
func (r *linked) steps() int64 {
	n := int64(len(r.starts))
	return int64(16+2*len(r.s.Holds))*min(n, finest) + 8*max(0, n-finest)
}

// solve fills F and gives best: where no piece may lie anywhere, the value of the empty stock
// stands in for minus infinity.
func (r *linked) solve(a *price.Ask) int64 {
	r.asked, r.duals, r.of = a, a.Duals, r
	n := len(r.starts)
	r.pieces = slices.Grow(r.pieces[:0], n)[:n]
	for layer, end := range []int64{0, price.Never} {
		r.f[layer] = slices.Grow(r.f[layer][:0], n+1)[:n+1]
		r.f[layer][n] = end
	}
	c := r.newCursor()
	for t := n - 1; t >= 0; t-- {
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

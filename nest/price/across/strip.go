package across

import (
	"slices"

	"rackwright/nest/price"
)

// stripRun is the recursion along one strip: f0 with, f1 without a piece as wide as the strip.
type stripFill struct {
	k, n   int
	shape  *stripShape
	best   int64
	f0, f1 []int64
	stale  bool
	scans  [2]gapScan
}

// kept is how many runs of strips a sheet keeps for its walks.
const mostFills = 12

// runStrip prices the strip of width k at start n, with its spots.
func (r *pricer) fill(k, n int) *stripFill {
	for _, o := range r.fills {
		if !o.stale && o.k == k && o.n == n {
			return o
		}
	}
	var run *stripFill
	if len(r.fills) < mostFills {
		run = &stripFill{f0: make([]int64, len(r.xs)+1), f1: make([]int64, len(r.xs)+1)}
	} else { // the oldest
		run = r.fills[0]
		r.fills = slices.Delete(r.fills, 0, 1)
	}
	r.fills = append(r.fills, run)
	run.k, run.n, run.stale, run.shape = k, n, false, r.shape(k, n)
	r.solveStrip(run)
	return run
}

// stripEntry is the best piece of one length in a strip where no spot is near.
type option struct {
	j    int
	size int64
	pieceValue
}

// thin leaves out the pieces that a shorter one is as good as.
func undominated(of []pieceValue, sizes []int64, longest int64) (out []option) {
	best := pieceValue{price.Never, price.Never}
	for a, v := range of {
		if sizes[a] > longest {
			break
		}
		e := option{a, sizes[a], pieceValue{price.Never, price.Never}}
		if v.any > best.any {
			e.any, best.any = v.any, v.any
		}
		if v.full > best.full {
			e.full, best.full = v.full, v.full
		}
		if e.any >= 0 || e.full >= 0 {
			out = append(out, e)
		}
	}
	return out
}

// recurStrip runs the recursion along a strip:
//
//	f0(x) = max( f0(next x); value + f0(x + size + kc) for each piece; u of the gap to each later start )
//	f1(x)   the same, but that a piece as wide as the strip leads to f0, and the end is worth minus infinity
func (r *pricer) solveStrip(run *stripFill) {
	s, lens, n := run.shape, len(r.clear.lens), len(r.xs)
	f0, f1 := run.f0, run.f1
	f0[n], f1[n] = 0, price.Never
	if s.offcuts {
		run.scans[0].reset(&s.gaps, r.clear.s0, r.xs, r.gapEnds, f0)
		run.scans[1].reset(&s.gaps, r.clear.s0, r.xs, r.gapEnds, f1)
	}
	list := undominated(r.clear.inStrip[run.k], r.clear.lens, r.extent)
	s.most = s.most[:0]
	for _, it := range s.items {
		s.most = append(s.most, Fine*r.ask.Duals[it.item]+r.clear.worthBeside(it.sawnItem, s.width))
	}
	limit, edge := int64(0), int64(0) // limit holds while x >= edge
	for t := n - 1; t >= 0; t-- {
		x := r.xs[t]
		if t == n-1 || x < edge {
			s.setLimits(x, r.extent)
			limit, edge = clearTo(s.spots, x, r.extent), 0
			for _, spot := range s.spots {
				if spot.To <= x {
					edge = max(edge, spot.To)
				}
			}
		}
		b0, b1 := f0[t+1], f1[t+1]
		next := r.nextAlong[t*lens : (t+1)*lens]
		for _, e := range list {
			if x+e.size > limit {
				break
			}
			to := next[e.j]
			b0 = max(b0, e.any+f0[to])
			b1 = max(b1, e.any+f1[to], e.full+f0[to])
		}
		if s.offcuts {
			b0, b1 = max(b0, run.scans[0].best(t, b0)), max(b1, run.scans[1].best(t, b1))
		}
		f0[t], f1[t] = r.addSpotted(run, t, limit, b0, b1)
	}
	run.best = f1[0]
	r.steps += int64(n * (len(list)*2 + len(s.items) + len(s.gaps.edges)))
}

// amongSpots improves f0 and f1 by the pieces that reach past limit, up to which no spot meets the
// strip.
func (r *pricer) addSpotted(run *stripFill, t int, limit, b0, b1 int64) (int64, int64) {
	s, x := run.shape, r.xs[t]
	next := r.nextAlong[t*len(r.clear.lens):]
	for m := len(s.items) - 1; m >= 0; m-- {
		it := &s.items[m]
		end := x + it.size
		if end <= limit {
			break
		}
		side := &s.sides[it.side]
		if end > side.limit[it.class] {
			continue
		}
		v, c0, c1 := s.most[m], run.f0[next[it.j]], run.f1[next[it.j]]
		if it.full {
			c1 = max(c1, c0)
		}
		if v+c0 <= b0 && v+c1 <= b1 {
			continue
		}
		if side.beside != nil {
			v = Fine*r.ask.Duals[it.item] + worthOfBands(side.beside, r.clear.s0, r.stock.Keep, x, end)
		}
		b0, b1 = max(b0, v+c0), max(b1, v+c1)
	}
	return b0, b1
}

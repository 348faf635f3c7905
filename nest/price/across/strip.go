package across

import (
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
	"rackwright/nest/price/across/offcuts"
)

// mostFills is how many fills of strips a pricer keeps for its walks.
const mostFills = 12

// stripFill fills one strip into which spots reach with pieces and gaps, from its near end. A row
// counts only if a piece in it has full size, as in acrossFill:
//
//	f0[t]  the most from start t on, where the row has its full-size piece already
//	f1[t]  the most from start t on, where that is still to come; minus infinity at the far end
//
//	f(t) = max of
//	   f(next t)           nothing starts at t
//	   value + f(y)        a piece at t, y the first start a kerf or more after the piece;
//	                       full size leads from f1 to f0
//	   u of [x, z) + f(y)  a gap from t, at x, to a kerf before start y, or to the far end
type stripFill struct {
	stripAt
	shape  *stripShape
	stale  bool // it is of an earlier pricing
	best   int64
	f0, f1 []int64
	gaps0  *offcuts.Along // with f0 behind them
	gaps1  *offcuts.Along
	most   []int64 // by item of the shape: its value where no spot is beside the piece
}

// table is f0 for a row that has its full-size piece, f1 for one that has not.
func (f *stripFill) table(full bool) []int64 {
	if full {
		return f.f0
	}
	return f.f1
}

// solvedStrip gives the fill of a strip, solved now or earlier in this pricing. If there are
// mostFills already, it takes the place of the oldest.
func (r *pricer) solvedStrip(at stripAt) *stripFill {
	for _, f := range r.fills {
		if !f.stale && f.stripAt == at {
			return f
		}
	}
	var f *stripFill
	if len(r.fills) < mostFills {
		f = &stripFill{f0: make([]int64, len(r.xs)+1), f1: make([]int64, len(r.xs)+1),
			gaps0: offcuts.NewAlong(r.xs, r.gapEnds), gaps1: offcuts.NewAlong(r.xs, r.gapEnds)}
	} else {
		f = r.fills[0]
		r.fills = slices.Delete(r.fills, 0, 1)
	}
	r.fills = append(r.fills, f)
	f.stripAt, f.stale, f.shape = at, false, r.shape(at)
	r.solveStrip(f)
	return f
}

// solveStrip computes the tables of a strip.
func (r *pricer) solveStrip(f *stripFill) {
	s, lens, last := f.shape, len(r.clear.lens), len(r.xs)
	f0, f1 := f.f0, f.f1
	f0[last], f1[last] = 0, price.Never
	f.gaps0.Set(s.gaps, r.clear.s0(s.width))
	f.gaps1.Set(s.gaps, r.clear.s0(s.width))
	f.gaps0.Begin(f0)
	f.gaps1.Begin(f1)
	f.most = f.most[:0]
	for _, it := range s.items {
		f.most = append(f.most,
			r.ask.Duals[it.item]+r.clear.worthTrimmed(it.sawnItem, s.width))
	}
	list := undominated(r.clear.inStrip[f.k], r.clear.lens, r.extent)
	limit, valid := int64(0), r.extent // while x >= valid, the strip is clear from x to limit
	for t := last - 1; t >= 0; t-- {
		x := r.xs[t]
		if x < valid {
			s.setLimits(x, r.extent)
			limit, valid = s.spots.ClearTo(x, r.extent), s.spots.EndedBy(x)
		}
		best0, best1 := f0[t+1], f1[t+1]
		next := r.nextAlong[t*lens : (t+1)*lens]
		for m := range list {
			o := &list[m]
			if x+o.size > limit {
				break
			}
			to := next[o.n]
			best0 = max(best0, o.any+f0[to])
			best1 = max(best1, o.any+f1[to], o.full+f0[to])
		}
		if s.gaps != nil {
			best0 = max(best0, f.gaps0.Best(t, best0))
			best1 = max(best1, f.gaps1.Best(t, best1))
		}
		f0[t], f1[t] = r.overSpots(f, t, limit, best0, best1)
	}
	f.best = f1[0]
	r.work += int64(last * (len(list)*2 + len(s.items) + s.gaps.Size()))
}

// overSpots gives f0[t] and f1[t]: best0 and best1, or what is better with a piece at start t that
// reaches past limit, where a spot begins.
func (r *pricer) overSpots(f *stripFill, t int, limit, best0, best1 int64) (int64, int64) {
	s, x := f.shape, r.xs[t]
	next := r.nextAlong[t*len(r.clear.lens):]
	for m := len(s.items) - 1; m >= 0; m-- {
		it := &s.items[m]
		along := cutting.Span{From: x, To: x + it.size}
		if along.To <= limit {
			break
		}
		side := &s.sides[it.side]
		if along.To > side.limit[it.class] {
			continue
		}
		v, then0, then1 := f.most[m], f.f0[next[it.j]], f.f1[next[it.j]]
		if it.full {
			then1 = max(then1, then0)
		}
		if v+then0 <= best0 && v+then1 <= best1 {
			continue
		}
		v = r.valueBeside(it, side, along)
		best0, best1 = max(best0, v+then0), max(best1, v+then1)
	}
	return best0, best1
}

// valueBeside is what a piece in a strip is worth, with what is trimmed off beside the piece, less
// the rip that trims it.
func (r *pricer) valueBeside(it *stripItem, side *stripSide, along cutting.Span) int64 {
	return r.ask.Duals[it.item] + r.worthOfBands(side.beside, along, r.clear.strip) -
		side.trimming*it.size
}

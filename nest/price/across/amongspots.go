package across

import (
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// A quick bound of ripped lengths among spots. Where lengths are many, most of the time would go
// into pricing such that are worth far less than where no spot is. So each begins with a bound that
// knows of the spots.
//
//	l, W     how long the length is; how wide the stock is
//	B        the part of the width that spots in the length take, m intervals of it
//	F(T)     the most that a row of pieces of total T is worth in the length where no spot is
//	c        no piece before or behind a spot of the length is longer
//	D        the most that an offcut, or a piece that reaches into B, is worth for each unit of
//	         its width + rip. Such a piece tolerates a spot, or is no longer than c
//
// Pieces that keep out of B have a total of W - B + (m + 1) rip at most. All else, offcuts and
// pieces that reach into B, takes the rest of W + rip, and is worth at most D for each unit. So a
// row is worth at most
//
//	max over T <= W - B + (m + 1) rip of  F(T) + D (W + rip - T).
//
// F is taken at its concave hull, which is no less. A piece i behind which lies an offcut is worth
// dual_i + s w_i max(0, l - size_i - kerf - keep), s being the greater slope of offcuts, so that
//
//	D <= max over i of  dual_i / (w_i + rip) + s max(0, l - kerf - keep - size_i).
//
// Rips that cost something are left aside: there is no such bound then.

// densities are the most that items up to a length are worth for each unit of width + rip, by class
// and index of the length: alone, and less s times the size.
type densities struct{ alone, less [cutting.Classes][]int64 }

// boundsAmong says whether lengths among spots begin with such a bound.
func (t *clearTable) boundsAmong() bool { return t.many && t.p.RipCost == 0 }

// greaterSlope is s.
func (t *clearTable) greaterSlope() int64 { return max(t.stock.Slope, t.across.Strip) }

// setDensities sets the densities of one round of pricing.
func (t *clearTable) setDensities(ask *price.Ask) {
	d, s := &t.densities, t.greaterSlope()
	for class := range cutting.Classes {
		d.alone[class] = slices.Grow(d.alone[class][:0], len(t.lens))[:len(t.lens)]
		d.less[class] = slices.Grow(d.less[class][:0], len(t.lens))[:len(t.lens)]
		for j := range t.lens {
			d.alone[class][j], d.less[class][j] = price.Never, price.Never
		}
	}
	for m := range t.sawn {
		i := &t.sawn[m]
		wide := i.width + t.p.Rip
		each := (ask.Duals[i.item] + wide - 1) / wide
		alone, less := d.alone[i.class], d.less[i.class]
		alone[i.j], less[i.j] = max(alone[i.j], each), max(less[i.j], each-s*i.size)
	}
	for class := range cutting.Classes {
		alone, less := d.alone[class], d.less[class]
		for j := 1; j < len(t.lens); j++ {
			alone[j], less[j] = max(alone[j], alone[j-1]), max(less[j], less[j-1])
		}
	}
}

// spotsIn is what the spots in a length have in common.
type spotsIn struct {
	spots     int
	total     int64                 // of pieces that keep out of them, at most
	near      int64                 // the most that is before one of them
	leastTo   int64                 // where the first of them ends
	tolerated [cutting.Classes]bool // one of them is
	allowed   [cutting.Classes]bool // all of them are
}

// spotsFrom is that of the first so many of some spots, for lengths that start at x.
func (r *pricer) spotsFrom(spots []*cutting.Spot, x int64) (in spotsIn) {
	in = spotsIn{spots: len(spots), near: price.Never, leastTo: r.extent,
		allowed: [cutting.Classes]bool{true, true, true}}
	var sides []cutting.Span
	for _, o := range spots {
		in.near, in.leastTo = max(in.near, o.From-x), min(in.leastTo, o.To)
		for class, yes := range o.Tolerated {
			in.tolerated[class] = in.tolerated[class] || yes
			in.allowed[class] = in.allowed[class] && yes
		}
		sides = append(sides, cutting.Span{From: o.Left, To: o.Right})
	}
	slices.SortFunc(sides, func(a, b cutting.Span) int { return int(a.From - b.From) })
	taken, intervals, end := int64(0), int64(0), int64(-1)
	for _, s := range sides {
		if s.From > end {
			intervals++
		}
		taken += max(0, s.To-max(s.From, end))
		end = max(end, s.To)
	}
	in.total = r.across.Width - taken + (intervals+1)*r.p.Rip
	return in
}

// boundAmong bounds length j at x among spots; price.Never: nothing may lie there.
func (r *pricer) boundAmong(in *spotsIn, j int, x int64) int64 {
	t, length := r.clear, r.clear.lens[j]
	best := int64(price.Never)
	for class, v := range t.plain[j] {
		if in.allowed[class] {
			best = max(best, v)
		}
	}
	if length < r.across.ShortestRip || len(t.widths) == 0 {
		return best
	}
	s := t.greaterSlope()
	each, behind := s*t.beyondKeep(length), s*t.beyondKeep(length-r.p.Kerf)
	short := firstFrom(t.lens[:j+1], max(in.near, x+length-in.leastTo)+1)
	for class := range cutting.Classes {
		upTo := short
		if in.tolerated[class] {
			upTo = j + 1
		}
		if upTo > 0 {
			each = max(each, t.densities.alone[class][upTo-1],
				behind+t.densities.less[class][upTo-1])
		}
	}
	return max(best, t.hulls[j].most(in.total, each)+each*(r.across.Width+r.p.Rip))
}

// boundLengths gives each length among spots that bound, where it is less.
func (r *pricer) boundLengths() {
	s, lens := &r.lengths, r.clear.lens
	var spots []*cutting.Spot
	for t, x := range r.xs {
		spots = spots[:0]
		for m := range r.spots {
			if o := &r.spots[m]; o.To > x {
				spots = append(spots, o)
			}
		}
		n, in := 0, spotsIn{}
		for j := int(r.clearLens[t]); j < int(r.fitLens[t]); j++ {
			for n < len(spots) && spots[n].From < x+lens[j] {
				n++
			}
			if in.spots != n {
				in = r.spotsFrom(spots[:n], x)
			}
			c := r.slot(t, j)
			s.value[c] = min(s.value[c], r.boundAmong(&in, j, x))
			s.priced[c] = price.None(s.value[c])
		}
		r.work += 4 * int64(max(0, r.fitLens[t]-r.clearLens[t]))
	}
}

// hull is the concave hull of a front, from its upper side.
type hull []rowTotal

// hullOf makes that of a front, in the memory of another.
func hullOf(f front, out hull) hull {
	out = out[:0]
	for _, row := range f {
		for len(out) > 1 {
			a, b := out[len(out)-2], out[len(out)-1]
			if (b.value-a.value)/(b.total-a.total) >= (row.value-b.value)/(row.total-b.total) {
				break
			}
			out = out[:len(out)-1]
		}
		out = append(out, row)
	}
	return out
}

// most is the most of value - each x total, over totals up to a limit.
func (h hull) most(limit, each int64) int64 {
	best := int64(price.Never)
	for n, p := range h {
		if p.total > limit {
			a := h[n-1]
			at := a.value + ((p.value-a.value)/(p.total-a.total)+1)*(limit-a.total)
			return max(best, at-each*limit)
		}
		v := p.value - each*p.total
		if v < best {
			break
		}
		best = v
	}
	return best
}

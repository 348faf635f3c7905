package rough

import (
	"slices"

	"rackwright/nest/cutting"
)

// A stock on a coarser grid bounds the stock: every layout of the one has a layout of the other
// with the same pieces that is worth no less. Let g be the step along and h that across, k and r
// the kerfs, and |x| the greatest multiple of the step that is no more than x. Points count from
// the stock's start and its left edge.
//
//	                      along                      across
//	kerf                  |k|                        |r|
//	piece, stock, and least sizes (ShortestRip; Across.Keep)
//	                      |l + k| - |k|              |w + r| - |r|
//	inset                                            |inset|
//	spot [a, b)           from |a + k| - |k|         from a + h - 1, rounded up
//	                      to |b|, with Across -g     to |b - 2 (h - 1)|
//	keep                  keep - (g - 1), with Across keep - 2 g
//	Strip                                            x kw / (kw - (h - 1))
//	Slope                                            x W / (|W + r| - |r|), if more; >= Strip
//	RipCost               x s / (s + 3 g)            / 2
//
// where s is ShortestRip from 1 to L, and kw is Across.Keep or W, the less. A spot that goes to an
// end or edge of the stock still does. An axis of step 0 stays as it is. The grid is too coarse for
// a stock where a piece, keep, kw or a weak spot would vanish.
//
// Why: |a + b| >= |a| + |b|. So when everything at x goes to |x|, what followed a kerf behind does
// so still, and what ended by L ends by |L + k| - |k|. Across, what ends at W goes to the edge, so
// that it needs no rip there. In a length a shorter piece at the far side starts less than a step
// before |x + l - s|. Spots are less by as much as pieces may come nearer.
//
// Gaps. A stretch of a line starts no later than before and ends less than two steps earlier (of a
// stock without Across: one): what is taken off keep makes up for it. Where a spot vanishes two
// stretches are one, worth no less. A gap t wide is |t + r| - |r| wide or more. Its lines go, in
// order, to lines less than 2 h to the left or h to the right, on which no other spots lie. Less
// than h of kw lines or more are lost: Strip makes up for these.
//
// Rips. A side that has a rip had one, of no more than 3 g less. Two sides that shared one may each
// have their own.

// Grid is a step along and one across, in units; 0: as it is.
type Grid struct{ Along, Across int64 }

// axis rounds what lies along an axis.
type axis struct{ step, kerf int64 }

// down is |x|, of an x that is not below 0.
func (a axis) down(x int64) int64 {
	if a.step == 0 {
		return x
	}
	return x - x%a.step
}

// size is |x + k| - |k|.
func (a axis) size(x int64) int64 {
	if a.step == 0 {
		return x
	}
	return a.down(x+a.kerf) - a.down(a.kerf)
}

// up is the least multiple of the step that is no less than x.
func (a axis) up(x int64) int64 { return a.down(x + max(0, a.step-1)) }

// ceil is v n / d, rounded up.
func ceil(v, n, d int64) int64 { return (v*n + d - 1) / d }

// OnGrid is a program on a coarser grid, without its stocks.
type OnGrid struct {
	Grid
	of   *cutting.Problem
	x, y axis
	// Items and kerfs are those on the grid; RipCost is still the true one.
	cutting.Problem
}

// Onto puts the items and kerfs of a program on a grid.
func Onto(p *cutting.Problem, g Grid) *OnGrid {
	o := &OnGrid{Grid: g, of: p, x: axis{g.Along, p.Kerf}, y: axis{g.Across, p.Rip}}
	o.Problem = cutting.Problem{Items: slices.Clone(p.Items), Kerf: o.x.down(p.Kerf),
		Rip: o.y.down(p.Rip), RipCost: p.RipCost, Coin: p.Coin}
	for i := range o.Items {
		it := &o.Items[i]
		it.Size, it.Width = o.x.size(it.Size), o.y.size(it.Width)
	}
	return o
}

// Stock gives a stock of the program on the grid, and what ripping it costs there; false where the
// grid is too coarse for it, or where worths become too large to reckon with.
func (o *OnGrid) Stock(stock int) (out cutting.Stock, ripCost int64, ok bool) {
	s := &o.of.Stocks[stock]
	out = *s
	out.To = s.From + o.x.size(s.To-s.From)
	less := max(0, o.Along-1)
	if s.Across != nil {
		less = 2 * o.Along
	}
	if out.Keep -= less; out.Keep < 0 {
		return out, 0, false
	}
	if ripCost, ok = o.RipCost, true; s.Across != nil {
		out.Across, ripCost, ok = o.across(s)
		out.Slope, out.Across.Strip = o.slopes(s)
		ok = ok && out.Across.Width > 0
	}
	for _, i := range s.Holds {
		it := &o.Items[i]
		ok = ok && it.Size > 0 && (s.Across == nil || it.Width > 0 ||
			slices.Contains(out.Across.Whole, i))
	}
	out.Spots = nil
	for _, spot := range s.Spots {
		on, clipped := o.spot(s, spot)
		switch anchor := spot.Weak && (spot.To > s.From && spot.To < s.To ||
			spot.From > s.From && spot.From < s.To); {
		case on.From < on.To && on.To > s.From && (s.Across == nil || on.Left < on.Right):
			out.Spots = append(out.Spots, on)
		case anchor && clipped:
			ok = false
		}
	}
	slices.SortStableFunc(out.Spots, func(a, b cutting.Spot) int { return int(a.From - b.From) })
	return out, ripCost, ok
}

// across gives what a stock is across, and what ripping it costs; its Strip is still the true one.
func (o *OnGrid) across(s *cutting.Stock) (*cutting.Across, int64, bool) {
	a := *s.Across
	a.Whole = slices.Clone(a.Whole)
	for _, i := range s.Holds {
		if !o.of.MaySaw(s, i) && !slices.Contains(a.Whole, i) {
			a.Whole = append(a.Whole, i)
		}
	}
	slices.Sort(a.Whole)
	cost := o.RipCost
	if least := max(1, min(a.ShortestRip, s.To-s.From)); cost > 0 {
		cost = cost * least / (least + 3*o.Along)
		if o.Across > 0 {
			cost /= 2
		}
	}
	a.Inset, a.Narrowest, a.ShortestRip = o.y.down(a.Inset), 0, o.x.size(a.ShortestRip)
	a.Width, a.Keep = o.y.size(a.Width), o.y.size(a.Keep)
	return &a, cost, min(s.Across.Keep, s.Across.Width) >= o.Across
}

// slopes are what an offcut as wide as a stock is worth, and a strip.
func (o *OnGrid) slopes(s *cutting.Stock) (whole, strip int64) {
	a, h := s.Across, o.Across
	if whole, strip = s.Slope, a.Strip; h == 0 {
		return whole, strip
	}
	kw, width := min(a.Keep, a.Width), o.y.size(a.Width)
	if kw < h || width <= 0 {
		return whole, strip
	}
	strip = ceil(strip, kw, kw-(h-1))
	return max(whole, ceil(whole, a.Width, width), strip), strip
}

// spot gives a spot of a stock on the grid, and whether any of it lies between the ends.
func (o *OnGrid) spot(s *cutting.Stock, spot cutting.Spot) (cutting.Spot, bool) {
	long := s.To - s.From
	from, to := max(0, spot.From-s.From), min(long, spot.To-s.From)
	if from >= to {
		return cutting.Spot{}, false
	}
	spot.From = s.From + o.x.size(from)
	switch a := s.Across; {
	case a == nil:
		spot.To = s.From + o.x.down(to)
	case to == long:
		spot.To = s.From + o.x.size(long)
	default:
		spot.To = s.From + o.x.down(to) - o.Along
	}
	if h := o.Across; s.Across != nil && h > 0 {
		if spot.Left = max(0, spot.Left); spot.Left > 0 {
			spot.Left = o.y.up(spot.Left + h - 1)
		}
		if spot.Right >= s.Across.Width {
			spot.Right = o.y.size(s.Across.Width)
		} else {
			spot.Right = o.y.down(max(0, spot.Right-2*(h-1)))
		}
	}
	return spot, true
}

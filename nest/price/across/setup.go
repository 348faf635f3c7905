package across

import (
	"cmp"
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
	"rackwright/nest/price/across/offcuts"
	"rackwright/nest/price/starts"
)

// What a pricer knows of its stock before it is asked anything.

// newPricer makes the pricer of a stock with Across; nil where the budget is too small.
func (k *Maker) newPricer(index int) *pricer {
	r := k.newStripPricer(&k.p.Stocks[index], index)
	if r == nil {
		return nil
	}
	if len(r.spots) > 0 {
		r.setUpLengths()
	}
	if !r.setUpRippers(k) {
		return nil
	}
	return r
}

// newStripPricer makes one that knows what strips need, of a stock or of a part of its length; nil
// where the budget is too small.
func (k *Maker) newStripPricer(s *cutting.Stock, index int) *pricer {
	p := k.p
	r := &pricer{maker: k, p: p, meter: k.meter, most: k.budget.Pricing / slow, floor: price.Never,
		index: index, stock: s, across: s.Across, extent: s.To - s.From,
		shapes: map[stripAt]*stripShape{}}
	for _, o := range s.Spots {
		o.From, o.To = max(0, o.From-s.From), min(r.extent, o.To-s.From)
		o.Left, o.Right = max(0, o.Left), min(s.Across.Width, o.Right)
		if o.From < o.To && o.Left < o.Right {
			r.spots = append(r.spots, o)
		}
	}
	slices.SortStableFunc(r.spots, func(a, b cutting.Spot) int {
		return cmp.Compare(a.From, b.From)
	})
	for _, o := range r.spots {
		if o.Weak {
			r.weak = append(r.weak, o)
		}
	}
	r.clear = k.tableOf(s, stepAcross(p, s))
	if r.clear == nil || !k.takeRows(r.clear, r.extent) {
		return nil
	}
	r.stockBands = r.bandsOf(r.allAcross())
	few := true
	if r.ys, few = r.startsBeside(r.spots, r.clear.widths, s.Across.Trim); few && len(r.spots) > 0 {
		if r.thin = k.tooFine(r); r.thin {
			r.xs = r.someStarts(k.budget.Cells)
		} else {
			r.xs, few = r.startsBehind(r.spots, r.clear.lens, s.Across.Trim)
		}
	}
	if few {
		r.ripped = k.fillOf(r)
	}
	if !few || !k.takeStarts(r) {
		return nil
	}
	r.nextAcross = make([]int32, len(r.ys)*len(r.clear.widths))
	for k, width := range r.clear.widths {
		spotted, strippable := make([]bool, len(r.ys)), make([]bool, len(r.ys))
		for n, y := range r.ys {
			spotted[n] = r.spots.Meet(r.allAlong(), cutting.Span{From: y, To: y + width})
			strippable[n] = r.maySaw(r.allAlong(), y, width)
		}
		r.spotted, r.strippable = append(r.spotted, spotted), append(r.strippable, strippable)
		for n, next := range starts.Successors[int32](r.ys, width+p.Rip) {
			r.nextAcross[n*len(r.clear.widths)+k] = next
		}
	}
	if len(r.spots) > 0 {
		r.setUpAlong()
	}
	k.pricers = append(k.pricers, r)
	return r
}

// takeStarts takes from the budget what a pricer needs for its starts; false where that is not
// left, or a search would be too long.
func (k *Maker) takeStarts(r *pricer) bool {
	xs, ys := int64(len(r.xs)), int64(len(r.ys))
	lens, widths, sawn := int64(len(r.clear.lens)), int64(len(r.clear.widths)),
		int64(len(r.clear.sawn))
	if k.meter.Add(ys * widths * int64(1+len(r.spots))); !r.thin {
		k.meter.Add(xs * lens * int64(1+len(r.spots)))
	}
	// A quick pricing solves some rows along the stock and across it, fills some strips, and rips
	// some lengths.
	if k.budget.Checked && !r.thin && !r.provable() {
		return false
	}
	const some = 8
	steps := some * (xs*lens + ys*widths)
	if len(r.spots) > 0 {
		steps += some * (xs*(lens+sawn) + 2*ys*(widths+sawn))
	}
	// Of a place along 4 + 4 bytes are for tables, 8 + 1 for values and some for groups; of one
	// across 10 and 33.
	each := 25 * lens
	if r.thin {
		each = 4 * lens
	}
	memory := xs*(each+16*mostFills+64) + ys*(43*widths+64)
	return k.budget.Take(memory, slow*steps)
}

// provable says whether the checker can derive again what the stock gives at most. Its own limits
// (model/proof/across) are above these: it counts places of its own, about as many as there are
// starts here.
func (r *pricer) provable() bool {
	const most, spots, places, cells, steps = 1 << 23, 1 << 7, 1 << 18, 1 << 19, 1 << 30
	grid, kerf, rip := r.gridAlong(), r.p.Kerf, r.p.Rip
	x := min(r.extent/grid+kerf/grid+1, int64(2*max(len(r.xs), r.clear.places.count)+64))
	y := min(r.across.Width/r.clear.step+rip/r.clear.step+1, int64(2*len(r.ys)+64))
	lens, widths := int64(len(r.clear.lens)), int64(len(r.clear.widths))
	each := int64(len(r.spots)+1) * int64(len(r.clear.holds))
	return r.extent/grid <= most && len(r.spots) <= spots && x <= places &&
		widths*y <= cells && each <= steps/(lens*y+widths*x+1)
}

// after is the first start across a kerf or more after a thing of width k at start n.
func (r *pricer) after(k, n int) int { return int(r.nextAcross[n*len(r.clear.widths)+k]) }

// setUpAlong makes what only stocks with spots need along.
func (r *pricer) setUpAlong() {
	n, lens := len(r.xs), r.clear.lens
	r.gapEnds = offcuts.GapEnds(r.xs, r.p.Kerf, r.extent)
	r.nextAlong = make([]int32, n*len(lens))
	for j, length := range lens {
		for t, next := range starts.Successors[int32](r.xs, length+r.p.Kerf) {
			r.nextAlong[t*len(lens)+j] = next
		}
	}
}

// setUpLengths makes what only stocks with spots need that are crosscut first.
func (r *pricer) setUpLengths() {
	r.stockGaps = offcuts.NewTable(r.stockBands, r.extent, r.stock.Keep)
	r.lengths.gaps = offcuts.NewAlong(r.xs, r.gapEnds)
	r.lengths.gaps.Set(r.stockGaps, r.clear.whole)
	for _, end := range r.gapEnds[:len(r.xs)] {
		r.leadGap = append(r.leadGap, r.stockGaps.Worth(r.clear.whole, 0, end))
	}
	r.groupLengths()
}

// stepAcross is g, the greatest step of which everything across the stock is a multiple.
func stepAcross(p *cutting.Problem, s *cutting.Stock) int64 {
	a := s.Across
	g := price.GCD(price.GCD(a.Width, a.Inset), price.GCD(p.Rip, a.Keep))
	for _, i := range s.Holds {
		if !slices.Contains(a.Whole, i) {
			g = price.GCD(g, p.Items[i].Width)
		}
	}
	for _, o := range s.Spots {
		g = price.GCD(price.GCD(g, max(0, o.Left)), min(a.Width, o.Right))
	}
	return max(1, g)
}

// mostStarts is how many starts an axis may have.
const mostStarts = 1 << 17

// startsBeside gives the starts across of things of some widths among spots, ascending; false where
// they are too many. The first is 0, where a gap at the left edge starts. trim: the things may have
// narrower pieces.
func (r *pricer) startsBeside(among offcuts.Spots, widths []int64, trim bool) ([]int64, bool) {
	p, c := r.p, r.across
	a := starts.New(0, c.Width, r.clear.step, p.Rip)
	a.Most = mostStarts
	a.AddStart(c.Inset)
	a.AddStart(c.Keep + p.Rip)
	a.AddEnd(c.Width - c.Inset)
	a.AddEnd(c.Width - c.Keep - p.Rip)
	for _, o := range among {
		a.AddSpot(o.Left, o.Right, widths, trim)
		if o.Weak {
			a.AddWeak(o.Left, o.Right, c.Width, widths, trim)
		}
	}
	out, ok := a.Closure(widths, []int64{c.Keep + p.Rip})
	if len(out) == 0 || out[0] > 0 {
		out = slices.Insert(out, 0, 0)
	}
	return out, ok
}

// startsBehind gives the starts along of things of some sizes among spots, ascending; false where
// they are too many. The first is 0. trim: the things may have shorter pieces.
func (r *pricer) startsBehind(among offcuts.Spots, sizes []int64, trim bool) ([]int64, bool) {
	a := starts.New(0, r.extent, r.gridAlong(), r.p.Kerf)
	a.Most = mostStarts
	a.AddEdges()
	for _, o := range among {
		a.AddSpot(o.From, o.To, sizes, trim)
	}
	return a.Closure(sizes, nil)
}

// gridAlong is the greatest measure of which everything along the stock is a multiple.
func (r *pricer) gridAlong() int64 {
	grid := price.GCD(r.p.Kerf, r.extent)
	for _, size := range r.clear.lens {
		grid = price.GCD(grid, size)
	}
	for _, o := range r.spots {
		grid = price.GCD(price.GCD(grid, o.From), o.To)
	}
	return max(1, grid)
}

// firstFrom is the index of the first of ascending values that is at least x.
func firstFrom(values []int64, x int64) int {
	n, _ := slices.BinarySearch(values, x)
	return n
}

// Fewer starts. A stock with spots and many sizes has so many starts and lengths that its tables
// are large and a pricing takes long. Where only columns are asked of it, some of the starts along
// will do: each thing then starts at the next of these, and little is lost. What is found is a
// pattern. But it need not be the best, so that such a pricer vouches for nothing.

// tooFine says whether a stock with spots has too many starts and lengths.
func (k *Maker) tooFine(r *pricer) bool {
	return k.budget.Cells > 0 &&
		r.extent/r.gridAlong()*int64(len(r.clear.lens)) > k.budget.Cells
}

// someStarts are starts in equal steps, and those just behind a spot, for about so many cells: a
// start and a length each.
func (r *pricer) someStarts(cells int64) (out []int64) {
	step := r.extent*int64(len(r.clear.lens))/cells + 1
	for x := int64(0); x < r.extent; x += step {
		out = append(out, x)
	}
	for _, o := range r.spots {
		if o.To < r.extent {
			out = append(out, o.To)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

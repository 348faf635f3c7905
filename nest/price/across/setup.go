package across

import (
	"cmp"
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// What a pricer knows of its stock before it is asked anything.

// newPricer makes the pricer of a stock with Across. Its table is one of tables, or is added there.
// The meter counts its work.
func newPricer(p *cutting.Problem, index int, tables *clearTables, meter *price.Meter) *pricer {
	r := newStripPricer(p, &p.Stocks[index], index, tables, meter)
	if len(r.spots) > 0 {
		r.setUpLengths()
	}
	r.setUpRippers(tables)
	return r
}

// newStripPricer makes one that knows what strips need, of a stock or of a part of its length.
func newStripPricer(p *cutting.Problem, s *cutting.Stock, index int, tables *clearTables,
	meter *price.Meter) *pricer {
	r := &pricer{p: p, meter: meter, index: index, stock: s, across: s.Across,
		extent: s.To - s.From, shapes: map[stripAt]*stripShape{}}
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
	r.clear = tables.forStock(p, s, stepAcross(p, s))
	r.clear.longest = max(r.clear.longest, r.extent)
	r.stockBands = r.bandsOf(r.allAcross())
	r.ys = r.startsAcross()
	for _, width := range r.clear.widths {
		spotted, strippable := make([]bool, len(r.ys)), make([]bool, len(r.ys))
		for n, y := range r.ys {
			spotted[n] = r.spots.meet(r.allAlong(), cutting.Span{From: y, To: y + width})
			strippable[n] = r.insideInset(y, width) && r.ripClear(r.weak, y, width)
		}
		r.spotted, r.strippable = append(r.spotted, spotted), append(r.strippable, strippable)
		r.nextAcross = append(r.nextAcross, successors(r.ys, width+p.Rip))
	}
	if len(r.spots) > 0 {
		r.setUpAlong()
	}
	return r
}

// setUpAlong makes what only stocks with spots need along.
func (r *pricer) setUpAlong() {
	r.xs = r.startsAlong()
	n, lens := len(r.xs), r.clear.lens
	for _, x := range r.xs {
		r.gapEnds = append(r.gapEnds, x-r.p.Kerf)
	}
	r.gapEnds = append(r.gapEnds, r.extent)
	r.nextAlong = make([]int32, n*len(lens))
	for j, length := range lens {
		for t, next := range successors(r.xs, length+r.p.Kerf) {
			r.nextAlong[t*len(lens)+j] = int32(next)
		}
	}
}

// setUpLengths makes what only stocks with spots need that are crosscut first.
func (r *pricer) setUpLengths() {
	r.stockGaps = r.newGapTable(r.stockBands)
	for _, end := range r.gapEnds[:len(r.xs)] {
		r.leadGap = append(r.leadGap, r.stockGaps.worth(r.clear.whole, 0, end))
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

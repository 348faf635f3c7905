package across

import (
	"cmp"
	"math/rand/v2"
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// tinyStock is a problem of one random stock with Across, so wide and long at most, and duals.
func tinyStock(r *rand.Rand, wide, long int64) (*cutting.Problem, []int64) {
	n := func(lo, hi int64) int64 { return lo + r.Int64N(hi-lo+1) }
	f, g := int64(1), int64(1)
	if r.IntN(4) == 0 {
		f, g = n(1, 2), n(1, 2)
	}
	width, length := n(3, wide), n(4, long)
	from := n(0, 2) * f
	p := &cutting.Problem{Kerf: n(0, 2) * f, Rip: n(0, 2) * g, RipCost: n(0, 1) * n(0, 20)}
	a := &cutting.Across{Width: width * g, Inset: n(0, 1) * n(0, 1) * g, Keep: n(0, 4) * g,
		Trim: r.IntN(4) > 0, ShortestRip: n(0, 1) * n(0, 6) * f, Narrowest: n(0, 2) * g}
	s := cutting.Stock{From: from, To: from + length*f, Keep: n(0, 4) * f,
		Slope: n(0, 3) * n(0, 5), Across: a, Supply: 1}
	a.Strip = n(0, 3) * s.Slope / 3
	for i := range int(n(1, 5)) {
		w := n(1, width)
		p.Items = append(p.Items,
			cutting.Item{Size: n(1, length+1) * f, Width: w * g, Class: int(n(0, 2)),
				Demand: n(1, 4)})
		s.Holds = append(s.Holds, i)
		if w == width && r.IntN(2) == 0 || r.IntN(6) == 0 {
			a.Whole = append(a.Whole, i)
		}
	}
	for range n(0, 3) {
		x, y := n(0, length-1), n(0, width-1)
		o := cutting.Spot{Left: y * g, Right: n(y+1, min(width, y+3)) * g, Weak: r.IntN(2) == 0}
		o.From, o.To = from+x*f, from+n(x+1, min(length, x+4))*f
		for class := range o.Tolerated {
			o.Tolerated[class] = r.IntN(3) == 0
		}
		s.Spots = append(s.Spots, o)
	}
	sortSpots(s.Spots)
	p.Stocks = []cutting.Stock{s}
	var duals []int64
	for _, it := range p.Items {
		duals = append(duals, n(0, 1)*n(0, 40)+n(0, it.Size*it.Width/(f*g))*n(0, 8))
	}
	return p, duals
}

// sparseStock is the same with few and large pieces, so that few starts are sums of sizes alone,
// and with offcuts that are worth much.
func sparseStock(r *rand.Rand) (*cutting.Problem, []int64) {
	n := func(lo, hi int64) int64 { return lo + r.Int64N(hi-lo+1) }
	width, length := n(9, 17), n(12, 28)
	p := &cutting.Problem{Kerf: n(0, 3), Rip: n(0, 3), RipCost: n(0, 1) * n(0, 200)}
	a := &cutting.Across{Width: width, Inset: n(0, 1) * n(0, 2), Keep: n(0, 1) * n(0, 6),
		Trim: r.IntN(5) > 0, ShortestRip: n(0, 1) * n(0, 9)}
	s := cutting.Stock{To: length, Keep: n(0, 1) * n(0, 9),
		Slope: 4 * n(1, 12), Across: a, Supply: 1}
	a.Strip = s.Slope * n(1, 4) / 4
	var duals []int64
	for i := range int(n(1, 3)) {
		it := cutting.Item{Size: n(length/4, length*3/4), Width: n(width/4, width*3/4),
			Class:  int(n(0, 1)),
			Demand: 1}
		p.Items, s.Holds = append(p.Items, it), append(s.Holds, i)
		duals = append(duals, it.Size*it.Width*n(2, 7)*8)
	}
	for range n(1, 3) {
		x, y := n(0, length-1), n(0, width-1)
		o := cutting.Spot{Left: y, Right: n(y+1, min(width, y+4)), Weak: r.IntN(2) == 0}
		o.From, o.To = x, n(x+1, min(length, x+5))
		o.Tolerated[1] = r.IntN(3) == 0
		s.Spots = append(s.Spots, o)
	}
	sortSpots(s.Spots)
	p.Stocks = []cutting.Stock{s}
	return p, duals
}

// weakStock is the same with weak spots and wide insets, so that it pays to saw close to a spot.
func weakStock(r *rand.Rand) (*cutting.Problem, []int64) {
	n := func(lo, hi int64) int64 { return lo + r.Int64N(hi-lo+1) }
	p, duals := sparseStock(r)
	s := &p.Stocks[0]
	a := s.Across
	p.Rip, a.Inset, a.Keep, a.Strip = n(0, 2), n(0, 4), n(0, 5), s.Slope
	s.Keep = n(0, 3)
	for i := range s.Spots {
		s.Spots[i].Weak = r.IntN(4) > 0
		s.Spots[i].Tolerated = [cutting.Classes]bool{r.IntN(3) == 0, r.IntN(2) == 0}
	}
	return p, duals
}

// shopStocks is a group of stocks on a grid of 1/16 in (unit 1/64 in), and duals. 22 items have so
// many widths. The stocks are 96 to 144 in long and 5 1/2 in wide, each with so many spots.
func shopStocks(r *rand.Rand, stocks, widths, spots int) (*cutting.Problem, []int64) {
	const in = 64
	n := func(lo, hi int64) int64 { return (lo + r.Int64N(hi-lo+1)) * in / 16 }
	p := &cutting.Problem{Kerf: in / 8, Rip: in / 8}
	var ws []int64
	for range widths {
		ws = append(ws, n(20, 84))
	}
	var duals []int64
	var holds []int
	for i := range 22 {
		it := cutting.Item{Size: n(6*16, 60*16), Width: ws[i%widths], Class: r.IntN(3),
			Demand: 1 + r.Int64N(4)}
		p.Items = append(p.Items, it)
		holds = append(holds, i)
		duals = append(duals, it.Size*it.Width*(90+r.Int64N(30))*3)
	}
	for range stocks {
		s := cutting.Stock{To: n(96*16, 144*16), Keep: 12 * in,
			Slope: 3 * 50, Supply: 1, Holds: holds}
		a := &cutting.Across{Width: 11 * in / 2, Inset: in / 16, Keep: 3 * in / 2, Strip: 3 * 30,
			Trim:        true,
			ShortestRip: 12 * in, Narrowest: 3 * in / 4}
		for range spots {
			x, y := r.Int64N(s.To-6*in), r.Int64N(a.Width-in)
			x, y = x-x%(in/16), y-y%(in/16)
			o := cutting.Spot{Left: y, Right: min(a.Width, y+n(12, 32))}
			o.From, o.To = x, x+n(12, 64)
			o.Tolerated[2] = r.IntN(2) == 0
			s.Spots = append(s.Spots, o)
		}
		sortSpots(s.Spots)
		s.Across = a
		p.Stocks = append(p.Stocks, s)
	}
	return p, duals
}

func sortSpots(spots []cutting.Spot) {
	slices.SortStableFunc(spots, func(x, y cutting.Spot) int { return cmp.Compare(x.From, y.From) })
}

// anyMaker makes pricers whatever they take.
func anyMaker(p *cutting.Problem, m *price.Meter) *Maker {
	return NewMaker(p, m, price.Unlimited())
}

// someMaker makes one without limits, with few lengths or as if they were many.
func someMaker(p *cutting.Problem, many bool) *Maker {
	budget := price.Unlimited()
	budget.Many = many
	return NewMaker(p, &price.Meter{}, budget)
}

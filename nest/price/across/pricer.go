package across

import (
	"cmp"
	"math/big"
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// Pricing of stocks with Across, exact. x counts from the stock's usable start, y from its left
// edge; L and W are the extents, kc and kr the kerfs across and along, e the inset, kw the least
// width of an offcut. Everything is a whole number, in money x scale x Fine.
//
// Worth is taken linear. With g the common step of everything across, s0 = ceil(scale x Fine x rate
// x g / W) is the worth of a length unit of one step, and a rectangle at least kw wide, or as wide
// as the stock, is worth
//
//	u = s0 x sum over bands of equal spots of band/g x sum over the clear runs of the band of max(0, run - keep).
//
// Crosscut first. A length of l at x is worth Q(l, x): one piece l long, plain, or, ripped, the
// best row of pieces across it, at least one of them l long; a shorter one lies at either end and
// leaves a remainder. The lengths and the gaps between them are chosen by the recursion of
// price.go. Rip first. A strip of w at y is worth V(w, y): the best row of pieces along it, at
// least one of them w wide; a narrower one lies at either side. The strips and the gaps between
// them are chosen by the same recursion, over y.
//
// Lazily. Spots only take away: Q(l, x) <= Q(l) and V(w, y) <= V(w), the values without any spot,
// which alike stocks share (sheettable.go). The outer recursion starts with these; what it chooses
// is then priced with its spots, and it runs again, until what it chooses has the value it is
// credited with. That is then the best. Stocks without spots need no second round.
//
// Where may things start? (Whole numbers and everything a multiple of the grid: all multiples would
// do.) Take a best pattern and shift a block of touching pieces (lengths, strips) along one axis,
// the rest fixed. Its value is linear between breakpoints. Those where it bends upwards are no
// maxima: a run that reaches keep is one. The others are where an edge of a rectangle meets an edge
// of a spot, so that the rectangle just clears the spot or a gap just reaches it, and, across,
// where a gap is just kw wide; there the value is that of the better side. So every block leans on
// an anchor:
//
//   - starts: the near end, where spots end, where they start + kerf; and, as a shorter (narrower) piece of size z at the near side of its length (strip)
//     ends z after its start, and its remainder starts a kerf later: where a spot starts - z, where it ends - kerf - z;
//   - ends: the same mirrored;
//   - across also the start after, and the end before, a gap of kw from the edge of the stock or a block that leans itself.
//
// The starts after a leaning piece are forward sums, those before it backward sums, of sizes +
// kerfs. The starts along do not depend on those across, so that both axes may be shifted in turn.
//
// Two ways. The quick one ends after a few rounds and then takes the best of what is priced by
// then, which some pattern has: for columns. The other goes to the end: for proofs, and to see that
// no column is missing. sheetmore.go tells which lengths a round prices besides those it chose.

// Fine is how many parts of a unit of money x scale are reckoned in. The proof of a bound across
// must reckon in as many.
const Fine = 1 << 10

// pricer prices one stock with Across. price is the quick way for columns: what it gives a pattern
// has, but not always the best one. vouch gives the best exactly.
type pricer struct {
	p         *cutting.Problem
	meter     *price.Meter
	index     int
	stock     *cutting.Stock
	across    *cutting.Across
	clear     *clearTable
	extent    int64
	spots     []cutting.Spot // From and To count from the usable start
	fullBands []band         // of the whole width

	ys         []int64 // starts across, ascending from 0
	xs         []int64 // starts along, ascending from 0; empty without spots
	gapEnds    []int64 // where a gap before the start ends; the last is the stock's end
	nextAlong  []int32 // by start and length: the first start at or after its end + kerf
	nextAcross [][]int // by width and start across
	groupOf    []int32 // by start and length: which group of lengths, -1: no spot meets it
	groups     []lengthGroup
	clearLens  []int32 // by start, how many lengths no spot meets
	fitLens    []int32 // by start, how many lengths end before the stock's end
	fullGaps   gapTable
	openingGap []int64 // by start, u / s0 of the gap before it, if nothing else is there
	shapes     map[[2]int]*stripShape
	spotted    [][]bool // by width and start across: whether a spot meets the strip

	// The last pricing.
	ask     *price.Ask
	pass    int // counts pricings
	lengths lengthSearch
	strips  stripSearch
	ripped  rippedFill
	fills   []*stripFill
	kind    cutting.FirstCut
	steps   int64

	scratch []int64 // room to work in
}

// newPricer makes the pricer of a stock with Across; tables are those made so far, by what stocks
// must have in common to share one.
func newPricer(p *cutting.Problem, index int, tables *clearTables, m *price.Meter) *pricer {
	s := &p.Stocks[index]
	r := &pricer{p: p, meter: m, index: index, stock: s, across: s.Across, extent: s.To - s.From,
		shapes: map[[2]int]*stripShape{}}
	for _, spot := range s.Spots {
		spot.From, spot.To = max(0, spot.From-s.From), min(r.extent, spot.To-s.From)
		spot.Left, spot.Right = max(0, spot.Left), min(s.Across.Width, spot.Right)
		if spot.From < spot.To && spot.Left < spot.Right {
			r.spots = append(r.spots, spot)
		}
	}
	slices.SortStableFunc(r.spots, func(a, b cutting.Spot) int {
		return cmp.Compare(a.From, b.From)
	})
	g := stepAcross(p, s)
	r.clear = tables.forStock(p, s, g)
	r.clear.longest = max(r.clear.longest, r.extent)
	r.fullBands = r.makeBands(0, r.across.Width)
	r.ys = r.startsAcross()
	r.spotted, r.nextAcross = make([][]bool, len(r.clear.widths)), make([][]int, len(r.clear.widths))
	for k, w := range r.clear.widths {
		r.spotted[k], r.nextAcross[k] = make([]bool, len(r.ys)), make([]int, len(r.ys))
		at := 0
		for n, y := range r.ys {
			for at < len(r.ys) && r.ys[at] < y+w+p.Rip {
				at++
			}
			r.nextAcross[k][n] = at
			r.spotted[k][n] = r.meets(cutting.Span{From: 0, To: r.extent},
				cutting.Span{From: y, To: y + w})
		}
	}
	if len(r.spots) > 0 {
		r.prepareAlong()
	}
	return r
}

// prepare makes what only stocks with spots need.
func (r *pricer) prepareAlong() {
	r.xs = r.startsAlong()
	n, lens := len(r.xs), r.clear.lens
	for _, x := range r.xs {
		r.gapEnds = append(r.gapEnds, x-r.p.Kerf)
	}
	r.gapEnds = append(r.gapEnds, r.extent)
	r.nextAlong = make([]int32, n*len(lens))
	for a, l := range lens {
		to := n
		for t := n - 1; t >= 0; t-- {
			for to > 0 && r.xs[to-1] >= r.xs[t]+l+r.p.Kerf {
				to--
			}
			r.nextAlong[t*len(lens)+a] = int32(to)
		}
	}
	r.fullGaps = r.newGapTable(r.fullBands)
	for _, te := range r.gapEnds[:n] {
		r.openingGap = append(r.openingGap, r.fullGaps.worth(1, 0, te))
	}
	r.groupLengths()
}

// stepAcross is the greatest step of which everything across the stock is a multiple.
func stepAcross(p *cutting.Problem, s *cutting.Stock) int64 {
	a := s.Across
	g := price.GCD(price.GCD(a.Width, a.Inset), price.GCD(p.Rip, a.Keep))
	for _, i := range s.Holds {
		if !slices.Contains(a.Whole, i) {
			g = price.GCD(g, p.Items[i].Width)
		}
	}
	for _, spot := range s.Spots {
		g = price.GCD(price.GCD(g, max(0, spot.Left)), min(a.Width, spot.Right))
	}
	return max(1, g)
}

// slopeOf is s0. The scale keeps the worth of a stock x scale below 2^47, as no stock costs
// less than it is worth.
func unitSlope(rate cutting.Rate, scale, step, width int64) int64 {
	if rate.Num == 0 || rate.Den == 0 {
		return 0
	}
	num := new(big.Int).Mul(big.NewInt(scale), big.NewInt(Fine))
	num.Mul(num, big.NewInt(rate.Num)).Mul(num, big.NewInt(step))
	den := new(big.Int).Mul(big.NewInt(rate.Den), big.NewInt(width))
	num.Add(num, den).Sub(num, big.NewInt(1)).Quo(num, den)
	if num.BitLen() > 61 {
		panic("cutstock: offcuts are worth too much to count with")
	}
	return num.Int64()
}

// meets says whether a spot reaches into an area.
func (r *pricer) meets(along, across cutting.Span) bool {
	return slices.ContainsFunc(r.spots, func(o cutting.Spot) bool { return o.Meets(along, across) })
}

// free says whether no spot that a class does not tolerate reaches into an area.
func (r *pricer) free(class int, along, across cutting.Span) bool {
	return !slices.ContainsFunc(r.spots, func(o cutting.Spot) bool {
		return !o.Tolerated[class] && o.Meets(along, across)
	})
}

// whole is the whole width.
func (r *pricer) fullWidth() cutting.Span { return cutting.Span{From: 0, To: r.across.Width} }

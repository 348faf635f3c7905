package model

import (
	"math/big"
	"math/bits"
	"slices"
)

// Worth of wood on hand, rack board and offcut alike. Defects count with their margin.
//
//	W      the width of the board
//	line   one line along the board; its runs are its maximal clear stretches
//	band   lines next to each other that meet the same defects
//
//	worth of a line      = sum over its runs of floor(rate x max(0, run - keep_length))
//	worth of a rectangle = floor( sum over its bands of
//	                              width of the band x worth of its line / W )
//
// A rectangle is worth nothing where it is narrower than keep_width and not as wide as the board.
// Where each defect goes from edge to edge there is one band. Then the worth of a board, and of its
// offcuts of the full width, is that of one line.
//
//	rate = offcut value x the lowest yard price per area of that kind of wood, before tax, x W
//
// A board with a value of its own has the rate at which the whole of it is worth that. A kind that
// the yard does not sell has the rate of all given values together. Where nothing is known it has
// one currency unit per foot (metre in a mm shop), of boards of the greatest width on the rack. A
// rate that many boards share is at most maxRate, so that no worth overflows. A rate that does not
// fit its two numbers is rounded down, by under a millionth of it.
//
// Splitting never pays. Write L_y(R) for the worth of the line at y over the length of rectangle R:
//
//	worth(R) = floor(1/W x integral over y of L_y(R))
//
// A rip parts the integral, and floor(a) + floor(b) <= floor(a + b); a width below keep_width only
// loses. A crosscut parts each line: for runs a and b
//
//	floor(r max(0, a - keep)) + floor(r max(0, b - keep)) <= floor(r max(0, a + b - keep))
//
// so L_y(R1) + L_y(R2) <= L_y(R1 and R2 together), and what is more in each line is more in the
// integral. Bands are only how the integral is summed: where they are cut finer it stays the same.
// And a rip loses no more than the integral over what it turns into dust, and the rounding.

// Rate is a worth per length: Num/Den of 1/10000 currency unit for each length unit, in lowest
// terms, Den above 0.
type Rate struct{ Num, Den int64 }

// NewRate reduces num/den; 0/anything, and a den of 0, give the zero rate.
func NewRate(num, den int64) Rate {
	if num == 0 || den == 0 {
		return Rate{0, 1}
	}
	g := gcd(num, den)
	return Rate{num / g, den / g}
}

// maxRate makes the longest length that is read worth the largest amount of money that is read.
const maxRate = int64(MaxMoney) / int64(MaxLength)

// ratio is the product of nums over that of dens, at most maxRate. nums are 0 or more, dens above
// 0.
func ratio(nums, dens []int64) Rate {
	num, den := big.NewInt(1), big.NewInt(1)
	for _, n := range nums {
		num.Mul(num, big.NewInt(n))
	}
	for _, d := range dens {
		den.Mul(den, big.NewInt(d))
	}
	if num.Cmp(new(big.Int).Mul(den, big.NewInt(maxRate))) > 0 {
		return Rate{maxRate, 1}
	}
	return rateOf(num, den)
}

// rateOf is num/den, den above 0; both are used up.
func rateOf(num, den *big.Int) Rate {
	if num.Sign() == 0 {
		return Rate{0, 1}
	}
	g := new(big.Int).GCD(nil, nil, num, den)
	num.Quo(num, g)
	den.Quo(den, g)
	if excess := max(num.BitLen(), den.BitLen()) - 62; excess > 0 { // num down, den up
		num.Rsh(num, uint(excess))
		den.Rsh(den, uint(excess)).Add(den, big.NewInt(1))
	}
	return NewRate(num.Int64(), den.Int64())
}

// Worth gives rate x max(0, run - keep), rounded down.
func (r Rate) Worth(run, keep Length) Money {
	if run <= keep || r.Num == 0 {
		return 0
	}
	hi, lo := bits.Mul64(uint64(r.Num), uint64(run-keep))
	q, _ := bits.Div64(hi, lo, uint64(r.Den))
	return Money(q)
}

// gcd is the greatest number that divides both.
func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// Valuation holds the rates of one job. Make it with [Job.Valuation].
type Valuation struct {
	job   *Job
	rates map[WoodKind]areaRate
	bases map[WoodKind]Basis // what the rates come from
	// Guessed lists the kinds of wood on the rack that neither the yard nor a given value sets a
	// price for, in rack order.
	Guessed []Wood
}

// areaRate is a rate for boards of one width; those of any other have it in proportion.
type areaRate struct {
	num, den []int64 // factors
	width    Length
}

// forWidth is the rate for boards of a width.
func (r *areaRate) forWidth(width Length) Rate {
	if r.width == width {
		return ratio(r.num, r.den)
	}
	return ratio(append(slices.Clone(r.num), int64(width)),
		append(slices.Clone(r.den), int64(r.width)))
}

// WoodKind is what wood is priced, tallied and reserved by: boards of one kind are of one material
// and section, whatever their lengths and widths.
type WoodKind struct {
	Material string
	Section  Section
}

// Kind gives the material and section of wood, without its sizes.
func (w *Wood) Kind() WoodKind { return WoodKind{w.Material, w.Section} }

// Valuation works out the rate of every kind of wood in the job.
func (j *Job) Valuation() *Valuation {
	v := &Valuation{job: j, rates: map[WoodKind]areaRate{}, bases: map[WoodKind]Basis{}}
	cheapest := map[WoodKind]*Offer{}
	for i := range j.Yard {
		o := &j.Yard[i]
		if n := j.ForSale(o); n != nil && *n == 0 {
			continue
		}
		if c := cheapest[o.Kind()]; c == nil || j.cheaperPerArea(o, c) {
			cheapest[o.Kind()] = o
		}
	}
	for k, o := range cheapest {
		share := j.Settings.OffcutFor(k.Material, k.Section).Value
		v.rates[k] = areaRate{[]int64{int64(j.PriceOf(o)), share.Num},
			[]int64{int64(o.Length), share.Den}, o.Width}
		v.bases[k] = Basis{Share: share, Price: j.PriceOf(o), Per: o.Length, Wide: o.Width,
			From: ByYard, Offer: o}
	}
	v.unsold()
	return v
}

// cheaperPerArea says whether a costs less than b for its length x width, before tax.
func (j *Job) cheaperPerArea(a, b *Offer) bool {
	cost := func(o, by *Offer) *big.Int {
		c := new(big.Int).Mul(big.NewInt(int64(by.Length)), big.NewInt(int64(by.Width)))
		return c.Mul(c, big.NewInt(int64(j.PriceOf(o))))
	}
	return cost(a, b).Cmp(cost(b, a)) < 0
}

// unsold sets the rates of wood on the rack that the yard does not sell.
func (v *Valuation) unsold() {
	type sum struct {
		value  int64
		area   *big.Int // of what is kept of boards with a value
		widest Length
	}
	sums := map[WoodKind]sum{}
	var order []*Wood
	for i := range v.job.Rack {
		b := &v.job.Rack[i]
		k := b.Kind()
		if _, sold := v.rates[k]; sold {
			continue
		}
		s, seen := sums[k]
		if !seen {
			order = append(order, &b.Wood)
		}
		s.widest = max(s.widest, b.Width)
		if b.Value != nil {
			s.value = min(s.value+int64(*b.Value), 1<<62)
			if s.area == nil {
				s.area = new(big.Int)
			}
			s.area.Add(s.area, v.keptArea(b))
		}
		sums[k] = s
	}
	for _, w := range order {
		s := sums[w.Kind()]
		if s.value > 0 && s.area != nil && s.area.Sign() > 0 {
			per := v.lengthOf(s.area, s.widest)
			v.rates[w.Kind()] = areaRate{[]int64{s.value}, []int64{int64(per)}, s.widest}
			v.bases[w.Kind()] = Basis{Share: Fraction{1, 1}, Price: Money(s.value), Per: per,
				Wide: s.widest, From: ByValues}
			continue
		}
		per, _ := v.job.Settings.Units.YardUnit()
		v.rates[w.Kind()] = areaRate{[]int64{UnitsOfMoney}, []int64{int64(per)}, s.widest}
		v.bases[w.Kind()] = Basis{Share: Fraction{1, 1}, Price: UnitsOfMoney,
			Per: per, Wide: s.widest, From: ByGuess}
		v.Guessed = append(v.Guessed, *w)
	}
}

// keptArea is the sum, over the lines of a board, of run - keep_length of their clear runs.
func (v *Valuation) keptArea(b *Board) *big.Int {
	keep, bad := v.Keep(&b.Wood), v.job.WidenedRects(b, nil)
	sum := new(big.Int)
	for _, band := range Bands(0, b.Width, bad) {
		for _, r := range ClearRuns(0, b.Length, Meeting(bad, band.From, band.To)) {
			run := big.NewInt(int64(max(0, r.To-r.From-keep)))
			sum.Add(sum, run.Mul(run, big.NewInt(int64(band.To-band.From))))
		}
	}
	return sum
}

// lengthOf is an area as a length of one width; at least 1 unit.
func (v *Valuation) lengthOf(area *big.Int, width Length) Length {
	return max(1, Length(new(big.Int).Quo(area, big.NewInt(int64(width))).Int64()))
}

// keptLength is what is kept of a board, as a length of its whole width; 0 where that is nothing.
func (v *Valuation) keptLength(b *Board) Length {
	if area := v.keptArea(b); area.Sign() > 0 {
		return v.lengthOf(area, b.Width)
	}
	return 0
}

// Bands cuts the width [left, right] at the edges of the rectangles that lie in it: within a band
// every line meets the same ones.
func Bands(left, right Length, rects []Rect) []Span {
	edges := []Length{left, right}
	for _, r := range rects {
		for _, y := range []Length{r.Left, r.Right} {
			if y > left && y < right {
				edges = append(edges, y)
			}
		}
	}
	slices.Sort(edges)
	edges = slices.Compact(edges)
	var out []Span
	for i := 1; i < len(edges); i++ {
		out = append(out, Span{edges[i-1], edges[i]})
	}
	return out
}

// Keep is the keep_length of a kind of wood.
func (v *Valuation) Keep(w *Wood) Length {
	return v.job.Settings.OffcutFor(w.Material, w.Section).KeepLength
}

// RateOfOffer is the rate at which offcuts of a bought board are credited.
func (v *Valuation) RateOfOffer(o *Offer) Rate {
	if r, ok := v.rates[o.Kind()]; ok {
		return r.forWidth(o.Width)
	}
	return Rate{0, 1}
}

// RateOfBoard is the rate at which a rack board is charged and its offcuts are credited.
func (v *Valuation) RateOfBoard(b *Board) Rate {
	if b.Value != nil {
		area := v.keptArea(b)
		if area.Sign() == 0 {
			return Rate{0, 1}
		}
		return rateOf(new(big.Int).Mul(big.NewInt(int64(*b.Value)), big.NewInt(int64(b.Width))),
			area)
	}
	r := v.rates[b.Kind()]
	return r.forWidth(b.Width)
}

// BasisOfBoard is what the rate of a board comes from.
func (v *Valuation) BasisOfBoard(b *Board) Basis {
	if b.Value != nil {
		return Basis{Share: Fraction{1, 1}, Price: *b.Value, Per: v.keptLength(b), Wide: b.Width,
			From: ByOwnValue, Board: b}
	}
	return v.bases[b.Kind()]
}

// WorthOfBoard is what using a rack board costs: its own value, or its worth by the yard's price.
func (v *Valuation) WorthOfBoard(b *Board) Money {
	if b.Value != nil {
		return *b.Value
	}
	return v.WorthOfRect(v.RateOfBoard(b), &b.Wood, Rect{0, b.Length, 0, b.Width},
		v.job.WidenedRects(b, nil))
}

// WorthOfRect is the worth of one rectangle of a board whose widened defects are bad.
func (v *Valuation) WorthOfRect(r Rate, w *Wood, of Rect, bad []Rect) Money {
	fullWidth := of.Left == 0 && of.Right == w.Width
	if of.From >= of.To || of.Left >= of.Right || !fullWidth &&
		of.Right-of.Left < v.job.KeepWidth(w) {
		return 0
	}
	sum := new(big.Int)
	for _, band := range Bands(of.Left, of.Right, bad) {
		var line Money
		for _, run := range ClearRuns(of.From, of.To, Meeting(bad, band.From, band.To)) {
			line += r.Worth(run.To-run.From, v.Keep(w))
		}
		sum.Add(sum, new(big.Int).Mul(big.NewInt(int64(line)),
			big.NewInt(int64(band.To-band.From))))
	}
	return Money(sum.Quo(sum, big.NewInt(int64(w.Width))).Int64())
}

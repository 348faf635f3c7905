package model

import (
	"math/big"
	"slices"
)

// Worth of wood on hand, rack board and offcut alike. It is linear and exact: it is never rounded
// but for showing. Defects count with their margin.
//
//	U, F   the unit and the bits of the job (ticks.go)
//	tick   2^-F of 1/10000 of the currency: all worth is whole ticks
//	cell   a square of U x U
//	line   one line along the board; its runs are its maximal clear stretches
//	band   lines next to each other that meet the same defects
//
//	cells of a rectangle = sum over its bands of  width of the band
//	                       x sum over the runs of its lines of max(0, run - keep_length),   / U^2
//	worth of a rectangle = slope x cells
//
// The slope is in ticks for a cell. It is whole, and rounded down once, when the job is read:
//
//	slope = floor( 2^F x rate x U^2 )       rate: money per area
//	      = floor( slope x strip_value )    of a strip: a rectangle not as wide as its board
//
// A strip narrower than keep_width is worth nothing.
//
//	rate = offcut value x the lowest yard price per area of that kind of wood, before tax
//
// A board with a value of its own has the rate at which the whole of it is worth that. A kind that
// the yard does not sell has the rate of all given values together. Where none is given it has that
// of the rows of which there is no board left. Where nothing is known it has one currency unit per
// foot (metre in a mm shop), of boards of the greatest width on the rack.
//
// No board of the rack is worth more than [DearestBoard]. Nor is a slope so high that all cells of
// the board, kept or not, come to 2^59 ticks: where hardly anything is kept of a dear board with a
// value of its own, its offcuts are credited with less.
//
// Splitting never pays. A rip parts the bands, and no strip has the greater slope. A crosscut parts
// each line: for runs a and b
//
//	max(0, a - keep) + max(0, b - keep) <= max(0, a + b - keep).
//
// Of strips of one slope a rip loses no more than the cells that it turns into dust, and those of
// what becomes too narrow.

// Valuation is what wood of one job is worth. Make it with [Job.Valuation].
type Valuation struct {
	job     *Job
	bases   map[WoodKind]Basis    // what the rates come from
	largest map[WoodKind]*big.Int // the area of the largest board on the rack
	Unit    Length                // U: every length of the job is a multiple of it
	Bits    uint                  // F
	Rip     int64                 // what a rip of one unit costs, in ticks; rounded down once
	// Guessed lists the kinds of wood on the rack that neither the yard nor a given value sets a
	// price for, in rack order.
	Guessed []Wood
}

// Slope is what a cell is worth, in ticks: of an offcut as wide as its board, and of a strip.
type Slope struct{ Whole, Strip int64 }

// WoodKind is what wood is priced, tallied and reserved by: boards of one kind are of one material
// and section, whatever their lengths and widths.
type WoodKind struct {
	Material string
	Section  Section
}

// Kind gives the material and section of wood, without its sizes.
func (w *Wood) Kind() WoodKind { return WoodKind{w.Material, w.Section} }

// Valuation works out the rate of every kind of wood in the job. It goes by the job as it was
// entered, however parts are made up.
func (j *Job) Valuation() *Valuation {
	j = j.AsEntered()
	v := &Valuation{job: j, bases: map[WoodKind]Basis{}, largest: map[WoodKind]*big.Int{},
		Unit: j.unit()}
	cheapest, soldOut := map[WoodKind]*Offer{}, map[WoodKind]*Offer{}
	for i := range j.Yard {
		o := &j.Yard[i]
		of := cheapest
		if n := j.ForSale(o); n != nil && *n == 0 {
			if of = soldOut; !j.Carried(o) {
				continue
			}
		}
		if c := of[o.Kind()]; c == nil || j.cheaperPerArea(o, c) {
			of[o.Kind()] = o
		}
	}
	for k, o := range cheapest {
		v.bases[k] = j.byYard(o)
	}
	for i := range j.Rack {
		b := &j.Rack[i]
		if a, m := areaOf(&b.Wood), v.largest[b.Kind()]; m == nil || a.Cmp(m) > 0 {
			v.largest[b.Kind()] = a
		}
	}
	v.unsold(soldOut)
	v.Bits = v.bits()
	v.Rip = v.ripping()
	return v
}

// byYard is the basis of a kind of wood by the price of an offer.
func (j *Job) byYard(o *Offer) Basis {
	return Basis{Share: j.Settings.OffcutFor(o.Material, o.Section).Value, Price: j.PriceOf(o),
		Per: o.Length, Wide: o.Width, From: ByYard, Offer: o}
}

// cheaperPerArea says whether a costs less than b for its length x width, before tax.
func (j *Job) cheaperPerArea(a, b *Offer) bool {
	cost := func(o, by *Offer) *big.Int {
		c := areaOf(&by.Wood)
		return c.Mul(c, big.NewInt(int64(j.PriceOf(o))))
	}
	return cost(a, b).Cmp(cost(b, a)) < 0
}

// areaOf is length x width.
func areaOf(w *Wood) *big.Int {
	a := big.NewInt(int64(w.Length))
	return a.Mul(a, big.NewInt(int64(w.Width)))
}

// atMost is what a rack board is worth at most: its own value, or what all of its area is.
func (v *Valuation) atMost(b *Board) Money {
	if b.Value != nil {
		return *b.Value
	}
	worth := v.bases[b.Kind()].perArea()
	worth.Mul(worth, new(big.Rat).SetInt(areaOf(&b.Wood)))
	if worth.Cmp(new(big.Rat).SetInt64(int64(DearestBoard))) > 0 {
		return DearestBoard
	}
	whole := new(big.Int).Quo(worth.Num(), worth.Denom())
	return Money(whole.Int64()) + 1
}

// unsold sets the rates of wood on the rack that the yard does not sell, or of which it has no
// board left.
func (v *Valuation) unsold(soldOut map[WoodKind]*Offer) {
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
		if _, sold := v.bases[k]; sold {
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
			v.bases[w.Kind()] = Basis{Share: Fraction{1, 1}, Price: Money(s.value),
				Per: lengthOf(s.area, s.widest), Wide: s.widest, From: ByValues}
			continue
		}
		if o := soldOut[w.Kind()]; o != nil {
			v.bases[w.Kind()] = v.job.byYard(o)
			continue
		}
		per, _ := v.job.Settings.Units.YardUnit()
		v.bases[w.Kind()] = Basis{Share: Fraction{1, 1}, Price: UnitsOfMoney, Per: per,
			Wide: s.widest, From: ByGuess}
		v.Guessed = append(v.Guessed, *w)
	}
}

// keptArea is the sum, over the lines of a board, of run - keep_length of their clear runs.
func (v *Valuation) keptArea(b *Board) *big.Int {
	return v.areaKept(&b.Wood, Rect{0, b.Length, 0, b.Width}, v.job.WidenedRects(b, nil))
}

// areaKept is that of a rectangle of a board whose widened defects are bad.
func (v *Valuation) areaKept(w *Wood, of Rect, bad []Rect) *big.Int {
	keep, sum := v.Keep(w), new(big.Int)
	for _, band := range Bands(of.Left, of.Right, bad) {
		var line Length
		for _, r := range ClearRuns(of.From, of.To, Meeting(bad, band.From, band.To)) {
			line += max(0, r.To-r.From-keep)
		}
		area := big.NewInt(int64(line))
		sum.Add(sum, area.Mul(area, big.NewInt(int64(band.To-band.From))))
	}
	return sum
}

// lengthOf is an area as a length of one width; at least 1 unit.
func lengthOf(area *big.Int, width Length) Length {
	return max(1, Length(new(big.Int).Quo(area, big.NewInt(int64(width))).Int64()))
}

// keptLength is what is kept of a board, as a length of its whole width; 0 where that is nothing.
func (v *Valuation) keptLength(b *Board) Length {
	if area := v.keptArea(b); area.Sign() > 0 {
		return lengthOf(area, b.Width)
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

// perArea is the rate of a basis, in 1/10000 of the currency for the smallest area.
func (b Basis) perArea() *big.Rat {
	if b.Per == 0 || b.Wide == 0 || b.Share.Den == 0 {
		return new(big.Rat)
	}
	area := new(big.Int).Mul(big.NewInt(int64(b.Per)), big.NewInt(int64(b.Wide)))
	rate := new(big.Rat).SetFrac(big.NewInt(int64(b.Price)), area)
	return rate.Mul(rate, big.NewRat(b.Share.Num, b.Share.Den))
}

// slope is that of wood at a rate per area, of which no board has more than so much.
func (v *Valuation) slope(w *Wood, rate *big.Rat, most *big.Int) Slope {
	cap := new(big.Rat).SetFrac(big.NewInt(int64(DearestBoard)), most)
	if rate.Cmp(cap) > 0 {
		rate = cap
	}
	cell := new(big.Int).Mul(big.NewInt(int64(v.Unit)), big.NewInt(int64(v.Unit)))
	ticks := new(big.Int).Mul(rate.Num(), cell.Lsh(cell, v.Bits))
	whole := ticks.Quo(ticks, rate.Denom())
	highest := areaOf(w)
	highest.Quo(highest, big.NewInt(int64(v.Unit)*int64(v.Unit)))
	highest.Quo(big.NewInt(1<<(mostTicks-1)), highest)
	if whole.Cmp(highest) > 0 {
		whole = highest
	}
	share := v.job.Settings.OffcutFor(w.Material, w.Section).StripValue
	if share.Den == 0 {
		return Slope{Whole: whole.Int64()}
	}
	strip := new(big.Int).Mul(whole, big.NewInt(share.Num))
	return Slope{whole.Int64(), strip.Quo(strip, big.NewInt(share.Den)).Int64()}
}

// SlopeOfOffer is the slope at which offcuts of a bought board are credited.
func (v *Valuation) SlopeOfOffer(o *Offer) Slope {
	return v.slope(&o.Wood, v.bases[o.Kind()].perArea(), areaOf(&o.Wood))
}

// SlopeOfBoard is the slope at which a rack board is charged and its offcuts are credited.
func (v *Valuation) SlopeOfBoard(b *Board) Slope {
	if b.Value == nil {
		most := areaOf(&b.Wood)
		if a := v.largest[b.Kind()]; a != nil && a.Cmp(most) > 0 {
			most = a
		}
		return v.slope(&b.Wood, v.bases[b.Kind()].perArea(), most)
	}
	area := v.keptArea(b)
	if area.Sign() == 0 {
		return Slope{}
	}
	return v.slope(&b.Wood, new(big.Rat).SetFrac(big.NewInt(int64(*b.Value)), area), area)
}

// BasisOfBoard is what the rate of a board comes from.
func (v *Valuation) BasisOfBoard(b *Board) Basis {
	if b.Value != nil {
		return Basis{Share: Fraction{1, 1}, Price: *b.Value, Per: v.keptLength(b), Wide: b.Width,
			From: ByOwnValue, Board: b}
	}
	return v.bases[b.Kind()]
}

// WorthOfBoard is what using a rack board costs, in ticks: its own value, or its worth by the
// yard's price.
func (v *Valuation) WorthOfBoard(b *Board) int64 {
	if b.Value != nil {
		return v.Ticks(*b.Value)
	}
	return v.WorthOfRect(v.SlopeOfBoard(b), &b.Wood, Rect{0, b.Length, 0, b.Width},
		v.job.WidenedRects(b, nil))
}

// WorthOfRect is the worth, in ticks, of one rectangle of a board whose widened defects are bad. Of
// a rectangle that does not lie on multiples of the unit, as no plan of the job has, what is less
// than a cell counts nothing.
func (v *Valuation) WorthOfRect(s Slope, w *Wood, of Rect, bad []Rect) int64 {
	slope := s.Whole
	if of.Left > 0 || of.Right < w.Width {
		if slope = s.Strip; of.Right-of.Left < v.job.KeepWidth(w) {
			return 0
		}
	}
	if of.From >= of.To || of.Left >= of.Right {
		return 0
	}
	cells := v.areaKept(w, of, bad)
	cells.Quo(cells, big.NewInt(int64(v.Unit)*int64(v.Unit)))
	return cells.Mul(cells, big.NewInt(slope)).Int64()
}

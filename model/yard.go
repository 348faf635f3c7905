package model

import (
	"fmt"
	"maps"
	"math/big"
	"slices"
)

// What a board for sale costs, and whether it can be fetched. A price is for one board (piece), for
// a unit of its length, or for a unit of its tally. The unit of length is a foot, in a millimetre
// shop a metre. The unit of tally is a board foot by the shop's rule for whole boards, in a
// millimetre shop a cubic metre.
//
//	price of a board = price x quantity, exact, rounded once
//	tax of a board   = price of the board x tax_percent / 100, exact, rounded once
//
// both to 1/10000, halves up. A price counts each board by itself, so exactly half a square foot
// goes up here, whatever tally.half says.

// Per is what the price of an offer is for.
type Per string

// What prices are for. The zero value is one board.
const (
	PerPiece      Per = ""
	PerLength     Per = "length"
	PerBoardFoot  Per = "board foot"  // in an inch shop
	PerCubicMetre Per = "cubic metre" // in a millimetre shop
)

// YardFacts are what [yards."name"] says of one yard.
type YardFacts struct {
	TaxPercent *Fraction `json:"tax_percent,omitempty"` // on every board bought there; nil: none
	// what the vehicle carries from there; nil: any length
	LongestLoad *Length `json:"longest_load,omitempty"`
	Where       Where   `json:"where"`
}

// Carried says whether a board of an offer can be brought from its yard.
func (j *Job) Carried(o *Offer) bool {
	load := j.Settings.Yards[o.Yard].LongestLoad
	return load == nil || o.Length <= *load
}

// ForSale is how many boards of an offer can be bought, nil any number: none that cannot be
// brought.
func (j *Job) ForSale(o *Offer) *int64 {
	if !j.Carried(o) {
		return new(int64)
	}
	return o.Available
}

// PriceOf is what one board of an offer costs before tax.
func (j *Job) PriceOf(o *Offer) Money {
	switch o.Per {
	case PerLength:
		unit, _ := j.Settings.Units.YardUnit()
		return halfUp(o.Price, big.NewInt(int64(o.Length)), big.NewInt(int64(unit)))
	case PerBoardFoot, PerCubicMetre:
		return halfUp(o.Price, &NewTallier(&j.Settings).Boards(&o.Wood, 1).units,
			&tallyUnit(j.Settings.Units).units)
	}
	return o.Price
}

// TaxOf is the tax on one board of an offer.
func (j *Job) TaxOf(o *Offer) Money {
	tax := j.Settings.Yards[o.Yard].TaxPercent
	if tax == nil {
		return 0
	}
	return halfUp(j.PriceOf(o), big.NewInt(tax.Num), big.NewInt(100*tax.Den))
}

// PaidFor is what is paid for one board of an offer: its price and the tax on it.
func (j *Job) PaidFor(o *Offer) Money { return j.PriceOf(o) + j.TaxOf(o) }

// halfUp is m num / den, halves up, at most [MaxMoney]; all of 0 or more, den above 0.
func halfUp(m Money, num, den *big.Int) Money {
	n := new(big.Int).Mul(big.NewInt(2*int64(m)), num)
	n.Add(n, den).Quo(n, new(big.Int).Lsh(den, 1))
	if n.Cmp(big.NewInt(int64(MaxMoney))) > 0 {
		return MaxMoney
	}
	return Money(n.Int64())
}

// UsableFor is the share of bought boards of a material that is expected to be clear; where nothing
// is said all of it.
func (s *Settings) UsableFor(material string) Fraction {
	u := s.Usable
	setWhereGiven(&u, s.Materials[material].Usable)
	if u.Num == 0 {
		return Fraction{1, 1}
	}
	return u
}

// MostReserve is how many boards of one offer the reserve may take where yard.csv does not say how
// many there are.
const MostReserve = 1_000_000

// ReserveFor is the least length e of further boards with which the usable share of a material
// suffices: (bought + e) usable >= bought. Up to [MostCopies] boards and a share of at most six
// decimals, nothing here leaves 64 bits.
func (s *Settings) ReserveFor(material string, bought Length) Length {
	u := s.UsableFor(material)
	return Length((int64(bought)*(u.Den-u.Num) + u.Num - 1) / u.Num)
}

// What a row of the yard, the facts of a yard and the usable share may be.

// price judges what is asked for an offer, and what one board of it then costs.
func (r row) price(j *Job, o *Offer) {
	r.money("price", o.Price, 1)
	mm := j.Settings.Units == Millimetre
	switch {
	case o.Per == PerBoardFoot && mm:
		r.wrong(CodeWord, "per",
			"this shop counts in millimetres, where wood is tallied in cubic metres",
			"write the price per cubic metre, length or piece")
		return
	case o.Per == PerCubicMetre && !mm:
		r.wrong(CodeWord, "per", "this shop counts in inches, where wood is tallied in board feet",
			"write the price per board foot, length or piece")
		return
	case !slices.Contains([]Per{PerPiece, PerLength, PerBoardFoot, PerCubicMetre}, o.Per):
		r.wrong(CodeWord, "per", fmt.Sprintf("%.40q is not known here", string(o.Per)),
			"write piece, length, board foot or cubic metre")
		return
	case o.Price < 1 || o.Price > DearestBoard || o.Length <= 0 || o.Width <= 0 ||
		o.Thickness <= 0 || o.Section == "":
		return // said already
	}
	if f := j.Settings.Yards[o.Yard].TaxPercent; f != nil && !f.decimal(10_000) {
		return // said of the yard
	}
	if one := j.PriceOf(o); one < 1 {
		r.wrong(CodeRange, "price", "one board of this row comes to 0 at this price",
			"check price and per, or write the price of one board")
	} else if one := j.PaidFor(o); one > DearestBoard {
		r.wrong(CodeRange, "price",
			fmt.Sprintf("one board of this row costs %s with tax, more than %s", one, DearestBoard),
			"check price, per and tax_percent")
	}
}

// usable judges the share of bought wood that is clear: 0.01 to 1, so that no reserve is out of all
// bounds.
func (r row) usable(key string, f Fraction) {
	if !f.decimal(1_000_000) || f.Num > f.Den || 100*f.Num < f.Den {
		r.wrong(CodeSetting, key, "it is not between 0.01 and 1 in at most six decimals",
			"write the share of bought wood that you expect to be clear, such as 0.9")
	}
}

// yard judges what is said of one yard.
func (r row) yard(prefix string, y YardFacts) {
	if f := y.TaxPercent; f != nil && (!f.decimal(10_000) || f.Num > 100*f.Den) {
		r.wrong(CodeSetting, prefix+"tax_percent",
			"it is not between 0 and 100 in at most four decimals",
			"write percent of the price, such as 8.25")
	}
	if l := y.LongestLoad; l != nil && *l <= 0 {
		r.wrong(CodeSetting, prefix+"longest_load",
			"no board is as short as "+showLength(*l, r.unit)+", so nothing could be bought there",
			"write the longest board that you can carry, or take the yard's rows out of yard.csv")
	} else if l != nil {
		r.setting(prefix+"longest_load", *l)
	}
}

// validateYards finds facts of yards that sell nothing, or whose name is spelled otherwise in
// yard.csv.
func (j *Job) validateYards(at func(Where) row, sold named,
	same func(seen named, column, name string, w Where)) {
	var known []string
	for i := range j.Yard {
		if j.Yard[i].Yard != "" {
			known = append(known, j.Yard[i].Yard)
		}
	}
	for _, name := range slices.Sorted(maps.Keys(j.Settings.Yards)) {
		w, key := j.Settings.Yards[name].Where, fmt.Sprintf("yards.%q", name)
		if _, met := sold[FoldName(name)]; met && name != "" {
			same(sold, key, name, w)
			continue
		}
		remedy := "name the yards in a column yard of yard.csv"
		if len(known) > 0 {
			remedy = fmt.Sprintf("write a yard of yard.csv, the nearest is %q",
				Nearest(name, known))
		}
		at(w).wrong(CodeUnknownYard, key, "no row of yard.csv is of this yard", remedy)
	}
}

package model

import "math/big"

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

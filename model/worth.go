package model

import (
	"math/big"
	"math/bits"
)

// Worth of wood on hand, rack board and offcut alike, over its maximal clear runs (defects widened by the margin):
//
//	worth = sum over runs of floor(rate x max(0, run - keep))
//
// with rate = offcut value x the lowest yard price per length of that material and section, before tax, whatever the widths: of random
// widths a narrow board may set it, so that no offcut is worth more than buying the same anew. A board with a
// value of its own has the rate value / sum of max(0, run - keep). Wood that the yard does not sell has the rate
// sum of given values / sum of their max(0, run - keep); where nothing is known, one currency unit per metre.
//
// A rate that many boards share is at most maxRate, so that no worth overflows; one that does not fit its two
// numbers is rounded down, by under a millionth of it.
//
// For runs a, b: floor(r(a-keep)+) + floor(r(b-keep)+) <= floor(r(a+b-keep)+), so splitting clear wood never pays.

// Rate is a worth per length: Num/Den of 1/10000 currency unit for each length unit, in lowest terms, Den above 0.
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

// sharedRate is num1 num2 / (den1 den2), at most maxRate; factors of 0 or more, den1 and den2 above 0.
func sharedRate(num1, num2, den1, den2 int64) Rate {
	num := new(big.Int).Mul(big.NewInt(num1), big.NewInt(num2))
	den := new(big.Int).Mul(big.NewInt(den1), big.NewInt(den2))
	if num.Sign() == 0 {
		return Rate{0, 1}
	}
	if num.Cmp(new(big.Int).Mul(den, big.NewInt(maxRate))) > 0 {
		return Rate{maxRate, 1}
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

// Of gives rate x max(0, run - keep), rounded down.
func (r Rate) Of(run, keep Length) Money {
	if run <= keep || r.Num == 0 {
		return 0
	}
	hi, lo := bits.Mul64(uint64(r.Num), uint64(run-keep))
	q, _ := bits.Div64(hi, lo, uint64(r.Den))
	return Money(q)
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// Valuation holds the rates of one job. Make it with [Job.Valuation].
type Valuation struct {
	job   *Job
	rates map[kindOfWood]Rate
	bases map[kindOfWood]Basis // what the rates come from
	// Guessed lists the kinds of wood on the rack that neither the yard nor a given value sets a price for, in rack order.
	Guessed []Wood
}

type kindOfWood struct {
	Material string
	Section  Section
}

func kindOf(w *Wood) kindOfWood { return kindOfWood{w.Material, w.Section} }

// Valuation works out the rate of every kind of wood in the job.
func (j *Job) Valuation() *Valuation {
	v := &Valuation{job: j, rates: map[kindOfWood]Rate{}, bases: map[kindOfWood]Basis{}}
	cheapest := map[kindOfWood]*Offer{}
	for i := range j.Yard {
		o := &j.Yard[i]
		if n := j.ForSale(o); n != nil && *n == 0 {
			continue
		}
		if c := cheapest[kindOf(&o.Wood)]; c == nil || j.cheaperPerLength(o, c) {
			cheapest[kindOf(&o.Wood)] = o
		}
	}
	for k, o := range cheapest {
		share := j.Settings.OffcutFor(k.Material, k.Section).Value
		v.rates[k] = sharedRate(int64(j.PriceOf(o)), share.Num, int64(o.Length), share.Den)
		v.bases[k] = Basis{Share: share, Price: j.PriceOf(o), Per: o.Length, From: ByYard, Offer: o}
	}
	v.unsold()
	return v
}

// cheaperPerLength says whether a costs less than b for each length unit, before tax.
func (j *Job) cheaperPerLength(a, b *Offer) bool {
	ah, al := bits.Mul64(uint64(j.PriceOf(a)), uint64(b.Length))
	bh, bl := bits.Mul64(uint64(j.PriceOf(b)), uint64(a.Length))
	return ah < bh || ah == bh && al < bl
}

// unsold sets the rates of wood on the rack that the yard does not sell.
func (v *Valuation) unsold() {
	type sum struct{ value, length int64 }
	sums := map[kindOfWood]sum{}
	var order []*Wood
	for i := range v.job.Rack {
		b := &v.job.Rack[i]
		k := kindOf(&b.Wood)
		if _, sold := v.rates[k]; sold {
			continue
		}
		s, seen := sums[k]
		if !seen {
			order = append(order, &b.Wood)
		}
		if b.Value != nil {
			s.value = min(s.value+int64(*b.Value), 1<<62)
			s.length += int64(v.kept(b))
		}
		sums[k] = s
	}
	for _, w := range order {
		s := sums[kindOf(w)]
		if s.value > 0 && s.length > 0 {
			v.rates[kindOf(w)] = sharedRate(s.value, 1, s.length, 1)
			v.bases[kindOf(w)] = Basis{Share: Fraction{1, 1}, Price: Money(s.value), Per: Length(s.length), From: ByValues}
			continue
		}
		v.rates[kindOf(w)] = NewRate(1*UnitsOfMoney, 1000*UnitsPerMillimetre)
		v.bases[kindOf(w)] = Basis{Share: Fraction{1, 1}, Price: UnitsOfMoney, Per: 1000 * UnitsPerMillimetre, From: ByGuess}
		v.Guessed = append(v.Guessed, *w)
	}
}

// kept is the sum of run - keep_length over the clear runs of a board.
func (v *Valuation) kept(b *Board) Length {
	keep := v.Keep(&b.Wood)
	var sum Length
	for _, r := range ClearRuns(0, b.Length, v.job.Widened(b, nil)) {
		sum += max(0, r.To-r.From-keep)
	}
	return sum
}

// Keep is the keep_length of a kind of wood.
func (v *Valuation) Keep(w *Wood) Length {
	return v.job.Settings.OffcutFor(w.Material, w.Section).KeepLength
}

// RateOfOffer is the rate at which offcuts of a bought board are credited.
func (v *Valuation) RateOfOffer(o *Offer) Rate {
	if r, ok := v.rates[kindOf(&o.Wood)]; ok {
		return r
	}
	return Rate{0, 1}
}

// RateOfBoard is the rate at which a rack board is charged and its offcuts are credited.
func (v *Valuation) RateOfBoard(b *Board) Rate {
	if b.Value != nil {
		return NewRate(int64(*b.Value), int64(v.kept(b)))
	}
	return v.rates[kindOf(&b.Wood)]
}

// BasisOfBoard is what the rate of a board comes from.
func (v *Valuation) BasisOfBoard(b *Board) Basis {
	if b.Value != nil {
		return Basis{Share: Fraction{1, 1}, Price: *b.Value, Per: v.kept(b), From: ByOwnValue, Board: b}
	}
	return v.bases[kindOf(&b.Wood)]
}

// WorthOfBoard is what using a rack board costs: its own value, or its worth by the yard's price.
func (v *Valuation) WorthOfBoard(b *Board) Money {
	if b.Value != nil {
		return *b.Value
	}
	return v.WorthOfSpan(v.RateOfBoard(b), &b.Wood, Span{0, b.Length}, v.job.Widened(b, nil))
}

// WorthOfSpan is the worth of one span of a board whose widened defects are bad, sorted by start.
func (v *Valuation) WorthOfSpan(r Rate, w *Wood, s Span, bad []Span) Money {
	var sum Money
	for _, run := range ClearRuns(s.From, s.To, bad) {
		sum += r.Of(run.To-run.From, v.Keep(w))
	}
	return sum
}

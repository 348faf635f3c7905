package model

import (
	"fmt"
	"math"
	"math/big"
	"math/bits"
	"strings"
)

// Money is an amount in 1/10000 of the currency unit.
type Money int64

// UnitsOfMoney are in one currency unit.
const UnitsOfMoney = 10000

// MaxMoney is the largest amount that [ParseMoney] reads: 10^9 currency units.
const MaxMoney Money = 1_000_000_000 * UnitsOfMoney

// ParseMoney reads a decimal amount of at most four decimals, without the currency's name. The
// error says what is wrong; what to write.
func ParseMoney(s string) (Money, error) {
	m, err := ParseTotal(s)
	if err == nil && (m > MaxMoney || m < -MaxMoney) {
		return 0, fmt.Errorf("%q is above 1000000000; write a smaller amount", s)
	}
	return m, err
}

// ParseTotal reads an amount that the program wrote, as [ParseMoney] does, however large: a total
// of many boards may lie above [MaxMoney].
func ParseTotal(s string) (Money, error) {
	return parseMoney(strings.TrimSpace(PlainSigns(s)), s)
}

// parseMoney reads t, any amount that Money holds; s is what to show in an error.
func parseMoney(t, s string) (Money, error) {
	if len(s) > 64 {
		return 0, fmt.Errorf("the amount has more than 64 characters; write one such as 12.50")
	}
	digits, negative := strings.CutPrefix(t, "-")
	two := twoNumbersForm.FindStringSubmatch(t)
	switch {
	case t == "":
		return 0, fmt.Errorf("the amount is missing; write one such as 12.50")
	case strings.Contains(t, ","):
		return 0, fmt.Errorf("%q has a comma; write decimals with a point and no sign between "+
			"thousands, such as 1250.50",
			s)
	case exponentForm.MatchString(strings.ToLower(digits)):
		return 0, fmt.Errorf("%q has an exponent; write the amount in full", s)
	case two != nil:
		return 0, twoNumbers(s, t, two[1], two[2], false)
	case !decimalForm.MatchString(digits):
		return 0, fmt.Errorf("%q is no amount of money; write a number alone, such as 12.50", s)
	}
	if _, decimals, _ := strings.Cut(digits, "."); len(decimals) > 4 &&
		strings.Trim(decimals[4:], "0") != "" {
		return 0, fmt.Errorf("%q has more than four decimals; round it to four at most", s)
	}
	r, _ := new(big.Rat).SetString(digits)
	r.Mul(r, big.NewRat(UnitsOfMoney, 1))
	if r.Cmp(big.NewRat(math.MaxInt64, 1)) > 0 {
		return 0, fmt.Errorf("%q is too large; write a smaller amount", s)
	}
	m := Money(r.Num().Int64())
	if negative {
		m = -m
	}
	return m, nil
}

// fixed writes the amount with exactly four decimals.
func (m Money) fixed() string { return big.NewRat(int64(m), UnitsOfMoney).FloatString(4) }

// String writes the amount with at least two and at most four decimals.
func (m Money) String() string {
	s := m.fixed()
	for range 2 {
		s = strings.TrimSuffix(s, "0")
	}
	return s
}

// MarshalJSON writes a number with exactly four decimals.
func (m Money) MarshalJSON() ([]byte, error) { return []byte(m.fixed()), nil }

// UnmarshalJSON reads a number of at most four decimals, exactly.
func (m *Money) UnmarshalJSON(b []byte) error {
	v, err := parseMoney(string(b), string(b))
	if err == nil {
		*m = v
	}
	return err
}

// Rate is a price per length, for showing: Num/Den of 1/10000 currency unit for each length unit,
// in lowest terms, Den above 0.
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

// Of gives rate x length, rounded down; of less than no length 0.
func (r Rate) Of(length Length) Money {
	if length <= 0 || r.Num == 0 {
		return 0
	}
	hi, lo := bits.Mul64(uint64(r.Num), uint64(length))
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

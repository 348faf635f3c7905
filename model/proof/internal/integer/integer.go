package integer

import "math/big"

// GCD is the greatest number that divides both; of 0 and a number that number.
func GCD(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// Floor is a / b rounded down, for b > 0.
func Floor(a, b int64) int64 {
	q := a / b
	if a%b < 0 {
		q--
	}
	return q
}

// Modulo is what floor leaves, at least 0.
func Modulo(a, b int64) int64 { return a - b*Floor(a, b) }

// Ceil is num / den rounded up, for den > 0.
func Ceil(num, den *big.Int) *big.Int {
	up := new(big.Int).Neg(num)
	return up.Div(up, den).Neg(up)
}

// OfFlags is a whole number that tells sets of flags apart: flag n is its bit n.
func OfFlags(flags []bool) (n int) {
	for f, set := range flags {
		if set {
			n |= 1 << f
		}
	}
	return n
}

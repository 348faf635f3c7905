package model

// Length is a length in units of 1/320 mm, the largest unit in which 1/64 in and 0.1 mm are both whole.
type Length int64

// Units of length.
const (
	UnitsPerInch       = 8128
	UnitsPerMillimetre = 320
)

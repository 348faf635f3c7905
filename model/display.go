package model

import "fmt"

// InchFraction is the fraction of an inch that lengths are shown to: what the tape of the shop has.
type InchFraction string

// The fractions.
const (
	Sixteenth    InchFraction = "1/16"
	ThirtySecond InchFraction = "1/32"
	SixtyFourth  InchFraction = "1/64"
)

// InchFractions are all of them, that of a shop which names none first.
var InchFractions = []InchFraction{SixtyFourth, ThirtySecond, Sixteenth}

// Display says how lengths are shown to people. Files have them exact.
type Display struct {
	Inch InchFraction `json:"inch"` // means nothing in a millimetre shop
}

// Rounded stands before a length that is not shown exactly.
const Rounded = "~"

// step is the finest length that is shown: that of [Display], or 0.1 mm.
func (s *Settings) step() Length {
	if s.Units == Millimetre {
		return UnitsPerMillimetre / 10
	}
	switch s.Display.Inch {
	case Sixteenth:
		return UnitsPerInch / 16
	case ThirtySecond:
		return UnitsPerInch / 32
	}
	return UnitsPerInch / 64
}

// shown rounds a length to what is shown of it, halves up, and says by a mark that it did. What
// would be shown as 0 and is not 0 stays as it is.
func (s *Settings) shown(l Length) (Length, string) {
	step := s.step()
	up := (l + step/2) / step * step
	if l < 0 {
		up = -((step/2 - l) / step * step)
	}
	if up == l || up == 0 {
		return l, ""
	}
	return up, Rounded
}

// Show writes a length for people, in the shop's unit: 35 1/4", to the fraction of an inch that
// [Display] has, or 900.5 mm, to 0.1 mm. Halves are rounded up. Before a length that is rounded
// stands [Rounded]. Blanks inside do not break.
func (s *Settings) Show(l Length) string {
	l, mark := s.shown(l)
	return mark + l.Exact(s.Units)
}

// ShowAtYard is [Settings.Show] for the length of a board at the yard: 10' 6" in an inch shop.
func (s *Settings) ShowAtYard(l Length) string {
	l, mark := s.shown(l)
	return mark + l.AtYard(s.Units)
}

// Exact writes a length for people without any rounding: 35 1/4" where it is a whole number of
// 1/64 in, else with all its decimals; 900.5 mm in a millimetre shop.
func (l Length) Exact(u Unit) string {
	if u != Millimetre && l%(UnitsPerInch/64) != 0 {
		return l.Decimal(u) + NoBreakSpace + "in"
	}
	return l.Shop(u)
}

// AtYard writes the length of a board as a yard says it: in an inch shop in feet and inches, 12' or
// 10' 6", where it is a foot or more; else as [Length.Exact] does.
func (l Length) AtYard(u Unit) string {
	foot, _ := u.YardUnit()
	switch {
	case u == Millimetre || l < foot:
		return l.Exact(u)
	case l%foot == 0:
		return fmt.Sprintf("%d'", l/foot)
	}
	return fmt.Sprintf("%d'%s%s", l/foot, NoBreakSpace, (l % foot).Exact(u))
}

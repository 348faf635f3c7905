package model

import (
	"fmt"
	"math/big"
	"regexp"
	"strconv"
	"strings"
)

// Length is a length in units of 1/320 mm, the largest unit in which 1/64 in and 0.1 mm are both
// whole.
type Length int64

// Units of length.
const (
	UnitsPerInch       = 8128
	UnitsPerMillimetre = 320
)

// MaxLength is the longest length that is read: 1000 m.
const MaxLength Length = 1000 * 1000 * UnitsPerMillimetre

// NoBreakSpace stands between a number and its unit, so that no line is broken there.
const NoBreakSpace = "\u00a0"

var (
	plainSigns = strings.NewReplacer(
		"\u00a0", " ", "\u202f", " ", "\u2009", " ", "\t", " ",
		"′", "'", "’", "'", "‘", "'", "´", "'", "″", `"`, "”", `"`, "“", `"`,
		"⁄", "/", "∕", "/", "–", "-", "‑", "-", "−", "-",
		"½", " 1/2", "⅓", " 1/3", "⅔", " 2/3", "¼", " 1/4", "¾", " 3/4", "⅕", " 1/5", "⅖", " 2/5",
		"⅗", " 3/5", "⅘", " 4/5",
		"⅙", " 1/6", "⅚", " 5/6", "⅛", " 1/8", "⅜", " 3/8", "⅝", " 5/8", "⅞", " 7/8",
	)
	// words of feet and the doubled prime
	plainFeet = strings.NewReplacer("''", `"`, "feet", "'", "foot", "'", "ft.", "'", "ft", "'")

	fractionForm   = regexp.MustCompile(`^(?:(\d+)(?: *- *| +))?(\d+)/(\d+)$`)
	decimalForm    = regexp.MustCompile(`^(?:\d+\.?\d*|\.\d+)$`)
	twoNumbersForm = regexp.MustCompile(`^([\d.]+)[ -]+([\d.]+)$`)
	exponentForm   = regexp.MustCompile(`^[\d.]+e[+-]?\d*$`)
	thousandForm   = regexp.MustCompile(`^\d{1,3}['’]\d{3}$`)
	lastWord       = regexp.MustCompile(`[\d.'"/ ]([^\d.'"/ ]+\.?)$`)
)

// PlainSigns writes typographic signs (primes, dashes, fractions, spaces) by those of a keyboard.
func PlainSigns(s string) string { return plainSigns.Replace(s) }

var lengthUnits = []struct {
	name string
	size int64 // in units of Length
}{
	{"inches", UnitsPerInch}, {"inch", UnitsPerInch}, {"in.", UnitsPerInch}, {"in", UnitsPerInch},
	{`"`, UnitsPerInch},
	{"mm", UnitsPerMillimetre}, {"cm", 10 * UnitsPerMillimetre}, {"m", 1000 * UnitsPerMillimetre},
}

func (u Unit) size() int64 {
	if u == Millimetre {
		return UnitsPerMillimetre
	}
	return UnitsPerInch
}

// ParseLength reads a length as it is written at the bench: 35.25, 35 1/4, 35-1/4", 5' 3 1/2",
// 900mm, 90cm, 0.9m. A bare number is in u. It is rounded to the nearest unit of Length, halves up;
// rounded says that it was not exact. The error says what is wrong; what to write.
func ParseLength(s string, u Unit) (l Length, rounded bool, err error) {
	if len(s) > 64 {
		return 0, false, fmt.Errorf(
			"the length has more than 64 characters; write one such as 35 1/4 or 900mm")
	}
	t := strings.TrimSpace(plainFeet.Replace(strings.ToLower(PlainSigns(s))))
	switch {
	case t == "":
		return 0, false, fmt.Errorf("the length is missing; write one such as 35 1/4 or 900mm")
	case strings.HasPrefix(t, "-"):
		return 0, false, fmt.Errorf("%q is negative; write a length of 0 or more", s)
	}
	sum := new(big.Rat)
	before, rest, hasFeet := strings.Cut(t, "'")
	if hasFeet {
		feet, err := parseNumber(strings.TrimSpace(before), s)
		if err != nil {
			return 0, false, err
		}
		sum.Mul(feet, big.NewRat(12*UnitsPerInch, 1))
		t = strings.TrimLeft(strings.TrimPrefix(strings.TrimLeft(rest, " "), "-"), " ")
		u = Inch
	}
	if t != "" {
		size := u.size()
		for _, unit := range lengthUnits {
			if n, ok := strings.CutSuffix(t, unit.name); ok {
				t, size = strings.TrimRight(n, " "), unit.size
				break
			}
		}
		n, err := parseNumber(t, s)
		switch {
		case err != nil:
			return 0, false, err
		case hasFeet && size != UnitsPerInch:
			return 0, false, fmt.Errorf("%q mixes feet and metric; write it in one of them", s)
		case hasFeet && n.Cmp(big.NewRat(12, 1)) >= 0:
			remedy := "write the feet and what is left, or inches only"
			if thousandForm.MatchString(s) {
				remedy += ", or no sign between thousands"
			}
			return 0, false, fmt.Errorf("%q has 12 or more inches after the feet; %s", s, remedy)
		}
		sum.Add(sum, n.Mul(n, big.NewRat(size, 1)))
	}
	if sum.Cmp(big.NewRat(int64(MaxLength), 1)) > 0 {
		return 0, false, fmt.Errorf("%q is above 1000 m; write a shorter length, or check its unit",
			s)
	}
	// Halves up: floor((2 num + den) / (2 den)).
	num := new(big.Int).Add(new(big.Int).Lsh(sum.Num(), 1), sum.Denom())
	num.Div(num, new(big.Int).Lsh(sum.Denom(), 1))
	return Length(num.Int64()), !sum.IsInt(), nil
}

// parseNumber reads 35.25, 1/4, 35 1/4 or 35-1/4; s is the whole length, for the error.
func parseNumber(t, s string) (*big.Rat, error) {
	if m := fractionForm.FindStringSubmatch(t); m != nil {
		den, _ := new(big.Rat).SetString(m[3])
		r, _ := new(big.Rat).SetString(m[2])
		if den.Sign() == 0 {
			return nil, fmt.Errorf("%q divides by zero; write a fraction such as 1/4", s)
		}
		r.Quo(r, den)
		if m[1] == "" {
			return r, nil
		}
		if r.Cmp(big.NewRat(1, 1)) >= 0 {
			return nil, fmt.Errorf(
				"%q has a fraction of 1 or more after a whole number; write a fraction below 1", s)
		}
		whole, _ := new(big.Rat).SetString(m[1])
		return r.Add(r, whole), nil
	}
	if decimalForm.MatchString(t) {
		r, _ := new(big.Rat).SetString(t)
		return r, nil
	}
	if m := twoNumbersForm.FindStringSubmatch(t); m != nil && decimalForm.MatchString(m[1]) &&
		decimalForm.MatchString(m[2]) {
		return nil, twoNumbers(s, t, m[1], m[2], true)
	}
	switch {
	case strings.Contains(t, ","):
		return nil, fmt.Errorf("%q has a comma; write decimals with a point, such as 35.25", s)
	case exponentForm.MatchString(t):
		return nil, fmt.Errorf("%q has an exponent; write the number in full", s)
	case strings.Count(t, ".") > 1 && strings.Trim(t, "0123456789.") == "":
		return nil, fmt.Errorf("%q has several points; write one, such as 35.25", s)
	}
	if m := lastWord.FindStringSubmatch(t); m != nil {
		return nil, fmt.Errorf(
			`%q ends in %q, which is no unit; write in, ', ", mm, cm or m, or the number alone`, s,
			m[1])
	}
	return nil, fmt.Errorf(`%q is no length; write one such as 35 1/4, 5' 3 1/2", 900mm or 0.9m`, s)
}

// Decimal writes the length in u without its name, with at most six decimals; read back in u it is
// exactly the same length.
func (l Length) Decimal(u Unit) string {
	sign, n, size := "", uint64(l), uint64(u.size())
	if l < 0 {
		sign, n = "-", -n
	}
	whole, millionths := n/size, (n%size*2e6+size)/(2*size) // rounded, halves up
	if millionths == 1e6 {
		whole, millionths = whole+1, 0
	}
	s := sign + strconv.FormatUint(whole, 10)
	if millionths == 0 {
		return s
	}
	return s + "." + strings.TrimRight(strconv.FormatUint(1e6+millionths, 10)[1:], "0")
}

// Shop writes the length for people: 35 1/4" where a 1/64 in is within one unit of Length, else
// decimal; 900.5 mm in a millimetre shop. The space inside does not break.
func (l Length) Shop(u Unit) string {
	if u == Millimetre {
		return l.Decimal(u) + NoBreakSpace + "mm"
	}
	const step = UnitsPerInch / 64
	sign, n := "", l
	if l < 0 {
		sign, n = "-", -l
	}
	sixtyFourths := (n + step/2) / step
	if d := n - sixtyFourths*step; d < -1 || d > 1 {
		return l.Decimal(u) + NoBreakSpace + "in"
	}
	whole, num, den := sixtyFourths/64, sixtyFourths%64, Length(64)
	for num > 0 && num%2 == 0 {
		num, den = num/2, den/2
	}
	digits := func(n Length) string { return strconv.FormatInt(int64(n), 10) }
	switch {
	case num == 0:
		return sign + digits(whole) + `"`
	case whole == 0:
		return sign + digits(num) + "/" + digits(den) + `"`
	}
	return sign + digits(whole) + NoBreakSpace + digits(num) + "/" + digits(den) + `"`
}

// YardUnit is the length that yards price wood by, with its name: a foot, in a millimetre shop a
// metre.
func (u Unit) YardUnit() (Length, string) {
	if u == Millimetre {
		return 1000 * UnitsPerMillimetre, "metre"
	}
	return 12 * UnitsPerInch, "foot"
}

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

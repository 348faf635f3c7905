package model

import (
	"math/big"
	"strings"
	"testing"
)

func TestParseLengthReadsEverySpelling(t *testing.T) {
	const in, mm = UnitsPerInch, UnitsPerMillimetre
	for _, c := range []struct {
		s       string
		u       Unit
		want    Length
		rounded bool
	}{
		{"35.25", Inch, 35*in + in/4, false},
		{"35 1/4", Inch, 35*in + in/4, false},
		{`35-1/4"`, Inch, 35*in + in/4, false},
		{"35 - 1/4", Inch, 35*in + in/4, false},
		{"35¼", Inch, 35*in + in/4, false},
		{"35 ¼″", Inch, 35*in + in/4, false},
		{"35\u00a01⁄4”", Inch, 35*in + in/4, false},
		{"35–1/4 inches", Inch, 35*in + in/4, false},
		{"⅛", Inch, in / 8, false},
		{"5/4", Inch, 5 * in / 4, false},
		{".5", Inch, in / 2, false},
		{"0", Inch, 0, false},
		{"  12 in ", Millimetre, 12 * in, false},
		{"12 in.", Millimetre, 12 * in, false},
		{`5' 3 1/2"`, Millimetre, 63*in + in/2, false},
		{"5′ 3½″", Inch, 63*in + in/2, false},
		{"5’-3’’", Inch, 63 * in, false},
		{"5'3", Millimetre, 63 * in, false},
		{"5 ft 3 in", Inch, 63 * in, false},
		{"5 1/2'", Inch, 66 * in, false},
		{"5'", Millimetre, 60 * in, false},
		{"900mm", Inch, 900 * mm, false},
		{"900", Millimetre, 900 * mm, false},
		{"900.5 MM", Inch, 900*mm + mm/2, false},
		{"90cm", Inch, 900 * mm, false},
		{"0.9m", Inch, 900 * mm, false},
		{"0.9 m", Inch, 900 * mm, false},
		{"1000m", Inch, MaxLength, false},
		{"1/64", Inch, 127, false},
		{"0.1", Millimetre, 32, false},
		{"1/3", Inch, 2709, true},      // 2709.33
		{"2/3", Inch, 5419, true},      // 5418.67
		{"1/128", Inch, 64, true},      // 63.5: halves up
		{"1/640", Millimetre, 1, true}, // 0.5: halves up
		{"0.0000001", Inch, 0, true},
	} {
		got, rounded, err := ParseLength(c.s, c.u)
		if got != c.want || rounded != c.rounded || err != nil {
			t.Errorf("ParseLength(%q, %s) = %d, %t, %v; want %d, %t", c.s, c.u, got, rounded, err,
				c.want, c.rounded)
		}
	}
}

func TestParseLengthRefusesWithARemedy(t *testing.T) {
	for s, say := range map[string]string{
		"5 3":   `write 5.3 for decimals, 5 1/3 for a fraction or 5' 3" for feet`,
		"1 200": "is two numbers; write 1200 for thousands or 1.2 for decimals",

		"1 200 mm":                     "write 1200 mm for thousands or 1.2 mm for decimals",
		"1\u202f200":                   "write 1200 for thousands or 1.2 for decimals",
		"12 125":                       "write 12125 for thousands or 12.1250 for decimals",
		"35 70":                        "; write 35.7 for decimals",
		"5 3in":                        "write 5.3in for decimals or 5 1/3in for a fraction",
		"1.5 2":                        "; write the one that is meant",
		"5-3":                          "is two numbers",
		"35 1/5x":                      `ends in "x", which is no unit`,
		"35 1/4 yd":                    `ends in "yd", which is no unit`,
		"":                             "is missing",
		" \u00a0":                      "is missing",
		"-5":                           "is negative",
		"−5":                           "is negative",
		"+5":                           "is no length",
		"nan":                          "is no length",
		"inf":                          "is no length",
		"in":                           "is no length",
		`"`:                            "is no length",
		"'":                            "is no length",
		"1/":                           "is no length",
		"1/2/3":                        "is no length",
		"1 ½½":                         "is no length",
		"1000.001m":                    "is above 1000 m",
		"39371":                        "is above 1000 m",
		"1/0":                          "divides by zero",
		"5 0/0":                        "divides by zero",
		"35.2.5":                       "has several points",
		"1.2.3.4mm":                    "has several points",
		"35,25":                        "has a comma",
		"1e3":                          "has an exponent",
		"1E-3mm":                       "has an exponent",
		"1e":                           "has an exponent",
		"35 5/4":                       "has a fraction of 1 or more",
		"1.5 1/2":                      "is no length",
		`5' 12"`:                       "has 12 or more inches after the feet",
		"1'200":                        "or inches only, or no sign between thousands",
		"5' 30mm":                      "mixes feet and metric",
		"5' 3' 2":                      "is no length",
		"0x10":                         "is no length",
		"1_000":                        "is no length",
		"\xff\xfe":                     "is no length",
		"٣":                            "is no length",
		strings.Repeat("9", 65):        "more than 64 characters",
		strings.Repeat("½", 65):        "more than 64 characters",
		"1/" + strings.Repeat("0", 62): "divides by zero",
		strings.Repeat("9", 64):        "is above 1000 m",
	} {
		got, _, err := ParseLength(s, Inch)
		if err == nil {
			t.Errorf("ParseLength(%q) = %d, want an error that says %q", s, got, say)
		} else if !strings.Contains(err.Error(), say) ||
			!strings.Contains(err.Error(), "; write ") {
			t.Errorf("ParseLength(%q): %v; want it to say %q and what to write", s, err, say)
		}
	}
}

// TestDecimalReadsBack: every length up to 2 in, and a spread up to the longest, in both units.
func TestDecimalReadsBack(t *testing.T) {
	check := func(l Length) {
		for _, u := range []Unit{Inch, Millimetre} {
			s := l.Decimal(u)
			exact := big.NewRat(int64(l), u.size()).FloatString(6) // of the standard library
			if want := strings.TrimSuffix(strings.TrimRight(exact, "0"), "."); s != want {
				t.Fatalf("%d is written %q in %s, want %q", l, s, u, want)
			}
			got, _, err := ParseLength(s, u)
			if got != l || err != nil {
				t.Fatalf("%d is written %q in %s and read back as %d, %v", l, s, u, got, err)
			}
			if _, decimals, ok := strings.Cut(s, "."); ok &&
				(len(decimals) > 6 || strings.HasSuffix(s, "0") || decimals == "") {
				t.Fatalf("%d is written %q in %s; want at most six decimals, no zero at the end", l,
					s, u)
			}
		}
	}
	for l := Length(0); l <= 2*UnitsPerInch; l++ {
		check(l)
	}
	for l := MaxLength; l > 0; l -= 3_999_971 { // a prime step: all remainders come up
		for d := range Length(40) {
			check(max(0, l-d))
		}
	}
}

func TestDecimal(t *testing.T) {
	for _, c := range []struct {
		l    Length
		u    Unit
		want string
	}{
		{35*UnitsPerInch + UnitsPerInch/4, Inch, "35.25"},
		{100 * UnitsPerInch, Inch, "100"},
		{127, Inch, "0.015625"},
		{1, Inch, "0.000123"},
		{1, Millimetre, "0.003125"},
		{0, Inch, "0"},
		{-UnitsPerInch / 2, Inch, "-0.5"},
		{900*UnitsPerMillimetre + 160, Millimetre, "900.5"},
	} {
		if got := c.l.Decimal(c.u); got != c.want {
			t.Errorf("%d in %s is %q, want %q", c.l, c.u, got, c.want)
		}
	}
}

func TestShop(t *testing.T) {
	const in = UnitsPerInch
	for _, c := range []struct {
		l    Length
		u    Unit
		want string
	}{
		{35*in + in/4, Inch, "35\u00a01/4\""},
		{35*in + in/4 + 1, Inch, "35\u00a01/4\""},
		{35*in + in/4 - 1, Inch, "35\u00a01/4\""},
		{35*in + in/4 + 2, Inch, "35.250246\u00a0in"},
		{35*in + 63*127, Inch, "35\u00a063/64\""},
		{36*in - 1, Inch, `36"`},
		{96 * in, Inch, `96"`},
		{in / 8, Inch, `1/8"`},
		{0, Inch, `0"`},
		{-5 * in / 2, Inch, "-2\u00a01/2\""},
		{900 * 320, Millimetre, "900\u00a0mm"},
		{900*320 + 160, Millimetre, "900.5\u00a0mm"},
		{35*in + in/4, Millimetre, "895.35\u00a0mm"},
	} {
		if got := c.l.Shop(c.u); got != c.want {
			t.Errorf("%d in %s is %q, want %q", c.l, c.u, got, c.want)
		}
	}
}

// refused sees that an error says what is wrong and, after a semicolon, what to write, and is
// short.
func refused(t *testing.T, s string, err error) {
	if cause, remedy := SplitRemedy(err); cause == "" || !strings.Contains(err.Error(), "; ") ||
		remedy == "" || len(err.Error()) > 1000 {
		t.Errorf("%q is refused without cause or remedy, or at length: %v", s, err)
	}
}

// What is read as a length is within its limits and is read back from both its spellings: exactly
// from the decimal one, to one unit from the one for people. What is refused is refused with a
// remedy.
func FuzzParseLength(f *testing.F) {
	for _, s := range []string{"35 1/4", `5' 3 1/2"`, "0.9m", "5 3", "½", "1/0", "900 mm", "35,25",
		"1e3", "-3", "6 ft. 2in", "100000000.5mm", "0.0000000000001",
		"99999999999999999999/99999999999999999998"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		for _, u := range []Unit{Inch, Millimetre} {
			l, _, err := ParseLength(s, u)
			if err != nil {
				refused(t, s, err)
				continue
			}
			if back, rounded, err := ParseLength(l.Decimal(u), u); l < 0 || l > MaxLength ||
				back != l || err != nil || rounded && u == Millimetre {
				t.Errorf("%q gives %d, written %q, read back as %d, %t, %v", s, l, l.Decimal(u),
					back, rounded, err)
			}
			if back, _, err := ParseLength(l.Shop(u), u); back < l-1 || back > l+1 || err != nil {
				t.Errorf("%q gives %d, shown as %q, read back as %d, %v", s, l, l.Shop(u), back,
					err)
			}
		}
	})
}

// An inch is 25.4 mm exactly (international yard and pound agreement of 1959), so 64 sixty-fourths
// are 254 tenths of a millimetre: what is whole in one unit is as a rule rounded in the other.
func TestShow(t *testing.T) {
	const in, mm = UnitsPerInch, UnitsPerMillimetre
	for _, c := range []struct {
		l    Length
		u    Unit
		inch InchFraction
		want string
	}{
		{35*in + 9*in/64, Inch, SixtyFourth, `35 9/64"`},
		{35*in + 9*in/64, Inch, ThirtySecond, `~35 5/32"`}, // 4.5 thirty-seconds: up
		{35*in + 9*in/64, Inch, Sixteenth, `~35 1/8"`},     // 2.25 sixteenths
		{35*in + 10*in/64, Inch, ThirtySecond, `35 5/32"`},
		{35*in + 10*in/64, Inch, Sixteenth, `~35 3/16"`}, // 2.5 sixteenths: up
		{35*in + 63*in/64, Inch, Sixteenth, `~36"`},
		{35*in + in/4, Inch, Sixteenth, `35 1/4"`},
		{35*in + in/4 + 1, Inch, Sixteenth, `~35 1/4"`},
		{900 * mm, Inch, SixtyFourth, `~35 7/16"`}, // 35.4331: 27.7 sixty-fourths
		{900 * mm, Inch, "", `~35 7/16"`},
		{2438 * mm, Inch, ThirtySecond, `~95 31/32"`}, // 95.9843: 31.5 thirty-seconds
		{-5 * in / 2, Inch, Sixteenth, `-2 1/2"`},
		{-5*in/2 - in/64, Inch, Sixteenth, `~-2 1/2"`},
		{0, Inch, Sixteenth, `0"`},
		{in / 64, Inch, Sixteenth, `1/64"`}, // never nothing
		{40, Inch, Sixteenth, `0.004921 in`},
		{900 * mm, Millimetre, Sixteenth, `900 mm`},
		{900*mm + mm/2, Millimetre, SixtyFourth, `900.5 mm`},
		{35*in + in/4, Millimetre, SixtyFourth, `~895.4 mm`}, // 895.35: up
		{in / 64, Millimetre, SixtyFourth, `~0.4 mm`},        // 0.396875
		{15, Millimetre, SixtyFourth, `0.046875 mm`},
	} {
		s := Settings{Units: c.u, Display: Display{c.inch}}
		if got := strings.ReplaceAll(s.Show(c.l), NoBreakSpace, " "); got != c.want {
			t.Errorf("%d in %s to %s is %s, want %s", c.l, c.u, c.inch, got, c.want)
		}
	}
}

// A yard says 12' and 10' 6"; a metric shop never does.
func TestShowAtYard(t *testing.T) {
	const in, mm = UnitsPerInch, UnitsPerMillimetre
	for _, c := range []struct {
		l    Length
		u    Unit
		want string
	}{
		{144 * in, Inch, `12'`},
		{12 * in, Inch, `1'`},
		{126 * in, Inch, `10' 6"`},
		{289 * in / 2, Inch, `12' 1/2"`},
		{151*in + in/2, Inch, `12' 7 1/2"`},
		{144*in + 1, Inch, `~12'`},
		{144*in - 1, Inch, `~12'`},
		{12*in - in/64, Inch, `~1'`},
		{12*in - in/4, Inch, `11 3/4"`},
		{0, Inch, `0"`},
		{144 * in, Millimetre, "3657.6 mm"},
		{3000 * mm, Millimetre, "3000 mm"},
	} {
		s := Settings{Units: c.u, Display: Display{Sixteenth}}
		if got := strings.ReplaceAll(s.ShowAtYard(c.l), NoBreakSpace, " "); got != c.want {
			t.Errorf("%d in %s is %s, want %s", c.l, c.u, got, c.want)
		}
	}
	want := "12'" + NoBreakSpace + "0.000123" + NoBreakSpace + "in"
	if got := Length(144*in + 1).AtYard(Inch); got != want {
		t.Errorf("without rounding it is %s", got)
	}
}

// What is shown without a mark is read back as the very same length; with one it is at most half a
// step away, and up from a half.
func FuzzShow(f *testing.F) {
	for _, l := range []int64{0, 1, 64, 127, 254, 8128, 97536, 35*8128 + 63, 320, 16, 48} {
		f.Add(l)
	}
	f.Fuzz(func(t *testing.T, n int64) {
		l := Length(uint64(n) % uint64(MaxLength-UnitsPerInch+1)) // of what can be read
		for _, c := range []struct {
			u    Unit
			inch InchFraction
			step Length
		}{{Millimetre, "", 32}, {Inch, "", 127}, {Inch, ThirtySecond, 254}, {Inch, Sixteenth, 508}} {
			s, step := Settings{Units: c.u, Display: Display{c.inch}}, c.step
			for _, shown := range []string{s.Show(l), s.ShowAtYard(l)} {
				plain, marked := strings.CutPrefix(shown, Rounded)
				back, _, err := ParseLength(plain, s.Units)
				switch {
				case err != nil:
					t.Errorf("%d is shown as %s: %v", l, shown, err)
				case marked != (back != l):
					t.Errorf("%d is shown as %s, which is %d", l, shown, back)
				case marked && (back%step != 0 || 2*(back-l) > step || 2*(back-l) <= -step):
					t.Errorf("%d is shown as %s, which is not the nearest to %d", l, shown, step)
				case !marked && back%step != 0 && 2*back >= step:
					t.Errorf("%d is shown as %s, which is finer than %d", l, shown, step)
				}
			}
		}
	})
}

package model

import (
	"strings"
	"testing"
)

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

package model

import (
	"strings"
	"testing"
)

// A number is read by the signs of others; one that nothing settles, or that others settle both
// ways, is refused with both ways to write it.
func TestSigns(t *testing.T) {
	for _, c := range []struct {
		others   string // cells of the same kind
		text     string
		want     string // or what the error says
		thousand bool
	}{
		{"", "1.200", "write 1200 or 1.2, whichever", false},
		{"", "1,200", "write 1200 or 1,2, whichever", false},
		{"", "1.200 mm", "write 1200 mm or 1.2 mm, whichever", false},
		{"", "15.875", "write 15875 or 15.8750, whichever", false},
		{"", "2.000", "write 2000 or 2, whichever", false},
		{"900 1200 3/4", "1.200", "write 1200 or 1.2", false},
		{"2.400 1.800", "1.200", "write 1200 or 1.2", false},
		{"12.5", "1.200", "1.200", false},
		{"0.750", "1.200", "1.200", false},
		{"1500.125", "1.200", "1.200", false},
		{"12,5", "1.200", "1200", true},
		{"12,5", "1,200", "1.200", false},
		{"12.5", "1,200", "1200", true},
		{"1.200,5", "1.200", "1200", true},
		{"1.200,5", "1,200", "1.200", false},
		{"1,200.5", "1,200", "1200", true},
		{"1.200.000", "1.300", "1300", true},
		{"1.200.000", "1,300", "write 1300 or 1,3", false}, // no sign is known before decimals
		{"12.5 12,5", "1.200", "write 1200 or 1.2", false},
		{"12.5 1.200.000", "1.200", "write 1200 or 1.2", false},
		// above what fits, so a fraction, and known for one
		{"", "35.125", "35.125", false},
		{"35.125", "1.200", "1.200", false},
		// nothing to settle
		{"12,5", "0.750", "0.750", false},
		{"", "1200", "1200", false},
		{"", "12,5", "12.5", false},
		{"", "1.200,5", "1200.5", false},
		{"", "1,200.5mm", "1200.5mm", false},
		{"", "1.200.000", "1200000", false},
		{"", "1.2.3", "1.2.3", false},
		{"", "no 1.20 number", "no 1.20 number", false},
		{"", "", "", false},
	} {
		fits := func(s string) bool {
			l, _, err := ParseLength(s, Millimetre)
			return err == nil && l <= LongestBoard
		}
		k := &Signs{DecimalComma: true}
		for _, s := range strings.Fields(c.others) {
			k.Learn(s, fits)
		}
		got, thousand, err := k.Plain(c.text, fits)
		if err != nil {
			got = err.Error()
		}
		if got != c.want && (err == nil || !strings.Contains(got, "could be a thousand or a "+
			"fraction; "+c.want)) || thousand != c.thousand {
			t.Errorf("%q beside %q: %q, %t; want %q, %t", c.text, c.others, got, thousand, c.want,
				c.thousand)
		}
	}
}

// Where a comma may not stand before decimals it is left there, and not advised.
func TestSignsWithoutDecimalComma(t *testing.T) {
	all := func(string) bool { return true }
	for text, want := range map[string]string{"12,5": "12,5", "1,200.5": "1200.5"} {
		if got, _, err := (&Signs{}).Plain(text, all); got != want || err != nil {
			t.Errorf("%q: %q, %v; want %q", text, got, err, want)
		}
	}
	if _, _, err := (&Signs{}).Plain("1,200", all); err == nil ||
		!strings.Contains(err.Error(), "write 1200 or 1.2,") {
		t.Error(err)
	}
}

// What Unmistaken writes is the same number, and never one that could be a thousand.
func TestUnmistaken(t *testing.T) {
	for s, want := range map[string]string{"1.225": "1.2250", "1,225": "1,2250", "1.5": "1.5",
		"0.125": "0.125", "1200": "1200", "1234.125": "1234.125", "": "",
		"1.200.000": "1.200.000"} {
		if got := Unmistaken(s); got != want {
			t.Errorf("%q: %q, not %q", s, got, want)
		}
	}
}

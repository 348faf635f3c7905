package model

import (
	"encoding/json"
	"math"
	"strings"
	"testing"
)

func TestMoneyIsReadAndWritten(t *testing.T) {
	for _, c := range []struct {
		s    string
		want Money
		text string
		json string
	}{
		{"12.50", 125000, "12.50", "12.5000"},
		{"12", 120000, "12.00", "12.0000"},
		{" 12.5 ", 125000, "12.50", "12.5000"},
		{"0.0001", 1, "0.0001", "0.0001"},
		{"1.125", 11250, "1.125", "1.1250"},
		{"1.10000", 11000, "1.10", "1.1000"},
		{".5", 5000, "0.50", "0.5000"},
		{"-0.25", -2500, "-0.25", "-0.2500"},
		{"−3", -30000, "-3.00", "-3.0000"},
		{"0", 0, "0.00", "0.0000"},
		{"1000000000", MaxMoney, "1000000000.00", "1000000000.0000"},
	} {
		m, err := ParseMoney(c.s)
		if m != c.want || err != nil {
			t.Errorf("ParseMoney(%q) = %d, %v; want %d", c.s, m, err, c.want)
		}
		b, err := json.Marshal(m)
		if m.String() != c.text || string(b) != c.json || err != nil {
			t.Errorf("%d is written %q and in JSON %q, %v; want %q and %q", m, m, b, err, c.text,
				c.json)
		}
	}
}

// A total may lie above what is read of a maker, to all that Money holds.
func TestParseTotal(t *testing.T) {
	for _, want := range []Money{-MaxMoney - 1, MaxMoney + 1, 15_839_999_998_416, math.MaxInt64} {
		if m, err := ParseTotal(want.String()); m != want || err != nil {
			t.Errorf("ParseTotal(%q) = %d, %v; want %d", want, m, err, want)
		}
	}
	if m, err := ParseTotal("922337203685477.5808"); err == nil {
		t.Errorf("more than Money holds is read as %d", m)
	}
}

func TestParseMoneyRefusesWithARemedy(t *testing.T) {
	for s, say := range map[string]string{
		"1.23456":               "has more than four decimals; round it",
		"1000000000.0001":       "is above 1000000000; write",
		"-1000000001":           "is above 1000000000; write",
		"":                      "is missing; write",
		"1,250.50":              "has a comma; write",
		"$5":                    "is no amount of money; write",
		"5 USD":                 "is no amount of money; write",
		"1e3":                   "has an exponent; write",
		"--5":                   "is no amount of money; write",
		"-":                     "is no amount of money; write",
		"1.2.3":                 "is no amount of money; write",
		"nan":                   "is no amount of money; write",
		strings.Repeat("9", 60): "is too large; write",
		strings.Repeat("9", 99): "more than 64 characters; write",
	} {
		if got, err := ParseMoney(s); err == nil || !strings.Contains(err.Error(), say) {
			t.Errorf("ParseMoney(%q) = %d, %v; want an error that says %q", s, got, err, say)
		}
	}
}

// TestMoneyJSONIsExact: sums above what a price may be, and amounts that a float64 does not hold,
// come back the same.
func TestMoneyJSONIsExact(t *testing.T) {
	for _, m := range []Money{0, 1, -1, 9999, -10001, 1<<53 + 1, MaxMoney * 1000, math.MaxInt64,
		-math.MaxInt64} {
		b, err := json.Marshal(m)
		var back Money
		if err2 := json.Unmarshal(b, &back); err != nil || err2 != nil || back != m {
			t.Errorf("%d is written %s and read back as %d (%v, %v)", m, b, back, err, err2)
		}
	}
	for _, s := range []string{`"5"`, `1e2`, `1.00001`, `922337203685477.5808`, `true`} {
		var m Money
		if err := json.Unmarshal([]byte(s), &m); err == nil {
			t.Errorf("JSON %s is read as %d, want an error", s, m)
		}
	}
}

// What is read as money, from a cell or from JSON, is within its limits, and is read back the same
// from both its spellings. What is refused is refused with a remedy.
func FuzzParseMoney(f *testing.F) {
	for _, s := range []string{"12.50", "-0.25", "−3", ".5", "1.10000", "1e2", "1,5",
		"1000000000.0001", "922337203685477.5807", "-922337203685477.5807", " 7. ", "--1"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		m, err := ParseMoney(s)
		switch {
		case err != nil:
			refused(t, s, err)
		case m > MaxMoney || m < -MaxMoney:
			t.Errorf("%q gives %d", s, m)
		}
		if back, err := ParseMoney(m.String()); back != m || err != nil {
			t.Errorf("%q gives %d, written %s, read back as %d, %v", s, m, m, back, err)
		}
		if m.UnmarshalJSON([]byte(s)) != nil {
			return
		}
		b, err := json.Marshal(m)
		var back Money
		if err2 := json.Unmarshal(b, &back); err != nil || err2 != nil || back != m {
			t.Errorf("%d is written %s and read back as %d (%v, %v)", m, b, back, err, err2)
		}
	})
}

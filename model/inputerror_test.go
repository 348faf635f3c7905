package model

import (
	"errors"
	"io"
	"strings"
	"testing"
	"unicode"
)

// An error names what is known of its place, then what is wrong, then what to do.
func TestInputErrorText(t *testing.T) {
	for want, e := range map[string]InputError{
		"parts.csv:3: qty: it is 0; write 1 or more": {File: "parts.csv", Line: 3, Column: "qty",
			Cause: "it is 0", Remedy: "write 1 or more"},
		"parts.csv: it is empty; fill it": {File: "parts.csv", Cause: "it is empty",
			Remedy: "fill it"},
		"shop.toml: kerf.rip: it is wide; saw less": {File: "shop.toml", Column: "kerf.rip",
			Cause: "it is wide", Remedy: "saw less"},
		"it is odd; ask": {Cause: "it is odd", Remedy: "ask"},
	} {
		if got := e.Error(); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
	if got := (Note{File: "a.csv", Line: 2, Column: "to", Text: "rounded"}).String(); got != "a.csv:2: to: rounded" {
		t.Error(got)
	}
}

// All mistakes come out sorted by file, line and column; of one cell the first that was found
// stands; none is no error.
func TestMistakesSorted(t *testing.T) {
	var m Mistakes
	if m.Err() != nil {
		t.Fatal("an empty collection is an error")
	}
	for _, e := range []*InputError{
		{File: "b.csv", Line: 2, Column: "z", Cause: "1"},
		{File: "b.csv", Line: 10, Column: "a", Cause: "2"},
		{File: "b.csv", Line: 2, Column: "a", Cause: "3"},
		{File: "a.csv", Line: 9, Column: "q", Cause: "4"},
		{File: "b.csv", Line: 2, Column: "z", Cause: "hidden by 1"}, {File: "a.csv", Cause: "5"},
		{File: "a.csv", Cause: "5"},
	} {
		m.Add(e)
	}
	var got []string
	var all InputErrors
	if !errors.As(m.Err(), &all) {
		t.Fatal("no InputErrors")
	}
	for _, e := range all {
		got = append(got, e.Cause)
	}
	if s := strings.Join(got, " "); s != "5 4 3 1 2" {
		t.Error(s)
	}
	var one *InputError
	if !errors.As(m.Err(), &one) || one.Cause != "5" {
		t.Error("the single mistakes cannot be had")
	}
	var again Mistakes
	again.AddAll("c.csv", m.Err())
	again.AddAll("c.csv", io.ErrUnexpectedEOF)
	if err := again.Err(); len(err.(InputErrors)) != len(all)+1 {
		t.Error(err)
	}
}

// One file cannot fill the memory with mistakes; others are still reported.
func TestMistakesBounded(t *testing.T) {
	var m Mistakes
	for i := range 3 * MostMistakes {
		m.Add(&InputError{File: "a.csv", Line: i + 1, Column: "x", Cause: "c"})
	}
	m.Add(&InputError{File: "b.csv", Line: 1, Cause: "c"})
	all := m.Err().(InputErrors)
	if len(all) != MostMistakes+2 || all[0].Code != CodeTooMany || all[len(all)-1].File != "b.csv" {
		t.Errorf("%d mistakes, first %v", len(all), all[0])
	}
}

func TestNearest(t *testing.T) {
	known := []string{"commission", "part", "qty", "length", "width"}
	for word, want := range map[string]string{"lenght": "length", "Qty": "qty", "quantity": "qty",
		"wide": "width", "parts": "part", "comission": "commission"} {
		if got := Nearest(word, known); got != want {
			t.Errorf("%.20s: got %s, want %s", word, got, want)
		}
	}
}

// Words are alike that are misspelt, or of which one names a kind of the other.
func TestAlike(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want bool
	}{
		{"sound knott", "sound knot", true}, {"Stian", "stain", false}, {"stainn", "Stain", true},
		{"loose knot", "sound knot", true}, {"split", "stain", false}, {"x", "stain", false},
		{"", "stain", false},
	} {
		if got := Alike(c.a, c.b); got != c.want {
			t.Errorf("%q and %q: %t", c.a, c.b, got)
		}
	}
}

// Every sign that steers a terminal or turns the writing is an escape, and no other sign is.
func TestVisible(t *testing.T) {
	for s, want := range map[string]string{
		"C-1 shelf":                 "C-1 shelf",
		"Étagère 木 👩\u200d🔧":        "Étagère 木 👩\u200d🔧", // a joiner is part of a letter
		"a\u202eb\u2066c\u061cd":    `a\u202eb\u2066c\u061cd`,
		"\x1b[31mred\a\u0085":       `\x1b[31mred\x07\u0085`,
		"one\ntwo\tthree\r":         `one\ntwo\tthree\x0d`,
		"line\u2028paragraph\u2029": `line\u2028paragraph\u2029`,
		"\xff\xe9":                  `\xff\xe9`,
		"\ufffd":                    "\ufffd",
		`back\slash`:                `back\slash`,
		"35\u00a01/4":               "35\u00a01/4",
	} {
		if got := Visible(s); got != want {
			t.Errorf("%q is shown %q, not %q", s, got, want)
		}
	}
	// the Unicode standard's bidirectional controls, UAX #9: ALM, LRM, RLM, embeddings, isolates
	for _, r := range "\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069" {
		if got := Visible(string(r)); !strings.HasPrefix(got, `\u`) {
			t.Errorf("%U is shown %q", r, got)
		}
	}
	for r := range rune(unicode.MaxRune) {
		if got := Visible(string(r)); Visible(got) != got {
			t.Fatalf("%U is shown %q, which is to be escaped again", r, got)
		}
	}
}

// Mistakes and notes are shown so, wherever a name stands in them, and keep to their line.
func TestMistakesAreVisible(t *testing.T) {
	e := &InputError{File: "parts\u202e.csv", Line: 2, Column: "a\nb", Cause: "c\x1b", Remedy: "d"}
	if got := e.Error(); got != `parts\u202e.csv:2: a\nb: c\x1b; d` {
		t.Error(got)
	}
	n := Note{File: "parts\n.csv", Text: "\u2067x"}
	if got := n.String(); got != `parts\n.csv: \u2067x` {
		t.Error(got)
	}
}

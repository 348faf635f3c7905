package model

import (
	"strings"
	"testing"
	"unicode"
)

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

package table

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func written(t interface{ Fatal(...any) }, width int, columns []Column, rows ...[]string) string {
	var out strings.Builder
	if err := Write(&out, width, columns, rows); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

// Columns line up on their sides, nothing is cut, and there is no blank at the end of a line.
func TestWrite(t *testing.T) {
	columns := []Column{{"board", Left}, {"length of it", Right}}
	rows := [][]string{{"R-1 by the door", "35\u00a01/4\""}, {"R-2", "120\""}}
	for _, c := range []struct {
		width int
		want  string
	}{
		{80, `
  board            length of it
  -----------------------------
  R-1 by the door       35 1/4"
  R-2                      120"
`},
		{31, `
  board            length of it
  -----------------------------
  R-1 by the door       35 1/4"
  R-2                      120"
`},
		{22, `
  board        length
                of it
  --------------------
  R-1 by the  35 1/4"
  door
  R-2            120"
`},
		{17, `
  board    length
            of it
  ---------------
  R-1 by  35 1/4"
  the
  door
  R-2        120"
`},
		{12, `
  R-1 by the
  door
    length
    of it
    35 1/4"
  R-2
    length
    of it
    120"
`},
	} {
		if got := written(t, c.width, columns, rows...); got != c.want[1:] {
			t.Errorf("at %d columns it is\n%s\nnot%s", c.width, got, c.want)
		}
	}
}

// Letters that take two columns, and accents, which take none, do not put the columns out of line;
// neither is a letter parted from its accent.
func TestWideLetters(t *testing.T) {
	columns := []Column{{"board", Left}, {"n", Right}}
	got := written(t, 15, columns, []string{"楢の厚板", "1"}, []string{"e\u0301te\u0301", "2"})
	want := "  board     n\n  -----------\n  楢の厚板  1\n  e\u0301te\u0301       2\n"
	if got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	for _, line := range Break(strings.Repeat("e\u0301", 50), 20) {
		if Width(line) > 20 || strings.HasPrefix(line, "\u0301") {
			t.Errorf("%q is a line of 20", line)
		}
	}
}

// letters are those of some texts, in their order in the alphabet.
func letters(texts ...string) string {
	all := []rune(strings.Join(strings.Fields(strings.Join(texts, "")), ""))
	slices.Sort(all)
	return string(all)
}

// Whatever is in the cells, no line is wider than it may be, and all letters are there.
func TestNothingIsLost(t *testing.T) {
	word := rapid.StringMatching(`[a-z楢é\-0-9.]{1,40}`)
	cell := rapid.Custom(func(t *rapid.T) string {
		return strings.Join(rapid.SliceOfN(word, 0, 12).Draw(t, "words"), " ")
	})
	rapid.Check(t, func(t *rapid.T) {
		width := rapid.IntRange(50, 140).Draw(t, "width")
		columns := []Column{{"name", Left}, {"a number", Right}, {"other", Left}}
		rows := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) []string {
			return []string{cell.Draw(t, "left"),
				fmt.Sprint(rapid.Int32().Draw(t, "right")), cell.Draw(t, "more")}
		}), 1, 5).Draw(t, "rows")
		text := written(t, width, columns, rows...)
		for line := range strings.Lines(text) {
			if line = strings.TrimSuffix(line, "\n"); Width(line) > width ||
				strings.TrimRight(line, " ") != line {
				t.Fatalf("%q is no line of %d in\n%s", line, width, text)
			}
		}
		var want []string
		for _, r := range rows {
			want = append(want, r...)
		}
		_, body, _ := strings.Cut(text, "--\n")
		if got := letters(body); got != letters(want...) {
			t.Fatalf("the letters %q are in %q", got, rows)
		}
	})
}

package table

import (
	"strings"
	"testing"
)

// Columns line up on their sides, nothing is cut or wrapped, and there is no blank at the end of a
// line.
func TestWrite(t *testing.T) {
	var out strings.Builder
	err := Write(&out, []Column{{"board", Left}, {"length of it", Right}}, [][]string{
		{"R-1 by the door", "35 1/4\""}, {"R-2", "120\""},
	})
	if err != nil {
		t.Fatal(err)
	}
	want := "  board            length of it\n" +
		"  -----------------------------\n" +
		"  R-1 by the door       35 1/4\"\n" +
		"  R-2                      120\"\n"
	if got := out.String(); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

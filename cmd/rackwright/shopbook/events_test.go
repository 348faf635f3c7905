package shopbook

import (
	"strings"
	"testing"
)

// Boards whose numbers follow each other are named by the first and the last.
func TestInRuns(t *testing.T) {
	for ids, want := range map[string]string{
		"":                          "",
		"B-1":                       "B-1",
		"B-1 B-2":                   "B-1, B-2",
		"B-8 B-9 B-10 B-12":         "B-8 to B-10, B-12",
		"B-008 B-009 B-010 B-11":    "B-008 to B-010, B-11",
		"B-1 C-2 C-3 C-4 C D":       "B-1, C-2 to C-4, C, D",
		"m-buy-3 m-buy-4 m-buy-5.1": "m-buy-3, m-buy-4, m-buy-5.1",
		"99999999999999999999 100000000000000000000": "99999999999999999999, 100000000000000000000",
	} {
		if got := strings.Join(inRuns(strings.Fields(ids)), ", "); got != want {
			t.Errorf("%s: %s, not %s", ids, got, want)
		}
	}
}

package main

import (
	"bytes"
	"io"
	"strings"
	"testing"
)

// A small month is planned both ways, and its row has what the table is about.
func TestGluedMonthIsPlanned(t *testing.T) {
	var b bytes.Buffer
	args := []string{"-seeds", "2", "-pieces", "100", "-work", "30000000", "-threads", "1"}
	if err := glued(t.Context(), args, &b, io.Discard); err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(b.String()), "\n")
	if len(lines) != 3 || !strings.Contains(lines[0], "simple rule's") {
		t.Fatalf("table:\n%s", b.String())
	}
	cells := strings.Join(strings.Fields(lines[2]), " ")
	if !strings.HasPrefix(cells, "| 2 | in |") ||
		!strings.HasSuffix(cells, "| cuts accepted, bound accepted |") {
		t.Errorf("row: %s", cells)
	}
	for _, bad := range [][]string{{"-seeds", "x"}, {"-pieces", "3"}} {
		if err := glued(t.Context(), bad, io.Discard, io.Discard); err == nil {
			t.Errorf("%v: no error", bad)
		}
	}
}

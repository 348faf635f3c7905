package main

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A small job is planned within a second, and its row has what the table is about.
func TestSizesArePlanned(t *testing.T) {
	var b bytes.Buffer
	args := []string{"-rows", "6", "-boards", "3", "-work", "1000000", "-seed", "3", "-rip", "2mm"}
	if err := sizes(t.Context(), args, &b, io.Discard); err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(b.String()), "\n")
	if len(lines) != 3 || !strings.Contains(lines[0], "best rule's") {
		t.Fatalf("table:\n%s", b.String())
	}
	cells := strings.Join(strings.Fields(lines[2]), " ")
	if !strings.HasPrefix(cells, "| 3, rip 2mm | 1 | 6 |") ||
		!strings.Contains(cells, "| 3 | 9 |") ||
		!strings.HasSuffix(cells, "| cuts accepted, bound accepted |") {
		t.Errorf("row: %s", cells)
	}
	err := sizes(t.Context(), append(args, "-memory", "1"), io.Discard, io.Discard)
	if err == nil || !strings.Contains(err.Error(), "more than 1") {
		t.Errorf("in one MiB: %v", err)
	}
}

func TestSizesAreOnlyWritten(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "job")
	args := []string{"-rows", "6", "-boards", "3", "-write", dir}
	if err := sizes(t.Context(), args, io.Discard, io.Discard); err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(filepath.Join(dir, "defects.csv")); err != nil {
		t.Error(err)
	}
	for _, bad := range [][]string{{"-rows", "0"}, {"-woods", "6"}, {"-rip", "x"}} {
		if err := sizes(t.Context(), bad, io.Discard, io.Discard); err == nil {
			t.Errorf("%v: no error", bad)
		}
	}
}

package main

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"rackwright/model"
)

// Jobs of one seed each are planned and told of, one by one and together.
func TestExtremesArePlanned(t *testing.T) {
	var table, lines bytes.Buffer
	args := []string{"-seeds", "3,4,6", "-work", "100000"}
	if err := extremes(t.Context(), args, &table, &lines); err != nil {
		t.Fatal(err)
	}
	rows := strings.Split(strings.TrimSpace(table.String()), "\n")
	if len(rows) != 3 || !strings.Contains(strings.Join(strings.Fields(rows[2]), " "),
		"| 100000 | 0 | 1 | 2 | 0 |") {
		t.Errorf("table:\n%s", table.String())
	}
	if n := strings.Count(lines.String(), "\n"); n != 3 ||
		!strings.HasPrefix(lines.String(), "job 3: ") {
		t.Errorf("lines:\n%s", lines.String())
	}
}

func TestExtremesAreOnlyWritten(t *testing.T) {
	dir := t.TempDir()
	err := extremes(t.Context(), []string{"-seeds", "3", "-write", dir}, io.Discard, io.Discard)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(filepath.Join(dir, "extreme3", "parts.csv")); err != nil {
		t.Error(err)
	}
	if extremes(t.Context(), []string{"-seeds", "x"}, io.Discard, io.Discard) == nil {
		t.Error("-seeds x is no error")
	}
}

// Each plan counts once: without boards, proven, without a bound that says anything, or none of it.
func TestPlansAreCounted(t *testing.T) {
	s := summary{jobs: 4, thrown: 1, slowest: 1500 * time.Millisecond, slowestSeed: 9,
		failed: []int64{3}}
	used := []model.Placement{{}}
	for _, p := range []model.Plan{{}, {Value: 5, Bound: 5, Placements: used},
		{Value: 5, Bound: -1, Placements: used}, {Value: 5, Bound: 4, Placements: used}} {
		s.tell(&p)
	}
	var b bytes.Buffer
	if err := s.print(&b, 10); err != nil {
		t.Fatal(err)
	}
	if row := strings.Join(strings.Fields(b.String()), " "); !strings.Contains(row,
		"| 4 | 1 | 10 | 1 | 1 | 1 | 1 | 1.5 s (9) |") {
		t.Error(b.String())
	}
}

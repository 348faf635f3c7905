package main

import (
	"bytes"
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"rackwright/benchmarks"
	"rackwright/benchmarks/told"
	"rackwright/io/folder"
	"rackwright/model"
)

func TestTableIsMarkdown(t *testing.T) {
	var b bytes.Buffer
	err := printTable(&b, []row{
		{told.Row{Seed: 1, Units: model.Inch, Pieces: 402, Time: 12340 * time.Millisecond,
			Value: 12345678, Bound: 12345677, Verdict: "feasible"}, benchmarks.Kerfs{},
			proven{2, 3}, proven{0, 2}},
		{told.Row{Seed: 10, Units: model.Millimetre, Pieces: 398, Time: 900 * time.Millisecond,
			Value: 9000000, Bound: 9000000, Verdict: "optimal"}, benchmarks.Kerfs{Rip: "2mm"},
			proven{}, proven{5, 5}},
	})
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(b.String()), "\n")
	var cells [][]string
	for _, l := range lines {
		cells = append(cells, strings.Fields(strings.ReplaceAll(l, "|", " ")))
	}
	want := []string{"1", "in", "402", "2", "of", "3", "0", "of", "2", "12.3", "s", "1234.5678",
		"1234.5677", "0.001", "feasible"}
	if len(lines) != 4 || !slices.Equal(cells[2], want) || !strings.Contains(lines[0], "gap %") ||
		!strings.Contains(lines[3], " 0.000 ") || !strings.Contains(lines[3], " 10, rip 2mm |") {
		t.Errorf("table:\n%s", b.String())
	}
	for _, l := range lines {
		if strings.Count(l, "|") != 11 {
			t.Errorf("not ten columns: %s", l)
		}
	}
}

// Both saws are set apart, a bare number is in inches in a metric shop too, and nothing but the
// kerfs is another.
func TestKerfsAreThoseAskedFor(t *testing.T) {
	dir := t.TempDir()
	for _, args := range [][]string{{"-rips"}, {}} {
		args = append(args, "-seeds", "1,3", "-write")
		for name, kerfs := range map[string][]string{"drawn": nil,
			"set": {"-crosscut", "2.8mm", "-rip", "1/16"}} {
			at := []string{filepath.Join(dir, name)}
			err := months(t.Context(), slices.Concat(args, at, kerfs), io.Discard, io.Discard)
			if err != nil {
				t.Fatal(err)
			}
		}
	}
	for _, month := range []string{"month1", "month3", "ripmonth1", "ripmonth3"} {
		drawn, _, err := folder.ReadJob(os.DirFS(filepath.Join(dir, "drawn", month)))
		if err != nil {
			t.Fatal(err)
		}
		set, notes, err := folder.ReadJob(os.DirFS(filepath.Join(dir, "set", month)))
		if err != nil || len(notes) > 0 {
			t.Fatal(notes, err)
		}
		if s := &set.Settings; s.CrosscutKerf != 28*model.UnitsPerMillimetre/10 ||
			s.RipKerf != model.UnitsPerInch/16 {
			t.Errorf("%s: kerfs of %d and %d", month, s.CrosscutKerf, s.RipKerf)
		}
		set.Settings.CrosscutKerf = drawn.Settings.CrosscutKerf
		set.Settings.RipKerf = drawn.Settings.RipKerf
		set.Inputs = drawn.Inputs
		if !reflect.DeepEqual(set, drawn) {
			t.Errorf("%s: more than its kerfs is another", month)
		}
	}
}

// The planner sees a whole job folder, which is gone afterwards; what it says, and its failure,
// come through.
func TestEachMonthIsPlannedInAFolder(t *testing.T) {
	planner := planFolder
	t.Cleanup(func() { planFolder = planner })
	var folder string
	planFolder = func(_ context.Context, dir string, _ int64) (row, error) {
		folder = dir
		files, err := filepath.Glob(filepath.Join(dir, "*"))
		return row{Row: told.Row{Pieces: len(files), Value: 10, Bound: 9}}, err
	}
	r, err := run(context.Background(), maker{}, 3)
	if err != nil || r.Seed != 3 || r.Pieces != 6 || r.Gap() != "10.000" {
		t.Errorf("row %+v, %v", r, err)
	}
	if _, err := os.Stat(folder); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("the folder is still there: %v", err)
	}
	planFolder = func(context.Context, string, int64) (row, error) {
		return row{}, errors.New("out of wood")
	}
	err = months(context.Background(), []string{"-seeds", "4"}, io.Discard, io.Discard)
	if err == nil || err.Error() != "month 4: out of wood" {
		t.Errorf("got %v", err)
	}
}

func TestMonthsAreOnlyWritten(t *testing.T) {
	planFolder = func(context.Context, string, int64) (row, error) {
		return row{}, errors.New("planned")
	}
	t.Cleanup(func() { planFolder = plan })
	dir := t.TempDir()
	for _, args := range [][]string{{"-seeds", "3-4"}, {"-seeds", "2", "-rips", "-pieces", "100"}} {
		err := months(t.Context(), append(args, "-write", dir), io.Discard, io.Discard)
		if err != nil {
			t.Fatal(err)
		}
	}
	for _, bad := range []string{"x", "2mm.", "0.3mm", "26mm", "-1/8"} {
		err := months(t.Context(), []string{"-seeds", "1", "-write", dir, "-rip", bad}, io.Discard,
			io.Discard)
		if ok := bad == "0.3mm"; (err == nil) != ok {
			t.Errorf("a kerf of %s: %v", bad, err)
		}
	}
	for _, month := range []string{"month3", "month4", "ripmonth2"} {
		if _, err := os.Stat(filepath.Join(dir, month, "parts.csv")); err != nil {
			t.Error(err)
		}
	}
}

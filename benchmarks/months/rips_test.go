package main

import (
	"bytes"
	"context"
	"io"
	"os"
	"strings"
	"testing"
	"time"

	"rackwright/benchmarks"
	"rackwright/benchmarks/told"
	"rackwright/io/folder"
	"rackwright/model"
	"rackwright/model/check"
	"rackwright/model/proof"
	"rackwright/nest"
)

func TestRipTableIsMarkdown(t *testing.T) {
	var b bytes.Buffer
	err := printRips(&b, []ripRow{{
		row: row{Row: told.Row{Seed: 7, Units: model.Inch, Pieces: 400,
			Time: 12340 * time.Millisecond, Value: 9000000, Bound: 8999999, Rule: 0,
			RuleName: "first fit", Verdict: "accepted"}},
		crosscut: 5, rip: 6, plain: 70, unripped: 10000000}})
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(b.String()), "\n")
	if len(lines) != 3 || strings.Count(lines[0], "|") != 13 || strings.Count(lines[2], "|") != 13 {
		t.Fatalf("table:\n%s", b.String())
	}
	cells := strings.Join(strings.Fields(lines[2]), " ")
	want := "| 7 | in | 400 | 12.3 s | 900.00 | 899.9999 | 0.001 | 5 / 6 / 70 | 10.0 | - |" +
		" first fit | accepted |"
	if cells != want {
		t.Errorf("got  %s\nwant %s", cells, want)
	}
}

// Without rips no board is ripped, whatever it holds; only those stay that are looked at across for
// the place of a defect. With them most boards for sale are.
func TestWithoutRips(t *testing.T) {
	dir := t.TempDir()
	if err := benchmarks.WriteRipMonth(dir, 3, 400, benchmarks.Kerfs{}); err != nil {
		t.Fatal(err)
	}
	job, _, err := folder.ReadJob(os.DirFS(dir))
	if err != nil {
		t.Fatal(err)
	}
	rippable := func(job *model.Job, b *model.Board, o model.Origin) bool {
		var parts []*model.Part
		for i := range job.Parts {
			if ok, _ := job.Holds(&job.Parts[i], b, o); ok {
				parts = append(parts, &job.Parts[i])
			}
		}
		return job.Rippable(b, o, parts)
	}
	none, with := withoutRips(job), 0
	for i := range job.Yard {
		b := &model.Board{Wood: job.Yard[i].Wood}
		if rippable(job, b, model.FromYard) {
			with++
		}
		if rippable(none, b, model.FromYard) {
			t.Errorf("a %s of %d is rippable without rips", b.Section, b.Length)
		}
	}
	for i := range job.Rack {
		b := &job.Rack[i]
		across := false
		for _, d := range b.Defects {
			across = across || d.Left > 0 || d.Right < b.Width
		}
		if rippable(none, b, model.FromRack) && !across {
			t.Errorf("board %s is rippable without rips", b.ID)
		}
	}
	if with < len(job.Yard)/2 {
		t.Errorf("%d of %d boards for sale are rippable", with, len(job.Yard))
	}
	if job.Settings.Safety.ShortestRip == none.Settings.Safety.ShortestRip {
		t.Error("the job itself has changed")
	}
}

// Each board is counted by how it is laid out.
func TestBoardsAreCounted(t *testing.T) {
	p := &model.Plan{}
	for _, f := range []model.First{model.RipFirst, model.RipFirst, model.RipFirst,
		model.CrosscutFirst, model.CrosscutFirst, model.NotRipped} {
		p.Placements = append(p.Placements, model.Placement{First: f})
	}
	var r ripRow
	if r.count(p); r.crosscut != 2 || r.rip != 3 || r.plain != 1 {
		t.Errorf("%+v", r)
	}
}

func TestPiecesOfARipMonth(t *testing.T) {
	for _, c := range [][3]string{{"-pieces", "99", "pieces"}, {"-pieces", "20001", "pieces"},
		{"-boards", "4", "boards"}, {"-boards", "5001", "boards"}, {"-sizes", "-1", "sizes"},
		{"-sizes", "6", "sizes"}} {
		err := months(context.Background(), []string{"-rips", c[0], c[1]}, io.Discard, io.Discard)
		if err == nil || !strings.Contains(err.Error(), c[1]) ||
			!strings.Contains(err.Error(), c[2]) {
			t.Errorf("%v: %v", c, err)
		}
	}
}

// Ten months with rips, in little work: both parts of the checker accept each plan (else there is
// no plan but an error). Each has boards that are crosscut first and then ripped, most have some
// that are ripped first.
func TestTenMonthsWithRipsVerify(t *testing.T) {
	ripFirst := 0
	for seed := int64(1); seed <= 10; seed++ {
		dir := t.TempDir()
		if err := benchmarks.WriteRipMonth(dir, seed, 400, benchmarks.Kerfs{}); err != nil {
			t.Fatal(err)
		}
		job, _, err := folder.ReadJob(os.DirFS(dir))
		if err != nil {
			t.Fatal(err)
		}
		plan, err := nest.Plan(context.Background(), job, nest.Options{Work: 4e8})
		if err != nil {
			t.Fatalf("month %d: %v", seed, err)
		}
		kinds := map[model.First]int{}
		for _, p := range plan.Placements {
			kinds[p.First]++
		}
		if ripFirst += kinds[model.RipFirst]; kinds[model.CrosscutFirst] < 5 ||
			len(plan.Shortages) > 0 {
			t.Errorf("month %d: boards by kind %v, shortages %v", seed, kinds, plan.Shortages)
		}
		reading, found := check.Check(job, plan)
		if found = append(found, proof.Bounds(reading)...); len(found) > 0 {
			t.Errorf("month %d: %v", seed, found)
		}
	}
	if ripFirst < 50 {
		t.Errorf("%d boards are ripped first, in ten months", ripFirst)
	}
}

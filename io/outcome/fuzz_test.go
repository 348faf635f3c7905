package outcome_test

import (
	"bytes"
	"context"
	"fmt"
	"testing"
	"testing/fstest"

	"rackwright/benchmarks"
	"rackwright/io/csvfile"
	"rackwright/io/folder"
	"rackwright/io/outcome"
	"rackwright/model"
	"rackwright/model/makeup"
	"rackwright/nest"
)

// FuzzForm reads whatever is filled in in the form of the shop made by hand. It is refused, with
// places and remedies, or entered, and then nothing of a board is lost.
func FuzzForm(f *testing.F) {
	for _, x := range marked {
		c := shop()
		x.marks(c)
		f.Add(filledIn(f, c))
	}
	f.Add([]byte("board;row;commission;part;copy;offcut;length;width;state;measured\n" +
		"B-1;offcut;;;;N-1;34,75;8;KEPT;\"34 1/2\"\nB-2;piece;C;rail;1;;40;2,875;not  cut;\n" +
		"B-2;rest;;;;;60;8;;60\n"))
	f.Fuzz(func(t *testing.T, form []byte) {
		c := shop()
		marks, _, err := folder.ReadMarks(fstest.MapFS{folder.Form: &fstest.MapFile{Data: form}},
			folder.Form, c.Job, c.Plan)
		if err != nil {
			return // how tables are refused is tested where they are read
		}
		c.Marks, c.Boards = marks, []string{"B-1", "B-2", "B-3"}
		o, err := c.Outcome()
		if err != nil {
			for _, e := range err.(model.InputErrors) {
				if e.File != folder.Form || e.Line < 2 || e.Column == "" || e.Remedy == "" {
					t.Fatal(e)
				}
			}
			return
		}
		p := planned{c.Job, c.Plan}
		if _, err := p.after(o); err != nil {
			t.Fatalf("%v, of\n%s", err, told(o))
		}
		for _, d := range o.Done {
			if min(d.Parts, d.Spoiled, d.Kerf, d.Trim, d.Waste) < 0 {
				t.Fatalf("less than nothing: %s", told(o))
			}
		}
	})
}

// filledIn is the form as a maker's table.
func filledIn(t testing.TB, c *outcome.Cutting) []byte {
	var b bytes.Buffer
	if err := csvfile.WriteMarks(&b, nil, model.Inch); err != nil {
		t.Fatal(err)
	}
	length := func(l model.Length) string {
		if l == 0 {
			return ""
		}
		return l.Decimal(model.Inch)
	}
	for _, m := range c.Marks {
		n, defects := "", ""
		if m.Copy > 0 {
			n = fmt.Sprint(m.Copy)
		}
		for i, d := range m.Defects {
			if i > 0 {
				defects += " | "
			}
			defects += fmt.Sprintf("%s; %s; %s", d.From.Decimal(model.Inch),
				d.To.Decimal(model.Inch), d.Kind)
		}
		fmt.Fprintf(&b, "%s,%s,%s,%s,%s,%s,%s,%s,%s,%s,%s,%s,\n", m.Board, m.Row, m.Commission,
			m.Part, n, m.Offcut, length(m.Length), length(m.Width), m.State, length(m.Measured),
			length(m.MeasuredWidth), defects)
	}
	return b.Bytes()
}

// What became of all boards of a ripped month of 480 pieces, on a rack of 10,000 boards; each
// offcut is measured, so that its worth is worked out anew.
func BenchmarkOutcome(b *testing.B) {
	files := benchmarks.RipMonth(1, 480, benchmarks.Kerfs{})
	job, _, err := folder.ReadJob(benchmarks.FS(files))
	if err != nil {
		b.Fatal(err)
	}
	plan, err := nest.Plan(context.Background(), job, nest.Options{Work: 300_000})
	if err != nil {
		b.Fatal(err)
	}
	job = makeup.AsMade(job, plan.Made)
	p := planned{job, plan}
	longest := model.Length(40 * in)
	job.Settings.Bins = map[string]model.BinFacts{"a": {Most: new(int64(5000))},
		"b": {Longest: &longest}}
	var marks []model.Marked
	for _, m := range model.MarksOf(plan.Cuts) {
		if m.Row == model.MarkOffcut {
			marks = append(marks, model.Marked{Mark: m, Measured: m.Length - 1})
		}
	}
	c := p.cutting(marks)
	for n := range 10_000 {
		c.Rack = append(c.Rack, model.Board{ID: fmt.Sprint("R-", n), Wood: job.Yard[0].Wood,
			Bin: string(rune('a' + n%4))})
	}
	for b.Loop() {
		if _, err := c.Outcome(); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(len(c.Boards)), "boards")
}

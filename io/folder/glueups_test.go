package folder

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"maps"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"rackwright/io/internal/madeup"
	"rackwright/model"
)

func encoded(t *testing.T, job *model.Job, plan *model.Plan) fstest.MapFS {
	t.Helper()
	files, err := Encode(job, plan)
	if err != nil {
		t.Fatal(err)
	}
	out := fstest.MapFS{}
	for name, data := range files {
		out[name] = &fstest.MapFile{Data: data, Mode: 0o644}
	}
	return out
}

// A plan whose parts are made up reads back the same, and writes the same bytes.
func TestMadeUpRoundTrip(t *testing.T) {
	job, plan := madeup.Plan(t)
	first := encoded(t, job, plan)
	gotJob, gotPlan, err := ReadPlan(first)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(job.Parts, gotJob.Parts, cmpopts.EquateEmpty()); d != "" {
		t.Error(d)
	}
	if d := cmp.Diff(plan.Cuts, gotPlan.Cuts); d != "" {
		t.Error(d)
	}
	if d := cmp.Diff(first, encoded(t, gotJob, gotPlan)); d != "" {
		t.Error(d)
	}
	if err := CheckForm(first, gotJob, gotPlan); err != nil {
		t.Error(err)
	}
}

// Each changed cell of what tables say of glue-ups is found, with its place and what is right.
func TestMadeUpChanged(t *testing.T) {
	job, plan := madeup.Plan(t)
	good := encoded(t, job, plan)
	for _, c := range []struct{ name, file, old, new, want string }{
		{"stave", "cuts.csv", ",sound,,2/7\n", ",sound,,3/7\n",
			`cuts.csv:8: stave: "3/7": the plan has "2/7" here; write that`},
		{"stave of a kerf", "cuts.csv", ",kerf,61.5,61.625,0,5.5,,,,,,\n",
			",kerf,61.5,61.625,0,5.5,,,,,,1/7\n",
			`cuts.csv:4: stave: "1/7": the plan has nothing here; empty the cell`},
		{"gang", "cuts.csv", ",6 in one\n", ",5 in one\n", `"5 in one": the plan has "6 in one"`},
		{"column of staves", "cuts.csv", "offcut,stave\n", "offcut,stav\n", "stav"},
		{"stave laid", "glue_ups.csv", ",2/7,", ",1/7,",
			`glue_ups.csv:3: stave: "1/7": the plan has "2/7" here; write that`},
		{"board", "glue_ups.csv", ",made-buy-2,", ",made-buy-3,",
			`glue_ups.csv:3: board: "made-buy-3": the plan has "made-buy-2" here`},
		{"layer", "glue_ups.csv", ",1/4,,", ",1/3,,", "glue_ups.csv:9: layer:"},
		{"copy", "glue_ups.csv", "table,top,1,,7/7,", "table,top,2,,7/7,", "glue_ups.csv:8: copy:"},
		{"part", "glue_ups.csv", "table,top,", "table,tip,", "glue_ups.csv:2: part:"},
		{"commission", "glue_ups.csv", "C-02 table,top,", "C-03,top,",
			"glue_ups.csv:2: commission:"},
		{"net width", "glue_ups.csv", ",5.125,", ",5.25,",
			`glue_ups.csv:2: net_width: "5.25": the plan has "5.125" here; write that`},
		{"glued width", "glue_ups.csv", ",35.875,", ",35.75,", "glue_ups.csv:2: glued_width:"},
		{"no glued width", "glue_ups.csv", ",35.875,", ",,",
			`glue_ups.csv:2: glued_width: "": the plan has "35.875" here; write that`},
		{"what is no width", "glue_ups.csv", ",35.875,", ",wide,", "glue_ups.csv:2: glued_width:"},
		{"width to cut to", "glue_ups.csv", ",35\n", ",34\n", "glue_ups.csv:2: cut_to:"},
		{"row too few", "glue_ups.csv", string(good["glue_ups.csv"].Data),
			strings.Join(strings.SplitAfter(string(good["glue_ups.csv"].Data), "\n")[:9], ""),
			"glue_ups.csv: rows are missing (39): the first is that of C-02 table, leg"},
		{"row too many", "glue_ups.csv", string(good["glue_ups.csv"].Data),
			string(good["glue_ups.csv"].Data) + "C,p,1,,1/2,B,1,1,1\n",
			"the plan has no more than 47 rows here; take out the rows from here on"},
		{"no file", "glue_ups.csv", "", "", "glue_ups.csv: the file is missing"},
	} {
		t.Run(c.name, func(t *testing.T) {
			bad := fstest.MapFS{}
			for name, f := range good {
				bad[name] = f
			}
			text := strings.Replace(string(good[c.file].Data), c.old, c.new, 1)
			if bad[c.file] = (&fstest.MapFile{Data: []byte(text), Mode: 0o644}); c.old == "" {
				delete(bad, c.file)
			} else if text == string(good[c.file].Data) {
				t.Fatal("nothing was edited")
			}
			if _, _, err := ReadPlan(bad); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("says %v", err)
			}
		})
	}
	// lengths in other words are the same
	same := strings.Replace(string(good["glue_ups.csv"].Data), ",5.125,", ",5.1250,", 1)
	good["glue_ups.csv"] = &fstest.MapFile{Data: []byte(same), Mode: 0o644}
	if _, _, err := ReadPlan(good); err != nil {
		t.Error(err)
	}
}

// Whichever cell of glue_ups.csv is another, and whichever stave in cuts.csv, it is found in its
// place.
func TestEveryMadeUpCell(t *testing.T) {
	job, plan := madeup.Plan(t)
	good := encoded(t, job, plan)
	tried := 0
	for file, only := range map[string]string{GlueUps: "", "cuts.csv": "stave"} {
		rows, err := csv.NewReader(bytes.NewReader(good[file].Data)).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		for n := 1; n < len(rows); n++ {
			for c, column := range rows[0] {
				if only != "" && column != only {
					continue
				}
				was := rows[n][c]
				if rows[n][c] = was + "1"; was == "" {
					rows[n][c] = "1/2"
				}
				var b bytes.Buffer
				if err := csv.NewWriter(&b).WriteAll(rows); err != nil {
					t.Fatal(err)
				}
				rows[n][c] = was
				bad := maps.Clone(good)
				bad[file] = &fstest.MapFile{Data: b.Bytes(), Mode: 0o644}
				err := readTables(bad, job, &model.Plan{})
				if want := fmt.Sprintf("%s:%d: %s: ", file, n+1, column); err == nil ||
					!strings.HasPrefix(err.Error(), want) {
					t.Fatalf("%s is not told: %v", want, err)
				}
				tried++
			}
		}
	}
	if tried < 500 {
		t.Errorf("only %d cells were tried", tried)
	}
}

// A plan without glue-ups has no table of them, and none may lie there.
func TestNoGlueUps(t *testing.T) {
	job := &model.Job{Settings: model.DefaultSettings()}
	out := encoded(t, job, &model.Plan{Work: model.Work{Order: model.LeastTime,
		Ways: []model.WayOfWork{{Way: model.LeastTime}, {Way: model.LeastClutter}}}})
	if out[GlueUps] != nil {
		t.Error("it has a table of glue-ups")
	}
	if _, _, err := ReadPlan(out); err != nil {
		t.Error(err)
	}
	out[GlueUps] = &fstest.MapFile{Mode: 0o644, Data: []byte("commission,part,copy,layer,stave," +
		"board,net_width,glued_width,cut_to\nC,p,1,,1/2,B,1,1,1\n")}
	if _, _, err := ReadPlan(out); err == nil ||
		!strings.Contains(err.Error(), "glue_ups.csv:2: part: the plan has no more than 0 rows") {
		t.Error(err)
	}
}

// What a piece makes stands in the form; it may be left empty, and nothing else may stand there.
func TestMadeUpForm(t *testing.T) {
	job, plan := madeup.Plan(t)
	out := encoded(t, job, plan)
	text := string(out[Form].Data)
	const cell = `"top 1, stave 2/7"`
	for _, c := range []struct{ new, want string }{{"", ""}, {`"top 1, stave 3/7"`,
		`marks.csv:5: makes: "top 1, stave 3/7": the plan has "top 1, stave 2/7" here`}} {
		out[Form] = &fstest.MapFile{Mode: 0o644,
			Data: []byte(strings.Replace(text, cell, c.new, 1))}
		err := CheckForm(out, job, plan)
		if (err == nil) != (c.want == "") || err != nil &&
			!strings.Contains(err.Error(), c.want) {
			t.Errorf("%q: %v", c.new, err)
		}
	}
	filled := strings.Replace(text, cell+",,", cell+",spoiled,", 1)
	out[Form] = &fstest.MapFile{Mode: 0o644, Data: []byte(filled)}
	marks, _, err := ReadMarks(out, Form, job, plan)
	if err != nil || len(marks) < 40 {
		t.Fatal(len(marks), err)
	}
	for _, m := range marks {
		if (m.State == model.Spoiled) != (m.Part == "top, stave of 7" && m.Copy == 2) ||
			m.Makes != "" {
			t.Errorf("%+v", m)
		}
	}
}

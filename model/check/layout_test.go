package check

import (
	"fmt"
	"strings"
	"testing"

	"rackwright/model"
)

// Layouts by hand: kerf 3, keep length 8, margin 0; rows are written kind from-to/step.
func TestLayout(t *testing.T) {
	const all = 60
	for _, c := range []struct {
		what   string
		kerf   model.Length
		keep   model.Length
		trim   model.Length
		pieces []model.Span
		bad    []model.Defect
		want   string
	}{
		{"one part is the whole board", 3, 8, 0, []model.Span{{From: 0, To: 60}}, nil,
			"part 0-60/1"},
		{"gap of exactly one kerf", 3, 8, 0, []model.Span{{From: 0, To: 30}, {From: 33, To: 60}},
			nil,
			"part 0-30/1 kerf 30-33/1 part 33-60/1"},
		{"gap under two kerfs", 3, 8, 0, []model.Span{{From: 0, To: 30}, {From: 35, To: 60}}, nil,
			"part 0-30/1 kerf 30-33/1 kerf 33-35/2 part 35-60/2"},
		{"gap of exactly two kerfs", 3, 8, 0, []model.Span{{From: 0, To: 30}, {From: 36, To: 60}},
			nil,
			"part 0-30/1 kerf 30-33/1 kerf 33-36/2 part 36-60/2"},
		{"gap of two kerfs and one unit", 3, 8, 0,
			[]model.Span{{From: 0, To: 30}, {From: 37, To: 60}}, nil,
			"part 0-30/1 kerf 30-33/1 waste 33-34/2 kerf 34-37/2 part 37-60/2"},
		{"gap of a keep length", 3, 8, 0, []model.Span{{From: 0, To: 30}, {From: 44, To: 60}}, nil,
			"part 0-30/1 kerf 30-33/1 offcut 33-41/2 kerf 41-44/2 part 44-60/2"},
		{"dust at both ends", 3, 8, 0, []model.Span{{From: 2, To: 58}}, nil,
			"kerf 0-2/1 part 2-58/1 kerf 58-60/1"},
		{"a kerf at both ends", 3, 8, 0, []model.Span{{From: 3, To: 57}}, nil,
			"kerf 0-3/1 part 3-57/1 kerf 57-60/1"},
		{"waste at both ends", 3, 8, 0, []model.Span{{From: 5, To: 55}}, nil,
			"waste 0-2/1 kerf 2-5/1 part 5-55/2 kerf 55-58/2 waste 58-60/2"},
		{"trims", 3, 8, 4, []model.Span{{From: 4, To: 56}}, nil,
			"trim 0-4/1 part 4-56/2 trim 56-60/2"},
		{"trims and dust", 3, 8, 4, []model.Span{{From: 5, To: 54}}, nil,
			"trim 0-4/1 kerf 4-5/1 part 5-54/2 kerf 54-56/2 trim 56-60/2"},
		{"a trim below a kerf is a kerf", 3, 8, 1, []model.Span{{From: 3, To: 57}}, nil,
			"trim 0-3/1 part 3-57/2 trim 57-60/2"},
		{"no kerf", 0, 8, 0, []model.Span{{From: 0, To: 20}, {From: 20, To: 40},
			{From: 50, To: 60}}, nil,
			"part 0-20/1 part 20-40/2 offcut 40-50/3 part 50-60/3"},
		{"keep length 0", 3, 0, 0, []model.Span{{From: 0, To: 30}, {From: 37, To: 60}}, nil,
			"part 0-30/1 kerf 30-33/1 offcut 33-34/2 kerf 34-37/2 part 37-60/2"},
		{"keep length 0 and nothing left", 3, 0, 0,
			[]model.Span{{From: 0, To: 30}, {From: 36, To: 60}}, nil,
			"part 0-30/1 kerf 30-33/1 kerf 33-36/2 part 36-60/2"},
		{"defects in waste, overlapping and touching", 3, 30, 0, []model.Span{{From: 0, To: 20}},
			[]model.Defect{{From: 35, To: 40}, {From: 26, To: 28}, {From: 38, To: 42},
				{From: 42, To: 43}},
			"part 0-20/1 kerf 20-23/1 waste 23-26/1 defect 26-28/1 waste 28-35/1 defect 35-43/1 " +
				"waste 43-60/1"},
		{"a defect under a kerf is dust", 3, 40, 0, []model.Span{{From: 0, To: 20}},
			[]model.Defect{{From: 21, To: 25}},
			"part 0-20/1 kerf 20-23/1 defect 23-25/1 waste 25-60/1"},
		{"all defect", 3, 8, 0, []model.Span{{From: 0, To: 20}}, []model.Defect{{From: 15, To: 70}},
			"part 0-20/1 kerf 20-23/1 defect 23-60/1"},
		{"a defect in an offcut is no row", 3, 8, 0, []model.Span{{From: 0, To: 20}},
			[]model.Defect{{From: 40, To: 45}},
			"part 0-20/1 kerf 20-23/1 offcut 23-60/1"},
		{"no run long enough for any face", 3, 12, 0, []model.Span{{From: 0, To: 20}},
			[]model.Defect{{From: 34, To: 49, Kind: "split"}},
			"part 0-20/1 kerf 20-23/1 waste 23-34/1 defect 34-49/1 waste 49-60/1"},
		{"a run long enough for a hidden face", 3, 12, 0, []model.Span{{From: 0, To: 20}},
			[]model.Defect{{From: 34, To: 49, Kind: "check"}},
			"part 0-20/1 kerf 20-23/1 offcut 23-60/1"},
		{"waste before, offcut after", 3, 8, 0, []model.Span{{From: 5, To: 30}}, nil,
			"waste 0-2/1 kerf 2-5/1 part 5-30/2 kerf 30-33/2 offcut 33-60/2"},
	} {
		job := &model.Job{Settings: model.Settings{CrosscutKerf: c.kerf, RackEnd: c.trim,
			Offcut: model.OffcutRule{KeepLength: c.keep, Value: model.Fraction{Num: 1, Den: 2}},
			Hidden: []string{"check"}}}
		job.Parts = []model.Part{{Name: "piece"}}
		job.Rack = []model.Board{
			{ID: "R1", Wood: model.Wood{Length: all, Width: 9}, Defects: c.bad}}
		for i := range job.Rack[0].Defects {
			job.Rack[0].Defects[i].Right = 9
		}
		k := newChecker(job, &model.Plan{})
		u := &usedBoard{id: "R1", origin: model.FromRack, board: &job.Rack[0], offer: -1}
		for _, p := range c.pieces {
			u.pieces = append(u.pieces,
				laidPiece{0, &model.Cut{Kind: model.KindPart, From: p.From, To: p.To}})
		}
		var got []string
		for _, r := range k.layOut(u) {
			got = append(got, fmt.Sprintf("%s %d-%d/%d", r.Kind, r.From, r.To, r.Step))
		}
		if s := strings.Join(got, " "); s != c.want {
			t.Errorf("%s:\n got %s\nwant %s", c.what, s, c.want)
		}
	}
}

// On a board that is not ripped a defect in waste is a row from edge to edge, however wide it is;
// but what is worth something on the lines beside it is an offcut.
func TestLayoutBesideADefect(t *testing.T) {
	for _, c := range []struct {
		keep  model.Length
		right model.Length // of the defect 34-49
		want  string
	}{
		{12, 9, "part 0-20/1 kerf 20-23/1 waste 23-34/1 defect 34-49/1 waste 49-60/1"},
		{12, 8, "part 0-20/1 kerf 20-23/1 offcut 23-60/1"},
		{38, 8, "part 0-20/1 kerf 20-23/1 waste 23-34/1 defect 34-49/1 waste 49-60/1"},
	} {
		job := &model.Job{Settings: model.Settings{CrosscutKerf: 3,
			Offcut: model.OffcutRule{KeepLength: c.keep, KeepWidth: 100,
				Value: model.Fraction{Num: 1, Den: 2}}},
			Parts: []model.Part{{Name: "piece"}}}
		job.Rack = []model.Board{{ID: "R1", Wood: model.Wood{Length: 60, Width: 9},
			Defects: []model.Defect{{From: 34, To: 49, Left: 0, Right: c.right, Kind: "split"}}}}
		k := newChecker(job, &model.Plan{})
		u := &usedBoard{id: "R1", origin: model.FromRack, board: &job.Rack[0], offer: -1,
			pieces: []laidPiece{{0, &model.Cut{Kind: model.KindPart, To: 20}}}}
		var got []string
		for _, r := range k.layOut(u) {
			got = append(got, fmt.Sprintf("%s %d-%d/%d", r.Kind, r.From, r.To, r.Step))
			if r.Left != 0 || r.Right != 9 {
				t.Errorf("%+v is not of the whole width", r)
			}
		}
		if s := strings.Join(got, " "); s != c.want {
			t.Errorf("defect to %d, keep length %d:\n got %s\nwant %s", c.right, c.keep, s, c.want)
		}
	}
}

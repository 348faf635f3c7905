package outcome_test

import (
	"fmt"
	"strings"
	"testing"

	"rackwright/io/outcome"
	"rackwright/model"
)

const in = model.UnitsPerInch

// inches reads a length; empty is 0.
func inches(s string) model.Length {
	if s == "" {
		return 0
	}
	l, _, err := model.ParseLength(s, model.Inch)
	if err != nil {
		panic(err)
	}
	return l
}

// shop is a rack of two boards with a plan made by hand. B-1, 96 x 8, is crosscut into a leg, a leg
// and offcut N-1, with trims of 1/2:
//
//	0  1/2   30 1/2  30 5/8   60 5/8  60 3/4   95 1/2  96
//	|trim|  leg 1  |k|   leg 2   |k|     N-1      |trim|
//
// B-2, 60 x 8, is ripped first: a top of 48 x 5 with waste behind it, then a rail of 40 x 2 7/8
// with waste behind it. B-3, 60 1/4 x 8, is crosscut into three legs of 20.
func shop() *outcome.Cutting {
	job := &model.Job{Settings: model.DefaultSettings()}
	oak := func(length string) model.Wood {
		return model.Wood{Material: "oak", Section: "4/4", Length: inches(length), Width: 8 * in,
			Thickness: in}
	}
	job.Settings.RackEnd = in / 2
	job.Commissions = []model.Commission{{Name: "C"}}
	job.Yard = []model.Offer{{Wood: oak("96"), Price: 960000,
		Where: model.Where{File: "yard.csv", Line: 2}}}
	job.Rack = []model.Board{
		{ID: "B-1", Wood: oak("96"), Bin: "top", Longest: 50 * in, Defects: []model.Defect{
			{From: 31 * in, To: 32 * in, Right: 8 * in, Kind: "check"},
			{From: 90 * in, To: 91 * in, Left: in, Right: 2 * in, Kind: "knot"}}},
		{ID: "B-2", Wood: oak("60"), Bin: "floor"}, {ID: "B-3", Wood: oak("60 1/4"), Bin: "floor"}}
	plan := &model.Plan{Placements: []model.Placement{{Board: "B-1"},
		{Board: "B-2", First: model.RipFirst}, {Board: "B-3"}}}
	row := func(board string, kind model.Kind, place ...string) *model.Cut {
		c := model.Cut{Board: board, Origin: model.FromRack, Material: "oak", Section: "4/4",
			Kind: kind, From: inches(place[0]), To: inches(place[1]), Left: inches(place[2]),
			Right: inches(place[3])}
		plan.Cuts = append(plan.Cuts, c)
		return &plan.Cuts[len(plan.Cuts)-1]
	}
	part := func(c *model.Cut, part string, n int64) { c.Commission, c.Part, c.Copy = "C", part, n }
	row("B-1", model.KindTrim, "0", "1/2", "0", "8")
	part(row("B-1", model.KindPart, "1/2", "30 1/2", "0", "8"), "leg", 1)
	row("B-1", model.KindKerf, "30 1/2", "30 5/8", "0", "8")
	part(row("B-1", model.KindPart, "30 5/8", "60 5/8", "0", "8"), "leg", 2)
	row("B-1", model.KindKerf, "60 5/8", "60 3/4", "0", "8")
	row("B-1", model.KindOffcut, "60 3/4", "95 1/2", "0", "8").Offcut = "N-1"
	row("B-1", model.KindTrim, "95 1/2", "96", "0", "8")
	part(row("B-2", model.KindPart, "0", "48", "0", "5"), "top", 1)
	row("B-2", model.KindKerf, "48", "48 1/8", "0", "5")
	row("B-2", model.KindWaste, "48 1/8", "60", "0", "5")
	row("B-2", model.KindKerf, "0", "60", "5", "5 1/8")
	part(row("B-2", model.KindPart, "0", "40", "5 1/8", "8"), "rail", 1)
	row("B-2", model.KindKerf, "40", "40 1/8", "5 1/8", "8")
	row("B-2", model.KindWaste, "40 1/8", "60", "5 1/8", "8")
	part(row("B-3", model.KindPart, "0", "20", "0", "8"), "leg", 3)
	row("B-3", model.KindKerf, "20", "20 1/8", "0", "8")
	part(row("B-3", model.KindPart, "20 1/8", "40 1/8", "0", "8"), "leg", 4)
	row("B-3", model.KindKerf, "40 1/8", "40 1/4", "0", "8")
	part(row("B-3", model.KindPart, "40 1/4", "60 1/4", "0", "8"), "leg", 5)
	plan.Rack = []model.Board{{ID: "N-1", Wood: oak("34 3/4"), Bin: "top", Since: "2027-03-01",
		Defects: []model.Defect{{From: 117 * in / 4, To: 121 * in / 4, Left: in, Right: 2 * in,
			Kind: "knot"}}}}
	return &outcome.Cutting{Job: job, Plan: plan, Shop: &job.Settings, Rack: job.Rack, Date: day}
}

// mark finds a row of the form by a word in it and fills it in: state, measured, measured_width,
// defects as from; to; kind.
func mark(c *outcome.Cutting, row, state, measured, width string, defects ...model.Defect) {
	for i, m := range model.MarksOf(c.Plan.Cuts) {
		name := strings.TrimSpace(fmt.Sprint(m.Part, " ", m.Copy, " ", m.Offcut))
		if m.Row == model.MarkRest {
			name = "rest of " + m.Board
		}
		if m.Row == model.MarkOffcut {
			name = m.Offcut
		}
		if name == row {
			c.Marks = append(c.Marks, model.Marked{Mark: m, State: model.State(state),
				Measured: inches(measured), MeasuredWidth: inches(width), Defects: defects,
				Where: model.Where{File: "marks.csv", Line: i + 2}})
			return
		}
	}
	panic(row)
}

// told writes an outcome in a few words: pieces, areas in square inches, and the changes.
func told(o *outcome.Outcome) string {
	var out []string
	area := func(n int64) string { return fmt.Sprintf("%.4g", float64(n)/in/in) }
	for _, d := range o.Done {
		text := d.Board + ":"
		for _, p := range d.Pieces {
			text += fmt.Sprintf(" %s %d", p.Part, p.Copy)
			if p.Spoiled {
				text += " spoiled"
			}
		}
		out = append(out, fmt.Sprintf("%s | parts %s spoiled %s kerf %s trim %s waste %s", text,
			area(d.Parts), area(d.Spoiled), area(d.Kerf), area(d.Trim), area(d.Waste)))
	}
	for _, c := range o.Changes {
		if c.Is == nil {
			out = append(out, "- "+c.Was.ID)
			continue
		}
		text := fmt.Sprintf("%s %s x %s in %s", c.Is.ID, c.Is.Length.Decimal(model.Inch),
			c.Is.Width.Decimal(model.Inch), c.Is.Bin)
		if c.Is.Longest != 0 {
			text += ", gives " + c.Is.Longest.Decimal(model.Inch)
		}
		if c.Is.Value != nil {
			text += ", worth " + c.Is.Value.String()
		}
		for _, d := range c.Is.Defects {
			text += fmt.Sprintf(", %s %s-%s", d.Kind, d.From.Decimal(model.Inch),
				d.To.Decimal(model.Inch))
			if d.Left != 0 || d.Right != c.Is.Width {
				text += fmt.Sprintf(" [%s-%s]", d.Left.Decimal(model.Inch),
					d.Right.Decimal(model.Inch))
			}
		}
		out = append(out, text)
	}
	for _, id := range o.Left {
		out = append(out, "left "+id)
	}
	return strings.Join(out, "\n")
}

// marked is a board of the shop above, what is marked of it, and what comes of that: sums by hand.
var marked = []struct {
	what, board string
	marks       func(c *outcome.Cutting)
	want        string
}{
	{"as planned", "B-1", func(*outcome.Cutting) {}, `
B-1: leg 1 leg 2 | parts 480 spoiled 0 kerf 2 trim 8 waste 0
- B-1
N-1 34.75 x 8 in top, knot 29.25-30.25 [1-2]`},
	{"a spoiled piece", "B-1", func(c *outcome.Cutting) { mark(c, "leg 2", "spoiled", "", "") }, `
B-1: leg 1 leg 2 spoiled | parts 240 spoiled 240 kerf 2 trim 8 waste 0
- B-1
N-1 34.75 x 8 in top, knot 29.25-30.25 [1-2]`},
	{"nothing is cut", "B-1", func(c *outcome.Cutting) {
		mark(c, "leg 1", "not cut", "", "")
		mark(c, "leg 2", "not cut", "", "")
	}, "\nleft B-1"},
	{"nothing is cut, and a split is found", "B-1", func(c *outcome.Cutting) {
		mark(c, "leg 1", "not cut", "", "", model.Defect{From: 7 * in, To: 9 * in, Kind: "split"})
		mark(c, "leg 2", "not cut", "", "")
		mark(c, "rest of B-1", "", "96 1/8", "") // a tape may be off
	}, `
B-1 96 x 8 in top, gives 50, split 7-9, check 31-32, knot 90-91 [1-2]
left B-1`},
	// the far end is left: 65 of 96, so what lay at 31 lies at 0 now
	{"the second piece is still in it", "B-1", func(c *outcome.Cutting) {
		mark(c, "leg 2", "not cut", "", "")
		mark(c, "rest of B-1", "", "65 1/4", "")
	}, `
B-1: leg 1 | parts 240 spoiled 0 kerf 1 trim 4 waste 1
B-1 65.25 x 8 in top, gives 50, check 0.25-1.25, knot 59.25-60.25 [1-2]`},
	// at most 65 3/8 can be left, whatever the tape says
	{"the tape is a little off", "B-1", func(c *outcome.Cutting) {
		mark(c, "leg 2", "not cut", "", "")
		mark(c, "rest of B-1", "", "65 1/2", "")
	}, `
B-1: leg 1 | parts 240 spoiled 0 kerf 1 trim 4 waste 0
B-1 65.375 x 8 in top, gives 50, check 0.375-1.375, knot 59.375-60.375 [1-2]`},
	// the near end is left, and keeps its marked end
	{"the first piece is still in it", "B-1", func(c *outcome.Cutting) {
		mark(c, "leg 1", "not cut", "", "")
		mark(c, "rest of B-1", "", "30", "")
	}, `
B-1: leg 2 | parts 240 spoiled 0 kerf 2 trim 4 waste 4
B-1 30 x 8 in top
N-1 34.75 x 8 in top, knot 29.25-30.25 [1-2]`},
	{"what is left is scrapped", "B-1", func(c *outcome.Cutting) {
		mark(c, "leg 2", "not cut", "", "")
		mark(c, "rest of B-1", "scrapped", "", "")
	}, `
B-1: leg 1 | parts 240 spoiled 0 kerf 1 trim 4 waste 523
- B-1`},
	{"two pieces are left, and scrapped", "B-3", func(c *outcome.Cutting) {
		mark(c, "leg 3", "not cut", "", "")
		mark(c, "leg 5", "not cut", "", "")
		mark(c, "rest of B-3", "scrapped", "", "")
	}, `
B-3: leg 4 | parts 160 spoiled 0 kerf 2 trim 0 waste 320
- B-3`},
	{"an end is sawn off, nothing else", "B-1", func(c *outcome.Cutting) {
		mark(c, "leg 1", "not cut", "", "")
		mark(c, "leg 2", "not cut", "", "")
		mark(c, "rest of B-1", "", "90", "")
	}, `
B-1: | parts 0 spoiled 0 kerf 0 trim 0 waste 48
B-1 90 x 8 in top, gives 50, check 25-26, knot 84-85 [1-2]`},
	{"a shorter offcut with a new check", "B-1", func(c *outcome.Cutting) {
		mark(c, "N-1", "", "30", "", model.Defect{From: in, To: 2 * in, Kind: "check"})
	}, `
B-1: leg 1 leg 2 | parts 480 spoiled 0 kerf 2 trim 8 waste 38
- B-1
N-1 30 x 8 in top, check 1-2, knot 29.25-30 [1-2]`},
	{"a longer offcut, as an end was not trimmed", "B-1", func(c *outcome.Cutting) {
		mark(c, "N-1", "kept", "35 1/4", "")
	}, `
B-1: leg 1 leg 2 | parts 480 spoiled 0 kerf 2 trim 4 waste 0
- B-1
N-1 35.25 x 8 in top, knot 29.25-30.25 [1-2]`},
	// 30 less 12 to be kept, of 84 x 8 worth half of 96, less the knot with its margin along and
	// across: a strip of 7 x 30 keeps 0.6
	{"an offcut is ripped", "B-1", func(c *outcome.Cutting) { mark(c, "N-1", "kept", "29", "7") }, `
B-1: leg 1 leg 2 | parts 480 spoiled 0 kerf 2 trim 8 waste 75
- B-1
N-1 29 x 7 in top, worth 4.4625`},
	{"a scrapped offcut", "B-1", func(c *outcome.Cutting) { mark(c, "N-1", "scrapped", "", "") }, `
B-1: leg 1 leg 2 | parts 480 spoiled 0 kerf 2 trim 8 waste 278
- B-1`},
	{"a defect on a piece reaches into the offcut", "B-1", func(c *outcome.Cutting) {
		mark(c, "leg 2", "spoiled", "", "", model.Defect{From: 58 * in, To: 62 * in, Kind: "shake"})
	}, `
B-1: leg 1 leg 2 spoiled | parts 240 spoiled 240 kerf 2 trim 8 waste 0
- B-1
N-1 34.75 x 8 in top, shake 0-1.25, knot 29.25-30.25 [1-2]`},
	{"a ripped board as planned", "B-2", func(*outcome.Cutting) {}, `
B-2: top 1 rail 1 | parts 355 spoiled 0 kerf 8.484 trim 0 waste 116.5
- B-2`},
	// a strip keeps 0.6 of 1/16 a square inch beyond the 12 to be kept: 48 x 2 3/4
	{"a strip is left", "B-2", func(c *outcome.Cutting) {
		mark(c, "rail 1", "not cut", "", "")
		mark(c, "rest of B-2", "", "60", "2 3/4")
	}, `
B-2: top 1 | parts 240 spoiled 0 kerf 8.125 trim 0 waste 66.88
B-2 60 x 2.75 in floor, worth 4.95`},
	// of 5, 1 1/4 meet the split with its margin, and have 43 3/4 beyond the 12
	{"the other strip is left", "B-2", func(c *outcome.Cutting) {
		mark(c, "top 1", "not cut", "", "")
		mark(c, "rest of B-2", "", "60", "5", model.Defect{From: 3 * in, To: 4 * in,
			Left: 4 * in, Right: 6 * in, Kind: "split"})
	}, `
B-2: rail 1 | parts 115 spoiled 0 kerf 7.859 trim 0 waste 57.14
B-2 60 x 5 in floor, worth 8.8008, split 3-4 [4-5]`},
}

func TestMarked(t *testing.T) {
	for _, x := range marked {
		c := shop()
		c.Boards = []string{x.board}
		x.marks(c)
		o, err := c.Outcome()
		if err != nil {
			t.Errorf("%s: %v", x.what, err)
			continue
		}
		if got := "\n" + told(o); got != x.want {
			t.Errorf("%s: got%s", x.what, got)
		}
	}
}

// plainly puts a point for the blank in a mixed number.
func plainly(text any) string {
	return strings.ReplaceAll(fmt.Sprint(text), model.NoBreakSpace, ".")
}

// A note says what is not taken as it was measured.
func TestNotes(t *testing.T) {
	c := shop()
	c.Boards = []string{"B-1"}
	mark(c, "N-1", "", "36 3/8", "")
	mark(c, "leg 1", "not cut", "", "")
	mark(c, "rest of B-1", "", "30 1/2", "")
	o, err := c.Outcome()
	if err == nil || !strings.Contains(err.Error(), "marks.csv:4: measured: offcut N-1 is larger") {
		t.Error(err, o)
	}
	c = shop()
	c.Boards = []string{"B-1"}
	c.Job.Settings.RackEnd = 0
	mark(c, "leg 2", "not cut", "", "")
	mark(c, "rest of B-1", "", "65 5/8", "")
	if o, err = c.Outcome(); err != nil || len(o.Notes) != 1 || plainly(o.Notes[0]) !=
		`marks.csv:5: measured: it is a little more than there can be, and entered as 65.3/8"` {
		t.Error(err, o)
	}
}

// Bad marks, each refused at its place.
func TestRefused(t *testing.T) {
	short := func(c *outcome.Cutting) {
		c.Rack = []model.Board{c.Rack[0], c.Rack[1]}
		c.Rack[0].Length = 94 * in
	}
	for _, x := range []struct {
		what, board string
		marks       func(c *outcome.Cutting)
		want        []string
	}{
		{"how long is what is left", "B-1", func(c *outcome.Cutting) {
			mark(c, "leg 2", "not cut", "", "")
		}, []string{"marks.csv:3: measured: pieces of board B-1 are not cut",
			"as measured of its row rest"}},
		{"how wide is what is left", "B-2", func(c *outcome.Cutting) {
			mark(c, "rail 1", "not cut", "", "")
			mark(c, "rest of B-2", "", "60", "")
		}, []string{"marks.csv:8: measured_width: pieces of board B-2 are not cut", "how wide"}},
		{"more is left than can be", "B-1", func(c *outcome.Cutting) {
			mark(c, "leg 2", "not cut", "", "")
			mark(c, "rest of B-1", "", "65 11/16", "")
		}, []string{`marks.csv:5: measured: what is left of board B-1 is at most 65.3/8" long`}},
		{"two pieces are left", "B-3", func(c *outcome.Cutting) {
			mark(c, "leg 3", "not cut", "", "")
			mark(c, "leg 5", "not cut", "", "")
			mark(c, "rest of B-3", "", "20", "")
		}, []string{"marks.csv:9: state: what is left of board B-3 is more than one piece of " +
			"wood; write scrapped as the state of its rest"}},
		{"what is left is too wide", "B-1", func(c *outcome.Cutting) {
			mark(c, "leg 2", "not cut", "", "")
			mark(c, "N-1", "kept", "", "")
			mark(c, "rest of B-1", "", "30", "9")
		}, []string{`marks.csv:5: measured_width: what is left of board B-1 is at most 8" wide`}},
		{"nothing is left", "B-1", func(c *outcome.Cutting) { mark(c, "rest of B-1", "", "9", "") },
			[]string{"marks.csv:5: measured: all pieces of board B-1 are cut", "rack add"}},
		{"a longer offcut than trims allow", "B-1", func(c *outcome.Cutting) {
			mark(c, "N-1", "", "36", "")
		}, []string{"marks.csv:4: measured: offcut N-1 is larger than board B-1 had wood for"}},
		{"a longer offcut than the board", "B-1", func(c *outcome.Cutting) {
			mark(c, "N-1", "", "97", "9")
		}, []string{`marks.csv:4: measured: board B-1 itself has only 96"`,
			`marks.csv:4: measured_width: board B-1 itself has only 8"`}},
		{"a longer board than there was", "B-1", func(c *outcome.Cutting) {
			mark(c, "leg 1", "not cut", "", "")
			mark(c, "leg 2", "not cut", "", "")
			mark(c, "rest of B-1", "", "97", "")
		}, []string{`marks.csv:5: measured: board B-1 itself has only 96"`}},
		{"defects past the board and the offcut", "B-1", func(c *outcome.Cutting) {
			mark(c, "leg 1", "", "", "", model.Defect{From: 95 * in, To: 97 * in, Kind: "check"})
		}, []string{`marks.csv:2: defect: the defect ends at 97 in, past board B-1 of 96 in`}},
		{"a defect past the offcut", "B-1", func(c *outcome.Cutting) {
			mark(c, "N-1", "", "", "", model.Defect{From: 34 * in, To: 35 * in, Kind: "check"})
		}, []string{`marks.csv:4: defect: the defect ends at 35 in, past board N-1 of 34.75 in`}},
		{"a board that is not there", "B-1", func(c *outcome.Cutting) { c.Rack = c.Rack[1:] },
			[]string{"board B-1 is not on the rack; leave it out"}},
		{"a board that came short", "B-1", short, []string{"board B-1 is not as the plan has it: " +
			`it is 94" long, not 96"; if it is not cut yet, enter those that are by their ids, then ` + "`rackwright replan`"}},
		{"one that came short, and one piece marked", "B-1", func(c *outcome.Cutting) {
			short(c)
			mark(c, "leg 2", "cut", "", "")
		}, []string{"board B-1 is not as the plan has it"}},
		{"one that came short, and all pieces marked", "B-1", func(c *outcome.Cutting) {
			short(c)
			mark(c, "leg 1", "cut", "", "")
			mark(c, "leg 2", "cut", "", "")
			mark(c, "N-1", "kept", "", "")
		}, []string{"marks.csv:4: state: board B-1 is not as the plan has it", "measures"}},
		{"a new defect", "B-1", func(c *outcome.Cutting) {
			c.Rack = []model.Board{c.Rack[0], c.Rack[1]}
			c.Rack[0].Defects = c.Rack[0].Defects[:1]
		}, []string{"board B-1 is not as the plan has it: it has other defects"}},
	} {
		c := shop()
		c.Boards = []string{x.board}
		x.marks(c)
		o, err := c.Outcome()
		if err == nil {
			t.Errorf("%s: taken: %s", x.what, told(o))
			continue
		}
		for _, want := range x.want {
			if !strings.Contains(plainly(err), want) {
				t.Errorf("%s: %v", x.what, err)
			}
		}
	}
}

// A board that came short is entered as it is marked, and nothing is made of wood it had not.
func TestShortBoard(t *testing.T) {
	c := shop()
	c.Boards, c.Rack = []string{"B-1"}, []model.Board{c.Rack[0], c.Rack[1]}
	c.Rack[0].Length, c.Rack[0].Defects = 94*in, nil
	mark(c, "leg 1", "cut", "", "")
	mark(c, "leg 2", "cut", "", "")
	mark(c, "N-1", "kept", "33 1/4", "")
	o, err := c.Outcome()
	if err != nil {
		t.Fatal(err)
	}
	if got, want := told(o), `B-1: leg 1 leg 2 | parts 480 spoiled 0 kerf 2 trim 4 waste 0
- B-1
N-1 33.25 x 8 in top`; got != want {
		t.Error(got)
	}
	c.Rack[0].Length = 60 * in
	c.Marks[2].State = model.Scrapped
	if _, err := c.Outcome(); err == nil ||
		!strings.Contains(err.Error(), "board B-1 is too small for all that is cut from it") {
		t.Error(err)
	}
}

// Offcuts go where the shop has room for them now: into the bin of the plan, if it has.
func TestBins(t *testing.T) {
	for _, x := range []struct{ rack, want string }{{"", "a"}, {"a", "b"}, {"ab", "top"}} {
		c := shop()
		c.Boards, c.Plan.Rack[0].Bin = []string{"B-1"}, "a"
		c.Job.Settings.Bins = map[string]model.BinFacts{"a": {Most: new(int64(1))},
			"b": {Most: new(int64(1))}}
		for _, bin := range x.rack {
			c.Rack = append(c.Rack, model.Board{ID: "R-" + string(bin), Bin: string(bin)})
		}
		o, err := c.Outcome()
		if err != nil {
			t.Fatal(err)
		}
		if got := o.Changes[1].Is; got.ID != "N-1" || got.Bin != x.want || got.Since != day {
			t.Errorf("with %q in bins: %+v", x.rack, got)
		}
	}
}

package folder

import (
	"bytes"
	"reflect"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"rackwright/io/csvfile"
	"rackwright/model"
)

// formOf is the form of the ripped plan.
func formOf(t *testing.T, u model.Unit) string {
	t.Helper()
	var b bytes.Buffer
	if err := csvfile.WriteMarks(&b, model.MarksOf(ripped().Cuts), u); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func outWith(form string) fstest.MapFS {
	return fstest.MapFS{Form: &fstest.MapFile{Data: []byte(form), Mode: 0o644}}
}

func jobIn(u model.Unit) *model.Job { return &model.Job{Settings: model.DefaultSettingsIn(u)} }

// The form of the ripped plan, and that it passes as it is, in another order, filled in, as a
// spreadsheet writes it, or not there at all.
func TestForm(t *testing.T) {
	const want = `board,row,commission,part,copy,offcut,length,width,state,measured,` +
		`measured_width,defect,note
B-1,piece,C-1,rail,1,,40,2.625,,,,,
B-1,piece,C-1,rail,2,,40,2.625,,,,,
B-1,offcut,,,,off-1,96,4.5,,,,,
B-1,rest,,,,,96,7.25,,,,,
`
	form := formOf(t, model.Inch)
	if d := cmp.Diff(want, form); d != "" {
		t.Fatal(d)
	}
	lines := strings.SplitAfter(form, "\n")
	comma := func(s string) string {
		return strings.ReplaceAll(strings.ReplaceAll(s, ",", ";"), ".", ",")
	}
	for what, c := range map[string]struct {
		form   string
		filled bool
	}{
		"as it is":       {form, false},
		"another order":  {lines[0] + lines[4] + lines[2] + lines[3] + lines[1], false},
		"by spreadsheet": {"\ufeff" + comma(form), false},
		"filled in":      {strings.Replace(form, "2.625,,,,,", "2.625,spoiled,,,,knot", 1), true},
		"filled badly":   {strings.Replace(form, "2.625,,,,,", "2.625,eaten,x,y,z,", 1), true},
	} {
		out := outWith(c.form)
		if err := CheckForm(out, jobIn(model.Inch), ripped()); err != nil {
			t.Errorf("%s: %v", what, err)
		}
		if got := FormFilled(out); got != c.filled {
			t.Errorf("%s: filled in %t", what, got)
		}
	}
	if err := CheckForm(fstest.MapFS{}, jobIn(model.Inch), ripped()); err != nil ||
		FormFilled(fstest.MapFS{}) {
		t.Error("a form that is not there:", err)
	}
	if err := CheckForm(outWith(formOf(t, model.Millimetre)), jobIn(model.Millimetre),
		ripped()); err != nil {
		t.Error("in millimetres:", err)
	}
}

// Whatever is changed in the columns of the plan is found, and so is each row that is missing, or
// there twice.
func TestFormIsThePlans(t *testing.T) {
	lines := strings.Split(strings.TrimSpace(formOf(t, model.Inch)), "\n")
	tried := 0
	try := func(what string, changed []string) {
		tried++
		err := CheckForm(outWith(strings.Join(changed, "\n")+"\n"), jobIn(model.Inch), ripped())
		all, _ := err.(model.InputErrors)
		if len(all) == 0 || all[0].File != Form || all[0].Remedy == "" {
			t.Errorf("%s: %v", what, err)
		}
	}
	for i := range lines[1:] {
		without := append(append([]string{}, lines[:i+1]...), lines[i+2:]...)
		try("missing "+lines[i+1], without)
		try("twice "+lines[i+1], append(append([]string{}, lines...), lines[i+1]))
		cells := strings.Split(lines[i+1], ",")
		for k := range 8 {
			other := append([]string{}, cells...)
			other[k] += "1"
			changed := append([]string{}, lines...)
			changed[i+1] = strings.Join(other, ",")
			try(strings.Split(lines[0], ",")[k]+" of "+lines[i+1], changed)
		}
	}
	if tried != 4*10 {
		t.Errorf("%d changes were tried", tried)
	}
}

// What is filled in is read, in any order and from some of the rows only.
func TestReadMarks(t *testing.T) {
	const header = "board;row;commission;part;copy;offcut;length;width;state;measured;" +
		"measured_width;defect;note\n"
	got, notes, err := ReadMarks(outWith(header+
		"B-1;offcut;;;;off-1;96;4,5; Kept;94 1/2;4,25;\"10;11,5;Sound  Knot|3;4;split;1;2\";\n"+
		"B-1;piece;C-1;rail;2;;40;2,625;NOT  cut;;;;later\n"), Form, jobIn(model.Inch), ripped())
	if err != nil || len(notes) > 0 {
		t.Fatal(err, notes)
	}
	form := model.MarksOf(ripped().Cuts)
	want := []model.Marked{
		{Mark: form[2], State: model.Kept, Measured: 189 * in / 2, MeasuredWidth: 17 * in / 4,
			Defects: []model.Defect{{From: 10 * in, To: 23 * in / 2, Kind: "sound knot"},
				{From: 3 * in, To: 4 * in, Kind: "split", Left: in, Right: 2 * in}},
			Where: model.Where{File: Form, Line: 2}},
		{Mark: form[1], State: model.NotCut, Note: "later",
			Where: model.Where{File: Form, Line: 3}},
	}
	if !reflect.DeepEqual(got, want) {
		t.Error(cmp.Diff(want, got))
	}
}

// Every mistake of a form that is filled in comes out, each in its cell.
func TestBadMarks(t *testing.T) {
	const header = "board,row,commission,part,copy,offcut,length,width,state,measured," +
		"measured_width,defect\n"
	for _, c := range []struct{ row, column, code, remedy string }{
		{"B-1,piece,C-1,rail,1,,40,2.625,kept,,,", "state", model.CodeWord, "not cut"},
		{"B-1,offcut,,,,off-1,96,4.5,cut,,,", "state", model.CodeWord, "scrapped"},
		{"B-1,rest,,,,,96,7.25,spoiled,,,", "state", model.CodeWord, "scrapped"},
		{"B-1,piece,C-1,rail,1,,40,2.625,cut,39,,", "measured", model.CodeContradiction, "spoiled"},
		{"B-1,piece,C-1,rail,1,,40,2.625,cut,,2,", "measured_width", model.CodeContradiction,
			"spoiled"},
		{"B-1,offcut,,,,off-1,96,4.5,,0,,", "measured", model.CodeRange, "what the tape says"},
		{"B-1,offcut,,,,off-1,96,4.5,,9x,,", "measured", model.CodeLength, "write"},
		{"B-1,offcut,,,,off-1,96,4.5,,,,3; 4", "defect", model.CodeRange, "sound knot"},
		{"B-1,offcut,,,,off-1,96,4.5,,,,3; 4; knot; 1", "defect", model.CodeRange,
			"left and right"},
		{"B-1,offcut,,,,off-1,96,4.5,,,,3; b; knot", "defect", model.CodeLength, "write"},
		{"B-1,offcut,,,,off-1,96,4.5,,,,3; 4; knot; 1; 0", "defect", model.CodeReversed, "ends"},
		{"B-1,offcut,,,,off-1,94,4.5,,,,", "length", model.CodePlan, "as measured"},
		{"B-1,offcut,,,,off-2,96,4.5,,,,", "row", model.CodePlan, "own marks.csv"},
		{"B-2,rest,,,,,96,4.5,,,,", "board", model.CodeUnknownBoard, "nearest is B-1"},
		{"B-1,board,,,,,96,4.5,,,,", "row", model.CodeWord, "offcut"},
	} {
		_, _, err := ReadMarks(outWith(header+c.row+"\n"), Form, jobIn(model.Inch), ripped())
		all, _ := err.(model.InputErrors)
		if len(all) != 1 || all[0].Column != c.column || all[0].Code != c.code ||
			all[0].Line != 2 ||
			!strings.Contains(all[0].Remedy, c.remedy) {
			t.Errorf("%s: %v", c.row, err)
		}
	}
	if _, _, err := ReadMarks(fstest.MapFS{}, "copy.csv", jobIn(model.Inch),
		ripped()); err == nil ||
		!strings.HasPrefix(err.Error(), "copy.csv: the file is missing") {
		t.Error(err)
	}
}

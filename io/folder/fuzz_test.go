package folder

import (
	"bytes"
	"io"
	"maps"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"unicode"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"rackwright/io/csvfile"
	"rackwright/model"
)

// Codes of mistakes that are a whole file's, and of those that are a whole row's or line's.
var (
	ofFiles = []string{model.CodeMissingFile, model.CodeUnreadable, model.CodeEmptyFile,
		model.CodeTooBig, model.CodeNotText, model.CodeLineEnds, model.CodeTooMany}
	ofRows = []string{model.CodeCellCount, model.CodeSyntax, model.CodeNotUTF8}
)

// placed sees that every mistake names its file, a remedy, and a line and a column unless it is of
// a whole file or row, all in one line of text; and that they are not many more than are worth
// listing.
func placed(t *testing.T, fsys fstest.MapFS, err error) {
	all := err.(model.InputErrors)
	if len(all) > (model.MostMistakes+1)*len(fsys) {
		t.Fatalf("%d mistakes", len(all))
	}
	for _, e := range all {
		lines := 1
		if f := fsys[e.File]; f != nil {
			lines += bytes.Count(f.Data, []byte("\n"))
		}
		lined := e.Line > 0 || slices.Contains(ofFiles, e.Code) || e.File == "shop.toml" &&
			e.Code == model.CodeSpelling
		columned := e.Column != "" || slices.Contains(ofFiles, e.Code) ||
			slices.Contains(ofRows, e.Code)
		if !lined || !columned || e.Line > lines || e.File == "" || e.Cause == "" ||
			e.Remedy == "" ||
			!utf8.ValidString(e.Error()) || strings.ContainsFunc(e.Error(), unicode.IsControl) {
			t.Fatalf("%+v", e)
		}
	}
}

// FuzzReadJob puts two files of its own into a job folder. Reading gives a job that reads back the
// same when it is written, or mistakes with their places.
func FuzzReadJob(f *testing.F) {
	names := []string{"parts.csv", "rack.csv", "defects.csv", "yard.csv", "commissions.csv",
		"shop.toml", "orders.csv", "designs/stool.csv"}
	add := func(first, text, second, other string) {
		f.Add(uint8(slices.Index(names, first)+len(names)*slices.Index(names, second)),
			[]byte(text), []byte(other))
	}
	for name, text := range map[string]string{
		"parts.csv": "commission,part,qty,material,length,width,thickness,section,face," +
			"staves,layers,spare,note\n Bench ,\"Leg, front\",4,oak,\"16 1/2\"\"\",2,1,2 x 6," +
			"sound,,Auto,2,'=keep\nBench,Top,1,oak,40,35,1 1/2,,,7,1,,\n",
		"rack.csv":        rackHead + "A1,oak,2x6,96,3,,,\nA 2,oak,4/4,90cm,1,6,7.25,2026-01-31\n",
		"defects.csv":     defectHead + "A1,1,2,knot,,\nA2,0,\"35 1/4\"\"\",check,1,2\n",
		"yard.csv":        "material;section;length;price\noak;2x6;96,5;12,50\n",
		"commissions.csv": "commission,due,note\nBench,2026-04-01,\"a,b\"\n",
		"shop.toml":       "units = \"mm\"\n[kerf]\nrip = 3\n",

		"orders.csv": orderHead + "C-1,stool,4\nBench,stool,1\nC-1,stool,2\n",
		"designs/stool.csv": "part,qty,material,length,width,thickness,face,note,staves,spare\n" +
			"leg,4,oak,\"17\"\"\",2,1 1/2,sound,'=keep,,1\nseat,1,oak,14,5 1/4,1 1/2,,,auto,\n",
	} {
		add(name, text, name, "")
		add(name, text, "shop.toml", "units = \"mm\"\n[material.oak.allowance]\nlength = 3")
		add(name, strings.ReplaceAll(text, ",", "\t"), "rack.csv",
			"board\tmaterial\tsection\tlength\twidth\nA1\toak\t4/4\t35 1/4\t5\n")
	}
	add("orders.csv", orderHead+"C-1,stool,1\nbench,stool,1000000\nC-1,stol,1\n",
		"designs/stool.csv", stool+"Leg,4,oak,17,2,1 1/2\n")
	add("orders.csv", orderHead+"C-1,stool,1\n", "parts.csv", partHead+"C-1,leg,4,oak,9,2,1,,\n")
	for _, b := range badFiles {
		if len(b.text) < 200 {
			add(b.file, b.text, b.file, b.text)
		}
	}
	f.Fuzz(func(t *testing.T, which uint8, first, second []byte) {
		fsys, n := jobFolder(map[string]string{"designs/stool.csv": stool}), uint8(len(names))
		fsys[names[which/n%n]] = &fstest.MapFile{Data: second, Mode: 0o644}
		fsys[names[which%n]] = &fstest.MapFile{Data: first, Mode: 0o644}
		job, _, err := ReadJob(fsys)
		if err != nil {
			placed(t, fsys, err)
			return
		}
		if len(job.Rack) > 1000 { // a row of many alike boards takes its time
			return
		}
		u := job.Settings.Units
		delete(fsys, "orders.csv")
		fsys = filled(t, fsys, map[string]func(io.Writer) error{
			"parts.csv": func(w io.Writer) error { return writeParts(w, job.Parts, u) },
			"commissions.csv": func(w io.Writer) error {
				return writeCommissions(w, job.Commissions)
			},
			"rack.csv":    func(w io.Writer) error { return csvfile.WriteRack(w, job.Rack, u) },
			"defects.csv": func(w io.Writer) error { return csvfile.WriteDefects(w, job.Rack, u) },
			"yard.csv":    func(w io.Writer) error { return writeYard(w, job.Yard, u) },
		})
		again, _, err := ReadJob(fsys)
		if err != nil {
			t.Fatal(err)
		}
		ignore := cmp.FilterPath(func(p cmp.Path) bool {
			return p.Last().String() == ".Where" || p.Last().String() == ".Inputs"
		}, cmp.Ignore())
		if d := cmp.Diff(job, again, cmpopts.EquateEmpty(), ignore); d != "" {
			t.Fatal(d)
		}
	})
}

// filled is a folder with files written anew.
func filled(t testing.TB, fsys fstest.MapFS, write map[string]func(io.Writer) error) fstest.MapFS {
	for name, file := range write {
		var b bytes.Buffer
		if err := file(&b); err != nil {
			t.Fatal(err)
		}
		fsys[name] = &fstest.MapFile{Data: b.Bytes(), Mode: 0o644}
	}
	return fsys
}

// outFolder is the tables of an out folder as they are written.
func outFolder(t interface{ Fatal(...any) }, plan *model.Plan, u model.Unit) fstest.MapFS {
	job := &model.Job{Settings: model.DefaultSettings()}
	job.Settings.Units = u
	files, err := Encode(job, plan)
	if err != nil {
		t.Fatal(err)
	}
	delete(files, "plan.json")
	fsys := fstest.MapFS{}
	for name, data := range files {
		fsys[name] = &fstest.MapFile{Data: data, Mode: 0o644}
	}
	return fsys
}

// FuzzReadOut puts one file of its own into an out folder. What is read reads back the same when it
// is written, and is then the same bytes again; or there are mistakes with their places.
func FuzzReadOut(f *testing.F) {
	value, wood := model.Money(72500),
		model.Wood{Material: "oak", Section: "2x6", Length: 96 * in, Width: 11 * in / 2,
			Thickness: 3 * in / 2}
	good := outFolder(f, &model.Plan{
		Cuts: []model.Cut{
			{Board: "A1", Origin: model.FromRack, Material: "oak", Section: "2x6", Step: 1,
				Kind: model.KindPart, From: in / 2, To: 16 * in, Right: wood.Width,
				Commission: "Bench", Part: "=Leg, front", Copy: 1, Face: model.Sound},
			{Board: "A1", Origin: model.FromRack, Material: "oak", Section: "2x6", Step: 2,
				Kind: model.KindOffcut, From: 16*in +
					1, To: 40 * in, Right: wood.Width, Offcut: "M1"},
		},
		Buy: []model.Purchase{
			{Material: "oak", Section: "2x6", Length: 96 * in, Qty: 2, Price: 125000, Total: 250000,
				Width: wood.Width, Yard: "-north", Grade: "No. 2", Tax: 20625, Reserve: true,
				Boards: []string{"m-buy-1", "=m-buy-2"}}},
		Rack: []model.Board{{ID: "A1", Wood: wood, Bin: "B 3", Value: &value, Since: "2026-01-31",
			Note: "it's \"wet\"",
			Defects: []model.Defect{{From: in, To: 2 * in, Right: wood.Width, Kind: "knot"},
				{From: 0, To: 9 * in, Left: in, Right: 2 * in, Kind: "check"}}},
			{ID: "A2", Wood: wood}},
		Order: []model.Sawing{{Pass: 1, Sequence: 1, Saw: "crosscut", Setting: 33 * in / 2,
			Board: "A1", Step: 1, Piece: "Bench, Leg, 1"}},
		Costs: []model.Cost{{Commission: "Bench", Cost: -5000, Yard: 250000, Handling: 1,
			Credit: 255001, Tally: 8_123_456}},
	}, model.Inch)
	if _, err := readOut(good, model.Inch); err != nil {
		f.Fatal(err)
	}
	names, across := slices.Sorted(maps.Keys(good)), outFolder(f, ripped(), model.Inch)
	for i, name := range names {
		f.Add(uint8(i), good[name].Data)
		f.Add(uint8(i), across[name].Data)
		f.Add(uint8(i+len(names)), bytes.ReplaceAll(good[name].Data, []byte(","), []byte(";")))
	}
	f.Fuzz(func(t *testing.T, which uint8, data []byte) {
		u := model.Inch
		if int(which) >= len(names) {
			u = model.Millimetre
		}
		fsys := maps.Clone(good)
		fsys[names[int(which)%len(names)]] = &fstest.MapFile{Data: data, Mode: 0o644}
		plan, err := readOut(fsys, u)
		if err != nil {
			placed(t, fsys, err)
			return
		}
		if len(plan.Rack) > 1000 {
			return
		}
		first := outFolder(t, plan, u)
		again, err := readOut(first, u)
		if err != nil {
			t.Fatal(err)
		}
		ignore := cmp.FilterPath(func(p cmp.Path) bool {
			return p.Last().String() == ".Where"
		}, cmp.Ignore())
		if d := cmp.Diff(plan, again, cmpopts.EquateEmpty(), ignore) +
			cmp.Diff(first, outFolder(t, again, u)); d != "" {
			t.Fatal(d)
		}
	})
}

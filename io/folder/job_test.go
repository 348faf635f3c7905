package folder

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"rackwright/model"
)

const in = model.UnitsPerInch

// plain is a small job without mistakes; tests replace single files of it.
var plain = map[string]string{
	"parts.csv": "commission,part,qty,material,length,width,thickness\n" +
		"Bench,Leg,4,oak,16 1/2,2,1 1/2\n",
	"rack.csv": "board,material,section,length\nA1,oak,2x6,96\nA2,oak,2x6,48\n",
	"yard.csv": "material,section,length,price\noak,2x6,96,12.50\n",
}

// jobFolder is plain with other files; an empty text takes a file away.
func jobFolder(other map[string]string) fstest.MapFS {
	fsys := fstest.MapFS{}
	for _, files := range []map[string]string{plain, other} {
		for name, s := range files {
			fsys[name] = &fstest.MapFile{Data: []byte(s), Mode: 0o644}
			if s == "" {
				delete(fsys, name)
			}
		}
	}
	return fsys
}

func readGood(t *testing.T, other map[string]string) (*model.Job, []model.Note) {
	t.Helper()
	job, notes, err := ReadJob(jobFolder(other))
	if err != nil {
		t.Fatal(err)
	}
	return job, notes
}

// A job with every column comes out as the words of the model, in input order, with true line
// numbers behind blank and quoted lines.
func TestReadJobWhole(t *testing.T) {
	files := map[string]string{
		"shop.toml":       "units = \"in\"\nbatch = \"M4\"\n",
		"commissions.csv": "commission,due,note\nTable,2026-05-01,\"oak, oiled\"\nLater,,\n",
		"parts.csv": "\n\"commission\",part,qty,material,length,width,thickness,section,face," +
			"note,board\n\n" +
			"Bench,\"Leg, front\",4,oak,\"16 1/2\",2,1-1/2\",2 x 6,sound,'=keep, A1\n,,,,,,,,,,\n" +
			"  Table , Rail,1,oak,5' 3 1/2\",90mm,1.5, , ,,\n",
		"rack.csv": "board,material,section,length,qty,width,thickness,bin,value,since,note,for," +
			"untouched,longest\nA1,oak,2x6,96,,,,B3,7.25,2026-01-31,, Bench ,,36\n" +
			"A2,oak,4/4,60,2,6 1/4,,,,,short,,yes,\n",
		"defects.csv": "right,left,board,from,to,kind\n,,A2.2,0,1/2,  End  CHECK \n" +
			"2,1,A1,10,12,knot\n3,,A1,11,13,knot\n",
		"yard.csv": "material,section,length,price,available,width,thickness\n" +
			"oak,38x140mm,2.4m,12,0,,\noak,2x6,96,8.1,,,1.4\n",
	}
	job, notes := readGood(t, files)
	value := model.Money(72500)
	none := int64(0)
	settings := model.DefaultSettings()
	settings.Batch = "M4"
	want := &model.Job{
		Settings: settings,
		Commissions: []model.Commission{
			{Name: "Table", Due: "2026-05-01", Note: "oak, oiled"}, {Name: "Later"},
			{Name: "Bench"},
		},
		Parts: []model.Part{
			{Commission: "Bench", Name: "Leg, front", Qty: 4, Material: "oak", Length: 33 * in / 2,
				Width: 2 * in, Thickness: 3 * in / 2,
				Section: "2x6", Face: model.Sound, Note: "=keep", Board: "A1",
				Where: model.Where{File: "parts.csv", Line: 4}},
			{Commission: "Table", Name: "Rail", Qty: 1, Material: "oak", Length: 127 * in / 2,
				Width: 90 * 320, Thickness: 3 * in / 2,
				Where: model.Where{File: "parts.csv", Line: 6}},
		},
		Rack: []model.Board{
			{ID: "A1", Wood: model.Wood{Material: "oak", Section: "2x6", Length: 96 * in,
				Width: 11 * in / 2, Thickness: 3 * in / 2}, Bin: "B3", Value: &value,
				Since: "2026-01-31", For: "Bench", Longest: 36 * in,
				Where: model.Where{File: "rack.csv", Line: 2},
				Defects: []model.Defect{
					{From: 10 * in, To: 12 * in, Left: in, Right: 2 * in, Kind: "knot"},
					{From: 11 * in, To: 13 * in, Right: 3 * in, Kind: "knot"}}},
			{ID: "A2.1", Wood: model.Wood{Material: "oak", Section: "4/4", Length: 60 * in,
				Width: 25 * in / 4, Thickness: in, Surface: model.Rough}, Note: "short",
				Untouched: true,
				Where:     model.Where{File: "rack.csv", Line: 3}},
			{ID: "A2.2", Wood: model.Wood{Material: "oak", Section: "4/4", Length: 60 * in,
				Width: 25 * in / 4, Thickness: in, Surface: model.Rough}, Note: "short",
				Untouched: true,
				Where:     model.Where{File: "rack.csv", Line: 3},
				Defects:   []model.Defect{{To: in / 2, Right: 25 * in / 4, Kind: "end check"}}},
		},
		Yard: []model.Offer{
			{Wood: model.Wood{Material: "oak", Section: "38x140mm", Length: 2400 * 320,
				Width: 140 * 320, Thickness: 38 * 320}, Price: 120000, Available: &none,
				Where: model.Where{File: "yard.csv", Line: 2}},
			{Wood: model.Wood{Material: "oak", Section: "2x6", Length: 96 * in, Width: 11 * in / 2,
				Thickness: 11379}, Price: 81000,
				Where: model.Where{File: "yard.csv", Line: 3}},
		},
	}
	for _, name := range []string{"commissions.csv", "defects.csv", "parts.csv", "rack.csv",
		"shop.toml", "yard.csv"} {
		sum := sha256.Sum256([]byte(files[name]))
		want.Inputs = append(want.Inputs,
			model.Input{Name: name, SHA256: hex.EncodeToString(sum[:])})
	}
	if d := cmp.Diff(want, job); d != "" {
		t.Error(d)
	}
	if len(notes) != 1 || notes[0].String() != "yard.csv:3: thickness: 1.4 is rounded to 1.399975 in" {
		t.Errorf("notes %v", notes)
	}
}

// The folder parts is read in the order of its names; files beside the lists are noted.
func TestPartsFolder(t *testing.T) {
	head := "commission,part,qty,material,length,width,thickness\n"
	job, notes := readGood(t, map[string]string{"parts.csv": "",
		"parts/b.csv": head + "Bed,Slat,9,oak,30,2,1\n", "parts/a.csv": head +
			"Bench,Leg,4,oak,16,2,1\n", "parts/list.txt": "x"})
	var got []string
	for _, p := range job.Parts {
		got = append(got, p.Where.File+" "+p.Name)
	}
	if d := cmp.Diff([]string{"parts/a.csv Leg", "parts/b.csv Slat"}, got); d != "" {
		t.Error(d)
	}
	if len(notes) != 1 || notes[0].File != "parts/list.txt" {
		t.Errorf("notes %v", notes)
	}
}

// Header lines alone are empty tables, also for the rack and the yard.
func TestHeadersAlone(t *testing.T) {
	job, _ := readGood(t, map[string]string{"rack.csv": "board,material,section,length\n",
		"yard.csv": "material,section,length,price\n", "defects.csv": "board,from,to,kind\n"})
	if len(job.Rack) != 0 || len(job.Yard) != 0 || len(job.Parts) != 1 {
		t.Errorf("%+v", job)
	}
}

// A bare number in a millimetre shop is in millimetres, in every file.
func TestMillimetreShop(t *testing.T) {
	job, _ := readGood(t, map[string]string{"shop.toml": "units = \"mm\"",
		"yard.csv": "material;section;length;price\noak;38x140mm;2400,5;12,5\n"})
	if got := job.Yard[0].Length; got != 24005*32 {
		t.Errorf("length %d", got)
	}
	if got := job.Rack[0].Length; got != 96*320 {
		t.Errorf("rack length %d", got)
	}
}

// All mistakes of all files come out at once, sorted, and each can be had by errors.As.
func TestAllAtOnce(t *testing.T) {
	_, _, err := ReadJob(jobFolder(map[string]string{
		"yard.csv":  "material,section,length,price\noak,2x6,96,0\noak,2x6,5 3,1\n",
		"rack.csv":  "board,material,section,length\nA1,oak,9x9x9,96\n",
		"parts.csv": "commission,part,qty,material,length,width,thickness\nBench,Leg,0,,x,2,2\n",
		"shop.toml": "unit = \"mm\"",
	}))
	var all model.InputErrors
	if !errors.As(err, &all) {
		t.Fatalf("%T", err)
	}
	var places []string
	for _, e := range all {
		places = append(places, strings.SplitN(e.Error(), ": ", 3)[0]+" "+e.Column)
	}
	want := []string{"parts.csv:2 length", "parts.csv:2 material", "parts.csv:2 qty",
		"rack.csv:2 section", "shop.toml:1 unit", "yard.csv:2 price", "yard.csv:3 length"}
	if d := cmp.Diff(want, places); d != "" {
		t.Error(d)
	}
}

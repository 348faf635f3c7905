package folder

import (
	"strings"
	"testing"
	"testing/fstest"

	"rackwright/model"
)

// What is wrong with a board on a command line names its column, and no file or line.
func TestBoardByCells(t *testing.T) {
	s := model.DefaultSettings()
	cells := map[string]string{"board": "B-1", "material": "pine", "section": "2x4",
		"length": "60 1/3", "bin": "A"}
	b, notes, err := ReadBoard(&s, cells, [][]string{{"1", "2", "knot"},
		{"3", "4", "split", "0", "1"}})
	if err != nil || b.Length != 60*model.UnitsPerInch+model.UnitsPerInch/3 || b.Bin != "A" ||
		b.Width == 0 || len(b.Defects) != 2 || b.Defects[0].Right != b.Width ||
		b.Defects[1].Right != model.UnitsPerInch {
		t.Errorf("the board is %+v (%v)", b, err)
	}
	if len(notes) != 1 || !strings.HasPrefix(notes[0].String(), "length: 60 1/3 is rounded to ") {
		t.Errorf("noted is %v", notes)
	}
	for column, cell := range map[string]string{"board": "", "material": "", "section": "2y4",
		"length": "long", "value": "dear", "since": "now", "untouched": "no", "surface": "wet",
		"longest": "0"} {
		bad := map[string]string{}
		for name, is := range cells {
			bad[name] = is
		}
		bad[column] = cell
		_, _, err := ReadBoard(&s, bad, nil)
		if err == nil || !strings.HasPrefix(err.Error(), column+": ") {
			t.Errorf("%s %q: %v", column, cell, err)
		}
	}
	for _, d := range [][]string{nil, {"1", "2"}, {"1", "2", "knot", "0", "1", "2"},
		{"2", "1", "knot"}, {"0", "61", "knot"}, {"0", "1", ""}, {"0", "1", "knot", "0", "9"}} {
		if _, _, err := ReadBoard(&s, cells, [][]string{d}); err == nil ||
			strings.Contains(err.Error(), ":2:") {
			t.Errorf("defect %q: %v", d, err)
		}
	}
}

// The rack of a shop folder is read without its yard and its months, and named as it stands there.
func TestRackOfShop(t *testing.T) {
	shop := fstest.MapFS{
		"shop.toml": {Data: []byte("units = \"mm\"\n[yards.north]\ntax_percent = 5\n")},
		"rack.csv": {Data: []byte("board,material,section,length,qty,for\n" +
			"B,pine,38x140mm,900,2,C-1\n")},
		"defects.csv": {Data: []byte("board,from,to,kind\nB.2,1,2,knot\n")},
	}
	job, _, err := ReadRack(shop)
	if err != nil || len(job.Rack) != 2 || len(job.Rack[1].Defects) != 1 ||
		job.Rack[0].Length != 900*model.UnitsPerMillimetre {
		t.Errorf("the rack is %+v (%v)", job, err)
	}
	shop["defects.csv"] = &fstest.MapFile{Data: []byte("board,from,to,kind\nB,1,2,knot\n")}
	if _, _, err := ReadRack(shop); err == nil ||
		!strings.HasPrefix(err.Error(), "defects.csv:2: board: ") {
		t.Errorf("a defect of no board: %v", err)
	}
	delete(shop, "rack.csv")
	delete(shop, "defects.csv")
	if _, _, err := ReadRack(shop); err == nil ||
		!strings.HasPrefix(err.Error(), "rack.csv: the file is missing; ") {
		t.Errorf("no rack: %v", err)
	}
	if why := WhyNoShop(shop); why != "" {
		t.Error(why)
	}
	shop["orders.csv"] = &fstest.MapFile{}
	if why := WhyNoShop(shop); why != "has orders.csv, so it is a job folder itself" {
		t.Error(why)
	}
}

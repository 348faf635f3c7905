package folder

import (
	"io/fs"
	"maps"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"rackwright/model"
)

// An empty shop folder has each of its files and those of its month. It is read without a mistake
// but that there is no part; with one part, none is left. Its settings are those of such a shop.
func TestNewShop(t *testing.T) {
	for _, u := range []model.Unit{model.Inch, model.Millimetre} {
		files, err := NewShop(u, "2027-03")
		if err != nil {
			t.Fatal(err)
		}
		names := []string{"2027-03/commissions.csv", "2027-03/orders.csv", "2027-03/parts.csv",
			"defects.csv", "designs/", "rack.csv", "shop.toml", "yard.csv"}
		if got := slices.Sorted(maps.Keys(files)); !slices.Equal(got, names) {
			t.Fatalf("the files are %q", got)
		}
		month, shop := fstest.MapFS{}, fstest.MapFS{}
		for name, data := range files {
			f := &fstest.MapFile{Data: data}
			if dir, is := strings.CutSuffix(name, "/"); is {
				shop[dir] = &fstest.MapFile{Mode: fs.ModeDir | 0o755}
			} else if own, is := strings.CutPrefix(name, "2027-03/"); is {
				month[own] = f
			} else {
				shop[name] = f
			}
		}
		_, _, err = ReadMonth(month, shop)
		if all, _ := err.(model.InputErrors); len(all) != 1 || all[0].Code != model.CodeEmptyFile ||
			all[0].File != "parts.csv" {
			t.Error(err)
		}
		month["parts.csv"].Data = append(month["parts.csv"].Data,
			"Bench,Leg,4,oak,50,2,1,,,,,,,\n"...)
		job, notes, err := ReadMonth(month, shop)
		if err != nil || len(notes) > 0 {
			t.Fatal(err, notes)
		}
		if len(job.Parts) != 1 || job.Settings.Units != u || len(job.Inputs) != 7 {
			t.Errorf("%+v", job)
		}
	}
}

// A month is a folder in the shop folder, with a name that means nothing else there.
func TestMonthName(t *testing.T) {
	for name, ok := range map[string]bool{"2027-03": true, "March 2027": true, "m": true, "": false,
		".": false, "..": false, "../up": false, "a/b": false, `a\b`: false, "c:": false,
		".hidden": false, "dot.": false, " march": false, "a\nb": false, "März": true, "春": false,
		"out": false, "designs": false, "RACK.csv": false, "parts": false, "orders.csv": false,
		"desktop.ini": false} {
		if files, err := NewShop(model.Inch, name); (err == nil) != ok || (files != nil) != ok {
			t.Errorf("%q: %v", name, err)
		}
	}
}

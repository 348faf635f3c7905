package folder

import (
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"rackwright/model"
)

// What came otherwise is told by what differs; the rest is as it was awaited, whatever signs the
// numbers have.
func TestReceived(t *testing.T) {
	s := model.DefaultSettings()
	in := model.Length(model.UnitsPerInch)
	oak := model.Board{ID: "m-buy-1", Wood: model.Wood{Material: "oak", Section: "4/4",
		Length: 96 * in, Width: 13 * in / 2, Thickness: in, Surface: model.Rough}}
	pine := model.Board{ID: "m-buy-2", Wood: model.Wood{Material: "pine", Section: "1x6",
		Length: 96 * in, Width: 11 * in / 2, Thickness: 3 * in / 4}}
	awaited := func(id string) *model.Board {
		return map[string]*model.Board{oak.ID: &oak, pine.ID: &pine, "m-buy-3": &pine}[id]
	}
	dir := fstest.MapFS{
		"rack.csv": {Data: []byte("board;length;width;section;material;bin\n" +
			"m-buy-1;90,5;;;;A\nm-buy-2;;;1x8;;\nm-buy-3;0;;;;\nX;20;6;4/4;oak;\n")},
		"defects.csv": {Data: []byte("board;from;to;kind\nm-buy-1;0;2,5;split\n")},
	}
	came, missing, _, err := ReadReceived(dir, &s, awaited)
	if err != nil {
		t.Fatal(err)
	}
	shorter := oak
	shorter.Length, shorter.Bin = 181*in/2, "A"
	shorter.Defects = []model.Defect{{To: 5 * in / 2, Right: oak.Width, Kind: "split"}}
	wider := pine
	wider.Section, wider.Width = "1x8", 29*in/4
	free := oak
	free.ID, free.Length, free.Width = "X", 20*in, 6*in
	free.Surface = s.SurfaceFor("oak", "4/4")
	for i := range came {
		came[i].Where = model.Where{}
	}
	if diff := cmp.Diff([]model.Board{shorter, wider, free}, came); diff != "" ||
		len(missing) != 1 || missing[0] != "m-buy-3" {
		t.Errorf("not delivered are %q, and what came is otherwise:\n%s", missing, diff)
	}
	for bad, want := range map[string]string{
		"board,length\nX,20\n":                "rack.csv:2: material: the cell is empty",
		"board,length,qty\nm-buy-1,20,2\n":    "rack.csv:2: qty: a row is of one board here",
		"board,length\nm-buy-1,-3\n":          "rack.csv:2: length: ",
		"board,length\nm-buy-1,9\nm-buy-1,8":  "rack.csv:3: board: \"m-buy-1\" stands",
		"board,section\nm-buy-1,9x9x9\n":      "rack.csv:2: section: ",
		"board,longth\nm-buy-1,9\n":           "rack.csv:1: longth: ",
		"length\n9\n":                         "rack.csv:1: ",
		"board,length,width\nm-buy-1,90,wide": "rack.csv:2: width: ",
	} {
		dir["rack.csv"] = &fstest.MapFile{Data: []byte(bad)}
		delete(dir, "defects.csv")
		_, _, _, err := ReadReceived(dir, &s, awaited)
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v", bad, err)
		}
	}
}

package folder

import (
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"rackwright/model"
)

// ripped is what a plan writes of a 1x8 that is ripped first: a strip 2 5/8 wide with two blanks,
// and an offcut as wide as what is left.
func ripped() *model.Plan {
	row := func(kind model.Kind, step int, from, to, left, right model.Length) model.Cut {
		return model.Cut{Board: "B-1", Origin: model.FromRack, Material: "pine", Section: "1x8",
			Step: step, Kind: kind, From: from, To: to, Left: left, Right: right}
	}
	part := func(c model.Cut, n int64) model.Cut {
		c.Commission, c.Part, c.Copy, c.Face = "C-1", "rail", n, model.Sound
		return c
	}
	offcut := func(c model.Cut, id string) model.Cut { c.Offcut = id; return c }
	wood := model.Wood{Material: "pine", Section: "1x8", Length: 96 * in, Width: 9 * in / 2,
		Thickness: 3 * in / 4}
	return &model.Plan{
		Cuts: []model.Cut{
			part(row(model.KindPart, 2, 0, 40*in, 0, 21*in/8), 1),
			row(model.KindKerf, 2, 40*in, 321*in/8, 0, 21*in/8),
			part(row(model.KindPart, 3, 321*in/8, 641*in/8, 0, 21*in/8), 2),
			row(model.KindKerf, 3, 641*in/8, 321*in/4, 0, 21*in/8),
			row(model.KindWaste, 3, 321*in/4, 96*in, 0, 21*in/8),
			row(model.KindKerf, 1, 0, 96*in, 21*in/8, 11*in/4),
			offcut(row(model.KindOffcut, 1, 0, 96*in, 11*in/4, 29*in/4), "off-1"),
		},
		Order: []model.Sawing{
			{Pass: 2, Sequence: 1, Saw: "rip", Setting: 21 * in / 8, Board: "B-1", Step: 1,
				Piece: "C-1, rail, 1; C-1, rail, 2; off-1"},
			{Pass: 3, Sequence: 2, Saw: "crosscut", Setting: 40 * in, Board: "B-1", Step: 2,
				Piece: "C-1, rail, 1"},
			{Pass: 3, Sequence: 3, Saw: "crosscut", Board: "B-1", Step: 3, Piece: "waste"}},
		Rack: []model.Board{{ID: "off-1", Wood: wood, Defects: []model.Defect{
			{From: 5 * in, To: 6 * in, Right: wood.Width, Kind: "check"},
			{From: 30 * in, To: 31 * in, Left: in, Right: 2 * in, Kind: "sound knot"},
			{From: 50 * in, To: 51 * in, Right: in / 2, Kind: "wane"},
			{From: 70 * in, To: 71 * in, Left: 4 * in, Right: wood.Width, Kind: "wane"},
		}}},
	}
}

// A ripped board, its settings, and a board narrower than its section with its defects are written
// and read again the same; next month's job has that width.
func TestRippedRows(t *testing.T) {
	for _, u := range []model.Unit{model.Inch, model.Millimetre} {
		plan := ripped()
		files := outFolder(t, plan, u)
		got, err := readOut(files, u)
		if err != nil {
			t.Fatal(err)
		}
		where := cmpopts.IgnoreFields(model.Board{}, "Where")
		if d := cmp.Diff(plan, got, cmpopts.EquateEmpty(), where); d != "" {
			t.Error(d)
		}
		job, _, err := ReadJob(fstest.MapFS{
			"rack.csv": files["rack.csv"], "defects.csv": files["defects.csv"],
			"shop.toml": {Data: []byte("units = \"" + string(u) + "\"\n")},
			"parts.csv": {Data: []byte(
				"commission,part,qty,material,length,width,thickness\n" +
					"C-2,slat,1,pine,12in,2in,3/4in\n")},
			"yard.csv": {Data: []byte("material,section,length,price\npine,1x8,96in,9.60\n")},
		})
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(plan.Rack, job.Rack, where); d != "" {
			t.Error(d)
		}
		if whole := job.Yard[0].Width; whole != 29*in/4 {
			t.Errorf("a 1x8 of the yard is %d wide", whole)
		}
	}
}

// One side of a defect is enough: the other is then the edge of the board as it was measured, not
// as its section is.
func TestDefectSides(t *testing.T) {
	const rack = "board,material,section,length,width\nB,pine,1x8,96,4 1/2\n"
	for row, want := range map[string][2]model.Length{
		"":        {0, 9 * in / 2},
		",1,":     {in, 9 * in / 2},
		",,2":     {0, 2 * in},
		",1,2":    {in, 2 * in},
		",0,4.5":  {0, 9 * in / 2},
		",1 1/2,": {3 * in / 2, 9 * in / 2},
	} {
		head := "board,from,to,kind"
		if row != "" {
			head += ",left,right"
		}
		job, _, err := ReadJob(fstest.MapFS{
			"rack.csv":    {Data: []byte(rack)},
			"defects.csv": {Data: []byte(head + "\nB,10,11,knot" + row + "\n")},
			"parts.csv": {Data: []byte(
				"commission,part,qty,material,length,width,thickness\nC-2,slat,1,pine,12,2,3/4\n")},
			"yard.csv": {Data: []byte("material,section,length,price\n")},
		})
		if err != nil {
			t.Errorf("%q: %v", row, err)
			continue
		}
		if d := job.Rack[0].Defects[0]; d.Left != want[0] || d.Right != want[1] {
			t.Errorf("%q: across from %d to %d, want %v", row, d.Left, d.Right, want)
		}
	}
	for row, code := range map[string]string{",2,1": model.CodeReversed, ",0,5": model.CodeOutside,
		",5,": model.CodeReversed, ",-1,": model.CodeLength} {
		_, _, err := ReadJob(fstest.MapFS{
			"rack.csv": {Data: []byte(rack)},
			"defects.csv": {Data: []byte(
				"board,from,to,kind,left,right\nB,10,11,knot" + row + "\n")},
			"parts.csv": {Data: []byte(
				"commission,part,qty,material,length,width,thickness\nC-2,slat,1,pine,12,2,3/4\n")},
			"yard.csv": {Data: []byte("material,section,length,price\n")},
		})
		if all, _ := err.(model.InputErrors); len(all) != 1 || all[0].Code != code ||
			all[0].Line != 2 {
			t.Errorf("%q: want %s in line 2, got %v", row, code, err)
		}
	}
}

package shopbook

import (
	"fmt"
	"slices"
	"testing"
	"testing/fstest"

	"pgregory.net/rapid"

	"rackwright/cmd/rackwright/command"
	"rackwright/io/book"
	"rackwright/io/folder"
	"rackwright/io/report"
	"rackwright/model"
)

// drawBoard is a board as a maker may have it.
func drawBoard(t *rapid.T, id string) model.Board {
	length := func(name string, most model.Length) model.Length {
		return model.Length(rapid.Int64Range(1, int64(most)).Draw(t, name))
	}
	word := rapid.SampledFrom([]string{"", "A2", "=1+1", "'=x", "bin, 3", `the "long" one`, "Äste",
		"-7", "a;b"})
	wood := rapid.SampledFrom([]model.Wood{
		{Material: "pine", Section: "2x4"}, {Material: "pine, white", Section: "1x6"},
		{Material: "oak", Section: "4/4", Surface: model.Rough},
		{Material: "oak", Section: "6/4", Surface: model.S2S},
		{Material: "@beech", Section: "27x140mm"},
	}).Draw(t, "wood")
	wood.Length = length("length", model.LongestBoard)
	wood.Width = length("width", model.WidestBoard)
	wood.Thickness = length("thickness", model.WidestBoard)
	b := model.Board{ID: id, Wood: wood, Bin: word.Draw(t, "bin"), For: word.Draw(t, "for"),
		Note: word.Draw(t, "note"), Untouched: rapid.Bool().Draw(t, "untouched"),
		Since: rapid.SampledFrom([]string{"", "2026-12-31"}).Draw(t, "since")}
	if rapid.Bool().Draw(t, "valued") {
		v := model.Money(rapid.Int64Range(0, int64(model.DearestBoard)).Draw(t, "value"))
		b.Value = &v
	}
	if rapid.Bool().Draw(t, "crooked") {
		b.Longest = length("longest", b.Length)
	}
	for range rapid.IntRange(0, 3).Draw(t, "defects") {
		d := model.Defect{To: length("to", b.Length), Right: b.Width, Kind: "sound knot"}
		d.From = length("from", d.To) - 1
		if rapid.Bool().Draw(t, "across") {
			d.Right = length("right", b.Width)
			d.Left = length("left", d.Right) - 1
		}
		b.Defects = append(b.Defects, d)
	}
	return b
}

// What is written of a rack and not touched differs from it in nothing, in either unit: taking it
// enters nothing.
func TestUntouchedExportIsTheRack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		unit := rapid.SampledFrom([]model.Unit{model.Inch, model.Millimetre}).Draw(t, "unit")
		rack := []model.Board{}
		for n := range rapid.IntRange(0, 5).Draw(t, "boards") {
			rack = append(rack, drawBoard(t, fmt.Sprint("B-", n)))
		}
		files, err := folder.EncodeRack(rack, unit)
		if err != nil {
			t.Fatal(err)
		}
		shop := fstest.MapFS{
			"shop.toml": &fstest.MapFile{Data: fmt.Appendf(nil, "units = %q\n", unit)}}
		for name, data := range files {
			shop[name] = &fstest.MapFile{Data: data}
		}
		job, _, err := folder.ReadRack(shop)
		if err != nil {
			t.Fatalf("%v\n%s%s", err, files["rack.csv"], files["defects.csv"])
		}
		if changes := book.Changes(rack, job.Rack); len(changes) > 0 {
			t.Fatalf("it differs in %+v\n%s", changes, files["rack.csv"])
		}
	})
}

// A board named on the command line is the board that a row of rack.csv with the same cells is.
func TestBoardByFlagsIsThatOfTheRow(t *testing.T) {
	for _, units := range []string{"in", "mm"} {
		shop := fstest.MapFS{
			"shop.toml": &fstest.MapFile{Data: fmt.Appendf(nil, "units = %q\n", units)},
			"rack.csv": &fstest.MapFile{Data: []byte("board,material,section,length,width,bin," +
				"value,since,for,longest,note,untouched\n" +
				"=B,oak,4/4,100mm,70 mm,A 2,1.25,2026-01-05,C-1,50mm,\"a, b\",yes\n")},
			"defects.csv": &fstest.MapFile{Data: []byte("board,from,to,kind,left,right\n" +
				"=B,10mm,12mm,Sound  Knot,,\n=B,1mm,2mm,wane,0,5mm\n")}}
		job, _, err := folder.ReadRack(shop)
		if err != nil {
			t.Fatal(err)
		}
		c := rackAdd{Board: "=B", Material: "oak", Section: "4/4", Length: "100mm", Width: "70 mm",
			Bin: "A 2", Value: "1.25", Since: "2026-01-05", For: "C-1", Longest: "50mm",
			Note: "a, b", Untouched: true,
			Defect: []string{"10mm; 12mm; Sound  Knot", "1mm;2mm;wane;0;5mm"}}
		got, err := c.board(&command.Env{}, &job.Settings, "2027-01-01")
		if err != nil || !book.Same(got, job.Rack[0]) {
			t.Errorf("%s: it is\n%+v\nnot\n%+v (%v)", units, got, job.Rack[0], err)
		}
	}
}

// Whatever two boards of an id differ in, it is said.
func TestEveryDifferenceIsSaid(t *testing.T) {
	settings := model.DefaultSettings()
	rapid.Check(t, func(t *rapid.T) {
		was := drawBoard(t, "B")
		is := was
		other := drawBoard(t, "B")
		column := rapid.SampledFrom([]func(){
			func() { is.Material = other.Material }, func() { is.Section = other.Section },
			func() { is.Length = other.Length }, func() { is.Width = other.Width },
			func() { is.Thickness = other.Thickness }, func() { is.Surface = other.Surface },
			func() { is.Bin = other.Bin }, func() { is.Value = other.Value },
			func() { is.Since = other.Since }, func() { is.For = other.For },
			func() { is.Untouched = other.Untouched }, func() { is.Longest = other.Longest },
			func() { is.Note = other.Note }, func() { is.Defects = other.Defects },
		})
		column.Draw(t, "column")()
		said := report.RackChange(&settings, &was, &is)
		if (said != "") == book.Same(was, is) {
			t.Fatalf("of\n%+v\nand\n%+v\nit is said: %q", was, is, said)
		}
	})
}

// A board that the yard had one of is not for sale once it is bought. Of two rows that are alike,
// one of which the maker has set to none, the other one is still for sale.
func TestBoughtIsNotForSale(t *testing.T) {
	row := func(line int, available int64) model.Offer {
		return model.Offer{Wood: model.Wood{Material: "oak", Section: "4/4", Length: 30_000,
			Width: 20_000}, Yard: "north", Available: &available,
			Where: model.Where{File: model.Above + "yard.csv", Line: line}}
	}
	for _, c := range []struct {
		available []int64
		bought    int
		want      []int64
		notes     int
	}{
		{[]int64{1}, 0, []int64{1}, 0},
		{[]int64{1}, 1, []int64{0}, 1},
		{[]int64{0}, 1, []int64{0}, 0},
		{[]int64{0, 1}, 1, []int64{0, 1}, 0},
		{[]int64{1, 0}, 1, []int64{1, 0}, 0},
		{[]int64{1, 1}, 1, []int64{0, 1}, 1},
		{[]int64{1, 0}, 2, []int64{0, 0}, 1},
		{[]int64{2}, 1, []int64{2}, 0},
	} {
		job := &model.Job{Settings: model.DefaultSettings()}
		for n, available := range c.available {
			job.Yard = append(job.Yard, row(n+2, available))
		}
		var bought []book.Single
		for range c.bought {
			like := row(2, 1)
			bought = append(bought, book.Single{Purchase: purchase(job, "B", &like),
				Plan: "march/out"})
		}
		notes := sell(job, bought)
		var is []int64
		for i := range job.Yard {
			is = append(is, *job.Yard[i].Available)
		}
		if !slices.Equal(is, c.want) || len(notes) != c.notes {
			t.Errorf("of rows with %v, %d bought, are left %v: %v", c.available, c.bought, is,
				notes)
		}
	}
}

// Of two boards that the yard has one of each, and that are alike, two plans buy two in all.
func TestSoldOut(t *testing.T) {
	one := int64(1)
	row := model.Offer{Wood: model.Wood{Material: "oak", Section: "4/4", Length: 30_000,
		Width: 20_000}, Available: &one}
	job := &model.Job{Settings: model.DefaultSettings(), Yard: []model.Offer{row, row}}
	buys := func(boards int) (b book.Booking) {
		for n := range boards {
			b.Buys = append(b.Buys, purchase(job, fmt.Sprint("buy-", n+1), &row))
		}
		return b
	}
	for bought, want := range map[[2]int]int{{0, 2}: 0, {1, 1}: 0, {1, 2}: 1, {2, 1}: 1,
		{2, 2}: 2} {
		lives := []book.Life{{Plan: "march/out", Booking: buys(bought[0])}}
		again := buys(bought[1])
		s := &shopBook{settings: job.Settings}
		if whys := s.soldOut(lives, job, &again); len(whys) != want {
			t.Errorf("%d are bought, then %d: %q", bought[0], bought[1], whys)
		}
	}
}

package csvfile

import (
	"bytes"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"rackwright/model"
)

// The same rows read the same however a spreadsheet saved them.
func TestEncodingsAndSeparators(t *testing.T) {
	settings := model.DefaultSettings()
	read := func(t *testing.T, text string) (yard []model.Offer) {
		var m model.Mistakes
		f := &File{Name: "yard.csv", Data: []byte(text), Unit: model.Inch, Mistakes: &m,
			Notes: new([]model.Note)}
		complete := f.Yard(&settings, func(o model.Offer) { yard = append(yard, o) })
		if err := m.Err(); err != nil || !complete {
			t.Fatal(complete, err)
		}
		return yard
	}
	want := read(t, "material,section,length,price,width\noak,2x6,96.5,12.50,5.25\n")
	for name, yard := range map[string]string{
		"byte order mark": "\ufeffmaterial,section,length,price,width\n" +
			"oak,2x6,96.5,12.50,5.25\n",
		"CRLF": "material,section,length,price,width\r\n" +
			"oak,2x6,96.5,12.50,5.25\r\n",
		"no last line end": "material,section,length,price,width\noak,2x6,96.5,12.50,5.25",
		"semicolon, decimal comma": "material;section;length;price;width\n" +
			"oak;2x6;96,5;12,50;5,25\n",
		"tab, decimal comma": "material\tsection\tlength\tprice\twidth\n" +
			"oak\t2x6\t96,5\t12,5\t5 1/4\n",
		"tab, empty cells": "available\tmaterial\tsection\tlength\tprice\twidth\n" +
			"\toak\t2x6\t96,5\t12,5\t5 1/4\n",
		"quoted": "\"material\",\"section\",\"length\",\"price\",\"width\"\n" +
			"\"oak\",\"2x6\",\"96 1/2\"\"\",\"12.5\",\"5.25\"\n",
		"blank before a quote": "material, section, length, price, width\n" +
			"oak, \"2x6\", \"96.5\", 12.50, 5.25\n",
		"inch sign without quotes": "material,section,length,price,width\n" +
			"oak,2x6,96 1/2\",12.50,5-1/4\"\n",
		"other order, empty column": "price,length,material,section,width,,\n" +
			"12.50,96.5,oak,2x6,5.25,,\n,,,,,,\n",
	} {
		t.Run(name, func(t *testing.T) {
			if d := cmp.Diff(want, read(t, yard)); d != "" {
				t.Error(d)
			}
		})
	}
}

// The tables that only a maker writes, written from what was read of them.

func partRows(parts []model.Part, u model.Unit) []partRow {
	return each(parts, func(p *model.Part) partRow {
		return partRow{
			text(p.Commission), text(p.Name), countCell(p.Qty), text(p.Material),
			inputLength(p.Length, u), inputLength(p.Width, u), inputLength(p.Thickness, u),
			number(p.Section),
			number(p.Face.String()), text(p.Board), piecesCell(p.Staves), piecesCell(p.Layers),
			countOrBlank(p.Spare), text(p.Note),
		}
	})
}

func piecesCell(n model.Pieces) number {
	if n == model.Auto {
		return auto
	}
	return countOrBlank(int64(n))
}

func designRows(parts []model.Part, u model.Unit) (out []designRow) {
	for _, p := range partRows(parts, u) {
		out = append(out, designRow(p))
	}
	return out
}

func commissionRows(commissions []model.Commission) []commissionRow {
	return each(commissions, func(c *model.Commission) commissionRow {
		return commissionRow{text(c.Name), number(c.Due), text(c.Note)}
	})
}

func orderRows(orders []Order) []orderRow {
	return each(orders, func(o *Order) orderRow {
		return orderRow{text(o.Commission), text(o.Design), countCell(o.Qty)}
	})
}

func yardRows(yard []model.Offer, u model.Unit) []yardRow {
	return each(yard, func(o *model.Offer) yardRow {
		row := yardRow{text(o.Material), number(o.Section), inputLength(o.Length, u),
			inputMoney(o.Price),
			"", inputLength(o.Width, u), inputLength(o.Thickness, u), number(o.Surface),
			text(o.Yard), number(o.Per), text(o.Grade)}
		if o.Available != nil {
			row.Available = countCell(*o.Available)
		}
		return row
	})
}

// Names hold everything that CSV and spreadsheets stumble over.
var (
	words = rapid.StringMatching(`['=+\-@]{0,2}[a-z,;"/|.é= ]{0,6}[a-z0-9"]`).Filter(
		func(s string) bool { return strings.TrimSpace(s) == s })
	notes  = rapid.OneOf(rapid.Just(""), words)
	counts = rapid.Int64Range(1, 1000)
	sizes  = rapid.Custom(func(t *rapid.T) model.Length {
		return model.Length(rapid.Int64Range(1, int64(model.LongestLength)).Draw(t, ""))
	})
	pieces   = rapid.SampledFrom([]model.Pieces{0, model.Auto, 2, 7, 1000})
	sections = rapid.SampledFrom([]model.Section{"2x6", "5/4x6", "4/4", "38x140mm"})
	dates    = rapid.SampledFrom([]string{"", "2026-04-01", "2024-02-29"})
)

func draw[T any](t *rapid.T, g *rapid.Generator[T]) T { return g.Draw(t, "") }

func drawPart(t *rapid.T) model.Part {
	p := model.Part{Commission: draw(t, words), Name: draw(t, words), Qty: draw(t, counts),
		Material: draw(t, words), Length: draw(t, sizes), Width: draw(t, sizes),
		Thickness: draw(t, sizes), Face: model.Face(draw(t, rapid.IntRange(0, model.Faces-1))),
		Board: draw(t, notes), Note: draw(t, notes)}
	if rapid.Bool().Draw(t, "") {
		p.Section = draw(t, sections)
	}
	p.Staves, p.Layers, p.Spare = draw(t, pieces), draw(t, pieces), draw(t, counts)-1
	return p
}

func drawOffer(t *rapid.T) model.Offer {
	o := model.Offer{Wood: model.Wood{Material: draw(t, words), Section: draw(t, sections),
		Length: draw(t, sizes), Width: draw(t, sizes), Thickness: draw(t, sizes)},
		Price: model.Money(rapid.Int64Range(1, int64(model.DearestBoard)).Draw(t, "")),
		Per:   draw(t, rapid.SampledFrom([]model.Per{model.PerPiece, model.PerCubicMetre})),
		Yard:  draw(t, notes), Grade: draw(t, notes)}
	switch o.Section { // what no row says is read as the settings have it
	case "4/4":
		o.Surface = draw(t, rapid.SampledFrom(model.Surfaces))
	case "38x140mm":
		o.Surface = draw(t, rapid.SampledFrom([]model.Surface{"", model.Rough, model.S2S}))
	}
	if rapid.Bool().Draw(t, "") {
		n := draw(t, counts) - 1
		o.Available = &n
	}
	return o
}

// Every table of a job folder that is written reads back to the same values, and those write the
// same bytes.
func TestWriteReadWrite(t *testing.T) {
	settings := model.DefaultSettings()
	rapid.Check(t, func(t *rapid.T) {
		u := draw(t, rapid.SampledFrom([]model.Unit{model.Inch, model.Millimetre}))
		asWritten(t, u, some(drawPart), (*File).Parts, partRows)
		asWritten(t, u, some(func(t *rapid.T) model.Part {
			p := drawPart(t)
			p.Commission, p.Board = "", ""
			return p
		}), (*File).Design, designRows)
		asWritten(t, u, some(drawOffer), func(f *File, take func(model.Offer)) bool {
			return f.Yard(&settings, take)
		}, yardRows)
		asWritten(t, u, some(func(t *rapid.T) Order {
			return Order{draw(t, words), draw(t, words), draw(t, counts)}
		}), func(f *File, take func(Order)) bool {
			return f.Orders(func(_ Cells, o Order) { take(o) })
		}, func(orders []Order, _ model.Unit) []orderRow { return orderRows(orders) })
		commissions := rapid.Custom(func(t *rapid.T) model.Commission {
			return model.Commission{Name: draw(t, words), Due: draw(t, dates), Note: draw(t, notes)}
		})
		name := func(c model.Commission) string { return model.FoldName(c.Name) }
		asWritten(t, u, rapid.SliceOfNDistinct(commissions, 0, 6, name), (*File).Commissions,
			func(c []model.Commission, _ model.Unit) []commissionRow { return commissionRows(c) })
	})
}

func some[T any](item func(*rapid.T) T) *rapid.Generator[[]T] {
	return rapid.SliceOfN(rapid.Custom(item), 0, 6)
}

// asWritten draws values, writes them as rows, and reads and writes these again.
func asWritten[T, R any](t *rapid.T, u model.Unit, values *rapid.Generator[[]T],
	read func(*File, func(T)) bool, rows func([]T, model.Unit) []R) {
	drawn := draw(t, values)
	encode := func(list []T) []byte {
		var b bytes.Buffer
		if err := writeRows(&b, rows(list, u)); err != nil {
			t.Fatal(err)
		}
		return b.Bytes()
	}
	first := encode(drawn)
	var m model.Mistakes
	var got []T
	f := &File{Name: "table.csv", Data: first, Unit: u, Mistakes: &m, Notes: new([]model.Note)}
	if complete := read(f, func(v T) { got = append(got, v) }); !complete || m.Err() != nil {
		t.Fatal(complete, m.Err())
	}
	ignore := cmp.FilterPath(func(p cmp.Path) bool {
		return p.Last().String() == ".Where"
	}, cmp.Ignore())
	if d := cmp.Diff(drawn, got, cmpopts.EquateEmpty(), ignore); d != "" {
		t.Fatal(d)
	}
	if d := cmp.Diff(string(first), string(encode(got))); d != "" {
		t.Fatal(d)
	}
}

package folder

import (
	"encoding/csv"
	"io"
	"regexp"
	"strconv"

	"rackwright/io/csvfile"
	"rackwright/model"
)

// The tables that only a maker writes, written from the words of the model. The program never
// writes them, so this knows nothing of its row structs.

// guarded is what a spreadsheet would run, and what is taken for such a text behind its apostrophe.
var guarded = regexp.MustCompile(`^'*[=+\-@]`)

func writeRows[T any](w io.Writer, head []string, list []T, row func(*T) []string) error {
	rows := [][]string{head}
	for i := range list {
		cells := row(&list[i])
		for k, c := range cells {
			if guarded.MatchString(c) {
				cells[k] = "'" + c
			}
		}
		rows = append(rows, cells)
	}
	return csv.NewWriter(w).WriteAll(rows)
}

func writeParts(w io.Writer, parts []model.Part, u model.Unit) error {
	return writeRows(w, []string{"commission", "part", "qty", "material", "length", "width",
		"thickness", "section", "face", "staves", "layers", "spare", "board",
		"note"}, parts, func(p *model.Part) []string {
		return append(append([]string{p.Commission}, partCells(p, u)...), p.Board, p.Note)
	})
}

func writeDesign(w io.Writer, parts []model.Part, u model.Unit) error {
	return writeRows(w, []string{"part", "qty", "material", "length", "width", "thickness",
		"section", "face", "staves", "layers", "spare",
		"note"}, parts, func(p *model.Part) []string {
		return append(partCells(p, u), p.Note)
	})
}

func partCells(p *model.Part, u model.Unit) []string {
	return []string{p.Name, strconv.FormatInt(p.Qty, 10), p.Material,
		model.Unmistaken(p.Length.Decimal(u)),
		model.Unmistaken(p.Width.Decimal(u)), model.Unmistaken(p.Thickness.Decimal(u)),
		string(p.Section), p.Face.String(), piecesCell(p.Staves), piecesCell(p.Layers),
		strconv.FormatInt(p.Spare, 10)}
}

func piecesCell(n model.Pieces) string {
	switch n {
	case 0:
		return ""
	case model.Auto:
		return "auto"
	}
	return strconv.FormatInt(int64(n), 10)
}

func writeOrders(w io.Writer, orders []csvfile.Order) error {
	return writeRows(w, []string{"commission", "design", "qty"}, orders,
		func(o *csvfile.Order) []string {
			return []string{o.Commission, o.Design, strconv.FormatInt(o.Qty, 10)}
		})
}

func writeCommissions(w io.Writer, commissions []model.Commission) error {
	return writeRows(w, []string{"commission", "due", "note"}, commissions,
		func(c *model.Commission) []string { return []string{c.Name, c.Due, c.Note} })
}

func writeYard(w io.Writer, yard []model.Offer, u model.Unit) error {
	return writeRows(w, []string{"material", "section", "length", "price", "available", "width",
		"thickness", "surface", "yard", "per", "grade"}, yard, func(o *model.Offer) []string {
		available := ""
		if o.Available != nil {
			available = strconv.FormatInt(*o.Available, 10)
		}
		return []string{o.Material, string(o.Section), model.Unmistaken(o.Length.Decimal(u)),
			model.Unmistaken(o.Price.String()),
			available, model.Unmistaken(o.Width.Decimal(u)),
			model.Unmistaken(o.Thickness.Decimal(u)), string(o.Surface), o.Yard, string(o.Per),
			o.Grade}
	})
}

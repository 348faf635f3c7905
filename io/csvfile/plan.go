package csvfile

import (
	"fmt"
	"strings"

	"rackwright/model"
)

// Cuts reads cuts.csv.
func (f *File) Cuts() (list []model.Cut) {
	eachRow(f, cutNeeds, func(c Cells, row cutRow) {
		k := model.Cut{
			Board: c.name("board", row.Board), Material: c.name("material", row.Material),
			Section: c.plainSection(row.Section),
			Origin: model.Origin(
				c.word("origin", row.Origin, string(model.FromRack), string(model.FromYard))),
			Kind: model.Kind(c.word("kind", row.Kind, string(model.KindTrim),
				string(model.KindPart), string(model.KindKerf),
				string(model.KindDefect), string(model.KindWaste), string(model.KindOffcut))),
			Step: int(c.count("step", row.Step, 0)),
			From: c.length("from", row.From), To: c.length("to", row.To),
			Left: c.length("left", row.Left), Right: c.length("right", row.Right),
			Commission: string(row.Commission), Part: string(row.Part), Offcut: string(row.Offcut),
		}
		if k.Kind == "" {
			return // what it may hold is not known
		}
		c.onlyFor(k.Kind == model.KindPart, k.Kind, []string{"commission", "part", "copy", "face"},
			string(row.Commission), string(row.Part), string(row.Copy), string(row.Face))
		c.onlyFor(k.Kind == model.KindOffcut, k.Kind, []string{"offcut"}, string(row.Offcut))
		if row.Copy != "" {
			k.Copy = c.count("copy", row.Copy, 1)
		}
		if row.Face != "" {
			k.Face, _ = model.ParseFace(c.word("face", row.Face, "show", "sound", "hidden"))
		}
		list = append(list, k)
	})
	return list
}

// onlyFor has cells filled in rows of one kind, and empty in all others.
func (c Cells) onlyFor(mine bool, kind model.Kind, columns []string, values ...string) {
	for i, v := range values {
		if mine {
			c.filled(columns[i], v)
		} else if v != "" {
			c.Bad(model.CodeWord, columns[i],
				fmt.Sprintf("a row of kind %q has no %s", kind, columns[i]), "empty the cell")
		}
	}
}

// plainSection reads a required section.
func (c Cells) plainSection(n number) model.Section {
	c.filled("section", string(n))
	return c.section("section", n)
}

// Buy reads buy.csv.
func (f *File) Buy() (list []model.Purchase) {
	eachRow(f, buyNeeds, func(c Cells, row buyRow) {
		list = append(list, model.Purchase{
			Material: c.name("material", row.Material), Section: c.plainSection(row.Section),
			Length: c.length("length", row.Length),
			Qty:    c.count("qty", row.Qty, 1), Price: c.money("price", row.Price),
			Total: c.money("total", row.Total),
			Tally: c.tally("tally", row.Tally), Width: c.length("width", row.Width),
			Surface: c.surface("surface", row.Surface),
			Yard:    string(row.Yard), Grade: string(row.Grade),
			Tax: c.money("tax", row.Tax), Reserve: row.Reserve != "" &&
				c.word("reserve", row.Reserve, yes) == yes,
			Boards: strings.Fields(string(row.Boards)),
		})
	})
	return list
}

// Order reads order.csv.
func (f *File) Order() (list []model.Sawing) {
	eachRow(f, orderedNeeds, func(c Cells, row orderedRow) {
		s := model.Sawing{
			Pass: int(c.count("pass", row.Pass, 1)), Sequence: int(c.count("sequence", row.Sequence, 1)),
			Saw:   c.word("saw", row.Saw, model.Crosscut, model.Rip),
			Board: c.name("board", row.Board), Step: int(c.count("step", row.Step, 1)),
			Piece: c.name("piece", row.Piece),
		}
		if row.Setting != "" { // else it is cut at its mark
			s.Setting = c.length("setting", row.Setting)
		}
		list = append(list, s)
	})
	return list
}

// Costs reads costs.csv.
func (f *File) Costs() (list []model.Cost) {
	eachRow(f, costNeeds, func(c Cells, row costRow) {
		list = append(list, model.Cost{
			Commission: c.name("commission", row.Commission), Cost: c.money("cost", row.Cost),
			Yard: c.money("yard_cost", row.Yard),
			Rack: c.money("rack_cost", row.Rack), Handling: c.money("handling", row.Handling),
			Ripping: c.money("ripping", row.Ripping),
			Credit:  c.money("offcut_credit", row.Credit),
			Tally:   c.tally("tally", row.Tally),
		})
	})
	return list
}

// tally reads a decimal of at most six places into millionths.
func (c Cells) tally(column string, n number) int64 {
	if !c.filled(column, string(n)) {
		return 0
	}
	units, millionths, _ := strings.Cut(c.point(n), ".")
	digits := units + millionths
	if units == "" || len(millionths) > 6 || len(units) > 12 ||
		strings.Trim(digits, "0123456789") != "" {
		c.Bad(model.CodeCount, column, fmt.Sprintf("%.40q is no tally", string(n)),
			"write a number with at most six decimals")
		return 0
	}
	var v int64
	for _, d := range digits + strings.Repeat("0", 6-len(millionths)) {
		v = 10*v + int64(d-'0')
	}
	return v
}

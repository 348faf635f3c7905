package csvfile

import (
	"fmt"
	"strings"

	"rackwright/model"
	"rackwright/model/makeup"
)

// Cuts reads cuts.csv of a plan in which no part is made up.
func (f *File) Cuts() (list []model.Cut) {
	eachRow(f, cutNeeds, func(c Cells, row plainCutRow) {
		if k, ok := c.cut(cutRow(row)); ok {
			list = append(list, k)
		}
	})
	return list
}

// CutsMade reads cuts.csv of a plan in which parts are made up, by the names that its job has for
// the pieces: these must stand there.
func (f *File) CutsMade(names makeup.Names) (list []model.Cut) {
	eachRow(f, cutNeeds+1, func(c Cells, row cutRow) {
		if k, ok := c.cut(row); ok {
			list = append(list, k)
			c.is("stave", string(row.Stave), names.Stave(k.Commission, k.Part, k.Copy))
		}
	})
	return list
}

// is refuses a cell in which something else stands than what the plan says.
func (c Cells) is(column, got, want string) {
	switch {
	case got == want:
	case want == "":
		c.Bad(model.CodePlan, column, fmt.Sprintf("%.40q: the plan has nothing here", got),
			"empty the cell")
	default:
		c.Bad(model.CodePlan, column, fmt.Sprintf("%.40q: the plan has %q here", got, want),
			"write that")
	}
}

// cut reads a row of cuts.csv; false: what it may hold is not known.
func (c Cells) cut(row cutRow) (k model.Cut, ok bool) {
	k = model.Cut{
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
		return k, false
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
	return k, true
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
			Total: c.total("total", row.Total),
			Tally: c.tally("tally", row.Tally), Width: c.length("width", row.Width),
			Surface: c.surface("surface", row.Surface),
			Yard:    string(row.Yard), Grade: string(row.Grade),
			Tax: c.total("tax", row.Tax), Reserve: row.Reserve != "" &&
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

// Laid reads glue_ups.csv, whose rows must be these.
func (f *File) Laid(want []makeup.Laid) {
	n := 0
	complete := eachRow(f, laidNeeds, func(c Cells, row laidRow) {
		if n++; n > len(want) {
			if n == len(want)+1 {
				c.Bad(model.CodePlan, "part", fmt.Sprintf("the plan has no more than %d rows here",
					len(want)), "take out the rows from here on")
			}
			return
		}
		w := laidCells(&want[n-1], f.Unit)
		for _, cell := range []struct {
			column    string
			got, want string
		}{{"commission", string(row.Commission), string(w.Commission)},
			{"part", string(row.Part), string(w.Part)}, {"copy", string(row.Copy), string(w.Copy)},
			{"layer", string(row.Layer), string(w.Layer)},
			{"stave", string(row.Stave), string(w.Stave)},
			{"board", string(row.Board), string(w.Board)}} {
			c.is(cell.column, cell.got, cell.want)
		}
		c.isLength("net_width", row.Net, want[n-1].Net)
		c.isLength("glued_width", row.Glued, want[n-1].Glued)
		c.isLength("cut_to", row.Cut, want[n-1].Cut)
	})
	if complete && n < len(want) {
		f.Mistakes.Add(&model.InputError{Code: model.CodePlan, File: f.Name,
			Cause: fmt.Sprintf("rows are missing (%d): the first is that of %s, %s",
				len(want)-n, want[n].Commission, want[n].Part),
			Remedy: "put the plan's own file there"})
	}
}

// isLength likewise refuses a length that is not the plan's; 0 stands for an empty cell.
func (c Cells) isLength(column string, got number, want model.Length) {
	if want == 0 || got == "" {
		c.is(column, string(got), string(lengthOrBlank(want, c.Unit())))
		return
	}
	if l := c.length(column, got); l != want && l != 0 { // 0 could not be read
		c.is(column, string(got), string(lengthCell(want, c.Unit())))
	}
}

// Costs reads costs.csv.
func (f *File) Costs() (list []model.Cost) {
	eachRow(f, costNeeds, func(c Cells, row costRow) {
		list = append(list, model.Cost{
			Commission: c.name("commission", row.Commission), Cost: c.total("cost", row.Cost),
			Yard: c.total("yard_cost", row.Yard),
			Rack: c.total("rack_cost", row.Rack), Handling: c.total("handling", row.Handling),
			Ripping: c.total("ripping", row.Ripping),
			Credit:  c.total("offcut_credit", row.Credit),
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

package csvfile

import (
	"fmt"

	"rackwright/model"
)

// Yard reads yard.csv: offers, whose sizes are those that the section has in such a shop where the
// row has none of its own.
func (f *File) Yard(s *model.Settings, take func(model.Offer)) (complete bool) {
	return eachRow(f, yardNeeds, func(c Cells, row yardRow) {
		o := model.Offer{Wood: c.wood(s, row.Material, row.Section, row.Length, row.Width,
			row.Thickness, row.Surface), Where: c.Where()}
		o.Price, o.Yard, o.Grade = c.money("price", row.Price), string(row.Yard), string(row.Grade)
		if row.Per != "" && row.Per != "piece" {
			o.Per = model.Per(
				c.word("per", row.Per, "piece", string(model.PerLength), string(model.PerBoardFoot),
					string(model.PerCubicMetre)))
		}
		if row.Available != "" {
			n := c.countTo("available", row.Available, 0, model.MostForSale)
			o.Available = &n
		}
		take(o)
	})
}

// wood reads what rack and yard rows have in common: sizes as measured, else those that the section
// has as it comes.
func (c Cells) wood(s *model.Settings, material text, section, length, width, thickness,
	surface number) model.Wood {
	w := model.Wood{Material: c.name("material", material), Length: c.length("length", length)}
	if c.filled("section", string(section)) {
		w.Section = c.section("section", section)
	}
	comes := s.ConditionFor(w.Material, w.Section)
	if w.Surface = s.SurfaceFor(w.Material, w.Section); surface != "" && w.Section != "" {
		w.Surface = c.surface("surface", surface)
		comes.Surface = w.Surface
	}
	w.Thickness, w.Width = w.Section.Actual(comes)
	if thickness != "" {
		w.Thickness = c.length("thickness", thickness)
	}
	switch {
	case width != "":
		w.Width = c.length("width", width)
	case w.Section != "" && w.Width == 0:
		c.Bad(model.CodeNoWidth, "width",
			fmt.Sprintf("boards of section %s come in random widths", w.Section),
			"measure the width and write it in a column width")
	case w.Section == "": // reported; let nothing follow from it
		w.Width, w.Thickness = 1, max(1, w.Thickness)
	}
	return w
}

// Commissions reads commissions.csv. A name that stands there already is a mistake, and its row is
// not handed over; nor is one without a name.
func (f *File) Commissions(take func(model.Commission)) (complete bool) {
	first := map[string]model.Commission{}
	lines := map[string]int{}
	return eachRow(f, commissionNeeds, func(c Cells, row commissionRow) {
		n := model.Commission{Name: c.name("commission", row.Commission),
			Due: c.date("due", row.Due), Note: string(row.Note)}
		fold := model.FoldName(n.Name)
		if before, again := first[fold]; again && n.Name != "" {
			cause, code := fmt.Sprintf("%q stands in line %d already", n.Name, lines[fold]),
				model.CodeDuplicate
			if before.Name != n.Name {
				cause, code = fmt.Sprintf(
					"%q differs from %q in line %d in case or blanks only",
					n.Name, before.Name, lines[fold]), model.CodeSpelling
			}
			c.Bad(code, "commission", cause, "give each commission one row")
			return
		}
		if n.Name == "" {
			return
		}
		first[fold], lines[fold] = n, c.line
		take(n)
	})
}

// Parts reads parts.csv, or one of several lists of parts.
func (f *File) Parts(take func(model.Part)) (complete bool) {
	return eachRow(f, partNeeds, func(c Cells, row partRow) {
		p := c.part(&row)
		p.Commission = c.name("commission", row.Commission)
		take(p)
	})
}

// Design reads the parts of one piece of a design; they are of no commission.
func (f *File) Design(take func(model.Part)) (complete bool) {
	return eachRow(f, designNeeds, func(c Cells, row designRow) {
		part := partRow(row)
		take(c.part(&part))
	})
}

// part reads what parts and designs have in common.
func (c Cells) part(row *partRow) model.Part {
	p := model.Part{
		Name: c.name("part", row.Part), Qty: c.countTo("qty", row.Qty, 1, model.MostCopies),
		Material: c.name("material", row.Material),
		Length:   c.length("length", row.Length), Width: c.length("width", row.Width),
		Thickness: c.length("thickness", row.Thickness),
		Section:   c.section("section", row.Section), Board: string(row.Board),
		Staves: c.pieces("staves", row.Staves), Layers: c.pieces("layers", row.Layers),
		Note: string(row.Note), Where: c.Where(),
	}
	if row.Spare != "" {
		p.Spare = c.countTo("spare", row.Spare, 0, model.MostSpare)
	}
	if row.Face != "" {
		p.Face, _ = model.ParseFace(c.word("face", row.Face, "show", "sound", "hidden"))
	}
	return p
}

// Order is a row of orders.csv: so many pieces of a design for a commission.
type Order struct {
	Commission, Design string
	Qty                int64
}

// Orders reads orders.csv. Each row comes with its cells, so that what is wrong with it beside the
// other files can be said of them.
func (f *File) Orders(take func(Cells, Order)) (complete bool) {
	return eachRow(f, orderNeeds, func(c Cells, row orderRow) {
		take(c, Order{c.name("commission", row.Commission), c.name("design", row.Design),
			c.countTo("qty", row.Qty, 1, model.MostCopies)})
	})
}

package csvfile

import (
	"fmt"

	"rackwright/model"
)

// yes is the word in a cell that says yes; no is a blank.
const yes = "yes"

// Rack reads rack.csv: each row is a board and how many there are of it, 1 or more.
func (f *File) Rack(s *model.Settings, take func(b model.Board, qty int64)) (complete bool) {
	return eachRow(f, rackNeeds, func(c Cells, row rackRow) { take(c.board(s, &row)) })
}

// Received reads boards as they came. Of a board that was awaited, whose id awaited knows, a cell
// left blank is as it was awaited; a length of 0 says that it was not delivered. A row is of one
// board.
func (f *File) Received(s *model.Settings, awaited func(id string) *model.Board,
	take func(b model.Board)) {
	eachRow(f, receivedNeeds, func(c Cells, row rackRow) {
		if row.Qty != "" && row.Qty != "1" {
			c.Bad(model.CodeCount, "qty", "a row is of one board here",
				"write a row for each board, each with an id of its own")
			row.Qty = ""
		}
		known := func(*model.Board) {}
		if b := awaited(string(row.Board)); b != nil {
			known = row.fill(b)
		}
		b, _ := c.board(s, &row)
		known(&b)
		take(b)
	})
}

// fill fills blank cells with what is known of a board, and gives what sets the measures among
// them. Those of another section than is known are left blank, as nothing is known of them.
func (row *rackRow) fill(is *model.Board) (measures func(*model.Board)) {
	section, err := model.ParseSection(string(row.Section))
	if row.Material == "" {
		row.Material = text(is.Material)
	}
	if row.Section == "" {
		row.Section, section = number(is.Section), is.Section
	} else if err != nil {
		section = is.Section // it is told where it is read
	}
	blank := func(cell *number) bool {
		was := *cell
		if was == "" {
			*cell = "1" // which is read in every unit, whatever signs the numbers have
		}
		return was == ""
	}
	length, width, thickness := blank(&row.Length), false, false
	if section == is.Section {
		width, thickness = blank(&row.Width), blank(&row.Thickness)
		if row.Surface == "" {
			row.Surface = number(is.Surface)
		}
	}
	return func(b *model.Board) {
		for _, m := range []struct {
			blank  bool
			to, is *model.Length
		}{{length, &b.Length, &is.Length}, {width, &b.Width, &is.Width},
			{thickness, &b.Thickness, &is.Thickness}} {
			if m.blank {
				*m.to = *m.is
			}
		}
	}
}

// board reads a row, and how many boards it is of.
func (c Cells) board(s *model.Settings, row *rackRow) (model.Board, int64) {
	b := model.Board{
		ID: c.name("board", row.Board),
		Wood: c.wood(s, row.Material, row.Section, row.Length, row.Width, row.Thickness,
			row.Surface),
		Bin: string(row.Bin), Since: c.date("since", row.Since), For: string(row.For),
		Note: string(row.Note), Where: c.Where(),
	}
	if row.Value != "" {
		v := c.money("value", row.Value)
		b.Value = &v
	}
	if b.Untouched = row.Untouched == yes; !b.Untouched && row.Untouched != "" {
		c.Bad(model.CodeWord, "untouched",
			fmt.Sprintf("%.40q is neither yes nor blank", string(row.Untouched)),
			"write yes, or empty the cell")
	}
	if row.Longest != "" {
		if b.Longest = c.length("longest", row.Longest); b.Longest == 0 {
			c.Bad(model.CodeRange, "longest", "a longest blank of 0",
				"write a length above 0, or empty the cell")
		}
	}
	qty := int64(1)
	if row.Qty != "" {
		qty = max(1, c.count("qty", row.Qty, 1))
	}
	return b, qty
}

// Defects reads defects.csv and puts each defect on its board. find gives the board of an id; it
// gives nil where there is none, and says so of the cells if it is to be told.
func (f *File) Defects(find func(c Cells, id string) *model.Board) {
	eachRow(f, defectNeeds, func(c Cells, row defectRow) {
		before := c.mistakes
		id := c.name("board", row.Board)
		d := model.Defect{From: c.length("from", row.From), To: c.length("to", row.To),
			Kind: model.DefectKind(c.name("kind", row.Kind))}
		b := find(c, id)
		if b == nil {
			return
		}
		if d.Right = b.Width; row.Right != "" {
			d.Right = c.length("right", row.Right)
		}
		if row.Left != "" {
			d.Left = c.length("left", row.Left)
		}
		if c.mistakes > before || b.Length == 0 || b.Width == 0 {
			return // what was not readable cannot be judged
		}
		if e := b.Fault(d, f.Unit); e != nil {
			c.Bad(e.Code, e.Column, e.Cause, e.Remedy)
			return
		}
		b.Defects = append(b.Defects, d)
	})
}

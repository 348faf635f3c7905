package csvfile

import (
	"io"
	"strings"

	"rackwright/model"
)

// Form reads what the plan says in marks.csv, and whether the maker has filled the row in; what is
// filled in is not judged.
func (f *File) Form(take func(c Cells, m model.Mark, filled bool)) {
	eachRow(f, markNeeds, func(c Cells, row markRow) {
		take(c, c.mark(row), row.State+row.Measured+row.MeasuredWidth != "" ||
			row.Defect+row.Note != "")
	})
}

// Marks reads marks.csv as the maker filled it in.
func (f *File) Marks(take func(c Cells, m model.Marked)) {
	eachRow(f, markNeeds, func(c Cells, row markRow) {
		m := model.Marked{Mark: c.mark(row), Note: string(row.Note), Where: c.Where()}
		if row.State != "" {
			words := []string{string(model.Kept), string(model.Scrapped)}
			if m.Row == model.MarkPiece {
				words = []string{string(model.IsCut), string(model.Spoiled), string(model.NotCut)}
			}
			said := number(strings.ToLower(strings.Join(strings.Fields(string(row.State)), " ")))
			m.State = model.State(c.word("state", said, words...))
		}
		if m.Row == model.MarkPiece {
			c.blank("measured", row.Measured)
			c.blank("measured_width", row.MeasuredWidth)
		} else {
			m.Measured = c.measured("measured", row.Measured, model.LongestBoard)
			m.MeasuredWidth = c.measured("measured_width", row.MeasuredWidth, model.WidestBoard)
		}
		if row.Defect != "" {
			for d := range strings.SplitSeq(string(row.Defect), "|") {
				m.Defects = append(m.Defects, c.defect(d)...)
			}
		}
		take(c, m)
	})
}

// blank refuses the measure of a piece.
func (c Cells) blank(column string, n number) {
	if n != "" {
		c.Bad(model.CodeContradiction, column, "a piece has the size of its blank, or it is "+
			"spoiled", "empty the cell, and write spoiled as its state if it is of no use")
	}
}

// mark reads what the plan says in a row.
func (c Cells) mark(row markRow) model.Mark {
	m := model.Mark{Board: c.name("board", row.Board), Commission: string(row.Commission),
		Part: string(row.Part), Offcut: string(row.Offcut), Makes: string(row.Makes),
		Row: model.MarkOf(c.word("row", row.Row, string(model.MarkPiece),
			string(model.MarkOffcut), string(model.MarkRest))),
		Length: c.length("length", row.Length), Width: c.length("width", row.Width)}
	if row.Copy != "" {
		m.Copy = c.count("copy", row.Copy, 1)
	}
	return m
}

// defect reads one defect of a cell: from; to; kind, and left; right if it has them. There is none
// where it cannot be read.
func (c Cells) defect(text string) []model.Defect {
	parts := strings.Split(text, ";")
	for i := range parts {
		parts[i] = strings.TrimSpace(parts[i])
	}
	if len(parts) != 3 && len(parts) != 5 {
		c.Bad(model.CodeRange, "defect", "it has not three parts or five", `write from, to and `+
			`kind, such as "12; 14 1/2; sound knot", and left and right behind them if it does `+
			`not go over the whole width; between two defects a |`)
		return nil
	}
	before := c.mistakes
	d := model.Defect{From: c.length("defect", number(parts[0])),
		To: c.length("defect", number(parts[1])), Kind: model.DefectKind(parts[2])}
	if len(parts) == 5 {
		d.Left, d.Right = c.length("defect", number(parts[3])), c.length("defect", number(parts[4]))
		if c.mistakes == before && d.Right == 0 {
			c.Bad(model.CodeReversed, "defect", "it ends at 0 across", "write where it ends")
		}
	}
	if c.mistakes > before {
		return nil
	}
	return []model.Defect{d}
}

// WriteMarks writes marks.csv in the shop's unit, with nothing filled in. The column of what pieces
// make is there only where some make something.
func WriteMarks(w io.Writer, form []model.Mark, u model.Unit) error {
	made := false
	rows := each(form, func(m *model.Mark) markRow {
		made = made || m.Makes != ""
		return markRow{Board: text(m.Board), Row: number(m.Row), Commission: text(m.Commission),
			Part: text(m.Part), Copy: countOrBlank(m.Copy), Offcut: text(m.Offcut),
			Length: inputLength(m.Length, u), Width: inputLength(m.Width, u), Makes: text(m.Makes)}
	})
	if made {
		return writeRows(w, rows)
	}
	return writeRows(w, each(rows, func(r *markRow) plainMarkRow { return plainMarkRow(*r) }))
}

package csvfile

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"rackwright/model"
)

// no is the word in a cell that says no, where a blank says nothing.
const no = "no"

// Count reads the sheet of a count: each row that says yes is a board that was found. Without a
// column found, each row is. A board whose id was legible needs no more.
func (f *File) Count(take func(model.Found)) {
	eachRow(f, countNeeds, func(c Cells, row countRow) {
		there := strings.ToLower(string(row.Found))
		if slices.Contains(c.header, "found") {
			switch {
			case !c.filledAs("found", string(row.Found), "write yes, or no if it is not there"):
				return
			case there == no:
				return
			case there != yes:
				c.Bad(model.CodeWord, "found",
					fmt.Sprintf("%.40q is neither yes nor no", string(row.Found)),
					"write yes, or no if it is not there")
				return
			}
		}
		found := model.Found{ID: string(row.Board), Material: string(row.Material),
			Section: c.section("section", row.Section), Bin: string(row.Bin),
			Note: string(row.Note), Where: c.Where()}
		if found.ID == "" {
			const remedy = "write it, or the id of the board"
			c.filledAs("material", found.Material, remedy)
			c.filledAs("section", string(row.Section), remedy)
			c.filledAs("length", string(row.Length), remedy)
		}
		found.Length = c.measured("length", row.Length, model.LongestBoard)
		found.Width = c.measured("width", row.Width, model.WidestBoard)
		take(found)
	})
}

// filledAs is filled with a remedy of its own.
func (c Cells) filledAs(column, s, remedy string) bool {
	if s == "" {
		c.Bad(model.CodeEmptyCell, column, "the cell is empty", remedy)
	}
	return s != ""
}

// measured reads a length, if there is one; it is above 0 and of a board.
func (c Cells) measured(column string, n number, most model.Length) model.Length {
	if n == "" {
		return 0
	}
	before := c.mistakes
	l := c.length(column, n)
	if c.mistakes == before && (l <= 0 || l > most) {
		c.Bad(model.CodeRange, column, fmt.Sprintf("no board has %.40q", string(n)),
			"measure the board and write what the tape says")
	}
	return l
}

// WriteCount writes the sheet to fill in for a count, in the shop's unit: bin by bin, those of one
// kind of wood together, the longest first. What was found and the note are left blank.
func WriteCount(w io.Writer, rack []model.Board, u model.Unit) error {
	rack = slices.SortedStableFunc(slices.Values(rack), func(a, b model.Board) int {
		return cmp.Or(cmp.Compare(a.Bin, b.Bin), cmp.Compare(a.Material, b.Material),
			cmp.Compare(a.Section, b.Section), cmp.Compare(b.Length, a.Length))
	})
	return writeRows(w, each(rack, func(b *model.Board) countRow {
		return countRow{Bin: text(b.Bin), Board: text(b.ID), Material: text(b.Material),
			Section: number(b.Section), Length: inputLength(b.Length, u),
			Width: inputLength(b.Width, u)}
	}))
}

package csvfile

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"rackwright/model"
)

// no is the word in a cell that says no, where a blank says nothing.
const no = "no"

// counted is the word in a row of a bin alone that says that the bin was counted.
const counted = "counted"

// Count reads the sheet of a count. Each row that says yes is a board that was found; without a
// column found, each row is. A board whose id was legible needs no more. Where rows say of bins
// that they were counted, no others were.
func (f *File) Count(take func(model.Found), bin func(name string)) {
	const remedy = "write yes, or no if it is not there"
	eachRow(f, countNeeds, func(c Cells, row countRow) {
		if slices.Contains(c.header, "found") {
			switch there := strings.ToLower(string(row.Found)); {
			case !c.filledAs("found", string(row.Found), remedy):
				return
			case there == no:
				return
			case there == counted:
				if row.onlyBin() {
					bin(string(row.Bin))
				} else {
					c.Bad(model.CodeContradiction, "found", "the row is of a board, not of a bin",
						remedy)
				}
				return
			case there != yes:
				c.Bad(model.CodeWord, "found",
					fmt.Sprintf("%.40q is neither yes nor no", string(row.Found)), remedy)
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

// onlyBin says whether a row names no board.
func (r *countRow) onlyBin() bool {
	return r.Board == "" && r.Material == "" && r.Section == "" && r.Length == "" && r.Width == ""
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

// WriteCount writes the sheet to fill in for a count of some bins, or of all where bins is nil, in
// the shop's unit and in the order of [model.BinByBin]. Of some, each has a row that says so. What
// was found and the note are left blank.
func WriteCount(w io.Writer, rack []model.Board, bins []string, u model.Unit) error {
	var rows []countRow
	for _, b := range bins {
		rows = append(rows, countRow{Bin: text(b), Found: counted})
	}
	for _, b := range model.BinByBin(rack, bins) {
		rows = append(rows, countRow{Bin: text(b.Bin), Board: text(b.ID),
			Material: text(b.Material), Section: number(b.Section),
			Length: inputLength(b.Length, u), Width: inputLength(b.Width, u)})
	}
	return writeRows(w, rows)
}

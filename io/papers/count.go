package papers

import (
	"fmt"
	"io"
	"strings"

	"rackwright/io/report"
	"rackwright/model"
)

const (
	countType = 9.5
	countRow  = 8.2 // a row is at least so high
	spareRows = 3   // in each bin, for boards that have no row there
)

// countColumns are those of the sheet of a count.
var countColumns = []column{{head: "board", width: 27}, {head: "wood", width: 35},
	{head: "length", width: 21, right: true}, {head: "width", width: 15, right: true},
	{head: "length is", width: 19}, {head: "width is", width: 17}, {head: "note"}}

// Count writes the sheet to fill in by hand for a count of the rack, or of some bins where bins is
// not nil. It goes bin by bin, with a row for each board in the order of [model.BinByBin], and rows
// for what else is found. The Job of opt is the name of the shop.
func Count(w io.Writer, set *model.Settings, rack []model.Board, bins []string, opt Options) error {
	about := "date ____________"
	if opt.Job != "" {
		about = "shop " + opt.Job + ", " + about
	}
	s := &countSheet{blankSheet(set.Units, opt.Paper, "Count", printable(about), ""), set, nil}
	s.page()
	s.set(headType, true)
	s.para(side, "Count of the rack")
	s.set(plainType, false)
	if bins == nil {
		bins = set.BinNames(rack)
	} else {
		s.para(side, "Counted are only: "+strings.Join(report.Bins(bins...), ", ")+".")
	}
	for _, text := range countWords {
		s.para(side, text)
	}
	if len(bins) == 0 {
		bins = []string{""}
	}
	for _, bin := range bins {
		s.bin(bin, model.BinByBin(rack, []string{bin}))
	}
	return s.write(w)
}

// countWords say how to count.
var countWords = []string{
	"Tick each board that is there. Where it measures otherwise, write what the tape says.",
	"Write each other board into the empty rows of its bin, with its id where it can be read.",
	"Then fill in count.csv by this paper, and set it against the book: rackwright reconcile.",
}

type countSheet struct {
	*sheet
	settings *model.Settings
	columns  []column
}

// bin sets one bin.
func (s *countSheet) bin(name string, boards []model.Board) {
	s.set(countType, false)
	s.indent = s.boxSize() + between
	s.columns = s.spread(countColumns)
	title := report.Bins(name)[0]
	s.need(10 + 6 + 3*countRow)
	s.y += 4
	s.set(woodType, true)
	s.mark(title, 0)
	s.para(side, fmt.Sprintf("%s, %s", title, report.Count(len(boards), "board")))
	s.head()
	s.again = func() {
		s.set(plainType, true)
		s.put(side, s.y, s.cut(title+", continued", s.w-2*side))
		s.y += s.line() + 1
		s.head()
	}
	for i := range boards {
		b := &boards[i]
		s.row([]string{b.ID, strings.TrimSpace(fmt.Sprint(b.Material, " ", b.Section, " ",
			b.Surface)), s.settings.Show(b.Length), s.settings.Show(b.Width), "", "", ""})
	}
	for range spareRows {
		s.row(make([]string, len(s.columns)))
	}
	s.again = nil
}

// head sets the heads of the columns.
func (s *countSheet) head() {
	s.set(small, false)
	s.rowLine(s.columns, func(c int) string { return s.columns[c].head })
	s.y += s.line() + 0.6
	s.rule(side, s.w-side, s.y, fine)
	s.set(countType, false)
}

// row sets one row with a box to tick, lines between its columns, and room to write.
func (s *countSheet) row(cells []string) {
	broken, lines := s.broken(s.columns, cells)
	height := max(countRow, float64(lines)*s.line()+2*room)
	s.need(min(height, kept))
	top := s.y
	s.y += (min(height, countRow) - s.line()) / 2
	s.box(side, s.y)
	for n := range lines {
		if s.y+s.line() > s.floor {
			s.dividers(top, s.y)
			s.page()
			top = s.y
		}
		s.rowLine(s.columns, func(c int) string {
			if n < len(broken[c]) {
				return broken[c][n]
			}
			return ""
		})
		s.y += s.line()
	}
	s.y = max(top+min(height, countRow), s.y+room)
	s.dividers(top, s.y)
	s.rule(side, s.w-side, s.y, hair)
}

// dividers draws the lines between the columns.
func (s *countSheet) dividers(from, to float64) {
	s.pdf.SetLineWidth(hair)
	x := side + s.indent
	for _, c := range s.columns {
		s.pdf.Line(x-between/2, from, x-between/2, to)
		x += c.width + between
	}
}

package papers

import "strings"

// column is one of a table: its head, its width, and whether its cells end at its right
// side.
type column struct {
	head  string
	width float64
	right bool
}

// loud stands before a cell that is bold.
const loud = "\x01"

// bare is a cell without its mark, in the type that the mark asks for.
func (s *sheet) bare(cell string) string {
	text, isLoud := strings.CutPrefix(cell, loud)
	s.set(s.size, isLoud)
	return text
}

const (
	between = 2.5 // columns
	room    = 1.6 // below a row
	kept    = 60  // rows that are not higher than this stay on one page
)

// rows sets a table with a box to tick before each row. Its head stands on each page again. A
// column of width 0 takes what the others leave.
func (s *sheet) rows(columns []column, cells [][]string, size float64) {
	s.set(size, false)
	s.indent = s.boxSize() + between
	columns = s.spread(columns)
	head := func() {
		s.set(small, false)
		s.rowLine(columns, func(c int) string { return columns[c].head })
		s.y += s.line() + 0.8
		s.rule(side, s.w-side, s.y-0.4, fine)
		s.set(size, false)
	}
	s.need(3 * s.line())
	head()
	before := s.again
	s.again = func() {
		if before != nil {
			before()
		}
		head()
	}
	for _, row := range cells {
		s.row(columns, row)
	}
	s.again = before
}

// spread gives a column of width 0 what is left.
func (s *sheet) spread(columns []column) (out []column) {
	left := s.w - 2*side - s.indent
	for n, c := range columns {
		if left -= c.width; n > 0 {
			left -= between
		}
	}
	for _, c := range columns {
		if c.width == 0 {
			c.width = left
		}
		out = append(out, c)
	}
	return out
}

// broken breaks the cells of a row, where they say so and where they must, and counts its lines.
func (s *sheet) broken(columns []column, cells []string) (broken [][]string, lines int) {
	for c := range columns {
		var cell []string
		for text := range strings.SplitSeq(s.bare(cells[c]), "\n") {
			cell = append(cell, s.lines(text, columns[c].width)...)
		}
		if s.bold {
			for n := range cell {
				cell[n] = loud + cell[n]
			}
		}
		broken = append(broken, cell)
		lines = max(lines, len(broken[c]))
	}
	s.set(s.size, false)
	return broken, lines
}

// rowHeight is how high a row is.
func (s *sheet) rowHeight(columns []column, cells []string) float64 {
	_, lines := s.broken(columns, cells)
	return float64(lines)*s.line() + room
}

func (s *sheet) row(columns []column, cells []string) {
	broken, most := s.broken(columns, cells)
	if height := float64(most)*s.line() + room; height <= kept {
		s.need(height)
	}
	for n := range most {
		s.need(s.line() + room)
		if n == 0 {
			s.box(side, s.y)
		}
		s.rowLine(columns, func(c int) string {
			if n < len(broken[c]) {
				return broken[c][n]
			}
			return ""
		})
		s.y += s.line()
	}
	s.y += room
	s.rule(side, s.w-side, s.y-room/2, hair)
}

// rowLine sets one line of a row.
func (s *sheet) rowLine(columns []column, cell func(c int) string) {
	x := side + s.indent
	for c, col := range columns {
		text := s.bare(cell(c))
		if col.right {
			s.putRight(x+col.width, s.y, text)
		} else {
			s.put(x, s.y, text)
		}
		x += col.width + between
	}
	s.set(s.size, false)
}

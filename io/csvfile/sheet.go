package csvfile

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/gocarina/gocsv"

	"rackwright/io/textfile"
	"rackwright/model"
)

// MaxBytes is how long a file may be.
const MaxBytes = 64 << 20

// Limits within a file; what is above is refused before it is worked on.
const (
	maxCell = 64 << 10
	maxList = 16 << 20 // of the ids in column boards: the longest for each row of cuts.csv
	maxRows = 200_000
)

// A sheet is one CSV file behind the strict reader: every row has as many cells as the header, no
// cell is broken. Since no cell may go over a line end, each line is read by itself: a quote left
// open harms its own line only, and line numbers are true.
type sheet struct {
	file     string
	comma    rune
	header   []string
	at       int // line of the header
	rows     [][]string
	lines    []int
	mistakes int
	m        *model.Mistakes
	foreign  bool // a byte that is not UTF-8 was reported

	signs [kinds]model.Signs
	told  [kinds]bool // that a number is read as a thousand
}

// GetCSVRows gives gocsv the header and the rows.
func (s *sheet) GetCSVRows() ([][]string, error) {
	return append([][]string{s.header}, s.rows...), nil
}

func (s *sheet) wrong(code string, line int, column, cause, remedy string) {
	s.add(&model.InputError{Code: code, File: s.file, Line: line, Column: column, Cause: cause,
		Remedy: remedy})
}

func (s *sheet) add(e *model.InputError) {
	s.mistakes++
	s.m.Add(e)
}

// readSheet reads one file into rows of R, whose csv tags are the known columns, the required ones
// first. Where the sheet then has mistakes, there are no rows, or some are left out.
func readSheet[R any](m *model.Mistakes, file string, data []byte, required int) (s *sheet,
	rows []R) {
	s = &sheet{file: file, m: m}
	var known []string
	for t, i := reflect.TypeFor[R](), 0; i < t.NumField(); i++ {
		if name := t.Field(i).Tag.Get("csv"); name != "-" {
			known = append(known, name)
		}
	}
	if !s.read(data, known, required) {
		return s, nil
	}
	// our cells take any text, so this is a fault of ours
	if err := gocsv.UnmarshalDecoder(s, &rows); err != nil {
		s.wrong(model.CodeUnreadable, 0, "", "the rows cannot be taken in ("+err.Error()+")",
			"report this with the file")
	}
	return s, rows
}

// read fills the sheet; it says whether the header does.
func (s *sheet) read(data []byte, known []string, required int) bool {
	if len(bytes.TrimPrefix(data, []byte("\ufeff"))) == 0 {
		s.wrong(model.CodeEmptyFile, 0, "", "the file has no bytes",
			"write at least its header line: "+strings.Join(known[:required], ","))
		return false
	}
	data, refused := textfile.Text(data, s.file)
	if refused != nil {
		s.add(refused)
		return false
	}
	if n := bytes.Count(data, []byte("\n")); n > maxRows+1 {
		s.wrong(model.CodeTooBig, 0, "",
			fmt.Sprintf("the file has %d lines, more than %d", n, maxRows),
			"see that it is the right file, or plan fewer rows at once")
		return false
	}
	lines := bytes.Split(data, []byte("\n"))
	for n := 0; n < len(lines); n++ {
		if s.mistakes > model.MostMistakes {
			return false // no more are listed, and half a table would only make more of them
		}
		line := bytes.TrimSuffix(lines[n], []byte("\r"))
		if len(bytes.TrimSpace(line)) == 0 {
			continue
		}
		if s.header == nil {
			s.at = n + 1
			if !s.readHeader(line, known, required) {
				return false
			}
			continue
		}
		cells, err := split(line, s.comma)
		if err != nil {
			n += s.quoteWrong(lines[n:], n+1)
			continue
		}
		if slices.ContainsFunc(cells, func(c string) bool { return strings.TrimSpace(c) != "" }) &&
			s.rightCells(cells, n+1) {
			s.rows, s.lines = append(s.rows, cells), append(s.lines, n+1)
		}
	}
	if s.header == nil {
		s.wrong(model.CodeEmptyFile, 0, "", "the file has blank lines only",
			"write at least its header line: "+strings.Join(known[:required], ","))
	}
	return s.header != nil
}

// readHeader finds the separator, which is the one that yields most known names, and judges the
// names.
func (s *sheet) readHeader(line []byte, known []string, required int) bool {
	most := -1
	for _, comma := range []rune{',', ';', '\t'} {
		cells, err := split(line, comma)
		hits := 0 // known names first, then the count of cells
		for i, c := range cells {
			var is bool
			if cells[i], is = columnName(c, known); is {
				hits += 1000
			}
		}
		hits += min(len(cells), 999)
		if err == nil && hits > most {
			most, s.comma, s.header = hits, comma, cells
		}
	}
	if s.header == nil {
		s.quoteWrong([][]byte{line}, s.at)
		return false
	}
	sound := true
	wrong := func(code, column, cause, remedy string) {
		s.wrong(code, s.at, column, cause, remedy)
		sound = false
	}
	for i, c := range s.header {
		if c == "" {
			continue // a spreadsheet's empty column: no row may have a cell in it
		}
		if !utf8.ValidString(c) {
			s.add(textfile.Foreign(s.file, s.at, fmt.Sprintf("column %d", i+1), firstForeign(c)))
			return false
		} else if strings.ContainsFunc(c, unicode.IsControl) {
			wrong(model.CodeControl, fmt.Sprintf("column %d", i+1),
				"there is a control character in the name of the column", "write the name anew")
		} else if !slices.Contains(known, c) {
			c = fmt.Sprintf("%.100s", c)
			wrong(model.CodeUnknownColumn, c, "there is no such column",
				fmt.Sprintf("the nearest known one is %s; all are %s", model.Nearest(c, known),
					strings.Join(known, ", ")))
		} else if slices.Index(s.header, c) < i {
			wrong(model.CodeColumnTwice, c, "the column stands twice", "take one out")
		}
	}
	for _, c := range known[:required] {
		if !slices.Contains(s.header, c) {
			wrong(model.CodeMissingColumn, c, "the column is missing",
				"add it to the header line and write its cells")
		}
	}
	return sound
}

// columnName gives the known name that a cell of the header stands for, case and blanks apart; else
// the cell itself.
func columnName(cell string, known []string) (name string, is bool) {
	folded := model.FoldName(cell)
	if i := slices.IndexFunc(known, func(k string) bool {
		return model.FoldName(k) == folded
	}); i >= 0 {
		return known[i], true
	}
	return strings.TrimSpace(cell), false
}

// rightCells judges the count of the cells of a row, and each cell as text.
func (s *sheet) rightCells(cells []string, line int) bool {
	before := s.mistakes
	if len(cells) != len(s.header) {
		s.wrong(model.CodeCellCount, line, "",
			fmt.Sprintf("the row has %d cells, the header has %d", len(cells), len(s.header)),
			fmt.Sprintf("write %d cells, parted by %s, and put a cell that has this sign in "+
				"it in quotes",
				len(s.header), separatorName(s.comma)))
		return false
	}
	for i, c := range cells {
		name, most := s.column(i), maxCell
		if name == "boards" {
			most = maxList
		}
		switch {
		case len(c) > most:
			s.wrong(model.CodeTooBig, line, name,
				fmt.Sprintf("the cell has more than %d kB", most>>10), "shorten it")
		case !utf8.ValidString(c):
			if !s.foreign { // one is enough: the whole file must be saved again
				s.add(textfile.Foreign(s.file, line, name, firstForeign(c)))
			}
			s.foreign = true
		case strings.ContainsFunc(strings.TrimSpace(c), unicode.IsControl):
			s.wrong(model.CodeControl, line, name, "there is a control character in the cell",
				"write the cell anew")
		case s.header[i] == "" && strings.TrimSpace(c) != "":
			s.wrong(model.CodeCellCount, line, name, "the cell stands in a column without a name",
				"name the column in the header, or empty the cell")
		}
	}
	if s.mistakes > before || s.foreign {
		return false
	}
	for i, c := range cells {
		if cause, remedy := spoiled(strings.TrimSpace(c)); cause != "" && s.header[i] != "note" {
			s.wrong(model.CodeSpoiled, line, s.column(i), cause, remedy)
		}
	}
	return true // the other cells of the row can be judged
}

// quoteWrong reports a line whose quotes are out of place; it gives the number of lines after it
// that belong to the same broken cell.
func (s *sheet) quoteWrong(lines [][]byte, at int) (skip int) {
	var joined []byte
	for i, l := range lines[:min(len(lines), 50)] {
		joined = append(append(joined, l...), '\n')
		if len(joined) > 2*maxCell {
			break
		}
		if cells, err := csvReader(joined, s.comma).Read(); i > 0 && err == nil &&
			len(cells) == len(s.header) {
			s.wrong(model.CodeLineBreak, at,
				s.column(slices.IndexFunc(cells, func(c string) bool {
					return strings.Contains(c, "\n")
				})),
				"the cell goes over more than one line", "write it in one line")
			return i
		}
	}
	s.wrong(model.CodeQuote, at, s.column(misquoted(lines[0], s.comma)),
		"a quote is left open or stands in the middle of a cell",
		`write inches as 35 1/4 or 35 1/4in, or put the cell in quotes and double the ones `+
			`inside: "35 1/4"""`)
	return 0
}

// misquoted finds the first cell that begins with a quote and does not end with the next single
// one.
func misquoted(line []byte, comma rune) int {
	for n, rest := 0, line; ; n++ {
		rest = bytes.TrimLeft(rest, " ")
		if bytes.HasPrefix(rest, []byte(`"`)) {
			end := 1
			for end < len(rest) &&
				(rest[end] != '"' || bytes.HasPrefix(rest[end+1:], []byte(`"`))) {
				if rest[end] == '"' {
					end++
				}
				end++
			}
			if end >= len(rest) || end+1 < len(rest) && rune(rest[end+1]) != comma {
				return n
			}
			rest = rest[end+1:]
		}
		i := bytes.IndexRune(rest, comma)
		if i < 0 {
			return n
		}
		rest = rest[i+1:]
	}
}

func (s *sheet) column(i int) string {
	if i >= 0 && i < len(s.header) && s.header[i] != "" {
		return s.header[i]
	}
	return fmt.Sprintf("column %d", max(0, i)+1)
}

// split parts one line. A quote is plain text in a cell that does not begin with one, as in 28
// 1/2". In a cell that does, encoding/csv would swallow what follows a misplaced quote. So the
// cells must spell the line that they came from.
func split(line []byte, comma rune) ([]string, error) {
	if !startsQuoted(line, comma) {
		return strings.Split(string(line), string(comma)), nil
	}
	r := csvReader(line, comma)
	r.LazyQuotes = true
	cells, err := r.Read()
	for i, c := range cells {
		_, column := r.FieldPos(i)
		rest := line[column-1:]
		if bytes.HasPrefix(rest, []byte(`"`)) {
			c = `"` + strings.ReplaceAll(c, `"`, `""`) + `"`
		}
		rest, spelled := bytes.CutPrefix(rest, []byte(c))
		if !spelled || len(rest) > 0 && rune(rest[0]) != comma {
			return nil, csv.ErrQuote
		}
	}
	return cells, err
}

func csvReader(data []byte, comma rune) *csv.Reader {
	r := csv.NewReader(bytes.NewReader(data))
	r.Comma, r.FieldsPerRecord, r.TrimLeadingSpace = comma, -1, comma != '\t'
	return r
}

// startsQuoted says whether some cell of the line begins with a quote.
func startsQuoted(line []byte, comma rune) bool {
	begin := true
	for _, b := range line {
		if b == '"' && begin {
			return true
		}
		begin = rune(b) == comma || begin && b == ' '
	}
	return false
}

func firstForeign(s string) byte {
	for i, r := range s {
		if _, n := utf8.DecodeRuneInString(s[i:]); r == utf8.RuneError && n == 1 {
			return s[i]
		}
	}
	return 0
}

func separatorName(r rune) string {
	return map[rune]string{',': "commas", ';': "semicolons", '\t': "tabs"}[r]
}

package csvfile

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"unicode"

	"rackwright/model"
)

// text is a cell with words in it: an id, a name, a note. Blanks at its ends do not count.
type text string

// number is a cell with anything that is measured or counted: lengths, money, dates. Blanks at its
// ends do not count.
type number string

// guarded is a text that a spreadsheet would run as a formula, or one that is already written with
// apostrophes before such a one.
var guarded = regexp.MustCompile(`^'*[=+\-@]`)

// UnmarshalCSV takes the text as it stands, without the apostrophe that guards a formula.
func (t *text) UnmarshalCSV(s string) error {
	s = strings.TrimSpace(s)
	if s != "" && s[0] == '\'' && guarded.MatchString(s) {
		s = s[1:]
	}
	*t = text(s)
	return nil
}

// MarshalCSV writes the text, with an apostrophe before what a spreadsheet would run as a formula.
func (t text) MarshalCSV() (string, error) {
	if guarded.MatchString(string(t)) {
		return "'" + string(t), nil
	}
	return string(t), nil
}

// UnmarshalCSV takes the text as it stands.
func (n *number) UnmarshalCSV(s string) error {
	*n = number(strings.TrimSpace(s))
	return nil
}

// MarshalCSV writes the text as it stands; a value below 0 begins with its sign.
func (n number) MarshalCSV() (string, error) { return string(n), nil }

// Cells are those of one row. The methods make values of them: what cannot be read is a mistake and
// gives the zero value.
type Cells struct {
	*sheet
	from *File
	line int
}

// Bad adds a mistake in the cell of a column.
func (c Cells) Bad(code, column, cause, remedy string) {
	c.wrong(code, c.line, column, cause, remedy)
}

// badly is Bad with the cause and the remedy of a parser of model.
func (c Cells) badly(code, column string, err error) {
	cause, remedy := model.SplitRemedy(err)
	c.Bad(code, column, cause, remedy)
}

// Where is the place of the row.
func (c Cells) Where() model.Where { return model.Where{File: c.file, Line: c.line} }

// Unit is that of bare numbers.
func (c Cells) Unit() model.Unit { return c.from.Unit }

// Mistakes is how many there are in the table so far.
func (c Cells) Mistakes() int { return c.mistakes }

// filled says whether a required cell has something in it.
func (c Cells) filled(column, s string) bool {
	if s == "" {
		c.Bad(model.CodeEmptyCell, column, "the cell is empty", "write the "+column)
	}
	return s != ""
}

// name reads a required text.
func (c Cells) name(column string, t text) string {
	c.filled(column, string(t))
	return string(t)
}

// point puts a decimal point for a decimal comma, which may stand where the separator is another
// sign.
func (c Cells) point(n number) string {
	if c.comma == ',' {
		return string(n)
	}
	return strings.ReplaceAll(string(n), ",", ".")
}

// plain writes a number with a decimal point and without signs between thousands, by the other
// numbers of its kind in the file; one that could be a thousand or a fraction is a mistake.
func (c Cells) plain(of kind, code, column string, n number) (text string, ok bool) {
	if c.from.Ours {
		return c.point(n), true
	}
	text, thousand, err := c.signs[of].Plain(string(n), c.from.fits(of, column))
	if err != nil {
		c.badly(code, column, err)
		return "", false
	}
	if thousand && !c.told[of] {
		c.told[of] = true
		*c.from.Notes = append(*c.from.Notes, model.Note{File: c.file, Text: fmt.Sprintf(
			"%s %s in line %d and its like are read as thousands, %s, by the signs in other cells",
			column, string(n), c.line, text)})
	}
	return text, true
}

// length reads a required length; one that had to be rounded is noted.
func (c Cells) length(column string, n number) model.Length {
	if !c.filled(column, string(n)) {
		return 0
	}
	text, ok := c.plain(ofLength, model.CodeLength, column, n)
	if !ok {
		return 0
	}
	l, rounded, err := model.ParseLength(text, c.from.Unit)
	if err != nil {
		if !c.dateCell(column, string(n), "length") {
			c.badly(model.CodeLength, column, err)
		}
		return 0
	}
	if rounded {
		u := c.from.Unit
		*c.from.Notes = append(*c.from.Notes, model.Note{File: c.file, Line: c.line, Column: column,
			Text: fmt.Sprintf("%s is rounded to %s %s", string(n), l.Decimal(u), u)})
	}
	return l
}

// section reads a section, if there is one.
func (c Cells) section(column string, n number) model.Section {
	if n == "" {
		return ""
	}
	s, err := model.ParseSection(c.point(n))
	if err != nil && !c.dateCell(column, string(n), "section") {
		c.badly(model.CodeSection, column, err)
	}
	return s
}

// What a spreadsheet puts in place of an id, a name or a number: the error of a formula, in any
// language; a number in powers of ten; signs where a column is too narrow.
var (
	formulaError = regexp.MustCompile(`^(#[\p{Lu}/0_¡¿]{2,}[!?]|#N/A|#N/D|#ND|#NV|Err:\d{3})$`)
	powerOfTen   = regexp.MustCompile(`^[+-]?\d([.,]\d+)?E[+-]\d{2,3}$`)
	tooNarrow    = regexp.MustCompile(`^#{3,}$`)
)

// spoiled says what a spreadsheet made of a cell, and what to do; nothing where the cell is sound.
func spoiled(cell string) (cause, remedy string) {
	switch {
	case formulaError.MatchString(cell):
		return fmt.Sprintf("%.40q is the error of a spreadsheet's formula", cell),
			"write what should stand there"
	case powerOfTen.MatchString(cell):
		return fmt.Sprintf("%.40q is what a spreadsheet made of a long number, or of an id with "+
			"an E in it", cell), "write it in full, in a column formatted as text"
	case tooNarrow.MatchString(cell):
		return fmt.Sprintf("%.40q is what a spreadsheet shows in a column too narrow", cell),
			"write what should stand there"
	}
	return "", ""
}

// surface reads how wood comes, if that is said, in any case.
func (c Cells) surface(column string, n number) model.Surface {
	if n == "" {
		return ""
	}
	s, err := model.ParseChoice(string(n), model.Surfaces)
	if err != nil {
		c.badly(model.CodeWord, column, err)
	}
	return s
}

// months are how the names of months begin in the languages of spreadsheets.
const months = `jan|feb|fév|fev|mar|mär|mrz|apr|avr|abr|may|mai|mag|mei|jun|jui|giu|jul|lug|` +
	`aug|aoû|ago|sep|set|oct|okt|ott|nov|dec|dez|déc|dic`

// dateSigns and dateWords are dates as a spreadsheet shows them.
var (
	dateSigns = regexp.MustCompile(
		`^(\d{4}[-./]\d{1,2}[-./]\d{1,2}|\d{1,2}[-./]\d{1,2}[-./]\d{2,4}|\d{1,2}\.\d{1,2}\.)( .*)?$`)
	dateWords = regexp.MustCompile(
		`^(\d{1,4}[-./ ]+)?(` + months + `)\pL{0,7}\.?([-./ ]+\d{1,4})?([-./ ]+\d{2,4})?$`)
)

// dateCell reports a cell in which a spreadsheet made a date of a fraction such as 1/4.
func (c Cells) dateCell(column, s, what string) bool {
	low := strings.ToLower(s)
	if !dateSigns.MatchString(low) && !dateWords.MatchString(low) {
		return false
	}
	remedy := "write it as a decimal such as 0.25, or format the column as text and type it anew"
	if what == "section" {
		remedy = "format the column as text and type it anew, such as 4/4"
	}
	c.Bad(model.CodeDateCell, column,
		fmt.Sprintf("%q is a date: a spreadsheet made it of a fraction", s), remedy)
	return true
}

// grouped is a whole number with signs between thousands, as spreadsheets and people write them.
var (
	grouped = regexp.MustCompile(`^[1-9]\d{0,2}([.,'’\x{a0}\x{202f}\x{2009} ]\d{3})+$`)
	noDigit = regexp.MustCompile(`\D`)
)

// count reads a required whole number of at least least, of what there may be a million of.
func (c Cells) count(column string, n number, least int64) int64 {
	return c.countTo(column, n, least, 1_000_000)
}

// countTo reads a required whole number from least to most.
func (c Cells) countTo(column string, n number, least, most int64) int64 {
	if !c.filled(column, string(n)) {
		return 0
	}
	v, err := strconv.ParseInt(string(n), 10, 64)
	digits := strings.Trim(string(n), "0123456789") == ""
	if digits && err != nil {
		v = math.MaxInt64
	}
	switch {
	case v > most:
		c.Bad(model.CodeCount, column, fmt.Sprintf("%.40q is more than %d", string(n), most),
			fmt.Sprintf("write a whole number up to %d", most))
	case !digits && grouped.MatchString(string(n)):
		c.Bad(model.CodeCount, column, fmt.Sprintf("%.40q has a sign between thousands", string(n)),
			"write "+noDigit.ReplaceAllString(string(n), ""))
	case !digits || v < least:
		c.Bad(model.CodeCount, column,
			fmt.Sprintf("%.40q is not a whole number of %d or more", string(n), least),
			fmt.Sprintf("write a whole number such as %d", max(1, least)))
	default:
		return v
	}
	return 0
}

// pieces reads of how many pieces a part is, if that is said; one piece is as good as nothing said.
func (c Cells) pieces(column string, n number) model.Pieces {
	switch s := string(n); {
	case s == "":
		return 0
	case strings.EqualFold(s, auto):
		return model.Auto
	case strings.ContainsFunc(s, unicode.IsLetter):
		c.Bad(model.CodeWord, column, fmt.Sprintf("%.40q is not known here", s),
			"write auto or how many "+column+" there are, such as 3, or empty the cell")
		return 0
	}
	if v := c.countTo(column, n, 1, model.MostPieces); v > 1 {
		return model.Pieces(v)
	}
	return 0
}

// auto is how a file has [model.Auto].
const auto = "auto"

// money reads a required amount.
func (c Cells) money(column string, n number) model.Money {
	return c.amount(column, n, model.ParseMoney)
}

// total reads a required sum of amounts.
func (c Cells) total(column string, n number) model.Money {
	return c.amount(column, n, model.ParseTotal)
}

func (c Cells) amount(column string, n number,
	parse func(string) (model.Money, error)) model.Money {
	if !c.filled(column, string(n)) {
		return 0
	}
	text, ok := c.plain(ofMoney, model.CodeMoney, column, n)
	if !ok {
		return 0
	}
	v, err := parse(text)
	if err != nil {
		c.badly(model.CodeMoney, column, err)
	}
	return v
}

// date reads a day, if there is one.
func (c Cells) date(column string, n number) string {
	if n == "" || model.ValidDate(string(n)) {
		return string(n)
	}
	c.Bad(model.CodeDate, column, fmt.Sprintf("%.40q is no date", string(n)),
		"write it as year-month-day, such as 2026-04-01")
	return ""
}

// word reads a required word, one of those known.
func (c Cells) word(column string, n number, known ...string) string {
	if !c.filled(column, string(n)) {
		return ""
	}
	for _, k := range known {
		if string(n) == k {
			return k
		}
	}
	c.Bad(model.CodeWord, column, fmt.Sprintf("%.40q is not known here", string(n)),
		fmt.Sprintf("the nearest known one is %s; all are %s", model.Nearest(string(n), known),
			strings.Join(known, ", ")))
	return ""
}

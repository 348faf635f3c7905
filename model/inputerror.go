package model

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// The codes of input errors. They stay the same from version to version; texts may change.
const (
	// Files.
	CodeMissingFile = "missing-file" // a file that must be there is not
	CodeUnreadable  = "unreadable"   // the file cannot be opened or read
	CodeTwoSources  = "two-sources"  // parts.csv beside parts/
	CodeEmptyFile   = "empty-file"   // zero bytes, or no row where one is needed
	CodeTooBig      = "too-big"      // file, cell or row count above its limit
	// UTF-16, a spreadsheet's own file, or other bytes that are no text
	CodeNotText  = "not-text"
	CodeNotUTF8  = "not-utf8"  // bytes of another encoding
	CodeLineEnds = "line-ends" // lines end with CR alone

	// Rows and columns.
	CodeUnknownColumn = "unknown-column"
	CodeMissingColumn = "missing-column"
	CodeColumnTwice   = "column-twice"
	CodeCellCount     = "cell-count" // more or fewer cells than the header
	CodeQuote         = "quote"      // a quote left open or out of place
	CodeLineBreak     = "line-break" // a cell goes over more than one line
	CodeControl       = "control"    // a control character in a cell
	CodeTooMany       = "too-many"   // more mistakes in this file than are worth listing

	// One value.
	CodeEmptyCell = "empty-cell"
	CodeLength    = "length"
	CodeDateCell  = "date-cell" // a spreadsheet made a date of a fraction
	CodeSpoiled   = "spoiled"   // a spreadsheet put an error, or a number cut short, there
	CodeCount     = "count"
	CodeMoney     = "money"
	CodeDate      = "date"
	CodeWord      = "word" // not one of the words that may stand here
	CodeSection   = "section"
	CodeRange     = "range" // readable, but outside its limits

	// Values against each other.
	CodeDuplicate     = "duplicate"
	CodeSpelling      = "spelling"       // differs from another name in case or blanks only
	CodeUnknownBoard  = "unknown-board"  // a defect or a part of a board that is not on the rack
	CodeUnknownDesign = "unknown-design" // an order of a design that is not there
	CodeReversed      = "reversed"       // a span that ends before it begins
	CodeOutside       = "outside"        // a defect that reaches past its board
	CodeNoWidth       = "no-width"       // random width, and none given
	CodeUnknownYard   = "unknown-yard"   // facts of a yard that sells nothing

	// a board reserved for a commission that is not in the job
	CodeUnknownCommission = "unknown-commission"
	CodeContradiction     = "contradiction" // two rows of which one must be wrong

	// Settings and plans.
	CodeSyntax     = "syntax"
	CodeUnknownKey = "unknown-key"
	CodeSetting    = "setting"
	CodePlan       = "plan"
)

// InputError is one mistake in what was given: where, what is wrong, what to do. What is unknown of
// the place is left empty.
type InputError struct {
	Code   string // one of the codes above
	File   string
	Line   int    // from 1
	Column string // name of the column as in the header, or key of a setting
	Cause  string // lower case, no full stop
	Remedy string // what to do: lower case, no full stop
}

// Error gives file:line: column: cause; remedy, all of it [Visible].
func (e *InputError) Error() string {
	return Visible(place(e.File, e.Line, e.Column) + e.Cause + "; " + e.Remedy)
}

// Note is something odd in the input that is allowed.
type Note struct {
	File   string
	Line   int // from 1; 0 where unknown
	Column string
	Text   string // lower case, no full stop
}

// String gives file:line: column: text, all of it [Visible].
func (n Note) String() string { return Visible(place(n.File, n.Line, n.Column) + n.Text) }

func place(file string, line int, column string) string {
	var s strings.Builder
	s.WriteString(file)
	if line > 0 {
		s.WriteString(":" + strconv.Itoa(line))
	}
	if s.Len() > 0 {
		s.WriteString(": ")
	}
	if column != "" {
		s.WriteString(column + ": ")
	}
	return s.String()
}

// MostMistakes of one file are kept.
const MostMistakes = 1000

// Mistakes collects input errors, so that all are reported at once. The zero value is ready for
// use.
type Mistakes struct {
	list  []*InputError
	count map[string]int // by file
	seen  map[InputError]bool
}

// Add takes one mistake. The first one of a cell stands: a later one at the same file, line and
// column, or the very same, is dropped.
func (m *Mistakes) Add(e *InputError) {
	if m.seen == nil {
		m.count, m.seen = map[string]int{}, map[InputError]bool{}
	}
	key := *e
	if e.Line > 0 && e.Column != "" {
		key = InputError{File: e.File, Line: e.Line, Column: e.Column}
	}
	if m.count[e.File] > MostMistakes || m.seen[key] {
		return
	}
	m.count[e.File]++
	m.seen[key] = true
	if m.count[e.File] > MostMistakes {
		e = &InputError{Code: CodeTooMany, File: e.File,
			Cause:  fmt.Sprintf("there are more than %d mistakes", MostMistakes),
			Remedy: "mend the ones listed first"}
	}
	m.list = append(m.list, e)
}

// AddAll takes the mistakes out of err, which came from [Mistakes.Err]; any other error is kept as
// one that names only the file.
func (m *Mistakes) AddAll(file string, err error) {
	switch e := err.(type) {
	case nil:
	case InputErrors:
		for _, one := range e {
			m.Add(one)
		}
	case *InputError:
		m.Add(e)
	default:
		m.Add(&InputError{Code: CodeUnreadable, File: file, Cause: err.Error(),
			Remedy: "see that it can be read"})
	}
}

// in says whether there is a mistake in a row.
func (m *Mistakes) in(w Where) bool {
	return slices.ContainsFunc(m.list, func(e *InputError) bool {
		return e.File == w.File && e.Line == w.Line
	})
}

// Err gives all mistakes sorted by file, line and column as [InputErrors], or nil where there is
// none.
func (m *Mistakes) Err() error {
	if len(m.list) == 0 {
		return nil
	}
	sorted := InputErrors(slices.Clone(m.list))
	slices.SortStableFunc(sorted, func(a, b *InputError) int {
		return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Line, b.Line),
			cmp.Compare(a.Column, b.Column), cmp.Compare(a.Cause, b.Cause))
	})
	return sorted
}

// InputErrors are all mistakes of one input, sorted; never empty.
type InputErrors []*InputError

// Error gives one mistake a line.
func (l InputErrors) Error() string {
	lines := make([]string, len(l))
	for i, e := range l {
		lines[i] = e.Error()
	}
	return strings.Join(lines, "\n")
}

// Unwrap gives the mistakes one by one, for [errors.As].
func (l InputErrors) Unwrap() []error {
	out := make([]error, len(l))
	for i, e := range l {
		out[i] = e
	}
	return out
}

// SplitRemedy parts the text of a parser of this package at its last semicolon: what is wrong; what
// to write.
func SplitRemedy(err error) (cause, remedy string) {
	s := err.Error()
	if i := strings.LastIndex(s, "; "); i >= 0 {
		return s[:i], s[i+2:]
	}
	return s, "write it anew"
}

// Nearest gives the known word with the fewest letters to change, case apart; the first of equals.
// Known is not empty.
func Nearest(word string, known []string) string {
	best, least := known[0], -1
	w := []rune(strings.ToLower(word))
	w = w[:min(len(w), 100)]
	for _, k := range known {
		if d := editDistance(w, []rune(strings.ToLower(k))); least < 0 || d < least {
			best, least = k, d
		}
	}
	return best
}

// Alike says whether one word may be meant as the other: a third of its letters differ at most, or
// they have a word in common.
func Alike(word, other string) bool {
	a, b := strings.ToLower(word), strings.ToLower(other)
	if 3*editDistance([]rune(a), []rune(b)) <= len([]rune(a)) {
		return true
	}
	words := strings.Fields(b)
	return slices.ContainsFunc(strings.Fields(a), func(w string) bool {
		return slices.Contains(words, w)
	})
}

// editDistance is the least number of letters put in, taken out or replaced that makes b of a.
func editDistance(a, b []rune) int {
	dist := make([]int, len(b)+1)
	for j := range dist {
		dist[j] = j
	}
	for i := range a {
		diagonal := dist[0]
		dist[0] = i + 1
		for j := range b {
			d := diagonal
			if a[i] != b[j] {
				d = 1 + min(diagonal, dist[j], dist[j+1])
			}
			diagonal, dist[j+1] = dist[j+1], d
		}
	}
	return dist[len(b)]
}

// Visible writes a text for people: what would steer a terminal or turn the letters after it round
// stands there as an escape such as \x1b or \u202e. These are control characters, line and
// paragraph separators, bidirectional controls and bytes that are no UTF-8. All else is as it is.
func Visible(s string) string {
	if utf8.ValidString(s) && !strings.ContainsFunc(s, steers) {
		return s
	}
	var out strings.Builder
	for i, r := range s {
		_, size := utf8.DecodeRuneInString(s[i:])
		switch {
		case r == '\n':
			out.WriteString(`\n`)
		case r == '\t':
			out.WriteString(`\t`)
		case r == utf8.RuneError && size == 1, r < utf8.RuneSelf && steers(r):
			fmt.Fprintf(&out, `\x%02x`, s[i])
		case steers(r):
			fmt.Fprintf(&out, `\u%04x`, r)
		default:
			out.WriteRune(r)
		}
	}
	return out.String()
}

func steers(r rune) bool {
	if ' ' <= r && r < 0x7f {
		return false // as nearly all are
	}
	return unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) ||
		unicode.In(r, unicode.Zl, unicode.Zp)
}

package model

import "fmt"

// Paper is a size of paper.
type Paper string

// The papers: ISO 216 A4, and the letter of ANSI/ASME Y14.1.
const (
	A4     Paper = "a4"
	Letter Paper = "letter"
)

// Papers are the words for paper.
var Papers = []Paper{A4, Letter}

// LabelSheets are the words for the sheet of labels; the empty one is the paper of all other
// papers.
var LabelSheets = []Paper{"", A4, Letter}

// PaperOf is what a shop prints on that names no paper.
func PaperOf(u Unit) Paper {
	if u == Millimetre {
		return A4
	}
	return Letter
}

// Size is width and height of a sheet, upright.
func (p Paper) Size() (width, height Length) {
	if p == Letter {
		return 17 * UnitsPerInch / 2, 11 * UnitsPerInch
	}
	return 210 * UnitsPerMillimetre, 297 * UnitsPerMillimetre
}

// LabelSheet is how labels lie on their sheet: in rows and columns, all of one size.
type LabelSheet struct {
	Sheet     Paper  `json:"sheet,omitempty"` // empty: the paper of all other papers
	Columns   int64  `json:"columns"`
	Rows      int64  `json:"rows"`
	Top       Length `json:"top"` // margins of the sheet
	Bottom    Length `json:"bottom"`
	Left      Length `json:"left"`
	Right     Length `json:"right"`
	ColumnGap Length `json:"column_gap"` // between two columns
	RowGap    Length `json:"row_gap"`
}

// The smallest label that has room for a name, its sizes and its code.
const (
	NarrowestLabel Length = 30 * UnitsPerMillimetre
	LowestLabel    Length = 15 * UnitsPerMillimetre
	mostLabels            = 50 // in a row or a column
)

// DefaultLabels are those of a shop that says nothing of labels.
func DefaultLabels() LabelSheet {
	const margin = 8 * UnitsPerMillimetre
	return LabelSheet{Columns: 3, Rows: 8, Top: margin, Bottom: margin, Left: margin, Right: margin}
}

// LabelLength is one length of the labels: its key below [labels], and where it is kept.
type LabelLength struct {
	Key   string
	Value *Length
}

// Lengths lists every length of the labels.
func (l *LabelSheet) Lengths() []LabelLength {
	return []LabelLength{{"top", &l.Top}, {"bottom", &l.Bottom}, {"left", &l.Left},
		{"right", &l.Right}, {"column_gap", &l.ColumnGap}, {"row_gap", &l.RowGap}}
}

// On is the paper of the labels, where all other papers are on p.
func (l *LabelSheet) On(p Paper) Paper {
	if l.Sheet != "" {
		return l.Sheet
	}
	return p
}

// Label is where label n of a sheet lies, counted from 0 row by row: along the sheet's width From
// to To, down from its top Left to Right. It is rounded down to a unit of Length.
func (l *LabelSheet) Label(n int64, p Paper) (x, y Span) {
	width, height := l.On(p).Size()
	cell := func(i, count int64, before, after, gap, all Length) Span {
		room := all - before - after - Length(count-1)*gap
		from := before + Length(i)*gap + room*Length(i)/Length(count)
		return Span{from, from + room/Length(count)}
	}
	return cell(n%l.Columns, l.Columns, l.Left, l.Right, l.ColumnGap, width),
		cell(n/l.Columns, l.Rows, l.Top, l.Bottom, l.RowGap, height)
}

// labels judges how labels lie, on the paper that they name or on any.
func (s *Settings) labels(r row) {
	l := &s.Labels
	bad := false
	wrong := func(key, cause, remedy string) {
		bad = true
		r.wrong(CodeSetting, "labels."+key, cause, remedy)
	}
	choice(r, "labels.sheet", l.Sheet, LabelSheets)
	for _, c := range []struct {
		key string
		n   int64
	}{{"columns", l.Columns}, {"rows", l.Rows}} {
		if c.n < 1 || c.n > mostLabels {
			wrong(c.key, fmt.Sprintf("%d is not between 1 and %d", c.n, mostLabels),
				"write how many there are on your sheet")
		}
	}
	for _, v := range l.Lengths() {
		if *v.Value < 0 || *v.Value > 300*UnitsPerMillimetre {
			wrong(v.Key, v.Value.Decimal(Millimetre)+" mm is not between 0 and 300 mm",
				"measure it on your sheet")
		}
	}
	if bad {
		return
	}
	for _, p := range Papers {
		x, y := l.Label(0, p)
		if x.To-x.From < NarrowestLabel || y.To-y.From < LowestLabel {
			wrong("columns", fmt.Sprintf("a label would be %s by %s mm on %s; it needs %s by %s mm",
				tenths(x.To-x.From), tenths(y.To-y.From), l.On(p),
				NarrowestLabel.Decimal(Millimetre), LowestLabel.Decimal(Millimetre)),
				"write fewer columns or rows, or smaller margins and gaps")
			return
		}
	}
}

// tenths writes a length in millimetres to a tenth, rounded down; below 0 it is 0.
func tenths(l Length) string {
	l = max(0, l) / (UnitsPerMillimetre / 10)
	return fmt.Sprintf("%d.%d", l/10, l%10)
}

package report

import (
	"fmt"
	"io"

	"rackwright/io/table"
	"rackwright/model"
)

// CountLine is what a count found of one board, under one of the heads of [CountHeads]: what it is
// about, the line of the sheet if there is one, and what that comes to in money. What agrees is
// only added up.
type CountLine struct {
	Head, Board, What string
	Line              int
	Worth             model.Money
}

// The heads of what a count found, in the order in which they are told.
const (
	Agrees    = "agree"
	WrongBin  = "wrong bin"
	OtherSize = "other size"
	Missing   = "missing"
	NewFound  = "found"
)

// CountHeads are all heads.
var CountHeads = []string{Agrees, WrongBin, OtherSize, Missing, NewFound}

// Bins are what bins are called, also the empty name.
func Bins(names ...string) (words []string) {
	for _, b := range names {
		if b == "" {
			b = "In no bin"
		}
		words = append(words, b)
	}
	return words
}

// Counted tells what a count found: how many boards of each head and what they come to, then a line
// for each that does not agree, then what nobody can tell.
func Counted(w io.Writer, s *model.Settings, lines []CountLine, doubts []string, width int) error {
	p := printer{w: w, job: &model.Job{Settings: *s}, width: width}
	var rows, details [][]string
	for _, head := range CountHeads {
		n, sum := 0, model.Money(0)
		for _, l := range lines {
			if l.Head != head {
				continue
			}
			n, sum = n+1, sum+l.Worth
			if head == Agrees {
				continue
			}
			line := ""
			if l.Line > 0 {
				line = fmt.Sprint(l.Line)
			}
			details = append(details, []string{head, l.Board, line, l.What, Money(l.Worth)})
		}
		rows = append(rows, []string{head, fmt.Sprint(n), Money(sum)})
	}
	p.table([]table.Column{{Name: "count"}, {Name: "boards", Align: table.Right},
		{Name: "worth", Align: table.Right}}, rows)
	if len(details) > 0 {
		p.line("")
		p.table([]table.Column{{Name: "count"}, {Name: "board"}, {Name: "line", Align: table.Right},
			{Name: "what"}, {Name: "worth", Align: table.Right}}, details)
	}
	if len(doubts) > 0 {
		p.line("")
	}
	for _, d := range doubts {
		p.item("  ", "%s", d)
	}
	p.line("")
	return p.err
}

package report

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"rackwright/io/table"
	"rackwright/model"
)

// OldBoard is a board that has lain on the rack for long.
type OldBoard struct {
	model.Board
	Before bool        // it lay there before the date of its Since, nobody knows for how long
	Worth  model.Money // 0 where there is no price
	Used   string      // when a plan was last booked that uses wood of its kind, or empty
}

// OldBin is a bin with so many boards, and so many of them that have lain for long.
type OldBin struct {
	Name        string
	Boards, Old int
	Most        *int64 // boards that it has room for; nil: nobody says
}

// RackOld lists boards that have lain on the rack since a date or longer, out of so many in all,
// then bin by bin what would make room. Of some boards nobody knows since when they are there.
func RackOld(w io.Writer, s *model.Settings, old []OldBoard, bins []OldBin, since string,
	all, unknown, width int) error {
	p := printer{w: w, job: &model.Job{Settings: *s}, width: width}
	if len(old) > 0 {
		p.oldBoards(old)
		p.line("")
	}
	var length model.Length
	var worth model.Money
	for i := range old {
		length, worth = length+old[i].Length, worth+old[i].Worth
	}
	if len(old) == 0 {
		p.line("Of %s none has lain there since %s or longer, promised to no plan.",
			count(all, "board"), since)
	} else {
		p.line("%d of %s, %s in all, worth %s %s, there since %s or longer, promised to no plan.",
			len(old), count(all, "board"), s.ShowAtYard(length), Money(worth), s.Currency, since)
	}
	if unknown > 0 {
		p.line("Of %s more nobody knows since when: neither rack.csv nor the book says it.",
			count(unknown, "board"))
	}
	if len(old) > 0 {
		p.line("")
		p.oldBins(bins)
	}
	return p.err
}

func (p *printer) oldBoards(old []OldBoard) {
	columns := []table.Column{{Name: "board"}, {Name: "wood"},
		{Name: "length", Align: table.Right}, {Name: "width", Align: table.Right}, {Name: "bin"},
		{Name: "since"}, {Name: "worth", Align: table.Right}, {Name: "wood used"},
		{Name: "besides"}}
	rows := make([][]string, len(old))
	for i := range old {
		b := &old[i]
		since := b.Since
		if b.Before {
			since += " or before"
		}
		besides := b.Board
		besides.Value = nil // it is the worth
		rows[i] = []string{b.ID, b.Material + " " + string(b.Section), p.show(b.Length),
			p.show(b.Width), b.Bin, since, Money(b.Worth), b.Used,
			strings.Join(p.facts(&besides), "; ")}
	}
	const used = 7
	if !slices.ContainsFunc(old, func(b OldBoard) bool { return b.Used != "" }) {
		columns = slices.Delete(columns, used, used+1)
		for i := range rows {
			rows[i] = slices.Delete(rows[i], used, used+1)
		}
	}
	p.table(columns, rows)
}

// oldBins tells of each bin how many boards it has, and how many would be left.
func (p *printer) oldBins(bins []OldBin) {
	columns := []table.Column{{Name: "bin"}, {Name: "boards", Align: table.Right},
		{Name: "old", Align: table.Right}, {Name: "left", Align: table.Right}}
	room := slices.ContainsFunc(bins, func(b OldBin) bool { return b.Most != nil })
	if room {
		columns = append(columns, table.Column{Name: "room for", Align: table.Right},
			table.Column{Name: "then free", Align: table.Right})
	}
	var rows [][]string
	for _, b := range bins {
		name, left := b.Name, b.Boards-b.Old
		if name == "" {
			name = "no bin"
		}
		row := []string{name, fmt.Sprint(b.Boards), fmt.Sprint(b.Old), fmt.Sprint(left)}
		if room {
			most, free := "", ""
			if b.Most != nil {
				most, free = fmt.Sprint(*b.Most), fmt.Sprint(max(0, *b.Most-int64(left)))
			}
			row = append(row, most, free)
		}
		rows = append(rows, row)
	}
	p.table(columns, rows)
}

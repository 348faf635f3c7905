package report

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"rackwright/io/layout"
	"rackwright/io/table"
	"rackwright/model"
)

// BoardList lists the boards that a plan cuts, a line for each in the order of its cuts: where it
// is, what it is, how it is ripped, and what comes of it. Where lines may be long, it names the
// commissions that are cut from it. No line is longer than width.
func BoardList(w io.Writer, job *model.Job, plan *model.Plan, width int) error {
	p := printer{w: w, job: job, width: width}
	boards := layout.Boards(job, plan)
	if len(boards) == 0 {
		p.line("The plan cuts no board.")
		return p.err
	}
	columns := []table.Column{{Name: "board"}, {Name: "from"}, {Name: "wood"}, {Name: "ripped"},
		{Name: "pieces + offcuts"}}
	rows := make([][]string, len(boards))
	for i, l := range boards {
		rows[i] = []string{l.ID, from(l), fmt.Sprintf("%s %s, %s x %s", l.Material(), l.Section(),
			p.show(l.Size.To), p.show(l.Size.Right)), whenRipped(l), yields(l)}
	}
	if room := width - table.Natural(columns, visible(rows)) - 2; room >= roomForNames {
		columns = append(columns, table.Column{Name: "for"})
		for i, l := range boards {
			rows[i] = append(rows[i], names(commissions(l), room))
		}
	}
	p.table(columns, rows)
	p.line("")
	p.line("%s. Ripped: first, last (after crosscuts), or not at all. From: its bin, rack if "+
		"it has none, or bought.",
		upperFirst(count(len(boards), "board")))
	return p.err
}

// roomForNames is how wide a column of names must be to be worth having.
const roomForNames = 20

// from says where a board is found: its bin, where it has one.
func from(l *layout.Board) string {
	switch {
	case l.Origin() == model.FromYard:
		return "bought"
	case l.Bin == "":
		return "rack"
	}
	return l.Bin
}

// whenRipped says when a board is ripped.
func whenRipped(l *layout.Board) string {
	switch l.First {
	case model.RipFirst:
		return "first"
	case model.CrosscutFirst:
		return "last"
	}
	return "no"
}

// yields counts the pieces that come off a board, and its offcuts.
func yields(l *layout.Board) string {
	pieces, offcuts := 0, 0
	for i := range l.Rows {
		switch l.Rows[i].Kind {
		case model.KindPart:
			pieces++
		case model.KindOffcut:
			offcuts++
		}
	}
	if offcuts == 0 {
		return strconv.Itoa(pieces)
	}
	return fmt.Sprintf("%d + %d", pieces, offcuts)
}

// commissions are those that get something of a board, as they come.
func commissions(l *layout.Board) (out []string) {
	for i := range l.Rows {
		if c := &l.Rows[i]; c.Kind == model.KindPart && !slices.Contains(out, c.Commission) {
			out = append(out, c.Commission)
		}
	}
	return out
}

// names writes as many names as there is room for, and how many more there are.
func names(list []string, room int) string {
	for n := len(list); n > 0; n-- {
		text := strings.Join(list[:n], "; ")
		if n < len(list) {
			text += fmt.Sprintf("; %d more", len(list)-n)
		}
		if table.Width(model.Visible(text)) <= room {
			return text
		}
	}
	return count(len(list), "commission")
}

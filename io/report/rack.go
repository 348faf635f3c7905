package report

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"rackwright/io/layout"
	"rackwright/io/table"
	"rackwright/model"
)

// What is said of the boards on the rack, whatever plan there may be.

// RackList lists boards of the rack, a line for each, out of so many in all. Of a board that is
// promised to a plan it says to which.
func RackList(w io.Writer, s *model.Settings, boards []model.Board, promised map[string]string,
	all, width int) error {
	p := printer{w: w, job: &model.Job{Settings: *s}, width: width}
	if len(boards) == 0 {
		p.line("No board is like that; the rack has %s.", count(all, "board"))
		return p.err
	}
	rows := make([][]string, len(boards))
	var length model.Length
	for i := range boards {
		b := &boards[i]
		rows[i] = []string{b.ID, b.Material + " " + string(b.Section), p.show(b.Length),
			p.show(b.Width), b.Bin, b.Since, promised[b.ID], strings.Join(p.facts(b), "; ")}
		length += b.Length
	}
	columns := []table.Column{{Name: "board"}, {Name: "wood"},
		{Name: "length", Align: table.Right}, {Name: "width", Align: table.Right}, {Name: "bin"},
		{Name: "since"}, {Name: "promised to"}, {Name: "besides"}}
	const plan = 6
	if !slices.ContainsFunc(rows, func(r []string) bool { return r[plan] != "" }) {
		columns = slices.Delete(columns, plan, plan+1)
		for i := range rows {
			rows[i] = slices.Delete(rows[i], plan, plan+1)
		}
	}
	p.table(columns, rows)
	p.line("")
	of := ""
	if len(boards) < all {
		of = fmt.Sprintf(" of %d", all)
	}
	p.line("%s%s, %s in all.", count(len(boards), "board"), of, s.ShowAtYard(length))
	return p.err
}

// facts are what there is to say of a board beside its sizes and its place.
func (p *printer) facts(b *model.Board) (facts []string) {
	say := func(is bool, format string, args ...any) {
		if is {
			facts = append(facts, fmt.Sprintf(format, args...))
		}
	}
	say(b.For != "", "for %s", b.For)
	say(b.Untouched, "untouched")
	say(b.Longest > 0, "longest blank %s", p.show(b.Longest))
	say(len(b.Defects) > 0, "%s", defects(b, p.show))
	if b.Value != nil {
		say(true, "value %s", Money(*b.Value))
	}
	say(b.Surface != "", "%s", b.Surface)
	say(b.Note != "", "%s", b.Note)
	return facts
}

// defects says what is wrong with a board, and where, with lengths as they are to be shown.
func defects(b *model.Board, show func(model.Length) string) string {
	var all []string
	for _, d := range b.Defects {
		at := fmt.Sprintf("%s %s to %s", d.Kind, show(d.From), show(d.To))
		if d.Left != 0 || d.Right != b.Width {
			at += fmt.Sprintf(", %s to %s across", show(d.Left), show(d.Right))
		}
		all = append(all, at)
	}
	return strings.Join(all, "; ")
}

// BoardOnRack says what a board is and where it lies.
func BoardOnRack(s *model.Settings, b *model.Board) string {
	p := printer{job: &model.Job{Settings: *s}}
	text := fmt.Sprintf("%s %s, %s x %s", b.Material, b.Section, p.show(b.Length), p.show(b.Width))
	if b.Bin != "" {
		text += ", " + layout.InBin(b.Bin)
	}
	return strings.Join(append([]string{text}, p.facts(b)...), "; ")
}

// RackChange says what became of a board; without a was it came, without an is it is gone.
func RackChange(s *model.Settings, was, is *model.Board) string {
	switch {
	case was == nil:
		return "came: " + BoardOnRack(s, is)
	case is == nil:
		return "gone: " + BoardOnRack(s, was)
	}
	p := printer{job: &model.Job{Settings: *s}}
	var now []string
	old := p.fields(was)
	for i, f := range p.fields(is) {
		if f != old[i] {
			now = append(now, fmt.Sprintf("%s: %s, was %s", f[0], orNone(f[1]), orNone(old[i][1])))
		}
	}
	return strings.Join(now, "; ")
}

func orNone(text string) string {
	if text == "" {
		return "none"
	}
	return text
}

// fields are the columns of a board, each with what stands in it; lengths exact, as any difference
// counts.
func (p *printer) fields(b *model.Board) [][2]string {
	length := func(l model.Length) string {
		if l == 0 {
			return ""
		}
		return p.exact(l)
	}
	value, untouched := "", ""
	if b.Value != nil {
		value = b.Value.String()
	}
	if b.Untouched {
		untouched = "yes"
	}
	return [][2]string{{"material", b.Material}, {"section", string(b.Section)},
		{"length", length(b.Length)}, {"width", length(b.Width)},
		{"thickness", length(b.Thickness)}, {"surface", string(b.Surface)}, {"bin", b.Bin},
		{"value", value}, {"since", b.Since}, {"for", b.For}, {"untouched", untouched},
		{"longest", length(b.Longest)}, {"note", b.Note}, {"defects", defects(b, p.exact)}}
}

// RackLine is a line about one board: when, what kind of event and what became of it. A date or a
// kind that is empty is left out.
type RackLine struct{ Event, Date, Kind, Board, What string }

// RackLines prints lines about boards under their columns; those that are empty in all lines are
// left out.
func RackLines(w io.Writer, lines []RackLine, width int) error {
	p := printer{w: w, width: width}
	columns := []table.Column{{Name: "event", Align: table.Right}, {Name: "date"}, {Name: "kind"},
		{Name: "board"}, {Name: "what"}}
	rows := make([][]string, len(lines))
	for i, l := range lines {
		rows[i] = []string{l.Event, l.Date, l.Kind, l.Board, l.What}
	}
	for c := len(columns) - 1; c >= 0; c-- {
		if !slices.ContainsFunc(rows, func(r []string) bool { return r[c] != "" }) {
			columns = slices.Delete(columns, c, c+1)
			for i := range rows {
				rows[i] = slices.Delete(rows[i], c, c+1)
			}
		}
	}
	p.table(columns, rows)
	return p.err
}

// Next lists commands of a folder that may be typed next, each with when.
func Next(w io.Writer, dir string, commands [][2]string) error {
	p := printer{w: w}
	p.raw("")
	for _, c := range commands {
		p.raw(model.Visible("  `rackwright " + c[0] + " " + ShellWord(dir) + "` " + c[1]))
	}
	return p.err
}

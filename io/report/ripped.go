package report

import (
	"fmt"
	"strings"

	"rackwright/io/layout"
	"rackwright/model"
)

// rippedBoards tells how the first boards that are ripped are broken down; the rest are named.
func (p *printer) rippedBoards(plan *model.Plan) {
	told, more := 0, []string(nil)
	for _, l := range layout.Boards(p.job, plan) {
		if l.First == model.NotRipped {
			continue
		}
		if told == mostNames {
			more = append(more, l.ID)
			continue
		}
		if told++; told == 1 {
			p.line("")
			p.line("Ripped boards (`rackwright show OUTDIR BOARD` draws one)")
		}
		p.brokenDown(l)
	}
	if len(more) > 0 {
		p.item("  ", "and %s more: %s", count(len(more), "ripped board"), strings.Join(more, ", "))
	}
}

// rips counts the rips of a plan and adds up how long they are, as its boards are cut up.
func rips(job *model.Job, plan *model.Plan) (n int, all model.Length) {
	for _, l := range layout.Boards(job, plan) {
		if l.First == model.NotRipped {
			continue
		}
		cuts, _ := l.Cuts()
		for i := range cuts {
			if m := &cuts[i]; m.Rip {
				n, all = n+1, all+m.Piece.To-m.Piece.From
			}
		}
	}
	return n, all
}

// ripping says how many rips cost what they cost; empty where there is neither rip nor price.
func (p *printer) ripping(plan *model.Plan, cost model.Money) string {
	n, long := rips(p.job, plan)
	per, unit := p.job.Settings.Units.YardUnit()
	rate := p.job.Settings.Ripping
	var told []string
	if n > 0 || rate > 0 && cost == 0 { // a saw without a kerf leaves no trace in the rows
		told = append(told, count(n, "rip"))
	}
	if n > 0 {
		told = append(told, fmt.Sprintf("%.1f %s", float64(long)/float64(per),
			map[string]string{"foot": "feet", "metre": "metres"}[unit]))
	}
	if rate > 0 {
		told = append(told, fmt.Sprintf("at %v a %s", rate, unit))
	}
	return strings.Join(told, ", ")
}

// brokenDown lists the lengths or strips of a board with their blanks, then its offcuts.
func (p *printer) brokenDown(l *layout.Board) {
	p.item("  ", "%s, %s %s, %s x %s: %s", l.ID, l.Rows[0].Material, l.Rows[0].Section,
		p.show(l.Size.To), p.show(l.Size.Right), kindOfCutting(l))
	for _, parts := range l.SideBySide() {
		var size model.Length
		for _, c := range parts {
			span := c.Rect().On(l.Axis())
			size = max(size, span.To-span.From)
		}
		head, allWide := fmt.Sprintf("strip %s wide, crosscut to ", p.show(size)), false
		if l.First == model.CrosscutFirst {
			head = fmt.Sprintf("length %s, ripped to ", p.show(size))
			if allWide = len(parts) == 1 && parts[0].Left == 0 &&
				parts[0].Right == l.Size.Right; allWide {
				head = fmt.Sprintf("length %s, all the width: ", p.show(size))
			}
		}
		p.item("    ", "%s%s", head, p.blanks(l, parts, size, allWide))
	}
	var left []string
	for _, c := range l.Rows {
		if c.Kind == model.KindOffcut {
			left = append(left,
				fmt.Sprintf("%s, %s x %s", c.Offcut, p.show(c.To-c.From), p.show(c.Right-c.Left)))
		}
	}
	if len(left) > 0 {
		p.item("    ", "offcuts: %s", strings.Join(left, "; "))
	}
}

// blanks names the blanks of a length or strip, each behind its size in the other direction. A
// blank that is trimmed to less than size has that said as well.
func (p *printer) blanks(l *layout.Board, parts []*model.Cut, size model.Length, allWide bool) string {
	type alike struct {
		commission, part string
		long, wide       model.Length
	}
	copies, order := map[alike][]string{}, []alike(nil)
	for _, c := range parts {
		k := alike{c.Commission, c.Part, c.To - c.From, c.Right - c.Left}
		if copies[k] == nil {
			order = append(order, k)
		}
		copies[k] = append(copies[k], fmt.Sprint(c.Copy))
	}
	var out []string
	for _, k := range order {
		text := fmt.Sprintf("%s, %s %s", k.commission, k.part, strings.Join(few(copies[k]), ", "))
		switch {
		case allWide:
		case l.First == model.RipFirst:
			text = p.show(k.long) + ": " + text
			if k.wide < size {
				text += ", trimmed to " + p.show(k.wide) + " wide"
			}
		default:
			text = p.show(k.wide) + ": " + text
			if k.long < size {
				text += ", trimmed to " + p.show(k.long) + " long"
			}
		}
		out = append(out, text)
	}
	return strings.Join(out, "; ")
}

func upperFirst(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

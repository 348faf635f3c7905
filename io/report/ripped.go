package report

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"rackwright/model"
)

// rippedBoards tells how the first boards that are ripped are broken down; the rest are named.
func (p *printer) rippedBoards(plan *model.Plan) {
	told, more := 0, []string(nil)
	for i := range plan.Placements {
		if plan.Placements[i].First == model.NotRipped {
			continue
		}
		if told == mostNames {
			more = append(more, plan.Placements[i].Board)
			continue
		}
		l := layoutOf(p.job, plan, plan.Placements[i].Board)
		if l == nil {
			continue
		}
		if told++; told == 1 {
			p.line("")
			p.line("Ripped boards (`rackwright show OUTDIR BOARD` draws one)")
		}
		p.brokenDown(l, &plan.Placements[i])
	}
	if len(more) > 0 {
		p.item("  ", "and %s more: %s", count(len(more), "ripped board"), strings.Join(more, ", "))
	}
}

// brokenDown lists the lengths or strips of a board with their blanks, then its offcuts.
func (p *printer) brokenDown(l *layout, pl *model.Placement) {
	p.item("  ", "%s, %s %s, %s x %s: %s", l.id, l.rows[0].Material, l.rows[0].Section,
		p.exact(l.whole.To), p.exact(l.whole.Right), lowerFirst(kindOfCutting(l.first)))
	for _, pieces := range sideBySide(pl, l) {
		var size model.Length
		for _, c := range pieces {
			size = max(size, c.to-c.from)
		}
		head, whole := fmt.Sprintf("strip %s wide, crosscut to ", p.exact(size)), false
		if l.first == model.CrosscutFirst {
			head = fmt.Sprintf("length %s, ripped to ", p.exact(size))
			if whole = len(pieces) == 1 && pieces[0].Left == 0 &&
				pieces[0].Right == l.whole.Right; whole {
				head = fmt.Sprintf("length %s, all the width: ", p.exact(size))
			}
		}
		p.item("    ", "%s%s", head, p.blanks(l, pieces, size, whole))
	}
	var left []string
	for _, c := range l.rows {
		if c.Kind == model.KindOffcut {
			left = append(left,
				fmt.Sprintf("%s, %s x %s", c.Offcut, p.exact(c.To-c.From), p.exact(c.Right-c.Left)))
		}
	}
	if len(left) > 0 {
		p.item("    ", "offcuts: %s", strings.Join(left, "; "))
	}
}

// laid is a piece by its span in the direction of the first cuts, and by where it begins in the
// other.
type laid struct {
	model.Piece
	from, to, beside model.Length
}

// sideBySide puts the pieces of a board together that share a length (crosscut first) or a strip
// (rip first), in order.
func sideBySide(pl *model.Placement, l *layout) (out [][]laid) {
	var pieces []laid
	for _, c := range pl.Pieces {
		if c.Left == 0 && c.Right == 0 {
			c.Right = l.whole.Right
		}
		if l.first == model.RipFirst {
			pieces = append(pieces, laid{c, c.Left, c.Right, c.From})
		} else {
			pieces = append(pieces, laid{c, c.From, c.To, c.Left})
		}
	}
	slices.SortStableFunc(pieces, func(a, b laid) int { return cmp.Compare(a.from, b.from) })
	var end model.Length
	for _, c := range pieces {
		if len(out) == 0 || c.from >= end {
			out = append(out, nil)
		}
		end = max(end, c.to)
		out[len(out)-1] = append(out[len(out)-1], c)
	}
	for _, group := range out {
		slices.SortStableFunc(group, func(a, b laid) int { return cmp.Compare(a.beside, b.beside) })
	}
	return out
}

// blanks names the blanks of a length or strip behind their size in the other direction, with that
// in this one where they are trimmed to less.
func (p *printer) blanks(l *layout, pieces []laid, size model.Length, whole bool) string {
	type alike struct {
		commission, part string
		long, wide       model.Length
	}
	copies, order := map[alike][]string{}, []alike(nil)
	for _, c := range pieces {
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
		case whole:
		case l.first == model.RipFirst:
			text = p.exact(k.long) + ": " + text
			if k.wide < size {
				text += ", trimmed to " + p.exact(k.wide) + " wide"
			}
		default:
			text = p.exact(k.wide) + ": " + text
			if k.long < size {
				text += ", trimmed to " + p.exact(k.long) + " long"
			}
		}
		out = append(out, text)
	}
	return strings.Join(out, "; ")
}

func lowerFirst(s string) string { return strings.ToLower(s[:1]) + s[1:] }

package shopbook

import (
	"fmt"
	"strconv"
	"strings"

	"rackwright/cmd/rackwright/command"
	"rackwright/io/book"
	"rackwright/io/report"
	"rackwright/model"
)

// What events say, in lines.

// printEvents prints what events say, of one board if one is named.
func printEvents(e *command.Env, s *model.Settings, events []book.Event, board string) error {
	var lines []report.RackLine
	for _, n := range events {
		kind := string(n.Kind)
		if n.Of != 0 {
			kind += " " + strconv.FormatInt(n.Of, 10)
		}
		first := true
		of := eventLines(s, &n, board != "")
		if board == "" && n.Plan != "" {
			of = together(of)
		}
		for _, l := range of {
			if board != "" && l.Board != board {
				continue
			}
			if first {
				l.Event, l.Date, l.Kind = strconv.FormatInt(n.Number, 10), n.Date, kind
			}
			first = false
			lines = append(lines, l)
		}
	}
	return report.RackLines(e.Stdout, lines, e.Columns())
}

// eventLines is what an event says, board by board; what it says of a plan as a whole comes first.
// In full each piece is named that was cut.
func eventLines(s *model.Settings, n *book.Event, full bool) (lines []report.RackLine) {
	say := func(board, format string, args ...any) {
		lines = append(lines, report.RackLine{Board: board, What: fmt.Sprintf(format, args...)})
	}
	if b := n.Booking; b != nil && b.Of != "" {
		say("", "plan %s, in place of %s", n.Plan, b.Of)
	} else if n.Plan != "" {
		say("", "plan %s", n.Plan)
	} else if len(n.Changes) == 0 {
		say("", "it does not count; no board changes")
	}
	if b := n.Booking; b != nil {
		for _, id := range b.Uses {
			say(id, "promised to plan %s", n.Plan)
		}
		for i := range b.Buys {
			say(b.Buys[i].Board.ID, "to come: %s", report.BoardOnRack(s, &b.Buys[i].Board))
		}
	}
	for _, id := range n.Missing {
		say(id, "not delivered")
	}
	cut, off := map[string]*book.BoardCut{}, map[string]string{}
	for i := range n.Done {
		d := &n.Done[i]
		cut[d.Board] = d
		for _, id := range d.Offcuts {
			off[id] = d.Board
		}
	}
	for _, c := range n.Changes {
		switch id := c.ID(); {
		case cut[id] != nil:
			say(id, "%s", cutInto(s, n.Plan, cut[id], c.Is, full))
		case off[id] != "":
			say(id, "offcut of %s: %s", off[id], report.BoardOnRack(s, c.Is))
		case n.Kind == book.Received && full:
			say(id, "came for plan %s: %s", n.Plan, report.BoardOnRack(s, c.Is))
		default:
			lines = append(lines, changeLine(s, c))
		}
	}
	return lines
}

// cutInto says what became of a board that was cut.
func cutInto(s *model.Settings, plan string, d *book.BoardCut, left *model.Board,
	full bool) string {
	spoiled := 0
	var pieces []string
	for _, p := range d.Pieces {
		name := fmt.Sprintf("%s, %s, %d", p.Commission, p.Part, p.Copy)
		if p.Spoiled {
			spoiled++
			name += " (spoiled)"
		}
		pieces = append(pieces, name)
	}
	text := "cut: "
	if full {
		text = "cut for plan " + plan + ": "
	}
	switch n := len(pieces); {
	case full && n > 0:
		text += strings.Join(pieces, "; ")
	case n == 0 && left == nil && len(d.Offcuts) == 0:
		text += "no piece, and nothing is left"
	case n == 0:
		text += "no piece"
	case n == 1:
		text += "1 piece"
	default:
		text += fmt.Sprintf("%d pieces", n)
	}
	if spoiled > 0 && !full {
		text += fmt.Sprintf(", %d spoiled", spoiled)
	}
	if len(d.Offcuts) > 0 {
		text += "; to the rack: " + strings.Join(d.Offcuts, ", ")
	}
	if left != nil {
		text += "; left of it: " + report.BoardOnRack(s, left)
	}
	return text
}

// together puts boards of which the same is said one after the other into one line, if it is said
// of what a plan has in numbers: boards that are promised, are to come, or came.
func together(lines []report.RackLine) (out []report.RackLine) {
	for i := 0; i < len(lines); {
		n := i + 1
		for n < len(lines) && lines[n].What == lines[i].What && lines[n].Board != "" {
			n++
		}
		l := lines[i]
		if n > i+1 {
			var ids []string
			for _, one := range lines[i:n] {
				ids = append(ids, one.Board)
			}
			head, rest, _ := strings.Cut(l.What, ": ")
			l = report.RackLine{What: fmt.Sprintf("%s: %d boards, %s", head, n-i,
				strings.Join(inRuns(ids), ", "))}
			if rest != "" {
				l.What += "; each " + rest
			}
		}
		out = append(out, l)
		i = n
	}
	return out
}

// inRuns names ids whose numbers follow each other by the first and the last of them.
func inRuns(ids []string) (out []string) {
	for i := 0; i < len(ids); {
		n := i + 1
		for n < len(ids) && follows(ids[n-1], ids[n]) {
			n++
		}
		if n-i > 2 {
			out = append(out, ids[i]+" to "+ids[n-1])
		} else {
			out = append(out, ids[i:n]...)
		}
		i = n
	}
	return out
}

// follows says whether an id is that of the number after another's.
func follows(id, next string) bool {
	const digits = "0123456789"
	stem := strings.TrimRight(id, digits)
	a, err1 := strconv.ParseUint(id[len(stem):], 10, 63)
	number, same := strings.CutPrefix(next, stem)
	return same && err1 == nil && number == fmt.Sprintf("%0*d", len(id)-len(stem), a+1)
}

func changeLine(s *model.Settings, c book.Change) report.RackLine {
	return report.RackLine{Board: c.ID(), What: report.RackChange(s, c.Was, c.Is)}
}

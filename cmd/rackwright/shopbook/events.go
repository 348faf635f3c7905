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
		of := eventLines(s, &n)
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
func eventLines(s *model.Settings, n *book.Event) (lines []report.RackLine) {
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
	for _, c := range n.Changes {
		lines = append(lines, changeLine(s, c))
	}
	return lines
}

// together puts boards of which the same is said one after the other into one line, if it is said of
// what a plan has in numbers: boards that are promised, are to come, or came.
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
				strings.Join(ids, ", "))}
			if rest != "" {
				l.What += "; each " + rest
			}
		}
		out = append(out, l)
		i = n
	}
	return out
}

func changeLine(s *model.Settings, c book.Change) report.RackLine {
	return report.RackLine{Board: c.ID(), What: report.RackChange(s, c.Was, c.Is)}
}

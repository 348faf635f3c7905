package shopbook

import (
	"fmt"
	"slices"
	"strings"

	"rackwright/cmd/rackwright/command"
	"rackwright/io/book"
	"rackwright/io/folder"
	"rackwright/io/report"
	"rackwright/model"
	"rackwright/nest/reconcile"
)

// counted is a count set against the rack, and the rack after it.
type counted struct {
	shop   *shopBook
	bins   []string // those that were counted; nil: all
	result *reconcile.Result
	// ids that are kept for what is yet to come, and for which plan
	awaited map[string]string
	fresh   []model.Board // what was found and is new
	after   []model.Board
}

// barred says why a count cannot be entered, and what to do, or nothing.
func (n *counted) barred() string {
	if len(n.result.Doubts) > 0 {
		return "what may be one of several boards is not guessed; write the ids into the column " +
			"board, and onto the boards"
	}
	for i := range n.fresh {
		if plan := n.awaited[n.fresh[i].ID]; plan != "" {
			return fmt.Sprintf("the id %s is kept for plan %s; if this is that board, enter it "+
				"with `rackwright receive` or `rackwright done` first, else give it another id",
				n.fresh[i].ID, plan)
		}
	}
	for _, m := range n.result.Matches {
		if m.Measure {
			return fmt.Sprintf("board %s has defects and another size, so that they must be "+
				"measured anew; change its rows in rack.csv and defects.csv, then `rackwright "+
				"rack take %s`", m.Board.ID, n.shop.typed())
		}
	}
	return ""
}

// newBoards makes boards of what is new. One without an id has F-1, F-2 and so on, which no board
// ever had.
func (n *counted) newBoards(rack []model.Board, date string) error {
	taken := map[string]bool{}
	for _, b := range rack {
		taken[b.ID] = true
	}
	if n.shop.book != nil {
		ever, err := n.shop.book.EverCame()
		if err != nil {
			return n.shop.unsound(err)
		}
		for _, id := range ever {
			taken[id] = true
		}
	}
	for _, f := range n.result.New {
		taken[f.ID] = true
	}
	var all model.InputErrors
	next := 1
	for _, f := range n.result.New {
		for f.ID == "" {
			if id := fmt.Sprint("F-", next); !taken[id] {
				f.ID = id
			}
			next++
		}
		b, mistakes, err := n.board(f, date)
		if err != nil {
			return err
		}
		all = append(all, mistakes...)
		n.fresh = append(n.fresh, b)
	}
	if len(all) > 0 {
		return all
	}
	return nil
}

// board makes one board of what was found.
func (n *counted) board(f model.Found, date string) (model.Board, model.InputErrors, error) {
	size := func(l model.Length) string {
		if l == 0 {
			return ""
		}
		return l.Decimal(n.shop.settings.Units) + " " + string(n.shop.settings.Units)
	}
	b, _, err := folder.ReadBoard(&n.shop.settings, map[string]string{"board": f.ID,
		"material": f.Material, "section": string(f.Section), "length": size(f.Length),
		"width": size(f.Width), "bin": f.Bin, "note": f.Note, "since": date}, nil)
	b.Where = f.Where
	mistakes, ok := err.(model.InputErrors)
	for _, m := range mistakes {
		m.File, m.Line = f.Where.File, f.Where.Line
	}
	if err != nil && !ok {
		return b, nil, err
	}
	return b, mistakes, nil
}

// print tells what came out.
func (n *counted) print(e *command.Env, besides string) error {
	if e.Quiet {
		return nil
	}
	lines, err := n.lines()
	if err != nil {
		return err
	}
	var doubts []string
	for _, d := range n.result.Doubts {
		doubts = append(doubts, doubtful(&d))
	}
	if n.bins != nil {
		fmt.Fprintf(e.Stdout, "Of these bins only: %s\n\n",
			strings.Join(report.Bins(n.bins...), ", "))
	}
	err = report.Counted(e.Stdout, &n.shop.settings, lines, doubts, e.Columns())
	if err == nil && n.result.Nothing() {
		besides = "The count agrees with the book; there is nothing to enter."
	}
	if err == nil && besides != "" {
		_, err = fmt.Fprintln(e.Stdout, report.Wrap(besides))
	}
	return err
}

// doubtful says what something found may be.
func doubtful(d *reconcile.Doubt) string {
	var rows, boards []string
	for _, f := range d.Found {
		rows = append(rows, fmt.Sprint(f.Where.Line))
	}
	for _, b := range d.Boards {
		boards = append(boards, b.ID)
	}
	remedy := "write its id if it has one"
	if d.New {
		boards = append(boards, "a new one")
		remedy = "write its id, or give it one if it is new"
	}
	return fmt.Sprintf("in doubt, line %s: it may be %s; %s", strings.Join(rows, ", "),
		strings.Join(boards, " or "), remedy)
}

// lines are what came out, board by board, with what it is worth.
func (n *counted) lines() (lines []report.CountLine, err error) {
	var boards []model.Board
	for _, m := range n.result.Matches {
		boards = append(boards, m.Board, m.Is)
	}
	worth, err := n.shop.worth(slices.Concat(boards, n.result.Missing, n.fresh))
	if err != nil {
		return nil, err
	}
	add := func(head string, was, is *model.Board, line int, sum model.Money) {
		l := report.CountLine{Head: head, Line: line, Worth: sum}
		c := book.Change{Was: was, Is: is}
		l.Board, l.What = c.ID(), report.RackChange(&n.shop.settings, was, is)
		lines = append(lines, l)
	}
	for i := range n.result.Matches {
		m := &n.result.Matches[i]
		switch is := worth(&m.Is); {
		case m.Size:
			add(report.OtherSize, &m.Board, &m.Is, m.Found.Where.Line, is-worth(&m.Board))
		case m.Bin:
			add(report.WrongBin, &m.Board, &m.Is, m.Found.Where.Line, is)
		default:
			add(report.Agrees, &m.Board, &m.Is, m.Found.Where.Line, is)
		}
	}
	for i := range n.result.Missing {
		add(report.Missing, &n.result.Missing[i], nil, 0, -worth(&n.result.Missing[i]))
	}
	for i := range n.fresh {
		add(report.NewFound, nil, &n.fresh[i], n.fresh[i].Where.Line, worth(&n.fresh[i]))
	}
	return lines, nil
}

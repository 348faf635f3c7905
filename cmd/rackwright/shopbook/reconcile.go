package shopbook

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"rackwright/cmd/rackwright/command"
	"rackwright/io/book"
	"rackwright/io/folder"
	"rackwright/model"
	"rackwright/nest/reconcile"
)

// Reconcile is the command that sets a count against the book.
type Reconcile struct {
	Shop   string `arg:"" help:"Shop folder."`
	Count  string `arg:"" help:"The sheet of the count, filled in."`
	Accept bool   `help:"Enter in the book what is to be put right, all of it."`
	dated
}

func (c *Reconcile) Help() string {
	return `Example: rackwright reconcile shop shop/count.csv

Shows what agrees, lies in a wrong bin, has another size, is missing or is new. Nothing is entered
without --accept.`
}

func (c *Reconcile) Run(e *command.Env) error {
	date, err := c.on()
	if err != nil {
		return err
	}
	if c.Accept {
		return locked(e, c.Shop, date, true, func(s *shopBook) error {
			return c.accept(e, s, date)
		})
	}
	s, err := openShop(c.Shop)
	if err != nil {
		return err
	}
	defer s.close()
	rack, err := s.rack(e)
	if err != nil {
		return err
	}
	n, err := c.count(e, s, rack, date)
	if err != nil {
		return err
	}
	besides := "Nothing is entered yet; --accept enters it."
	if why := n.barred(); why != "" {
		besides = "Nothing is entered, nor will --accept enter it: " + why + "."
	}
	return n.print(e, besides)
}

// accept enters what is to be put right as one event.
func (c *Reconcile) accept(e *command.Env, s *shopBook, date string) error {
	changes, err := s.settle(e)
	if err == nil {
		err = s.byHand(changes)
	}
	if err == nil {
		err = s.writeLast()
	}
	if err != nil {
		return err
	}
	rack, err := s.book.Rack()
	if err != nil {
		return s.unsound(err)
	}
	n, err := c.count(e, s, rack, date)
	if err != nil {
		return err
	}
	if err := n.print(e, ""); err != nil || n.result.Nothing() {
		return err
	}
	if why := n.barred(); why != "" {
		return command.Refuse("%s: %s; nothing is entered", c.Count, why)
	}
	return s.entered(e, date, func() (book.Event, error) {
		return s.book.Enter(book.Event{Date: date, Kind: book.Counted,
			Changes: book.Changes(rack, n.after)})
	})
}

// count reads the sheet and sets it against the rack.
func (c *Reconcile) count(e *command.Env, s *shopBook, rack []model.Board, date string) (*counted,
	error) {
	count, notes, err := folder.ReadCount(os.DirFS(filepath.Dir(c.Count)),
		filepath.Base(c.Count), s.settings.Units)
	for _, n := range notes {
		if !e.Quiet {
			fmt.Fprintln(e.Stderr, n)
		}
	}
	if err != nil {
		return nil, err
	}
	lives, err := s.lives()
	if err != nil {
		return nil, err
	}
	n := &counted{shop: s, bins: count.Bins, awaited: book.Awaited(lives)}
	if n.result, err = reconcile.Count(rack, count, s.settings.CountTolerance); err != nil {
		return nil, err
	}
	if err := n.newBoards(rack, date); err != nil {
		return nil, err
	}
	now := map[string]model.Board{}
	for _, m := range n.result.Matches {
		now[m.Board.ID] = m.Is
	}
	for _, b := range rack {
		if is, there := now[b.ID]; there {
			n.after = append(n.after, is)
		} else if !model.In(count.Bins, b.Bin) {
			n.after = append(n.after, b)
		}
	}
	n.after = append(n.after, n.fresh...)
	var m model.Mistakes
	job := model.Job{Settings: s.settings, Rack: n.after}
	job.Settings.Yards = nil
	if !slices.ContainsFunc(n.result.Matches, func(m reconcile.Match) bool { return m.Measure }) {
		job.Validate(&m)
	}
	return n, m.Err()
}

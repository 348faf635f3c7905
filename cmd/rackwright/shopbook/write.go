package shopbook

import (
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"slices"
	"time"

	"rackwright/cmd/rackwright/command"
	"rackwright/cmd/rackwright/place"
	"rackwright/io/book"
	"rackwright/io/folder"
	"rackwright/io/report"
	"rackwright/model"
)

// The book of a shop folder, and the rack.csv and defects.csv that are written from it.
//
// Who writes holds the lock of the book from before it looks at the files until they are written
// anew: so they never go back to an older event. An event is entered first, then both files are
// written, then the book notes so. After a run that was killed in between, each file is that of the
// event noted or of the last one. Then, and only then, they are written anew without being asked.

// make makes the book from the files that are there, and says so.
func (s *shopBook) make(e *command.Env, date string) error {
	job, _, err := folder.ReadRack(s.files)
	if err != nil {
		return err
	}
	fresh := place.NewOf(s.path(BookFile))
	err = book.Create(fresh, date, book.Changes(nil, job.Rack))
	if err == nil {
		err = place.Rename(fresh, s.path(BookFile))
	}
	if err == nil {
		err = place.SyncFolder(s.dir)
	}
	if err == nil {
		s.book, err = book.Open(s.path(BookFile))
	}
	if err != nil {
		os.Remove(fresh)
		return command.Refuse(
			"%s: cannot be made (%v); put that right", s.path(BookFile), command.Reason(err))
	}
	if !e.Quiet {
		fmt.Fprintf(e.Stderr, "rackwright: the book is made, %s; it begins with the boards of "+
			"rack.csv: %d\n", s.path(BookFile), len(job.Rack))
	}
	if s.book.OnNetwork() && !e.Quiet {
		fmt.Fprint(e.Stderr, "rackwright: it lies on a disk of another machine, so it has a "+
			"rollback journal in place of a write-ahead log; let one machine at a time write\n")
	}
	return nil
}

// settle writes the files anew where a killed run left them behind the book, and says what else
// they differ from the book in.
func (s *shopBook) settle(e *command.Env) ([]book.Change, error) {
	state, err := s.book.State()
	if err != nil {
		return nil, s.unsound(err)
	}
	rack, err := s.book.Rack()
	if err != nil {
		return nil, s.unsound(err)
	}
	job, _, mistakes := folder.ReadRack(s.files)
	var changes []book.Change
	if mistakes == nil {
		changes = book.Changes(rack, job.Rack)
	}
	if state.Written < state.Last && (mistakes != nil || len(changes) > 0) {
		left, err := s.leftByRun(state, rack)
		if err != nil {
			return nil, err
		}
		if left {
			fmt.Fprintf(e.Stderr, "rackwright: an earlier run was ended while it wrote; rack.csv "+
				"and defects.csv in %s are written anew from the book\n", s.dir)
			return nil, s.write(state.Last, rack)
		}
	}
	return changes, mistakes
}

// leftByRun says whether each file is, byte by byte, that of the event up to which they are known
// to be written, or that of the last one.
func (s *shopBook) leftByRun(state book.State, rack []model.Board) (bool, error) {
	events, err := s.book.Events()
	if err != nil {
		return false, s.unsound(err)
	}
	before, err := book.Rack(events[:state.Written])
	if err != nil {
		return false, s.unsound(err)
	}
	old, err1 := folder.EncodeRack(before, s.settings.Units)
	now, err2 := folder.EncodeRack(rack, s.settings.Units)
	for name := range now {
		is, err := fs.ReadFile(s.files, name)
		if err != nil || string(is) != string(old[name]) && string(is) != string(now[name]) {
			return false, errors.Join(err1, err2)
		}
	}
	return true, errors.Join(err1, err2)
}

// write writes the files of the rack after an event, and notes so in the book.
func (s *shopBook) write(event int64, rack []model.Board) error {
	files, err := folder.EncodeRack(rack, s.settings.Units)
	if err != nil {
		return err
	}
	for _, name := range slices.Sorted(maps.Keys(files)) {
		is, err := fs.ReadFile(s.files, name)
		if err == nil && string(is) == string(files[name]) {
			continue
		}
		if err := place.ReplaceFile(s.path(name), files[name]); err != nil {
			return command.Refuse(
				"%s: event %d is in the book, but this file cannot be written (%v); put "+
					"that right, then `rackwright rack write %s`", s.path(name), event,
				command.Reason(err), s.typed())
		}
	}
	if err := s.book.SetWritten(event); err != nil {
		return command.Refuse(
			"%s: event %d is in the book, but not that the files are written (%v); put "+
				"that right, then `rackwright rack write %s`", s.path(BookFile), event, err,
			s.typed())
	}
	return nil
}

// writeLast writes the files of the rack as it now is.
func (s *shopBook) writeLast() error {
	state, err := s.book.State()
	if err != nil {
		return s.unsound(err)
	}
	rack, err := s.book.Rack()
	if err != nil {
		return s.unsound(err)
	}
	return s.write(state.Last, rack)
}

// byHand refuses to go on with files that were changed by hand.
func (s *shopBook) byHand(changes []book.Change) error {
	if len(changes) == 0 {
		return nil
	}
	boards := "1 board differs"
	if n := len(changes); n > 1 {
		boards = fmt.Sprintf("%d boards differ", n)
	}
	return command.Refuse(
		"%s: it or defects.csv was changed by hand, and the book does not know (%s); "+
			"`rackwright rack take %s` shows and enters that, `rackwright rack write %[3]s` puts "+
			"back what the book has", s.path("rack.csv"), boards, s.typed())
}

// dated is the flag of the commands that enter an event.
type dated struct {
	Date string `help:"Date (YYYY-MM-DD) of what is entered; today if left out." placeholder:"DATE"`
}

// on is the date of an event.
func (d *dated) on() (string, error) {
	if d.Date == "" {
		return time.Now().Format(time.DateOnly), nil
	}
	if !model.ValidDate(d.Date) {
		return "", command.Refuse("--date %q: not a date; write it as YYYY-MM-DD", d.Date)
	}
	return d.Date, nil
}

// locked opens a shop folder, holding the lock of its book, and does something; where there is no
// book it is made first, if it may be.
func locked(e *command.Env, dir, date string, mayMake bool, do func(*shopBook) error) error {
	s, err := openShopFolder(dir) // before a lock is laid into a folder that is none
	if err != nil {
		return err
	}
	defer s.close()
	if !mayMake && !s.hasBook() {
		return noBook(dir)
	}
	unlock, err := place.Lock(s.path(BookFile))
	if err != nil {
		return command.Refuse(
			"%s: the book cannot be written (%v); put that right", dir, command.Reason(err))
	}
	defer unlock()
	if err := s.open(); err != nil {
		return err
	}
	if s.book == nil {
		if err := s.make(e, date); err != nil {
			return err
		}
	}
	return do(s)
}

func noBook(dir string) error {
	return command.Refuse(
		"%s: there is no book; the first `rackwright rack add`, `move`, `scrap` or "+
			"`take`, or `rackwright book`, makes it from rack.csv", dir)
}

// enter has an event entered in the book of a shop folder whose files are as the book has them, and
// writes them anew.
func enter(e *command.Env, dir string, d *dated, mayMake bool,
	do func(s *shopBook, date string) (book.Event, error)) error {
	date, err := d.on()
	if err != nil {
		return err
	}
	return locked(e, dir, date, mayMake, func(s *shopBook) error {
		changes, err := s.settle(e)
		if err == nil {
			err = s.byHand(changes)
		}
		if err == nil { // of a book just made, or of one whose files say the same in other words
			err = s.writeLast()
		}
		if err != nil {
			return err
		}
		return s.entered(e, date, func() (book.Event, error) { return do(s, date) })
	})
}

// entered has an event entered, writes the files, and prints what the event says.
func (s *shopBook) entered(e *command.Env, date string, do func() (book.Event, error)) error {
	before, err := s.book.State()
	if err != nil {
		return s.unsound(err)
	}
	event, err := do()
	if err != nil {
		return s.notEntered(err)
	}
	if date < before.Date {
		fmt.Fprintf(e.Stderr, "rackwright: event %d has an earlier date, %s, than the one before "+
			"it, %s; if the clock is wrong, undo it and give --date\n", event.Number, date,
			before.Date)
	}
	if err := s.writeLast(); err != nil {
		return err
	}
	if err := s.hits(e, &event); err != nil || e.Quiet {
		return err
	}
	return printEvents(e, &s.settings, []book.Event{event}, "")
}

// notEntered says why an event is not entered.
func (s *shopBook) notEntered(err error) error {
	if _, ours := errors.AsType[command.Refused](err); ours {
		return err
	}
	if _, ours := errors.AsType[model.InputErrors](err); ours {
		return err
	}
	if _, not := errors.AsType[*book.Refused](err); not || errors.Is(err, book.ErrNothing) {
		return command.Refuse("%s: %v; nothing is entered", s.dir, err)
	}
	return command.Refuse(
		"%s: nothing is entered (%v); put that right, or see `rackwright audit %s`",
		s.path(BookFile), err, s.typed())
}

// hits says which plans a change of their boards hits, if it is not their own.
func (s *shopBook) hits(e *command.Env, n *book.Event) error {
	left := func(c book.Change) bool { return c.Was != nil }
	if n.Kind == book.Undone || !slices.ContainsFunc(n.Changes, left) {
		return nil // all is as it was, or is new
	}
	lives, err := s.lives()
	if err != nil {
		return err
	}
	promised := book.Promised(lives)
	for i := range lives { // those that are gone by this event are among them
		if l := &lives[i]; !l.Replaced {
			for _, id := range l.Gone {
				promised[id] = l.Plan
			}
		}
	}
	for _, c := range n.Changes {
		plan := promised[c.ID()]
		if plan == "" || plan == n.Plan || c.Was == nil {
			continue
		}
		what := "its papers have the board as it was"
		if c.Is == nil || !alike(c.Was, c.Is) {
			what = fmt.Sprintf("`rackwright replan %s` plans what is left of it anew",
				report.ShellWord(planPath(s.dir, plan)))
		}
		fmt.Fprintf(e.Stderr, "rackwright: board %s is promised to plan %s; %s\n", c.ID(), plan,
			what)
	}
	return nil
}

// alike says whether the same can be cut from two boards.
func alike(a, b *model.Board) bool {
	x, y := *a, *b
	x.ID, x.Bin, x.Note, x.Since, x.Value = y.ID, y.Bin, y.Note, y.Since, y.Value
	return book.Same(x, y)
}

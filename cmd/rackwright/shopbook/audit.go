package shopbook

import (
	"errors"
	"fmt"
	"io/fs"

	"rackwright/cmd/rackwright/command"
	"rackwright/io/book"
	"rackwright/io/folder"
)

// Audit is the command that judges the book, and makes a new one of what is left of it.
type Audit struct {
	Shop    string `arg:"" help:"Shop folder."`
	Rebuild string `help:"If the book is not sound: make a new one of its sound events, in this file." placeholder:"FILE"`
}

func (c *Audit) Help() string {
	return `Examples:
  rackwright audit shop
  rackwright audit shop --rebuild shop/rebuilt.db

Looks at the whole book: its file, its tables and triggers, the hash of each event, whether the rack
is what the events add up to, and whether rack.csv and defects.csv say the same. It names the first
event that is bad. --rebuild makes a new book of all events before it, and changes nothing else.`
}

func (c *Audit) Run(e *command.Env) error {
	s, err := openShopFolder(c.Shop)
	if err != nil {
		return err
	}
	defer s.close()
	if !s.hasBook() {
		return noBook(c.Shop)
	}
	if err := s.still(); err != nil {
		return err
	}
	a, err := book.AuditFile(s.path(BookFile))
	if err != nil {
		return s.cannotAudit(err)
	}
	for _, w := range a.Wrong {
		fmt.Fprintf(e.Stderr, "%s: %s\n", s.path(BookFile), w)
	}
	if len(a.Wrong) > 0 {
		if c.Rebuild != "" {
			return s.rebuild(e, c.Rebuild)
		}
		return command.Refuse("%s: the book is not sound, only its first events are: %d; put a "+
			"copy of it back, or make a new one of them with `rackwright audit %[1]s --rebuild "+
			"FILE`", c.Shop, a.Sound)
	}
	if s.book, err = book.Open(s.path(BookFile)); err != nil {
		return s.cannotAudit(err)
	}
	if err := s.auditFiles(e); err != nil {
		return err
	}
	if !e.Quiet {
		fmt.Fprintf(e.Stdout, "The book is sound. Events %d, boards on the rack %d; rack.csv "+
			"and defects.csv say the same.\n", a.Sound, a.Boards)
		if c.Rebuild != "" {
			fmt.Fprintln(e.Stdout, "So nothing is rebuilt.")
		}
	}
	return nil
}

// cannotAudit says that nothing of the book can be looked at.
func (s *shopBook) cannotAudit(err error) error {
	if errors.Is(err, book.ErrNewer) || errors.Is(err, book.ErrReadOnly) ||
		errors.Is(err, fs.ErrPermission) {
		return s.unsound(err)
	}
	return command.Refuse("%s: cannot be read (%v); put a copy of it back, or see `rackwright "+
		"help book`", s.path(BookFile), err)
}

// auditFiles says whether the files say what a sound book says.
func (s *shopBook) auditFiles(e *command.Env) error {
	rack, err := s.book.Rack()
	if err != nil {
		return s.unsound(err)
	}
	job, _, err := folder.ReadRack(s.files)
	if err != nil {
		fmt.Fprintln(e.Stderr, err)
		return command.Refuse(
			"%s: the book is sound, but these files cannot be compared with it", s.dir)
	}
	return s.byHand(book.Changes(rack, job.Rack))
}

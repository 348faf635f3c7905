package shopbook

import (
	"fmt"

	"rackwright/cmd/rackwright/command"
	"rackwright/io/book"
	"rackwright/io/folder"
)

// Audit is the command that judges the book.
type Audit struct {
	Shop string `arg:"" help:"Shop folder."`
}

func (c *Audit) Help() string {
	return `Example: rackwright audit shop

Looks at the whole book: its file, its tables and triggers, the hash of each event, whether the rack
is what the events add up to, and whether rack.csv and defects.csv say the same.`
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
	if s.book, err = book.Open(s.path(BookFile)); err != nil {
		return command.Refuse(
			"%s: cannot be read (%v); put a copy of it back, or see `rackwright help "+
				"book`", s.path(BookFile), err)
	}
	a := s.book.Audit()
	for _, w := range a.Wrong {
		fmt.Fprintf(e.Stderr, "%s: %s\n", s.path(BookFile), w)
	}
	if len(a.Wrong) > 0 {
		return command.Refuse(
			"%s: the book is not sound, only its first events are: %d; put a copy of it "+
				"back, or see `rackwright help book`", c.Shop, a.Sound)
	}
	if err := s.auditFiles(e); err != nil {
		return err
	}
	if !e.Quiet {
		fmt.Fprintf(e.Stdout, "The book is sound. Events %d, boards on the rack %d; rack.csv "+
			"and defects.csv say the same.\n", a.Sound, a.Boards)
	}
	return nil
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

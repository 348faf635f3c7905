package shopbook

import (
	"errors"
	"fmt"
	"io/fs"
	"os"

	"rackwright/cmd/rackwright/command"
	"rackwright/cmd/rackwright/place"
	"rackwright/io/book"
	"rackwright/io/folder"
)

// rebuild makes a new book of what is left of one that is not sound, in a file of its own, and says
// what is lost and how to go on.
func (s *shopBook) rebuild(e *command.Env, to string) error {
	if err := isNew(to); err != nil {
		return err
	}
	unlock, err := place.Lock(to)
	if err != nil {
		return command.Refuse("%s: cannot be written (%v); put that right", to, command.Reason(err))
	}
	defer unlock()
	fresh := place.NewOf(to)
	for _, left := range []string{fresh, fresh + "-journal", fresh + "-wal"} { // by a killed run
		if err := os.Remove(left); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return command.Refuse("%s: cannot be written (%v); put that right", to,
				command.Reason(err))
		}
	}
	r, err := book.Rebuild(s.path(BookFile), fresh, s.planFiles)
	if err == nil {
		err = place.PutNew(fresh, to)
	}
	switch {
	case errors.Is(err, fs.ErrExist):
		os.Remove(fresh)
		return isNew(to)
	case errors.Is(err, book.ErrNotBook) || errors.Is(err, book.ErrNewer):
		return s.cannotAudit(err)
	case err != nil:
		os.Remove(fresh)
		return command.Refuse("%s: cannot be written (%v); put that right", to, command.Reason(err))
	case e.Quiet:
		return nil
	}
	return s.tellRebuilt(e, to, r)
}

// isNew refuses a file that is there.
func isNew(path string) error {
	if _, err := os.Lstat(path); !errors.Is(err, fs.ErrNotExist) {
		return command.Refuse("%s: it is there already; name a file that is not", path)
	}
	return nil
}

// planFiles are the files of a plan as its folder has them.
func (s *shopBook) planFiles(plan string) book.Files {
	files := book.Files{}
	for _, name := range folder.PlanFiles() {
		if text, err := fs.ReadFile(s.files, plan+"/"+name); err == nil {
			files[name] = text
		}
	}
	return files
}

// mostTraces of lost events are told one by one.
const mostTraces = 20

// tellRebuilt says what a new book has, what it has not, and how to go on with it.
func (s *shopBook) tellRebuilt(e *command.Env, to string, r *book.Rest) error {
	rack, err := book.Rack(r.Events)
	if err != nil {
		return err
	}
	p := func(format string, args ...any) { fmt.Fprintf(e.Stdout, format+"\n", args...) }
	last := r.Events[len(r.Events)-1]
	p("Written to %s: events 1 to %d, up to %s; boards on the rack %d", to, last.Number, last.Date,
		len(rack))
	if len(r.Lost) == 0 {
		p("Of lost events nothing is found. If there were any, they came after these.")
	} else {
		p("\nLost, as far as it can be read:")
	}
	for n, l := range r.Lost {
		if n == mostTraces {
			p("  and %d more, the last event %d", len(r.Lost)-n, r.Lost[len(r.Lost)-1].Number)
			break
		}
		p("  event %-6d %s  %s", l.Number, l.Date, l.Kind)
	}
	for _, plan := range r.NoFiles {
		p("The files of plan %s are lost, as it was booked.", plan)
	}
	p("\nTo go on with the new book:")
	p("  move %s out of %s, with book.db-wal and book.db-shm if they are there, and keep it",
		BookFile, s.dir)
	p("  move %s to %s", to, s.path(BookFile))
	p("  `rackwright rack take %s --look` shows what rack.csv has otherwise", s.typed())
	p("  `rackwright rack take %s` enters it in one go", s.typed())
	p("  or `rackwright rack write %s` puts the rack back to %s, to enter the rest again",
		s.typed(),
		last.Date)
	return nil
}

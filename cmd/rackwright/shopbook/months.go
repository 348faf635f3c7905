package shopbook

import (
	"errors"
	"io/fs"
	"path/filepath"
	"slices"

	"rackwright/cmd/rackwright/command"
	"rackwright/io/folder"
	"rackwright/model"
)

// Month is a month of a shop folder.
type Month struct {
	Name string
	Job  *model.Job
}

// ReadMonths reads all months of a shop folder, in their order, and writes nothing. Where there is
// a book, the rack is the book's. All mistakes of all months come out at once, each file by its
// path.
func ReadMonths(dir string) (months []Month, notes []model.Note, err error) {
	s, err := openShop(dir)
	if err != nil {
		return nil, nil, err
	}
	defer s.close()
	names, links, err := folder.Months(s.files)
	switch {
	case err != nil:
		return nil, nil, command.Refuse("%s: cannot be read (%v)", dir, command.Reason(err))
	case len(names) == 0:
		return nil, nil, command.Refuse("%s: has no month: no folder in it has parts.csv, parts "+
			"or orders.csv; `rackwright help files` says what a month holds", dir)
	}
	for _, name := range links {
		notes = append(notes, model.Note{File: filepath.Join(dir, name),
			Text: "it is a link, so it is left out"})
	}
	var all model.Mistakes
	for _, name := range names {
		job, said, err := s.month(name)
		mistakes, ok := errors.AsType[model.InputErrors](err)
		if err != nil && !ok {
			return nil, nil, err
		}
		for _, m := range mistakes {
			one := *m
			one.File = filepath.Join(dir, name, m.File)
			all.Add(&one)
		}
		for _, n := range said {
			n.File = filepath.Join(dir, name, n.File)
			if !slices.Contains(notes, n) { // what is said of a file of the shop is said once
				notes = append(notes, n)
			}
		}
		months = append(months, Month{name, job})
	}
	return months, notes, all.Err()
}

// month reads one month of the shop.
func (s *shopBook) month(name string) (*model.Job, []model.Note, error) {
	within, err := fs.Sub(s.files, name)
	if err != nil {
		return nil, nil, err
	}
	var job *model.Job
	var notes []model.Note
	if s.book == nil {
		job, notes, err = folder.ReadMonth(within, s.files)
	} else {
		rack, unread := s.book.Rack()
		if unread != nil {
			return nil, nil, s.unsound(unread)
		}
		job, notes, err = folder.ReadMonthAt(within, s.files, rack)
	}
	if err == nil && job.Settings.Batch == "" {
		job.Settings.Batch = model.BatchOf(name)
	}
	return job, notes, err
}

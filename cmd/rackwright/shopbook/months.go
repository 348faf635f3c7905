package shopbook

import (
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"slices"

	"rackwright/cmd/rackwright/command"
	"rackwright/io/book"
	"rackwright/io/folder"
	"rackwright/model"
)

// Month is a month of a shop folder.
type Month struct {
	Name string
	Job  *model.Job
}

// ReadMonths reads all months of a shop folder, in their order, and writes nothing. Where there is
// a book, the rack is the book's; that before any plan was booked, as the boards of booked plans
// are those that the months are to be planned with. A month without parts yet is left out. All
// mistakes of all months come out at once, each file by its path.
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
	rack, said, err := s.rackAtFirst()
	if err != nil {
		return nil, nil, s.unsound(err)
	}
	notes = append(notes, said...)
	var all model.Mistakes
	for _, name := range names {
		job, said, err := s.month(name, rack)
		mistakes, ok := errors.AsType[model.InputErrors](err)
		if err != nil && !ok {
			return nil, nil, err
		}
		if len(mistakes) == 1 && mistakes[0].Code == model.CodeEmptyFile {
			notes = append(notes, model.Note{File: filepath.Join(dir, name, mistakes[0].File),
				Text: "there is no part in it yet, so this month is left out"})
			continue
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
	if err := all.Err(); err != nil || len(months) > 0 {
		return months, notes, err
	}
	return nil, nil, command.Refuse("%s: no month of it has a part yet", dir)
}

// rackAtFirst is the rack of the book before any plan was booked, or else as it is now.
func (s *shopBook) rackAtFirst() (rack []model.Board, notes []model.Note, err error) {
	if s.book == nil {
		return nil, nil, nil
	}
	events, err := s.book.Events()
	if err != nil {
		return nil, nil, err
	}
	lives, err := book.Lives(events)
	if err != nil {
		return nil, nil, err
	}
	if len(lives) > 0 { // in the order of their booking
		first := &lives[0]
		events = events[:first.Event-1]
		notes = append(notes, model.Note{File: s.path(BookFile), Text: fmt.Sprintf(
			"the rack is that before event %d, by which the first plan was booked, %s",
			first.Event, first.Plan)})
	}
	rack, err = book.Rack(events)
	return rack, notes, err
}

// month reads one month of the shop, where there is a book with a rack of it.
func (s *shopBook) month(name string, rack []model.Board) (job *model.Job, notes []model.Note,
	err error) {
	within, err := fs.Sub(s.files, name)
	switch {
	case err != nil:
	case s.book == nil:
		job, notes, err = folder.ReadMonth(within, s.files)
	default:
		job, notes, err = folder.ReadMonthAt(within, s.files, rack)
	}
	if err == nil {
		job.Settings.Batch = batchOf(job, name)
	}
	return job, notes, err
}

// Package shopbook is the commands of a shop folder and its book: the rack at hand, counts, audits.
//
// Start at [ReadMonth] for a month as the book has its rack; shop.go opens a shop folder, write.go
// enters events and writes the files of the rack.
package shopbook

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"rackwright/cmd/rackwright/command"
	"rackwright/cmd/rackwright/place"
	"rackwright/io/book"
	"rackwright/io/folder"
	"rackwright/io/report"
	"rackwright/model"
)

// ReadFiles reads a job folder, and what it takes from the shop folder above it. That one is the
// folder that it lies in itself, whatever link leads to it. It is held open as a root, so that no
// name and no link of it leads out.
func ReadFiles(dir string) (*model.Job, []model.Note, error) {
	month := os.DirFS(dir)
	above := filepath.Dir(place.WholePath(dir))
	root, err := os.OpenRoot(above)
	if err == nil {
		defer root.Close()
		if place.IsSame(dir, above) { // the top of the disk lies in no folder
			return folder.ReadJob(month)
		}
		return folder.ReadMonth(month, root.FS())
	}
	shopFile := filepath.Join(above, "shop.toml")
	if _, there := os.Lstat(shopFile); errors.Is(there, fs.ErrNotExist) ||
		errors.Is(there, fs.ErrPermission) {
		return folder.ReadJob(month)
	}
	return nil, nil, command.Refuse(
		"%s: it is there, but its folder cannot be read (%v); see that the "+
			"folder may be read, or move the job folder elsewhere", shopFile, command.Reason(err))
}

// ReadMonth is [ReadFiles]; where the rack is that of a shop folder with a book, it must be as the
// book has it, and what belongs to booked plans is left out.
func ReadMonth(e *command.Env, dir string) (*model.Job, []model.Note, error) {
	above := filepath.Dir(place.WholePath(dir))
	s, err := openShopFolder(above)
	_, own := os.Lstat(filepath.Join(dir, "rack.csv"))
	if err != nil || place.IsSame(dir, above) || !s.hasBook() || own == nil {
		if err == nil {
			s.close()
		}
		return ReadFiles(dir)
	}
	defer s.close()
	if err := s.still(); err != nil {
		return nil, nil, err
	}
	if err := s.open(); err != nil {
		return nil, nil, err
	}
	changes, unsettled := s.settle(e)
	job, notes, err := ReadFiles(dir) // which finds all mistakes of all files
	if err == nil && job.Source("rack.csv") != "rack.csv" {
		err = cmp.Or(unsettled, s.byHand(changes))
		if err == nil {
			more, no := s.leaveOut(job, dir)
			notes, err = append(notes, more...), no
		}
	}
	return job, notes, err
}

// HasBook says whether the shop folder of a month has a book.
func HasBook(month string) bool {
	_, err := os.Lstat(filepath.Join(filepath.Dir(place.WholePath(month)), BookFile))
	return err == nil
}

// BookFile is the book in a shop folder.
const BookFile = "book.db"

// shopBook is a shop folder with its book.
type shopBook struct {
	dir      string
	files    fs.FS
	settings model.Settings
	book     *book.Book // nil: there is none
	root     *os.Root
	unlock   func() // nil: others may write
}

func (s *shopBook) path(name string) string { return filepath.Join(s.dir, name) }

// typed is the shop folder as it is typed in a command.
func (s *shopBook) typed() string { return report.ShellWord(s.dir) }

func (s *shopBook) close() {
	if s.book != nil {
		s.book.Close()
	}
	s.root.Close()
	if s.unlock != nil {
		s.unlock()
	}
}

// openShop opens a shop folder to be read, with its book, where it has one.
func openShop(dir string) (*shopBook, error) {
	s, err := openShopFolder(dir)
	if err != nil || !s.hasBook() {
		return s, err
	}
	if err = s.still(); err == nil {
		err = s.open()
	}
	if err != nil {
		s.close()
		return nil, err
	}
	return s, nil
}

// still keeps others from writing until the shop folder is closed, so that book and files belong
// together. Where no lock can be laid nobody can write.
func (s *shopBook) still() error {
	unlock, err := place.Lock(s.path(BookFile))
	if err == nil {
		s.unlock = unlock
	} else if place.Busy(err) {
		return command.Refuse("%s: the rack cannot be read (%v); try again", s.dir, err)
	}
	return nil
}

// openShopFolder opens a shop folder without its book.
func openShopFolder(dir string) (*shopBook, error) {
	if info, err := os.Stat(dir); err != nil {
		return nil, command.Refuse("%s: there is no such folder; name a shop folder", dir)
	} else if !info.IsDir() {
		return nil, command.Refuse("%s: is a file; name the shop folder that it lies in", dir)
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, command.Refuse("%s: cannot be read (%v)", dir, command.Reason(err))
	}
	s := &shopBook{dir: dir, files: root.FS(), root: root}
	if why := folder.WhyNoShop(s.files); why != "" {
		s.close()
		return nil, command.Refuse(
			"%s: %s; name a shop folder: `rackwright help files` says what it "+
				"holds", dir, why)
	}
	if s.settings, err = folder.ReadSettings(s.files); err != nil {
		s.close()
		return nil, err
	}
	return s, nil
}

// open opens the book, where there is one.
func (s *shopBook) open() (err error) {
	s.book, err = book.Open(s.path(BookFile))
	if err == nil || errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	return s.unsound(err)
}

// hasBook says whether there is a book.
func (s *shopBook) hasBook() bool {
	_, err := os.Lstat(s.path(BookFile))
	return !errors.Is(err, fs.ErrNotExist)
}

// unsound says that the book cannot be read.
func (s *shopBook) unsound(err error) error {
	remedy := fmt.Sprintf("`rackwright audit %s` says more", s.typed())
	switch {
	case errors.Is(err, book.ErrNewer):
		remedy = "use the program that wrote it, or a newer one"
	case errors.Is(err, book.ErrNotBook):
		remedy = fmt.Sprintf("`rackwright audit %s` says whether anything of it can be read; if "+
			"not, move it elsewhere, and a book is made anew", s.typed())
	case errors.Is(err, book.ErrDisk):
		remedy = "put that right"
	case errors.Is(err, book.ErrReadOnly):
		remedy = "make the folder writable"
	}
	return command.Refuse("%s: cannot be read (%v); %s", s.path(BookFile), err, remedy)
}

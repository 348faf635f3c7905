package main

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"rackwright/io/book"
	"rackwright/io/folder"
	"rackwright/model"
)

// readMonth reads a job folder, and what it takes from the shop folder above it. That one is the
// folder that it lies in itself, whatever link leads to it. It is held open as a root, so that no
// name and no link of it leads out.
func readMonth(dir string) (*model.Job, []model.Note, error) {
	month := os.DirFS(dir)
	above := filepath.Dir(wholePath(dir))
	root, err := os.OpenRoot(above)
	if err == nil {
		defer root.Close()
		if isSame(dir, above) { // the top of the disk lies in no folder
			return folder.ReadJob(month)
		}
		return folder.ReadMonth(month, root.FS())
	}
	shopFile := filepath.Join(above, "shop.toml")
	if _, there := os.Lstat(shopFile); errors.Is(there, fs.ErrNotExist) ||
		errors.Is(there, fs.ErrPermission) {
		return folder.ReadJob(month)
	}
	return nil, nil, refuse("%s: it is there, but its folder cannot be read (%v); see that the "+
		"folder may be read, or move the job folder elsewhere", shopFile, reason(err))
}

// readByBook is readMonth; where the rack is that of a shop folder with a book, it must be as the
// book has it.
func (e *env) readByBook(dir string) (*model.Job, []model.Note, error) {
	above := filepath.Dir(wholePath(dir))
	s, err := openShopFolder(above)
	_, own := os.Lstat(filepath.Join(dir, "rack.csv"))
	if err != nil || isSame(dir, above) || !s.hasBook() || own == nil {
		if err == nil {
			s.close()
		}
		return readMonth(dir)
	}
	defer s.close()
	if err := s.still(); err != nil {
		return nil, nil, err
	}
	if err := s.open(); err != nil {
		return nil, nil, err
	}
	changes, unsettled := s.settle(e)
	job, notes, err := readMonth(dir) // which finds all mistakes of all files
	if err == nil && job.Source("rack.csv") != "rack.csv" {
		err = cmp.Or(unsettled, s.byHand(changes))
	}
	return job, notes, err
}

// wholePath is the path of a folder itself, from the top of the disk, whatever link leads to it.
func wholePath(dir string) string {
	if real, err := filepath.EvalSymlinks(dir); err == nil {
		dir = real
	}
	if whole, err := filepath.Abs(dir); err == nil {
		dir = whole
	}
	return dir
}

// isSame says whether two paths lead to the same folder.
func isSame(dir, other string) bool {
	a, err1 := os.Stat(dir)
	b, err2 := os.Stat(other)
	return err1 == nil && err2 == nil && os.SameFile(a, b)
}

// bookFile is the book in a shop folder.
const bookFile = "book.db"

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
	unlock, err := lock(s.path(bookFile))
	if err == nil {
		s.unlock = unlock
	} else if busy(err) {
		return refuse("%s: the rack cannot be read (%v); try again", s.dir, err)
	}
	return nil
}

// openShopFolder opens a shop folder without its book.
func openShopFolder(dir string) (*shopBook, error) {
	if info, err := os.Stat(dir); err != nil {
		return nil, refuse("%s: there is no such folder; name a shop folder", dir)
	} else if !info.IsDir() {
		return nil, refuse("%s: is a file; name the shop folder that it lies in", dir)
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, refuse("%s: cannot be read (%v)", dir, reason(err))
	}
	s := &shopBook{dir: dir, files: root.FS(), root: root}
	if why := folder.WhyNoShop(s.files); why != "" {
		s.close()
		return nil, refuse("%s: %s; name a shop folder: `rackwright help files` says what it "+
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
	s.book, err = book.Open(s.path(bookFile))
	if err == nil || errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	return s.unsound(err)
}

// hasBook says whether there is a book.
func (s *shopBook) hasBook() bool {
	_, err := os.Lstat(s.path(bookFile))
	return !errors.Is(err, fs.ErrNotExist)
}

// unsound says that the book cannot be read.
func (s *shopBook) unsound(err error) error {
	remedy := fmt.Sprintf("`rackwright audit %s` says more", s.dir)
	switch {
	case errors.Is(err, book.ErrNewer):
		remedy = "use the program that wrote it, or a newer one"
	case errors.Is(err, book.ErrNotBook):
		remedy = "move it elsewhere, and a book is made anew"
	case errors.Is(err, book.ErrDisk):
		remedy = "put that right"
	case errors.Is(err, book.ErrReadOnly):
		remedy = "make the folder writable"
	}
	return refuse("%s: cannot be read (%v); %s", s.path(bookFile), err, remedy)
}

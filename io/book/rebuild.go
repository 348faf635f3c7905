package book

import (
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"slices"
)

// Rebuild makes a new book at a path where nothing is, of what is left of the one at another. After
// an error it is not there. Of plans whose files are lost, folders gives what it has; what is as it
// was booked is kept, and what is still missing then is in NoFiles.
func Rebuild(path, to string, folders func(plan string) Files) (r *Rest, err error) {
	if newer(path) {
		return nil, ErrNewer
	}
	if r, err = Salvage(path); err != nil {
		return nil, err
	}
	if err := r.fromFolders(folders); err != nil {
		return nil, err
	}
	if len(r.Events) == 0 {
		return nil, fmt.Errorf("%w: no sound event is found in it", ErrNotBook)
	}
	return r, r.make(to)
}

// Make makes a book of events, which are all from the first on, at a path where nothing is. After
// an error it is not there. Events that book plans are refused, as their files are not given.
func Make(to string, events []Event) error {
	for i := range events {
		if events[i].Kind == Booked {
			return &Refused{"a plan is booked with its files"}
		}
	}
	return (&Rest{Events: events}).make(to)
}

func (r *Rest) make(to string) (err error) {
	for _, name := range []string{to + "-wal", to + "-journal"} {
		if _, err := os.Lstat(name); !errors.Is(err, fs.ErrNotExist) {
			return &fs.PathError{Op: "make", Path: name, Err: fs.ErrExist}
		}
	}
	f, err := os.OpenFile(to, os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return err
	}
	f.Close()
	defer func() {
		if err != nil {
			os.Remove(to)
		}
	}()
	b, err := connect(to, "rw", false)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, b.Close()) }()
	return b.fill(r)
}

// fromFolders adds files that are lost, as far as folders still have them.
func (r *Rest) fromFolders(folders func(plan string) Files) (err error) {
	r.NoFiles = nil
	for i := range r.Events {
		b, plan := r.Events[i].Booking, r.Events[i].Plan
		if b == nil || r.packed[b.Files] != nil {
			continue
		}
		if f := folders(plan); f.Hash() != b.Files {
			r.NoFiles = append(r.NoFiles, plan)
		} else if r.packed[b.Files], err = f.pack(); err != nil {
			return err
		}
	}
	return nil
}

// newer says whether the file at a path is a book of a newer version, by its head.
func newer(path string) bool {
	b, err := Open(path)
	if err == nil {
		b.Close()
	}
	return errors.Is(err, ErrNewer)
}

// fill makes the tables of a new book with events that are sound.
func (b *Book) fill(r *Rest) error {
	t, err := fold(r.Events)
	if err != nil {
		return err
	}
	return b.within(func(tx *sql.Tx) error {
		if err := makeTables(tx); err != nil {
			return err
		}
		hash := ""
		for i := range r.Events {
			if hash, err = put(tx, &r.Events[i], hash); err != nil {
				return err
			}
		}
		for _, hash := range slices.Sorted(maps.Keys(r.packed)) {
			_, err := tx.Exec("INSERT INTO plans VALUES (?, ?)", hash, r.packed[hash])
			if err != nil {
				return err
			}
		}
		for _, id := range t.ids {
			is, err := column(t.on[id])
			if err != nil {
				return err
			}
			_, err = tx.Exec("INSERT INTO rack (board, says) VALUES (?, ?)", id, is)
			if err != nil {
				return err
			}
		}
		return nil
	})
}

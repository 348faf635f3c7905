package book

import (
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"strings"

	"modernc.org/sqlite" // also the driver of database/sql
	lib "modernc.org/sqlite/lib"
)

// What a book cannot be opened for.
var (
	ErrNotBook  = errors.New("it is no book of this program")
	ErrNewer    = errors.New("it is of a newer version of this program")
	ErrDisk     = errors.New("the disk has no room, or cannot be read or written")
	ErrReadOnly = errors.New("an earlier run was ended while it wrote, and what it left cannot " +
		"be put right on a disk that is read-only")
)

// Open opens the book at a path. Where none is there the error is [fs.ErrNotExist]. On a disk that
// is read-only the book can be read all the same.
func Open(path string) (*Book, error) {
	if err := regular(path); err != nil {
		return nil, err
	}
	for _, beside := range []string{path + "-wal", path + "-shm", path + "-journal"} {
		if err := regular(beside); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return nil, fmt.Errorf("%s: %w", filepath.Base(beside), err)
		}
	}
	b, err := connect(path, "rw", false)
	if err == nil {
		if err = b.sound(); err == nil {
			return b, b.keepLog(path)
		}
		b.Close()
	}
	if writable(path) || errors.Is(err, ErrNotBook) || errors.Is(err, ErrNewer) {
		return nil, plainly(err)
	}
	if log, err := os.Stat(path + "-wal"); err == nil && log.Size() > 0 {
		return nil, ErrReadOnly
	}
	if b, err = connect(path, "ro", true); err != nil {
		return nil, err
	}
	if err := b.sound(); err != nil {
		b.Close()
		return nil, plainly(err)
	}
	return b, nil
}

// regular says why a path is none of a file itself, or nil.
func regular(path string) error {
	info, err := os.Lstat(path)
	if err == nil && !info.Mode().IsRegular() {
		err = fmt.Errorf("%w: it is a link, a folder or a device", ErrNotBook)
	}
	return err
}

// plainly says in words when it is the disk that an error of SQLite is about.
func plainly(err error) error {
	if s, is := errors.AsType[*sqlite.Error](err); is {
		switch s.Code() & 0xff { // the rest of the code says more than a maker can use
		case lib.SQLITE_IOERR, lib.SQLITE_FULL, lib.SQLITE_CANTOPEN:
			return ErrDisk
		}
	}
	return err
}

// Create makes a book at a path that is opened on a date with boards on the rack, and closes it.
// What a killed run left there goes.
func Create(path, date string, boards []Change) (err error) {
	for _, name := range []string{path, path + "-journal"} {
		if err := os.Remove(name); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
	}
	b, err := connect(path, "rwc", false)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, b.Close()) }()
	return b.begin(date, boards)
}

// connect opens a file. One that is never to change is read without any lock or log.
func connect(path, mode string, immutable bool) (*Book, error) {
	whole, err := filepath.Abs(path)
	if err != nil {
		return nil, err
	}
	slashed := filepath.ToSlash(whole)
	if !strings.HasPrefix(slashed, "/") { // a drive of Windows
		slashed = "/" + slashed
	}
	query := url.Values{"mode": {mode}, "_txlock": {"immediate"}, "_pragma": {
		"busy_timeout(60000)", "synchronous(FULL)", "foreign_keys(ON)", "trusted_schema(OFF)",
		"recursive_triggers(ON)", "cell_size_check(ON)", fmt.Sprintf("page_size(%d)", pageSize)}}
	if immutable {
		query.Set("immutable", "1")
	}
	name := url.URL{Scheme: "file", Path: slashed, RawQuery: query.Encode()}
	db, err := sql.Open("sqlite", name.String())
	if err != nil {
		return nil, err
	}
	db.SetMaxOpenConns(1)
	return &Book{db, path}, nil
}

// keepLog has the book keep a write-ahead log, or a rollback journal on a network file system. What
// it cannot have it does without: a book on a disk that is read-only keeps what it has.
func (b *Book) keepLog(path string) error {
	want, is := "wal", ""
	if onNetwork(path) {
		want = "delete"
	}
	if err := b.db.QueryRow("PRAGMA journal_mode").Scan(&is); err != nil {
		b.Close()
		return err
	}
	if is != want && writable(path) {
		// refused, it stays as it is, which is as safe
		_ = b.db.QueryRow("PRAGMA journal_mode = " + want).Scan(&is)
	}
	return nil
}

// OnNetwork says whether the book lies on a file system of another machine. There it has a rollback
// journal in place of the write-ahead log.
func (b *Book) OnNetwork() bool { return onNetwork(b.path) }

// writable says whether a file may be written.
func writable(path string) bool {
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return false
	}
	f.Close()
	return true
}

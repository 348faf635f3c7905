package book

import (
	"archive/zip"
	"bytes"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"slices"
	"time"
)

// The files of a plan that is booked are kept in the book, so that nothing is lost with its folder:
// as a zip archive, which readers of all kinds open. They are found by their hash, which stands in
// the event and so cannot be altered either.

// Files are those of a folder by their names. They can be read as a file system.
type Files map[string][]byte

// mostKept is how large the files of one plan may be in all, in bytes.
const mostKept = 1 << 30

// Hash is the SHA-256 over all files in the order of their names, in lower hex: of each the name,
// a line end, its size in decimal digits, a line end, and its bytes.
func (f Files) Hash() string {
	sum := sha256.New()
	for _, name := range slices.Sorted(maps.Keys(f)) {
		fmt.Fprintf(sum, "%s\n%d\n", name, len(f[name]))
		sum.Write(f[name])
	}
	return hex.EncodeToString(sum.Sum(nil))
}

// pack makes an archive of files.
func (f Files) pack() ([]byte, error) {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, name := range slices.Sorted(maps.Keys(f)) {
		w, err := z.Create(name)
		if err == nil {
			_, err = w.Write(f[name])
		}
		if err != nil {
			return nil, err
		}
	}
	err := z.Close()
	return b.Bytes(), err
}

// unpack reads an archive.
func unpack(data []byte) (Files, error) {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, err
	}
	f, left := Files{}, int64(mostKept)
	for _, part := range z.File {
		r, err := part.Open()
		if err != nil {
			return nil, err
		}
		text, err := io.ReadAll(io.LimitReader(r, left+1))
		if err = errors.Join(err, r.Close()); err != nil {
			return nil, err
		}
		if left -= int64(len(text)); left < 0 {
			return nil, fmt.Errorf("its files are too large")
		}
		f[part.Name] = text
	}
	return f, nil
}

// Book enters that a plan is booked, and keeps its files. The booking is given their hash. Boards
// that cannot be promised or ids that are taken are refused with a [Refused].
func (b *Book) Book(date, plan string, booking Booking, files Files) (Event, error) {
	booking.Files = files.Hash()
	e := Event{Date: date, Kind: Booked, Plan: plan, Booking: &booking}
	packed, err := files.pack()
	if err != nil {
		return e, err
	}
	err = b.within(func(tx *sql.Tx) error {
		if err := enter(tx, &e); err != nil {
			return err
		}
		_, err := tx.Exec("INSERT OR IGNORE INTO plans VALUES (?, ?)", booking.Files, packed)
		return err
	})
	return e, err
}

// PlanFiles gives the files that are kept under the hash of a booking's Files.
func (b *Book) PlanFiles(hash string) (Files, error) {
	var packed []byte
	err := b.db.QueryRow("SELECT files FROM plans WHERE hash = ?", hash).Scan(&packed)
	if err != nil {
		return nil, fmt.Errorf("the files of the plan are not in the book: %w", err)
	}
	f, err := unpack(packed)
	if err == nil && f.Hash() != hash {
		err = fmt.Errorf("they are not those that were booked")
	}
	if err != nil {
		return nil, fmt.Errorf("the files of the plan cannot be read: %w", err)
	}
	return f, nil
}

// Open opens one of the files.
func (f Files) Open(name string) (fs.File, error) {
	text, ok := f[name]
	if !ok {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}
	return &keptFile{bytes.NewReader(text), name}, nil
}

// keptFile is a file of [Files], opened.
type keptFile struct {
	*bytes.Reader
	name string
}

func (f *keptFile) Stat() (fs.FileInfo, error) { return f, nil }
func (f *keptFile) Close() error               { return nil }
func (f *keptFile) Name() string               { return f.name }
func (f *keptFile) Mode() fs.FileMode          { return 0o444 }
func (f *keptFile) ModTime() time.Time         { return time.Time{} }
func (f *keptFile) IsDir() bool                { return false }
func (f *keptFile) Sys() any                   { return nil }

// Package place puts files and folders in place, all or nothing, and finds what paths lead to.
package place

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"time"

	"rackwright/io/folder"
	"rackwright/model/beside"
)

// How an out folder is put in place, all or nothing. Beside a folder named out there may be
//
//	.out.lock   who holds it may write; the system lets it go when the run ends, however it ends
//	.out.new    the plan being written; where nobody holds the lock a killed run left it, and the
//	            next run removes it
//	.out.papers papers being written; where nobody holds the lock a killed run left it, and the
//	            next run that prints removes it
//	.out.old    the plan before: .out.new is written, out becomes .out.old, .out.new becomes out,
//	            and .out.old is removed
//
// So whoever looks finds in out the old plan or the new one, never a mix. After a run that was
// killed between the two renames there is no out: then .out.old is complete, and the next run puts
// it back.
//
// Files of the operating system's or of a spreadsheet's own in out (package folder lists them) are
// moved to the new out before .out.old is removed.
//
// A disk without such locks is refused before planning. On Windows a rename fails while a table of
// the old plan is open in another program; the folder is then as it was.

func Beside(out, what string) string {
	return filepath.Join(filepath.Dir(out), "."+filepath.Base(out)+"."+what)
}

func OldOf(out string) string { return Beside(out, "old") }
func NewOf(out string) string { return Beside(out, "new") }

// LockWait is how long a run waits for another that writes: slow disks take seconds.
var LockWait = time.Minute

// Lock waits until nobody else writes to a folder.
func Lock(out string) (unlock func(), err error) {
	err = patiently(LockWait, func() (err error) {
		unlock, err = tryLock(Beside(out, "lock"))
		return err
	})
	if err != nil && Busy(err) {
		err = fmt.Errorf("another run is writing there, or is halted while it does: %w", err)
	}
	return unlock, err
}

// patiently tries again for a while when others are in the way.
func patiently(wait time.Duration, do func() error) error {
	for end := time.Now().Add(wait); ; time.Sleep(10 * time.Millisecond) {
		if err := do(); err == nil || !Busy(err) || time.Now().After(end) {
			return err
		}
	}
}

// Rename is os.Rename, patient with a scanner or a viewer that looks into a new folder for a
// moment, as there are on Windows.
func Rename(from, to string) error {
	return patiently(2*time.Second, func() error { return os.Rename(from, to) })
}

// Tidy removes or puts back what a killed run left beside a folder.
func Tidy(out string) (putBack bool, err error) {
	unlock, err := Lock(out)
	// the folder above is not there either, so nothing is beside
	if errors.Is(err, fs.ErrNotExist) {
		return false, aboveIsFolder(out)
	}
	if err != nil {
		return false, err
	}
	defer unlock()
	return tidyLocked(out)
}

func tidyLocked(out string) (putBack bool, err error) {
	_, there := os.Lstat(out)
	_, complete := os.Stat(filepath.Join(OldOf(out), "plan.json"))
	if gone := errors.Is(there, fs.ErrNotExist); gone &&
		(complete == nil || onlySystem(OldOf(out))) {
		if err := Rename(OldOf(out), out); err != nil {
			return false, err
		}
		putBack = complete == nil
	} else if !gone {
		if err := errors.Join(keep(OldOf(out), out), keep(NewOf(out), out)); err != nil {
			return false, err
		}
	}
	return putBack, sweep(NewOf(out))
}

// onlySystem says whether a folder holds files of the system's own, and no others.
func onlySystem(dir string) bool {
	entries, err := os.ReadDir(dir)
	return err == nil && len(entries) > 0 &&
		!slices.ContainsFunc(entries, func(f fs.DirEntry) bool {
			return !IsSystemFile(f)
		})
}

// keep moves the files of the system's own from one folder, if it is there, to another.
func keep(from, to string) error {
	entries, err := os.ReadDir(from)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	for _, f := range entries {
		if IsSystemFile(f) {
			err = errors.Join(err,
				Rename(filepath.Join(from, f.Name()), filepath.Join(to, f.Name())))
		}
	}
	return err
}

// aboveIsFolder is an error when a folder cannot be made since something above it is a file.
func aboveIsFolder(path string) error {
	for dir := filepath.Dir(path); ; dir = filepath.Dir(dir) {
		info, err := os.Stat(dir)
		if err == nil && !info.IsDir() {
			return fmt.Errorf("%s is a file", dir)
		}
		if err == nil || dir == filepath.Dir(dir) {
			return nil
		}
	}
}

// sweep removes a folder of plan files. Anything else in it is not ours and stays, which is an
// error.
func sweep(dir string) error {
	for _, name := range folder.OutFiles() {
		if err := os.Remove(filepath.Join(dir, name)); err != nil &&
			!errors.Is(err, fs.ErrNotExist) {
			return err
		}
	}
	if err := os.Remove(dir); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return nil
}

// WriteFolder puts files in place of a folder, each written beside the others. After an error the
// folder is as it was.
func WriteFolder(out string, files map[string]*Text) (err error) {
	parent, fresh, old := filepath.Dir(out), NewOf(out), OldOf(out)
	if err := os.MkdirAll(parent, 0o777); err != nil {
		return err
	}
	unlock, err := Lock(out)
	if err != nil {
		return err
	}
	defer unlock()
	if _, err := tidyLocked(out); err != nil {
		return err
	}
	if err := os.Mkdir(fresh, 0o777); err != nil {
		return err
	}
	defer func() {
		if err != nil {
			sweep(fresh)
		}
	}()
	names := slices.Sorted(maps.Keys(files))
	errs := make([]error, len(names))
	beside.Each(len(names), len(names), func(i int) { // they wait for the disk
		errs[i] = writeFile(filepath.Join(fresh, names[i]), files[names[i]])
	})
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	if err := errors.Join(SyncFolder(fresh), sweep(old)); err != nil {
		return err
	}
	if err := Rename(out, old); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	if err := Rename(fresh, out); err != nil {
		if back := Rename(old, out); back != nil && !errors.Is(back, fs.ErrNotExist) {
			return fmt.Errorf("%w; nor can the plan before be put back from %s: %w", err, old, back)
		}
		return err
	}
	// the new plan stands; what cannot be kept, and the old plan where the new one may not last,
	// stays beside, and goes with the next plan
	if keep(old, out) == nil && SyncFolder(parent) == nil {
		sweep(old)
	}
	return nil
}

// WriteFile writes a new file, or none.
func WriteFile(path string, data []byte) error { return writeFile(path, bytes.NewReader(data)) }

func writeFile(path string, text io.WriterTo) error {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return err
	}
	_, err = text.WriteTo(f)
	if err = errors.Join(err, f.Sync(), f.Close()); err != nil {
		os.Remove(path)
	}
	return err
}

// ReplaceFile writes a file beside the old one and puts it in its place. After an error the old one
// is as it was. What a killed run left beside it goes.
func ReplaceFile(path string, data []byte) error {
	fresh := NewOf(path)
	if err := os.Remove(fresh); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	if err := WriteFile(fresh, data); err != nil {
		return err
	}
	if err := Rename(fresh, path); err != nil {
		os.Remove(fresh)
		return err
	}
	return SyncFolder(filepath.Dir(path))
}

// PutNew gives a file a name that nothing has yet, and lets its own go.
func PutNew(from, to string) error {
	err := os.Link(from, to) // which takes no other's place, as a rename would
	switch {
	case err == nil:
		err = os.Remove(from)
	case !errors.Is(err, fs.ErrExist): // some disks know no links
		if _, there := os.Lstat(to); errors.Is(there, fs.ErrNotExist) {
			err = Rename(from, to)
		}
	}
	if err != nil {
		return err
	}
	return SyncFolder(filepath.Dir(to))
}

//go:build unix

package place

import (
	"errors"
	"io/fs"
	"os"
	"syscall"
)

// tryLock takes a lock that ends with the process at the latest. A killed run leaves the empty
// file; the lock is free all the same.
func tryLock(path string) (unlock func(), err error) {
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE|syscall.O_NOFOLLOW, 0o666)
	if err != nil {
		return nil, err
	}
	if err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB); err != nil {
		f.Close()
		return nil, &fs.PathError{Op: "lock", Path: path, Err: err}
	}
	locked, err := f.Stat()
	there, gone := os.Stat(path)
	// the holder before removed it after we had opened it
	if err != nil || gone != nil || !os.SameFile(locked, there) {
		f.Close()
		return nil, &fs.PathError{Op: "lock", Path: path, Err: syscall.EWOULDBLOCK}
	}
	return func() { os.Remove(path); f.Close() }, nil
}

// Busy says whether an error may pass by itself.
func Busy(err error) bool {
	return errors.Is(err, syscall.EWOULDBLOCK) || errors.Is(err, syscall.EINTR)
}

// SyncFolder makes the names in a folder last; where that is not to be had it does nothing.
func SyncFolder(dir string) error {
	f, err := os.Open(dir)
	if err != nil {
		return err
	}
	defer f.Close()
	if err := f.Sync(); err != nil && !errors.Is(err, errors.ErrUnsupported) &&
		!errors.Is(err, syscall.EINVAL) {
		return err
	}
	return nil
}

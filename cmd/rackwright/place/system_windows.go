package place

import (
	"errors"
	"io/fs"
	"syscall"
)

// tryLock takes a lock that ends with the process at the latest: a file that nobody else may open
// and that goes when it is closed.
func tryLock(path string) (unlock func(), err error) {
	const deleteOnClose = 0x04000000 // FILE_FLAG_DELETE_ON_CLOSE
	name, err := syscall.UTF16PtrFromString(path)
	if err != nil {
		return nil, err
	}
	h, err := syscall.CreateFile(name, syscall.GENERIC_WRITE, 0, nil, syscall.OPEN_ALWAYS,
		syscall.FILE_ATTRIBUTE_NORMAL|deleteOnClose, 0)
	if err != nil {
		return nil, &fs.PathError{Op: "lock", Path: path, Err: err}
	}
	return func() { syscall.CloseHandle(h) }, nil
}

// Busy says whether an error may pass by itself: a file that is open elsewhere, also one that is
// being removed, is denied.
func Busy(err error) bool {
	const sharingViolation = syscall.Errno(32)
	return errors.Is(err, sharingViolation) || errors.Is(err, syscall.ERROR_ACCESS_DENIED)
}

// SyncFolder does nothing: folders cannot be synced, and renames are in the file system's journal.
func SyncFolder(string) error { return nil }

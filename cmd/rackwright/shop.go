package main

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"

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

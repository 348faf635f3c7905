package place

import (
	"io/fs"
	"os"
	"path/filepath"

	"rackwright/io/folder"
)

// IsSystemFile says whether something in a folder is a file of the operating system's or of a
// spreadsheet's own.
func IsSystemFile(f fs.DirEntry) bool { return f.Type().IsRegular() && folder.SystemFile(f.Name()) }

// Follow follows links, also one to a folder that is not there: a killed run may have left its old
// plan beside that.
func Follow(path string) string {
	if real, err := filepath.EvalSymlinks(path); err == nil {
		return real
	}
	to, err := os.Readlink(path)
	if err != nil {
		return path
	}
	if !filepath.IsAbs(to) {
		to = filepath.Join(filepath.Dir(path), to)
	}
	return to
}

// NameOf is the name of a folder itself, whatever path or link leads to it.
func NameOf(dir string) string { return filepath.Base(WholePath(dir)) }

// WholePath is the path of a folder itself, from the top of the disk, whatever link leads to it.
func WholePath(dir string) string {
	if real, err := filepath.EvalSymlinks(dir); err == nil {
		dir = real
	}
	if whole, err := filepath.Abs(dir); err == nil {
		dir = whole
	}
	return dir
}

// IsSame says whether two paths lead to the same folder.
func IsSame(dir, other string) bool {
	a, err1 := os.Stat(dir)
	b, err2 := os.Stat(other)
	return err1 == nil && err2 == nil && os.SameFile(a, b)
}

// WholeOf is the path of a folder itself, from the top of the disk, though it is not there any
// more: of what of the path is there, whatever link leads to it.
func WholeOf(dir string) string {
	whole, err := filepath.Abs(dir)
	if err != nil {
		return dir
	}
	if real, err := filepath.EvalSymlinks(whole); err == nil {
		return real
	}
	above := filepath.Dir(whole)
	if above == whole {
		return whole
	}
	return filepath.Join(WholeOf(above), filepath.Base(whole))
}

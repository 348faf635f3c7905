package main

import (
	"bytes"
	"errors"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
)

// folderTree is a folder to be written, with folders in it.
type folderTree struct {
	// by name, with slashes; a name that ends in a slash is an empty folder
	files  map[string][]byte
	beside []string // what else may lie in the folder
	what   string   // what refusals call it
}

// lay puts the files in place: in a new folder as a whole, and in one that is there what is missing
// of them.
func (t *folderTree) lay(dir string) error {
	if _, err := os.Lstat(dir); !errors.Is(err, fs.ErrNotExist) {
		return t.fill(dir)
	}
	dir = filepath.Clean(dir)
	if err := os.MkdirAll(filepath.Dir(dir), 0o777); err != nil {
		return cannotMake(dir, err)
	}
	unlock, err := lock(dir)
	if err != nil {
		return cannotMake(dir, err)
	}
	defer unlock()
	if _, err := os.Lstat(dir); err == nil { // another run was quicker
		return t.fill(dir)
	}
	if err := t.fill(newOf(dir)); err != nil { // a killed run may have left a part of it there
		return err
	}
	if err := rename(newOf(dir), dir); err != nil {
		return cannotMake(dir, err)
	}
	return nil
}

func cannotMake(dir string, err error) error {
	return refuse("%s: cannot be made (%v); name a folder that is new or empty", dir, reason(err))
}

// fill writes what is missing. Files that differ are never overwritten; one that ends too soon was
// being written when a run was killed, and is written again. After an error nothing is left of what
// was missing.
func (t *folderTree) fill(dir string) (err error) {
	if err := t.only(dir); err != nil {
		return err
	}
	var made []string
	defer func() {
		for _, at := range slices.Backward(made) {
			if err != nil {
				os.Remove(at)
			}
		}
	}()
	for _, name := range slices.Sorted(maps.Keys(t.folders())) {
		at := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.Mkdir(at, 0o777); err == nil {
			made = append(made, at)
		} else if !errors.Is(err, fs.ErrExist) {
			return cannotMake(at, err)
		}
	}
	for _, name := range slices.Sorted(maps.Keys(t.files)) {
		at := filepath.Join(dir, filepath.FromSlash(name))
		if strings.HasSuffix(name, "/") {
			continue
		}
		old, err := os.ReadFile(at)
		if err == nil && len(old) == len(t.files[name]) {
			continue
		}
		if err == nil {
			err = os.Remove(at)
		} else if errors.Is(err, fs.ErrNotExist) {
			err = nil
		}
		if err == nil {
			err = writeFile(at, t.files[name])
		}
		if err != nil {
			return refuse("%s: cannot be written (%v)", at, reason(err))
		}
		made = append(made, at)
	}
	return nil
}

// folders are those of the tree, itself included.
func (t *folderTree) folders() map[string]bool {
	all := map[string]bool{".": true}
	for name := range t.files {
		for dir := path.Dir(name); dir != "."; dir = path.Dir(dir) {
			all[dir] = true
		}
	}
	return all
}

// only refuses a folder that holds anything but the tree, or the beginning of it, what may lie
// beside, and files of the system's own.
func (t *folderTree) only(dir string) error {
	there, folders := os.DirFS(dir), t.folders()
	return fs.WalkDir(there, ".", func(name string, f fs.DirEntry, err error) error {
		if name == "." && errors.Is(err, fs.ErrNotExist) {
			return fs.SkipDir
		}
		if err != nil {
			return cannotMake(dir, err)
		}
		if slices.Contains(t.beside, name) || isSystemFile(f) {
			return skip(f)
		}
		data, isFile := t.files[name]
		if f.IsDir() != folders[name] || !f.IsDir() && !isFile {
			return refuse("%s: holds %s; name a folder that is new or empty for %s", dir, name,
				t.what)
		}
		if f.IsDir() {
			return nil
		}
		old, err := fs.ReadFile(there, name)
		if err != nil {
			return refuse("%s: %v", dir, reason(err))
		}
		if !bytes.HasPrefix(data, old) {
			return refuse("%s: %s is there already and is not %s's; name a folder that is new or "+
				"empty", dir, name, t.what)
		}
		return nil
	})
}

// complete says whether all of the tree lies in a folder.
func (t *folderTree) complete(dir string) bool {
	for name, data := range t.files {
		at := filepath.Join(dir, filepath.FromSlash(name))
		if strings.HasSuffix(name, "/") {
			info, err := os.Stat(at)
			if err != nil || !info.IsDir() {
				return false
			}
		} else if old, err := os.ReadFile(at); err != nil || !bytes.Equal(old, data) {
			return false
		}
	}
	return true
}

// skip passes over a folder with all in it, or over a file.
func skip(f fs.DirEntry) error {
	if f.IsDir() {
		return fs.SkipDir
	}
	return nil
}

package place

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

	"rackwright/cmd/rackwright/command"
)

// Tree is a folder to be written, with folders in it.
type Tree struct {
	// by name, with slashes; a name that ends in a slash is an empty folder
	Files  map[string][]byte
	Beside []string // what else may lie in the folder
	What   string   // what refusals call it
}

// Lay puts the files in place: in a new folder as a whole, and in one that is there what is missing
// of them.
func (t *Tree) Lay(dir string) error {
	if _, err := os.Lstat(dir); !errors.Is(err, fs.ErrNotExist) {
		return t.fill(dir)
	}
	dir = filepath.Clean(dir)
	if err := os.MkdirAll(filepath.Dir(dir), 0o777); err != nil {
		return cannotMake(dir, err)
	}
	unlock, err := Lock(dir)
	if err != nil {
		return cannotMake(dir, err)
	}
	defer unlock()
	if _, err := os.Lstat(dir); err == nil { // another run was quicker
		return t.fill(dir)
	}
	if err := t.fill(NewOf(dir)); err != nil { // a killed run may have left a part of it there
		return err
	}
	if err := Rename(NewOf(dir), dir); err != nil {
		return cannotMake(dir, err)
	}
	return nil
}

func cannotMake(dir string, err error) error {
	return command.Refuse(
		"%s: cannot be made (%v); name a folder that is new or empty", dir, command.Reason(err))
}

// fill writes what is missing. Files that differ are never overwritten; one that ends too soon was
// being written when a run was killed, and is written again. After an error nothing is left of what
// was missing.
func (t *Tree) fill(dir string) (err error) {
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
	for _, name := range slices.Sorted(maps.Keys(t.Files)) {
		at := filepath.Join(dir, filepath.FromSlash(name))
		if strings.HasSuffix(name, "/") {
			continue
		}
		old, err := os.ReadFile(at)
		if err == nil && len(old) == len(t.Files[name]) {
			continue
		}
		if err == nil {
			err = os.Remove(at)
		} else if errors.Is(err, fs.ErrNotExist) {
			err = nil
		}
		if err == nil {
			err = WriteFile(at, t.Files[name])
		}
		if err != nil {
			return command.Refuse("%s: cannot be written (%v)", at, command.Reason(err))
		}
		made = append(made, at)
	}
	return nil
}

// folders are those of the tree, itself included.
func (t *Tree) folders() map[string]bool {
	all := map[string]bool{".": true}
	for name := range t.Files {
		for dir := path.Dir(name); dir != "."; dir = path.Dir(dir) {
			all[dir] = true
		}
	}
	return all
}

// only refuses a folder that holds anything but the tree, or the beginning of it, what may lie
// beside, and files of the system's own.
func (t *Tree) only(dir string) error {
	there, folders := os.DirFS(dir), t.folders()
	return fs.WalkDir(there, ".", func(name string, f fs.DirEntry, err error) error {
		if name == "." && errors.Is(err, fs.ErrNotExist) {
			return fs.SkipDir
		}
		if err != nil {
			return cannotMake(dir, err)
		}
		if slices.Contains(t.Beside, name) || IsSystemFile(f) {
			return skip(f)
		}
		data, isFile := t.Files[name]
		if f.IsDir() != folders[name] || !f.IsDir() && !isFile {
			return command.Refuse(
				"%s: holds %s; name a folder that is new or empty for %s", dir, name,
				t.What)
		}
		if f.IsDir() {
			return nil
		}
		old, err := fs.ReadFile(there, name)
		if err != nil {
			return command.Refuse("%s: %v", dir, command.Reason(err))
		}
		if !bytes.HasPrefix(data, old) {
			return command.Refuse(
				"%s: %s is there already and is not %s's; name a folder that is new or "+
					"empty", dir, name, t.What)
		}
		return nil
	})
}

// Complete says whether all of the tree lies in a folder.
func (t *Tree) Complete(dir string) bool {
	for name, data := range t.Files {
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

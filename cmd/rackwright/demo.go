package main

import (
	"bytes"
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"rackwright/model"
)

// demoFiles are an invented month of an invented shop.
//
//go:embed demo
var demoFiles embed.FS

type demoCommand struct {
	Dir string `arg:"" optional:"" help:"Folder to write the invented month to; ${default_demo} if left out."`
	ordering
	search
}

func (c *demoCommand) Help() string { return "Example: rackwright demo march" }

func (c *demoCommand) Run(e *env) error {
	dir := c.Dir
	if dir == "" {
		dir = defaultDemo
	}
	if err := writeDemo(dir); err != nil {
		return err
	}
	if !e.quiet {
		fmt.Fprintf(e.stdout, "An invented month of an invented shop, written to %s\n\n", dir)
	}
	job, err := e.readJob(dir)
	if err != nil {
		return err
	}
	out, err := e.outFolder(filepath.Join(dir, "out"), dir)
	if err != nil {
		return err
	}
	entries, err := e.compare([]*model.Job{job}, &c.search, c.Order)
	if err != nil {
		return err
	}
	all := len(entries) - 1 // the rules come first, then one commission at a time
	if err := e.deliver(job, entries[all].Plans[0], waysOf(entries[:all-1]), out,
		nil); err != nil && !errors.Is(err, errShort) {
		return err
	}
	if !e.quiet {
		fmt.Fprintln(e.stdout)
	}
	v := verifyCommand{Outdir: out, Job: dir}
	if err := v.Run(e); err != nil {
		return err
	}
	if e.quiet {
		return nil
	}
	fmt.Fprintln(e.stdout)
	return e.comparison(job, entries)
}

const defaultDemo = "rackwright-demo"

// writeDemo puts the month in place: in a new folder as a whole, and in one that is there what is
// missing of it.
func writeDemo(dir string) error {
	if _, err := os.Lstat(dir); !errors.Is(err, fs.ErrNotExist) {
		return fillDemo(dir)
	}
	cannot := func(err error) error {
		return refuse("%s: cannot be made (%v); name a folder that is new or empty", dir,
			reason(err))
	}
	dir = filepath.Clean(dir)
	if err := os.MkdirAll(filepath.Dir(dir), 0o777); err != nil {
		return cannot(err)
	}
	unlock, err := lock(dir)
	if err != nil {
		return cannot(err)
	}
	defer unlock()
	if _, err := os.Lstat(dir); err == nil { // another run was quicker
		return fillDemo(dir)
	}
	if err := fillDemo(newOf(dir)); err != nil { // a killed run may have left a part of it there
		return err
	}
	if err := rename(newOf(dir), dir); err != nil {
		return cannot(err)
	}
	return nil
}

// fillDemo writes what is missing of the month. Files that differ from it are never overwritten;
// one that ends too soon was being written when a run was killed, and is written again.
func fillDemo(dir string) error {
	month, err := fs.Sub(demoFiles, "demo")
	if err != nil {
		return err
	}
	if err := onlyDemo(dir, month); err != nil {
		return err
	}
	return fs.WalkDir(month, ".", func(name string, f fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		path := filepath.Join(dir, filepath.FromSlash(name))
		if f.IsDir() {
			if err := os.MkdirAll(path, 0o777); err != nil {
				return refuse("%s: cannot be made (%v); name a folder that is new or empty", path,
					reason(err))
			}
			return nil
		}
		data, err := fs.ReadFile(month, name)
		if err != nil {
			return err
		}
		old, err := os.ReadFile(path)
		if err == nil && len(old) == len(data) {
			return nil
		}
		if err == nil {
			err = os.Remove(path)
		} else if errors.Is(err, fs.ErrNotExist) {
			err = nil
		}
		if err == nil {
			err = writeFile(path, data)
		}
		if err != nil {
			return refuse("%v", err)
		}
		return nil
	})
}

// onlyDemo refuses a folder that holds anything but the month, or the beginning of it, a plan, and
// files of the system's own.
func onlyDemo(dir string, month fs.FS) error {
	there := os.DirFS(dir)
	return fs.WalkDir(there, ".", func(name string, f fs.DirEntry, err error) error {
		if name == "." && errors.Is(err, fs.ErrNotExist) {
			return fs.SkipDir
		}
		if err != nil {
			return refuse("%s: cannot be made (%v); name a folder that is new or empty", dir,
				reason(err))
		}
		if slices.Contains([]string{"out", oldOf("out"), newOf("out"), beside("out", "lock")},
			name) || isSystemFile(f) {
			return skip(f)
		}
		ours, err := fs.Stat(month, name)
		if err != nil || ours.IsDir() != f.IsDir() {
			return refuse("%s: holds %s; name a folder that is new or empty for the demo", dir,
				name)
		}
		if f.IsDir() {
			return nil
		}
		old, err := fs.ReadFile(there, name)
		if err != nil {
			return refuse("%s: %v", dir, reason(err))
		}
		if data, err := fs.ReadFile(month, name); err != nil || !bytes.HasPrefix(data, old) {
			return refuse("%s: %s is there already and is not the demo's; name a folder that is "+
				"new or empty",
				dir, name)
		}
		return nil
	})
}

// skip passes over a folder with all in it, or over a file.
func skip(f fs.DirEntry) error {
	if f.IsDir() {
		return fs.SkipDir
	}
	return nil
}

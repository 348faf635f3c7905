package main

import (
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"rackwright/model"
)

// demoFiles are an invented month of an invented shop.
//
//go:embed demo
var demoFiles embed.FS

type demoCommand struct {
	Dir string `arg:"" optional:"" help:"Folder to write the invented month to; ${default_demo} if left away."`
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
	entries, err := e.compare([]*model.Job{job}, &c.search)
	if err != nil {
		return err
	}
	if err := e.deliver(job, entries[len(entries)-1].Plans[0], out); err != nil && !errors.Is(err, errShort) {
		return err
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

// writeDemo writes the month; files that differ from it are never overwritten.
func writeDemo(dir string) error {
	files, err := demoFiles.ReadDir("demo")
	if err != nil {
		return err
	}
	contents := map[string][]byte{}
	for _, f := range files {
		data, err := demoFiles.ReadFile("demo/" + f.Name())
		if err != nil {
			return err
		}
		contents[f.Name()] = data
		old, err := os.ReadFile(filepath.Join(dir, f.Name()))
		if err == nil && string(old) != string(data) {
			return refuse("%s: %s is there already and is not the demo's; name a folder that is new or empty", dir, f.Name())
		}
	}
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return refuse("%s: cannot be made (%v); name a folder that is new or empty", dir, reason(err))
	}
	entries, err := os.ReadDir(dir)
	if err != nil {
		return refuse("%s: %v", dir, err)
	}
	for _, f := range entries {
		if _, ours := contents[f.Name()]; !ours && f.Name() != "out" {
			return refuse("%s: holds %s; name a folder that is new or empty for the demo", dir, f.Name())
		}
	}
	for name, data := range contents {
		path := filepath.Join(dir, name)
		if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
			if err := writeFile(path, data); err != nil {
				return refuse("%v", err)
			}
		}
	}
	return nil
}

package main

import (
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"strings"

	"rackwright/cmd/rackwright/place"
	"rackwright/cmd/rackwright/shopbook"
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
	if err := shopbook.NotBooked(filepath.Join(dir, "out")); err != nil {
		return err
	}
	if err := writeDemo(dir); err != nil {
		return err
	}
	if !e.Quiet {
		fmt.Fprintf(e.Stdout, "An invented month of an invented shop, written to %s\n\n", dir)
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
	if !e.Quiet {
		fmt.Fprintln(e.Stdout)
	}
	v := verifyCommand{Outdir: out, Job: dir}
	if err := v.Run(e); err != nil {
		return err
	}
	if e.Quiet {
		return nil
	}
	fmt.Fprintln(e.Stdout)
	return e.comparison(job, entries)
}

const defaultDemo = "rackwright-demo"

// writeDemo puts the month in place. A plan may lie in it already.
func writeDemo(dir string) error {
	month := place.Tree{Files: map[string][]byte{}, What: "the demo",
		Beside: []string{"out", place.OldOf("out"), place.NewOf("out"),
			place.Beside("out", "lock")}}
	err := fs.WalkDir(demoFiles, "demo", func(name string, f fs.DirEntry, err error) error {
		if err != nil || f.IsDir() {
			return err
		}
		month.Files[strings.TrimPrefix(name, "demo/")], err = demoFiles.ReadFile(name)
		return err
	})
	if err != nil {
		return err
	}
	return month.Lay(dir)
}

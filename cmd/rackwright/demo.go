package main

import (
	"cmp"
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"strings"

	"rackwright/cmd/rackwright/command"
	"rackwright/cmd/rackwright/place"
	"rackwright/cmd/rackwright/shopbook"
	"rackwright/io/report"
	"rackwright/model"
)

// demoFiles are an invented shop with three invented months.
//
//go:embed demo
var demoFiles embed.FS

// demoMonths are its months, the first of which is planned.
var demoMonths = []string{"2027-03", "2027-04", "2027-05"}

type demoCommand struct {
	Dir string `arg:"" optional:"" help:"Folder to write the invented shop to; ${default_demo} if left out."`
	ordering
	search
}

func (c *demoCommand) Help() string { return "Example: rackwright demo shop" }

func (c *demoCommand) Run(e *env) error {
	shop := c.Dir
	if shop == "" {
		shop = defaultDemo
	}
	dir := filepath.Join(shop, demoMonths[0])
	if err := shopbook.NotBooked(filepath.Join(dir, "out")); err != nil {
		return err
	}
	if err := writeDemo(shop); err != nil {
		return err
	}
	if !e.Quiet {
		fmt.Fprintf(e.Stdout, "An invented shop with three invented months, written to %s\n\n",
			shop)
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
	p := e.word(job, entries[all].Plans[0], waysOf(entries[:all-1]))
	if err := e.deliver(p, out, nil, nil); err != nil && !errors.Is(err, errShort) {
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
	short := e.comparison(job, entries)
	if short != nil && !errors.Is(short, errShort) {
		return short
	}
	fmt.Fprintln(e.Stdout)
	return cmp.Or(report.FromMonthToMonth(e.Stdout, shop, command.FromHere(out),
		filepath.Join(shop, demoMonths[1]), e.Columns()), short)
}

const defaultDemo = "rackwright-demo"

// writeDemo puts the shop in place. Plans of its months may lie in it already.
func writeDemo(dir string) error {
	shop := place.Tree{Files: map[string][]byte{}, What: "the demo"}
	for _, month := range demoMonths {
		out := month + "/out"
		for _, name := range []string{out, place.OldOf(out), place.NewOf(out),
			place.Beside(out, "lock")} {
			shop.Beside = append(shop.Beside, filepath.ToSlash(name))
		}
	}
	err := fs.WalkDir(demoFiles, "demo", func(name string, f fs.DirEntry, err error) error {
		if err != nil || f.IsDir() {
			return err
		}
		shop.Files[strings.TrimPrefix(name, "demo/")], err = demoFiles.ReadFile(name)
		return err
	})
	if err != nil {
		return err
	}
	return shop.Lay(dir)
}

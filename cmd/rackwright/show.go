package main

import (
	"slices"
	"strings"

	"golang.org/x/term"

	"rackwright/io/report"
	"rackwright/model"
)

type showCommand struct {
	Outdir string `arg:"" help:"Folder that a plan was written to."`
	Board  string `arg:"" help:"Board that the plan cuts, by its id in cuts.csv."`
	SVG    string `name:"svg" help:"Write the drawing to this file, to scale, as SVG." placeholder:"FILE"`
	PNG    string `name:"png" help:"Write the drawing to this file, to scale, as PNG." placeholder:"FILE"`
}

func (c *showCommand) Help() string {
	return `Example: rackwright show march/out W-12

A drawing of one board in plain characters: where its blanks and offcuts lie, and its cuts in order,
crosscuts and rips with their fence settings. With --svg or --png it is a picture to scale, in a
file, and nothing is printed.`
}

func (c *showCommand) Run(e *env) error {
	job, plan, err := readPlan(c.Outdir)
	if err != nil {
		return err
	}
	used := report.UsedBoards(job, plan)
	switch {
	case len(used) == 0:
		return refuse("%s: the plan cuts no board", c.Outdir)
	case !slices.Contains(used, c.Board):
		return refuse("%s: the plan does not cut board %q; the nearest is %s; it cuts %s", c.Outdir,
			c.Board, model.Nearest(c.Board, used), strings.Join(used, ", "))
	case c.SVG != "" || c.PNG != "":
		return c.pictures(e, job, plan)
	case e.quiet:
		return nil
	}
	return report.Show(e.stdout, job, plan, c.Board, e.columns())
}

// columns is how many columns a drawing may take: those of the terminal from 80 to 140, and 80 in a
// pipe.
func (e *env) columns() int {
	f, ok := terminal(e.stdout)
	if !ok {
		return 80
	}
	width, _, err := term.GetSize(int(f.Fd()))
	if err != nil {
		return 80
	}
	return min(140, max(80, width))
}

package main

import (
	"slices"

	"golang.org/x/term"

	"rackwright/cmd/rackwright/screen"
	"rackwright/io/report"
	"rackwright/model"
)

type showCommand struct {
	Outdir string `arg:"" help:"Folder that a plan was written to."`
	Board  string `arg:"" optional:"" help:"Board that the plan cuts, by its id; left out: all are listed."`
	SVG    string `name:"svg" help:"Write the drawing to this file, to scale, as SVG." placeholder:"FILE"`
	PNG    string `name:"png" help:"Write the drawing to this file, to scale, as PNG." placeholder:"FILE"`
}

func (c *showCommand) Help() string {
	return `Example: rackwright show march/out

Example: rackwright show march/out W-12

Without a board, a list of all that the plan cuts. With one, a drawing of it in plain characters:
where its blanks and offcuts lie, and its cuts in order, crosscuts and rips with their fence
settings. With --svg or --png it is a picture to scale, in a file, and nothing is printed.`
}

func (c *showCommand) Run(e *env) error {
	job, plan, err := readPlan(c.Outdir)
	if err != nil {
		return err
	}
	used := report.UsedBoards(job, plan)
	switch {
	case c.Board == "" && (c.SVG != "" || c.PNG != ""):
		return refuse("a picture is of one board; name it behind %s", c.Outdir)
	case c.Board == "" && e.quiet:
		return nil
	case c.Board == "":
		return report.BoardList(e.stdout, job, plan, e.columns())
	case len(used) == 0:
		return refuse("%s: the plan cuts no board", c.Outdir)
	case !slices.Contains(used, c.Board):
		return refuse("%s: the plan does not cut board %q; the nearest is %s; show without a "+
			"board lists all", c.Outdir, c.Board, model.Nearest(c.Board, used))
	case c.SVG != "" || c.PNG != "":
		return c.pictures(e, job, plan)
	case e.quiet:
		return nil
	}
	return report.Show(e.stdout, job, plan, c.Board, e.columns())
}

// columns is how many columns a line may take: those of the terminal from 80 to 140, and 80 in a
// pipe.
func (e *env) columns() int {
	f, ok := screen.Terminal(e.stdout)
	if !ok {
		return report.UsualWidth
	}
	width, _, err := term.GetSize(int(f.Fd()))
	if err != nil {
		return report.UsualWidth
	}
	return min(140, max(report.UsualWidth, width))
}

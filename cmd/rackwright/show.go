package main

import (
	"slices"

	"rackwright/cmd/rackwright/command"
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
	return `Example: rackwright show shop/2027-03/out

Example: rackwright show shop/2027-03/out B-062

Without a board, a list of all that the plan cuts. With one, a drawing of it in plain characters:
where its blanks and offcuts lie, and its cuts in order, crosscuts and rips with their fence
settings. With --svg or --png it is a picture to scale, in a file, and nothing is printed.`
}

func (c *showCommand) Run(e *env) error {
	if c.SVG != "" || c.PNG != "" {
		return c.show(e)
	}
	return e.tell(c.Outdir, func() error { return c.show(e) })
}

func (c *showCommand) show(e *env) error {
	job, plan, err := readPlan(c.Outdir)
	if err != nil {
		return err
	}
	used := report.UsedBoards(job, plan)
	switch {
	case c.Board == "" && (c.SVG != "" || c.PNG != ""):
		return command.Refuse("a picture is of one board; name it behind %s", c.Outdir)
	case c.Board == "" && e.Quiet:
		return nil
	case c.Board == "":
		return report.BoardList(e.Stdout, job, plan, e.Columns())
	case len(used) == 0:
		return command.Refuse("%s: the plan cuts no board", c.Outdir)
	case !slices.Contains(used, c.Board):
		return command.Refuse(
			"%s: the plan does not cut board %q; the nearest is %s; show without a "+
				"board lists all", c.Outdir, c.Board, model.Nearest(c.Board, used))
	case c.SVG != "" || c.PNG != "":
		return c.pictures(e, job, plan)
	case e.Quiet:
		return nil
	}
	return report.Show(e.Stdout, job, plan, c.Board, e.Columns())
}

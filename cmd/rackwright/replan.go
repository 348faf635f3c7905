package main

import (
	"fmt"
	"path/filepath"

	"rackwright/cmd/rackwright/shopbook"
	"rackwright/io/report"
	"rackwright/model"
)

type replanCommand struct {
	Outdir string `arg:"" help:"Folder of the booked plan."`
	Out    string `help:"Folder for the new revision; OUTDIR-2, OUTDIR-3 and so on if left out." placeholder:"DIR"`
	ordering
	search
}

func (c *replanCommand) Help() string {
	return `Example: rackwright replan shop/2027-03/out --work 1000

What is cut stays cut; what was spoiled is wanted again; boards are as the book now has them. Boards
that are not begun keep their layout where that costs no more than [work] change of shop.toml. The
new revision is written beside the plan; "rackwright book" of it takes the place of the one before.`
}

func (c *replanCommand) Run(e *env) error {
	show := newProgress(e, "reading the book")
	defer show.end()
	var left *shopbook.Left
	err := e.UnlessInterrupted(func() (err error) {
		left, err = shopbook.LeftOf(&e.Env, c.Outdir)
		return err
	})
	if err != nil {
		return err
	}
	if len(left.Job.Parts) == 0 {
		show.end()
		if !e.Quiet {
			fmt.Fprintf(e.Stdout, "Nothing is left to cut of plan %s, so there is nothing to "+
				"plan.\n", left.Why.Plan)
		}
		return nil
	}
	out := c.Out
	if out == "" {
		out = left.Out
	}
	if err := shopbook.NotBooked(out); err != nil {
		return err
	}
	if out, err = e.outFolder(out, filepath.Dir(left.Out)); err != nil {
		return err
	}
	p, err := e.plan(left.Job, left.Revision, &c.search, c.Order, show)
	if err != nil {
		return err
	}
	return e.deliver(p, out, show, func(plan *model.Plan) error {
		return report.Replanned(e.Stdout, left.Was.Job, left.Job, left.Was.Plan, plan, &left.Why,
			e.Columns())
	})
}

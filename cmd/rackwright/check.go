package main

import (
	"fmt"
	"slices"

	"rackwright/io/report"
	"rackwright/model"
	"rackwright/nest"
)

// mostMade parts that are made up have a line of their own in check; of more only the count is
// said, as explain tells of each.
const mostMade = 5

type checkCommand struct {
	Jobdir string `arg:"" help:"Job folder."`
}

// pieceCount is how many pieces are wanted.
func pieceCount(job *model.Job) (n int64) {
	for i := range job.Parts {
		n += job.Parts[i].Qty
	}
	return n
}

func (c *checkCommand) Help() string { return "Example: rackwright check shop/2027-03" }

func (c *checkCommand) Run(e *env) error {
	job, err := e.readJob(c.Jobdir)
	if err != nil {
		return err
	}
	if e.Quiet {
		return nil
	}
	return e.tell(c.Jobdir, func() error { return c.found(e, job) })
}

// found tells what there is in a job, and what is odd.
func (c *checkCommand) found(e *env, job *model.Job) error {
	fmt.Fprintln(e.Stdout, report.Wrap(fmt.Sprintf(
		"No mistakes. Commissions %d, parts %d, pieces %d; rack boards %d, yard rows %d.",
		len(job.Commissions), len(job.Parts), pieceCount(job), len(job.Rack), len(job.Yard))))
	if from := report.Shop(job); from != "" {
		fmt.Fprintln(e.Stdout, report.Wrap(from))
	}
	made := nest.MadeUp(job)
	if len(made) > mostMade {
		made = []string{fmt.Sprintf("%d parts are made up of pieces: `rackwright explain %s` "+
			"names the cheapest way of each", len(made), model.Visible(report.ShellWord(c.Jobdir)))}
	}
	for _, r := range slices.Concat(nest.Remarks(job), nest.UnnamedKinds(job), made) {
		fmt.Fprintln(e.Stdout, r)
	}
	return nil
}

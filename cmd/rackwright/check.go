package main

import (
	"fmt"
	"slices"

	"rackwright/io/report"
	"rackwright/model"
	"rackwright/nest"
)

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
	fmt.Fprintln(e.Stdout, report.Wrap(fmt.Sprintf(
		"No mistakes. Commissions %d, parts %d, pieces %d; rack boards %d, yard rows %d.",
		len(job.Commissions), len(job.Parts), pieceCount(job), len(job.Rack), len(job.Yard))))
	if from := report.Shop(job); from != "" {
		fmt.Fprintln(e.Stdout, report.Wrap(from))
	}
	for _, r := range slices.Concat(nest.Remarks(job), nest.UnnamedKinds(job), nest.MadeUp(job)) {
		fmt.Fprintln(e.Stdout, r)
	}
	return nil
}

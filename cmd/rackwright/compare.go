package main

import (
	"rackwright/io/report"
	"rackwright/model"
	"rackwright/nest"
)

type compareCommand struct {
	Jobdir string `arg:"" help:"Job folder."`
	search
}

func (c *compareCommand) Help() string { return "Example: rackwright compare march" }

func (c *compareCommand) Run(e *env) error {
	job, err := e.readJob(c.Jobdir)
	if err != nil {
		return err
	}
	entries, err := e.compare(job, &c.search)
	if err != nil {
		return err
	}
	return e.comparison(job, entries)
}

// compare plans a job in every way and shows how it goes on.
func (e *env) compare(job *model.Job, s *search) ([]nest.Entry, error) {
	opt, show, err := s.options(e)
	if err != nil {
		return nil, err
	}
	entries, err := nest.Compare(e.ctx, job, opt)
	show.end()
	return entries, err
}

// comparison prints the ways of planning side by side.
func (e *env) comparison(job *model.Job, entries []nest.Entry) error {
	var names []string
	var plans []*model.Plan
	for _, x := range entries {
		names, plans = append(names, x.Name), append(plans, x.Plan)
	}
	if err := report.Comparison(e.stdout, job, names, plans); err != nil {
		return err
	}
	if last := plans[len(plans)-1]; len(last.Shortages) > 0 {
		return errShort
	}
	return nil
}

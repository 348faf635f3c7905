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
	var ways []model.Measure
	for _, x := range entries {
		names, ways = append(names, x.Name), append(ways, model.MeasureOf(x.Plans...))
	}
	if !e.quiet {
		if err := report.Comparison(e.stdout, job, names, ways); err != nil {
			return err
		}
	}
	if ways[len(ways)-1].Short > 0 {
		return errShort
	}
	return nil
}

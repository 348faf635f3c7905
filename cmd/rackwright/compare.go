package main

import (
	"rackwright/cmd/rackwright/command"
	"rackwright/io/report"
	"rackwright/model"
	"rackwright/nest"
)

type compareCommand struct {
	Jobdirs []string `arg:"" name:"jobdir" help:"Job folder; with --months several, in their order."`
	Months  bool     `help:"Plan the folders one after the other, each on the rack that the one before left; only the first one's rack.csv counts."`
	search
}

func (c *compareCommand) Help() string {
	return "Example: rackwright compare shop/2027-03\n\n" +
		"Example: rackwright compare --months march april may\n\n" +
		"The simple rules rip boards where the solver may."
}

func (c *compareCommand) Run(e *env) error {
	if len(c.Jobdirs) > 1 && !c.Months {
		return command.Refuse(
			"compare takes one job folder; to plan several one after the other, " +
				"add --months")
	}
	var jobs []*model.Job
	for _, dir := range c.Jobdirs {
		job, err := e.readJob(dir)
		if err != nil {
			return err
		}
		if jobs != nil && (job.Settings.Units != jobs[0].Settings.Units ||
			job.Settings.Currency != jobs[0].Settings.Currency) {
			return command.Refuse("%s: its units or currency are not those of %s; the sums would "+
				"mean nothing",
				dir, c.Jobdirs[0])
		}
		jobs = append(jobs, job)
	}
	entries, err := e.compare(jobs, &c.search, "")
	if err != nil {
		return err
	}
	return e.comparison(jobs[0], entries)
}

// compare plans jobs in every way and shows how it goes on.
func (e *env) compare(jobs []*model.Job, s *search, order model.Way) ([]nest.Entry, error) {
	opt, err := s.options(e)
	if err != nil {
		return nil, err
	}
	show := newProgress(e, "planning by simple rules, and one commission at a time")
	defer show.end()
	opt.Observe, opt.Order = show.observe, order
	return nest.Compare(e.Ctx, jobs, opt)
}

// comparison prints the ways of planning side by side.
func (e *env) comparison(job *model.Job, entries []nest.Entry) error {
	var names []string
	var ways []model.Measure
	for _, x := range entries {
		names, ways = append(names, x.Name), append(ways, model.MeasureOf(x.Plans...))
	}
	if !e.Quiet {
		if err := report.Comparison(e.Stdout, job, names, ways, e.Columns()); err != nil {
			return err
		}
	}
	if ways[len(ways)-1].Short > 0 {
		return errShort
	}
	return nil
}

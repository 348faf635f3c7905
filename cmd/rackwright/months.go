package main

import (
	"context"
	"errors"
	"fmt"

	"rackwright/cmd/rackwright/command"
	"rackwright/cmd/rackwright/shopbook"
	"rackwright/io/report"
	"rackwright/model"
	"rackwright/nest"
)

type monthsCommand struct {
	Shop string `arg:"" help:"Shop folder with its months, job folders in it."`
	search
}

func (c *monthsCommand) Help() string {
	return "Example: rackwright months shop --work 1000\n\n" +
		"The months follow each other by the names of their folders. --work and --time are for " +
		"each month and each way of planning it. Nothing is written."
}

func (c *monthsCommand) Run(e *env) error {
	opt, err := c.options(e)
	if err != nil {
		return err
	}
	show := newProgress(e, "reading "+c.Shop)
	defer show.end()
	months, err := e.readMonths(c.Shop)
	if err != nil {
		return err
	}
	var jobs []*model.Job
	for _, m := range months {
		jobs = append(jobs, m.Job)
	}
	planned, err := nest.Months(e.Ctx, jobs, opt, func(n int, way nest.Way) {
		show.enter(fmt.Sprintf("month %d of %d, %s: %v", n+1, len(jobs), months[n].Name, way))
	})
	show.end()
	if err != nil && (!errors.Is(err, context.Canceled) || len(planned) == 0) {
		return err
	}
	if len(planned) < len(jobs) {
		fmt.Fprintf(e.Stderr, "interrupted: these are the months before %s\n",
			months[len(planned)].Name)
	}
	return e.monthsSideBySide(months, planned)
}

// readMonths reads the months of a shop folder, which must be reckoned in the same units, and
// prints what is odd in them.
func (e *env) readMonths(dir string) (months []shopbook.Month, err error) {
	var notes []model.Note
	err = e.UnlessInterrupted(func() (err error) {
		months, notes, err = shopbook.ReadMonths(dir)
		return err
	})
	if err != nil {
		return nil, err
	}
	if !e.Quiet {
		for _, n := range notes {
			fmt.Fprintln(e.Stderr, n)
		}
	}
	first := &months[0].Job.Settings
	for _, m := range months {
		if s := &m.Job.Settings; s.Units != first.Units || s.Currency != first.Currency {
			return nil, command.Refuse("%s: its units or currency are not those of %s; the sums "+
				"would mean nothing", m.Name, months[0].Name)
		}
		if m.Job.Source("rack.csv") == "rack.csv" && !e.Quiet {
			fmt.Fprintf(e.Stderr, "%s: it has a rack.csv of its own, and is planned on that\n",
				m.Name)
		}
	}
	return months, nil
}

// monthsSideBySide prints what came of the months.
func (e *env) monthsSideBySide(months []shopbook.Month, planned [][nest.Ways]nest.Month) error {
	var ways []string
	for way := range nest.Way(nest.Ways) {
		ways = append(ways, way.String())
	}
	var told []report.MonthPlans
	short := false
	for n := range planned {
		m := report.MonthPlans{Name: months[n].Name}
		for _, w := range planned[n] {
			m.Ways = append(m.Ways, report.MonthPlan{Measure: w.Measure, Rack: w.After})
		}
		told = append(told, m)
		short = short || planned[n][nest.Carried].Short > 0
	}
	if !e.Quiet {
		if err := report.Months(e.Stdout, months[0].Job, ways, told, e.Columns()); err != nil {
			return err
		}
	}
	if short {
		return errShort
	}
	return nil
}

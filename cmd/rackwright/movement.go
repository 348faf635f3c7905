package main

import (
	"fmt"
	"strings"

	"rackwright/cmd/rackwright/command"
	"rackwright/io/report"
	"rackwright/model"
	"rackwright/model/movement"
)

type movementCommand struct {
	Jobdir    string `arg:"" optional:"" help:"Job folder; or a single width with --species and --width."`
	Moisture  string `help:"Lowest and highest moisture of the wood over the year, in percent." placeholder:"6-10"`
	Climate   string `help:"Or the driest and the dampest air that the piece will stand in: temperature and relative humidity." placeholder:"\"70F 30%, 75F 60%\""`
	Sawn      string `help:"How the wood is sawn: flat (it moves more) or quarter." enum:"flat,quarter" default:"flat"`
	WiderThan string `help:"Parts at least this wide are listed; 6in, in a mm shop 150mm, if left out." placeholder:"WIDTH"`
	Species   string `help:"Without a job folder: the wood." placeholder:"NAME"`
	Width     string `help:"Without a job folder: the width, such as 24 (in) or 600mm." placeholder:"WIDTH"`
}

func (c *movementCommand) Help() string {
	return `Example: rackwright movement shop/2027-03 --climate "70F 30%, 75F 60%"

Example: rackwright movement --species "red oak" --width 24 --moisture 6-10

Woods of the table: ` + strings.Join(model.SpeciesNames(), "; ") + "."
}

func (c *movementCommand) Run(e *env) error {
	season, err := c.season()
	if err != nil {
		return err
	}
	if c.Jobdir == "" {
		return c.one(e, season)
	}
	if c.Species != "" || c.Width != "" {
		return command.Refuse("a job folder has species and widths of its own; leave it out, or " +
			"--species and --width")
	}
	job, err := e.readJob(c.Jobdir)
	if err != nil {
		return err
	}
	u := job.Settings.Units
	least := model.Length(6 * model.UnitsPerInch)
	if u == model.Millimetre {
		least = 150 * model.UnitsPerMillimetre
	}
	if c.WiderThan != "" {
		if least, _, err = model.ParseLength(c.WiderThan, u); err != nil {
			return command.Refuse("--wider-than: %w", err)
		}
	}
	wide := movement.WideParts(job, least)
	switch {
	case e.Quiet:
		return nil
	case len(wide) == 0:
		fmt.Fprintln(e.Stdout,
			report.Wrap(fmt.Sprintf(
				"No part is %s wide or wider; --wider-than lists narrower ones, --species and "+
					"--width reckon one width.",
				job.Settings.Show(least))))
		return nil
	}
	return c.report(e, job, wide, season)
}

// one reckons a single width. What is written in metric is answered in metric.
func (c *movementCommand) one(e *env, season movement.Season) error {
	if c.Species == "" || c.Width == "" || c.WiderThan != "" {
		return command.Refuse(
			`name a job folder (--wider-than is for one), or give --species and ` +
				`--width, such as --species "red oak" --width 24`)
	}
	species, err := model.FindSpecies(c.Species)
	if err != nil {
		return command.Refuse("--species: %w", err)
	}
	width, _, err := model.ParseLength(c.Width, model.Inch)
	if err != nil {
		return command.Refuse("--width: %w", err)
	}
	if width == 0 || width > model.LongestLength {
		return command.Refuse("--width %s: write a width above 0 and up to 100 m", c.Width)
	}
	u := model.Inch
	if strings.HasSuffix(strings.ToLower(strings.TrimSpace(c.Width)), "m") {
		u = model.Millimetre
	}
	if e.Quiet {
		return nil
	}
	return c.report(e, &model.Job{Settings: model.DefaultSettingsIn(u)}, []movement.Wide{
		{Material: species.Name, Species: species, Parts: []*model.Part{{Width: width}}}}, season)
}

func (c *movementCommand) report(e *env, job *model.Job, wide []movement.Wide,
	season movement.Season) error {
	how := movement.FlatSawn
	if c.Sawn == "quarter" {
		how = movement.QuarterSawn
	}
	return report.Movement(e.Stdout, job, wide, season, how, e.Columns())
}

// season reads how dry and how damp the wood becomes; no year is like another's, so there is no
// default.
func (c *movementCommand) season() (s movement.Season, err error) {
	switch {
	case (c.Moisture == "") == (c.Climate == ""):
		return s, command.Refuse(
			`say how dry and how damp the wood becomes over the year: either ` +
				`--moisture 6-10, or --climate "70F 30%%, 75F 60%%"`)
	case c.Moisture != "":
		if s, err = movement.ParseSeason(c.Moisture); err != nil {
			return s, command.Refuse("--moisture: %w", err)
		}
	default:
		if s, err = movement.ParseClimates(c.Climate); err != nil {
			return s, command.Refuse("--climate: %w", err)
		}
	}
	return s, nil
}

package main

import (
	"cmp"
	"path/filepath"
	"slices"

	"rackwright/cmd/rackwright/command"
	"rackwright/io/report"
	"rackwright/model"
)

type explainCommand struct {
	Jobdir     string `arg:"" help:"Job folder."`
	Commission string `arg:"" optional:"" help:"One commission only."`
	Part       string `arg:"" optional:"" help:"One part of it: the whole story."`
	Out        string `help:"Folder of the plan at hand; JOBDIR/out if left out." placeholder:"DIR"`
}

func (c *explainCommand) Help() string {
	return `Example: rackwright explain shop/2027-03 "C-01 hall bench" cleat

How big each blank is and why, what can hold it, what its wood costs in the cheapest section and the next, and what is cut from it at the end. Of a part that may be made up: each way, what its
wood costs, and which one the plan at hand takes.`
}

func (c *explainCommand) Run(e *env) error {
	job, err := e.readJob(c.Jobdir)
	if err != nil {
		return err
	}
	parts, err := c.parts(job)
	if err != nil || e.Quiet {
		return err
	}
	return e.tell(c.Jobdir, func() error { return c.explain(e, job, parts) })
}

// explain tells of the parts that are asked for.
func (c *explainCommand) explain(e *env, job *model.Job, parts []*model.Part) error {
	if c.Part == "" {
		return report.ExplainParts(e.Stdout, job, parts, e.Columns())
	}
	var alike []*model.Part
	for i := range job.Parts {
		if p := &job.Parts[i]; p.Length == parts[0].Length {
			alike = append(alike, p)
		}
	}
	at, err := c.planned(parts[0])
	if err != nil {
		return err
	}
	return report.Explain(e.Stdout, job, parts[0], alike, at, e.Columns())
}

// planned is the plan at hand of a part that is made up; nil where there is none.
func (c *explainCommand) planned(p *model.Part) (*report.Planned, error) {
	if !p.MadeUp() && c.Out == "" {
		return nil, nil
	}
	out := c.Out
	if out == "" {
		out = filepath.Join(c.Jobdir, "out")
	}
	job, plan, err := readPlan(out)
	switch {
	case err == nil:
		return &report.Planned{Job: job, Plan: plan, Where: command.FromHere(out)}, nil
	case c.Out == "": // a plan that cannot be read is for verify to say
		return nil, nil
	}
	return nil, err
}

// parts gives the parts that are asked for: all, those of one commission, or one; by commission, in
// input order.
func (c *explainCommand) parts(job *model.Job) (out []*model.Part, err error) {
	var commissions, names []string
	order := map[string]int{}
	for i, n := range job.Commissions {
		commissions = append(commissions, n.Name)
		order[n.Name] = i
	}
	for i := range job.Parts {
		p := &job.Parts[i]
		if c.Commission != "" && c.Commission != p.Commission {
			continue
		}
		names = append(names, p.Name)
		if c.Part == "" || c.Part == p.Name {
			out = append(out, p)
		}
	}
	switch {
	case len(out) > 0:
		slices.SortStableFunc(out, func(a, b *model.Part) int {
			return cmp.Compare(order[a.Commission], order[b.Commission])
		})
		return out, nil
	case len(names) > 0:
		return nil, command.Refuse("%s has no part %q; the nearest is %s", c.Commission, c.Part,
			model.Nearest(c.Part, names))
	}
	return nil, command.Refuse("there is no part of a commission %q; the nearest commission is %s",
		c.Commission, model.Nearest(c.Commission, commissions))
}

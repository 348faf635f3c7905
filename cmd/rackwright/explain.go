package main

import (
	"cmp"
	"slices"

	"rackwright/cmd/rackwright/command"
	"rackwright/io/report"
	"rackwright/model"
)

type explainCommand struct {
	Jobdir     string `arg:"" help:"Job folder."`
	Commission string `arg:"" optional:"" help:"One commission only."`
	Part       string `arg:"" optional:"" help:"One part of it: the whole story."`
}

func (c *explainCommand) Help() string {
	return `Example: rackwright explain shop/2027-03 "C-01 hall bench" cleat

How big each blank is and why, what can hold it, what its wood costs in the cheapest section and the next, and what is cut from it at the end.`
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
	if c.Part == "" {
		return report.ExplainParts(e.Stdout, job, parts, e.Columns())
	}
	var alike []*model.Part
	for i := range job.Parts {
		if p := &job.Parts[i]; p.Length == parts[0].Length {
			alike = append(alike, p)
		}
	}
	return report.Explain(e.Stdout, job, parts[0], alike, e.Columns())
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

package planfile

import (
	"bytes"
	"encoding/json"
	"io"
	"slices"

	"rackwright/model"
)

// Format and Version stand at the top of each file. Version 1 knew no rips: its settings lack what
// a check of them needs. Version 2 rounded worth run by run, so its values and bounds are others.
// Version 3 knew no order of work. In version 4, and in 5, that of a revision, certificates had
// other parts. A plan that takes the place of another is of a version of its own, as a reader that
// did not know of that would judge its ids and copies amiss. So is one whose parts are made up.
const (
	Format          = "rackwright plan"
	Version         = 6
	RevisionVersion = 7
	MadeVersion     = 8
)

const maxBytes = 256 << 20

// document is the file from top to bottom.
type document struct {
	Format     string            `json:"format"`
	Version    int               `json:"version"`
	Currency   string            `json:"currency"`
	Date       string            `json:"date"` // of the offcuts; empty where none was given
	Value      model.Money       `json:"value"`
	Bound      model.Money       `json:"bound"`
	Revision   *model.Revision   `json:"revision,omitempty"` // of version 7
	Made       []model.Made      `json:"made,omitempty"`     // of version 8
	Shortages  []model.Shortage  `json:"shortages"`
	Groups     []model.Group     `json:"groups"`
	Job        snapshot          `json:"job"`
	Placements []model.Placement `json:"placements"`
	Work       model.Work        `json:"work"`
}

// snapshot is [model.Job] under the names of the file.
type snapshot struct {
	Settings    model.Settings     `json:"settings"`
	Commissions []model.Commission `json:"commissions"`
	Parts       []model.Part       `json:"parts"`
	Rack        []model.Board      `json:"rack"`
	Yard        []model.Offer      `json:"yard"`
	Inputs      []model.Input      `json:"inputs"`
	Known       []string           `json:"known,omitempty"`
}

// snapshotOf is a job as it was entered.
func snapshotOf(job *model.Job) snapshot {
	job = job.AsEntered()
	return snapshot{job.Settings, list(job.Commissions), list(job.Parts), list(job.Rack),
		list(job.Yard), list(job.Inputs), job.Known}
}

// job is the one in the file.
func (s *snapshot) job() *model.Job {
	return &model.Job{Settings: s.Settings, Commissions: s.Commissions, Parts: s.Parts,
		Rack: s.Rack, Yard: s.Yard, Inputs: s.Inputs, Known: s.Known}
}

// Write writes the job and its plan. Cuts, Buy, Rack, Order and Costs of the plan have files of
// their own.
func Write(w io.Writer, job *model.Job, plan *model.Plan) error {
	var compact bytes.Buffer
	version := Version
	switch {
	case makesUp(job):
		version = MadeVersion
	case plan.Revision != nil:
		version = RevisionVersion
	}
	e := json.NewEncoder(&compact)
	e.SetEscapeHTML(false)
	err := e.Encode(document{
		Format: Format, Version: version, Currency: job.Settings.Currency, Date: plan.Date,
		Value: plan.Value, Bound: plan.Bound, Revision: revision(plan.Revision), Made: plan.Made,
		Shortages: list(plan.Shortages), Groups: groups(plan.Groups),
		Placements: list(plan.Placements),
		Work:       model.Work{Order: plan.Work.Order, Ways: list(plan.Work.Ways)},
		Job:        snapshotOf(job),
	})
	if err != nil {
		return err
	}
	_, err = w.Write(layout(compact.Bytes()))
	return err
}

// list is l, never nil: an empty list is written [].
func list[T any](l []T) []T {
	if l == nil {
		return []T{}
	}
	return l
}

// revision has no empty list that is nil.
func revision(r *model.Revision) *model.Revision {
	if r == nil {
		return nil
	}
	out := *r
	out.Before = slices.Clone(list(r.Before))
	for n := range out.Before {
		out.Before[n].Pieces = list(out.Before[n].Pieces)
	}
	return &out
}

func groups(in []model.Group) []model.Group {
	out := make([]model.Group, len(in))
	for i, g := range in {
		c := &g.Certificate
		c.Items, c.Stocks = append([]model.CertItem{}, c.Items...), list(c.Stocks)
		for k := range c.Items {
			c.Items[k].Stocks = list(c.Items[k].Stocks)
		}
		c.Wants = slices.Clone(c.Wants)
		for k := range c.Wants {
			w := &c.Wants[k]
			w.Ways, w.Covers = list(w.Ways), slices.Clone(w.Covers)
			for n := range w.Covers {
				w.Covers[n].Staves = list(w.Covers[n].Staves)
			}
		}
		out[i] = g
	}
	return out
}

// makesUp says whether a job has parts that are made up, or pieces of such.
func makesUp(job *model.Job) bool {
	return slices.ContainsFunc(job.AsEntered().Parts, func(p model.Part) bool {
		return p.MadeUp() || p.Makes != nil
	})
}

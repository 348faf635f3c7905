package planfile

import (
	"bytes"
	"encoding/json"
	"io"

	"rackwright/model"
)

// Format and Version stand at the top of each file. Version 1 knew no rips: its settings lack what
// a check of them needs. Version 2 rounded worth run by run, so its values and bounds are others.
// Version 3 knew no order of work.
const (
	Format  = "rackwright plan"
	Version = 4
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
}

// Write writes the job and its plan. Cuts, Buy, Rack, Order and Costs of the plan have files of
// their own.
func Write(w io.Writer, job *model.Job, plan *model.Plan) error {
	var compact bytes.Buffer
	e := json.NewEncoder(&compact)
	e.SetEscapeHTML(false)
	err := e.Encode(document{
		Format: Format, Version: Version, Currency: job.Settings.Currency, Date: plan.Date,
		Value: plan.Value, Bound: plan.Bound,
		Shortages: list(plan.Shortages), Groups: groups(plan.Groups),
		Placements: list(plan.Placements),
		Work:       model.Work{Order: plan.Work.Order, Ways: list(plan.Work.Ways)},
		Job: snapshot{job.Settings, list(job.Commissions), list(job.Parts), list(job.Rack),
			list(job.Yard), list(job.Inputs)},
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

func groups(in []model.Group) []model.Group {
	out := make([]model.Group, len(in))
	for i, g := range in {
		c := &g.Certificate
		c.Items, c.Stocks = append([]model.CertItem{}, c.Items...), list(c.Stocks)
		for k := range c.Items {
			c.Items[k].Stocks = list(c.Items[k].Stocks)
		}
		out[i] = g
	}
	return out
}

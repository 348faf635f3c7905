package cutlist

import (
	"slices"

	"rackwright/model"
)

// Write writes down what a set of boards and their pieces mean: the cuts, what to buy, the rack
// after and the costs. Every offcut has the date as its `since`. The boards stand in the plan
// in their order; bought ones without an id get one. New ids go on after those of the rack and
// those given. Shortages, groups and the bound are left open, and so
// is the order of work: the units are what it is to be made of, board by board.
func Write(job *model.Job, worth *model.Valuation, boards []*Board, date string,
	given ...string) (*model.Plan, []Unit) {
	w := &writer{job: job, worth: worth, ids: newIDs(job, given...)}
	p := &model.Plan{Date: date}
	for _, b := range boards {
		if b.Offer != nil && b.ID == "" {
			b.ID = w.ids.give("buy")
		}
	}
	used := map[string]bool{}
	var offcuts []model.Board
	var all []Unit
	rows := make([][]model.Cut, len(boards))
	bins := job.Settings.BinsOf(job.Rack)
	perCommission := newBills(job, worth)
	for n, b := range boards {
		used[b.ID] = true
		bins.TakeFrom(b.Bin)
		cuts, units := w.cuts(b)
		for _, u := range units {
			u.Board = n
			all = append(all, u)
		}
		rows[n] = cuts
		p.Placements = append(p.Placements, placement(job, b))
		var credit int64
		bad := job.WidenedRects(&b.Board, nil)
		for i := range cuts {
			if c := &cuts[i]; c.Kind == model.KindOffcut {
				ticks := worth.WorthOfRect(b.Slope, &b.Wood, c.Rect(), bad)
				credit += ticks
				o := offcut(b, c, worth.ShownTicks(ticks), date)
				o.Bin = bins.PutAway(o.Length, "", b.Bin)
				offcuts = append(offcuts, o)
			}
		}
		perCommission.share(b, credit)
	}
	p.Cuts = slices.Concat(rows...)
	for i := range job.Rack {
		if b := job.Rack[i]; !used[b.ID] {
			b.Bought = false // of the next plan it is a board as any
			p.Rack = append(p.Rack, b)
		}
	}
	p.Rack = append(p.Rack, offcuts...)
	p.Buy = purchases(job, boards)
	p.Costs, p.Value = perCommission.costs()
	return p, all
}

// writer is what the boards of one plan share.
type writer struct {
	job   *model.Job
	worth *model.Valuation
	ids   *ids
}

// placement is where the pieces of a board lie.
func placement(job *model.Job, b *Board) model.Placement {
	out := model.Placement{Board: b.ID, First: b.First}
	if b.Offer != nil {
		out.Offer = b.Offer.Where.Line
	}
	if b.Ripped != b.usable(job) {
		out.RipFrom, out.RipTo = b.Ripped.From, b.Ripped.To
	}
	for _, p := range b.Pieces {
		part := &job.Parts[p.Part]
		piece := model.Piece{Commission: part.Commission, Part: part.Name, Copy: p.Copy,
			From: p.From, To: p.To}
		if b.First != model.NotRipped {
			piece.Left, piece.Right = p.Left, p.Right
		}
		out.Pieces = append(out.Pieces, piece)
	}
	return out
}

// offcut is what a cut puts back on the rack: as wide as it is, with the defects that lie in it,
// measured from its own end and edge. It stays reserved for whom its board was for, as it is still
// that customer's wood, and it gives no longer blanks than its board did. A strip carries its
// worth, as does what comes off a board with a value of its own: by its width alone it would be
// worth more. Its bin is left open.
func offcut(b *Board, c *model.Cut, worth model.Money, date string) model.Board {
	out := model.Board{ID: c.Offcut, Wood: b.Wood, Since: date, For: b.For}
	out.Length, out.Width = c.To-c.From, c.Right-c.Left
	if b.Longest < out.Length { // else it can give no longer blank anyway
		out.Longest = b.Longest
	}
	if b.Value != nil || out.Width < b.Width {
		out.Value = &worth
	}
	for _, d := range b.Defects {
		if d.From < c.To && d.To > c.From && d.Left < c.Right && d.Right > c.Left {
			d.From, d.To = max(d.From, c.From)-c.From, min(d.To, c.To)-c.From
			d.Left, d.Right = max(d.Left, c.Left)-c.Left, min(d.Right, c.Right)-c.Left
			out.Defects = append(out.Defects, d)
		}
	}
	return out
}

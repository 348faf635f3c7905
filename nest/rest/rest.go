// Package rest says what is left of a plan that was begun: the job of what is still to be cut, on
// the boards as they are now, and how the plan has the boards that are not begun.
//
// Start at [Of]. What happened comes in as a [Shop]. The job that comes out is one as any, so that
// it is planned, judged and proven as any:
//
//   - It wants the copies that are not cut yet, and those that were spoiled, under their old
//     numbers: their labels may be printed.
//   - Its rack has the boards on hand. A bought board that has come is paid for, so it is one of
//     them now, with the worth of any board on the rack; until it is cut it keeps the trims of the
//     yard. Where the yard sells no more of its kind of wood it carries the worth that it had by
//     the yard's price, as nothing else would tell it.
//   - What is bought and has not come may still be left or exchanged. So it is for sale as before,
//     and what has come or was not delivered no longer is.
//
// Nothing else of the job changes: its parts, prices and settings are those that were planned.
package rest

import (
	"slices"

	"rackwright/model"
)

// Shop is what happened since a plan was made.
type Shop struct {
	Rack     []model.Board // on hand that are promised to no other plan, as they are now
	Begun    []string      // boards of the plan that were cut, as a whole or in part
	Expected []string      // bought boards that are to come
	Cut      []model.Piece // copies that are cut and good; their places do not matter
	Known    []string      // ids that the book knows
}

// Rest is what is left of a plan.
type Rest struct {
	Job      *model.Job
	Revision *model.Revision // but for Number, Of, Changed and Counts
	// parts that had to come from a board that is gone, or cannot give them any more; now they may
	// come from any
	Freed []model.Part
}

// Of says what is left of a plan after what happened. A job without parts means that nothing is
// left to cut. Change is what a board counts that is not cut as laid out before.
func Of(job *model.Job, plan *model.Plan, shop *Shop, change model.Money) *Rest {
	l := &left{job: job, plan: plan, shop: shop, begun: set(shop.Begun),
		expected: set(shop.Expected), now: map[string]*model.Board{},
		lines: map[string]int{}}
	for i := range shop.Rack {
		l.now[shop.Rack[i].ID] = &shop.Rack[i]
	}
	for _, p := range plan.Placements {
		if p.Offer != 0 {
			l.lines[p.Board] = p.Offer
		}
	}
	r := &Rest{Job: &model.Job{Settings: job.Settings, Commissions: job.Commissions,
		Parts: l.parts(), Yard: l.yard(), Inputs: job.Inputs}}
	r.Job.Settings.Change = change
	r.Job.Rack = l.rack(r.Job)
	r.free()
	r.Revision = &model.Revision{Before: l.before(), Change: change}
	r.Job.Known = l.known(r)
	return r
}

// left is what happened, by boards.
type left struct {
	job             *model.Job
	plan            *model.Plan
	shop            *Shop
	begun, expected map[string]bool
	now             map[string]*model.Board // the boards on hand
	lines           map[string]int          // of the yard, by bought board
}

func set(ids []string) map[string]bool {
	out := map[string]bool{}
	for _, id := range ids {
		out[id] = true
	}
	return out
}

// parts are those of which copies are wanted.
func (l *left) parts() (out []model.Part) {
	type name struct {
		commission, part string
		number           int64
	}
	cut := map[name]bool{}
	for _, c := range l.shop.Cut {
		cut[name{c.Commission, c.Part, c.Copy}] = true
	}
	for i := range l.job.Parts {
		p := l.job.Parts[i]
		var copies []int64
		for n := range p.Qty {
			if c := p.CopyAt(n); !cut[name{p.Commission, p.Name, c}] {
				copies = append(copies, c)
			}
		}
		if len(copies) == 0 {
			continue
		}
		p.Staves, p.Layers, p.InOne, p.Spare = 0, 0, 0, 0 // it is settled how parts are made up
		if int64(len(copies)) < p.Qty {
			p.Of = p.All()
			p.Copies, p.Qty = copies, int64(len(copies))
		}
		out = append(out, p)
	}
	return out
}

// yard is what is still for sale: what has come, or should have and did not, is not.
func (l *left) yard() []model.Offer {
	out := slices.Clone(l.job.Yard)
	for id, line := range l.lines {
		if l.expected[id] {
			continue
		}
		for i := range out {
			if o := &out[i]; o.Where.Line == line && o.Available != nil {
				n := max(0, *o.Available-1)
				o.Available = &n
			}
		}
	}
	return out
}

// rack is what is on hand: the boards of the job's rack in their order, then those that were bought
// for the plan in that of the cuts, then others.
func (l *left) rack(rest *model.Job) (out []model.Board) {
	done := map[string]bool{}
	worth, sold := l.job.Valuation(), kindsForSale(rest)
	add := func(id string, where model.Where, bought bool) {
		b := l.now[id]
		if b == nil || done[id] {
			return
		}
		done[id] = true
		now := *b
		now.Where, now.Bought = where, bought
		if bought && now.Value == nil && !sold[now.Kind()] {
			v := worth.ShownTicks(worth.WorthOfBoard(&now))
			now.Value = &v
		}
		out = append(out, now)
	}
	for i := range l.job.Rack {
		b := &l.job.Rack[i]
		add(b.ID, b.Where, b.Bought && !l.begun[b.ID])
	}
	for _, p := range l.plan.Placements {
		add(p.Board, model.Where{File: model.Above + "rack.csv"}, p.Offer != 0 && !l.begun[p.Board])
	}
	for i := range l.shop.Rack {
		add(l.shop.Rack[i].ID, model.Where{File: model.Above + "rack.csv"}, false)
	}
	return out
}

// kindsForSale are the kinds of wood that can be bought.
func kindsForSale(job *model.Job) map[model.WoodKind]bool {
	out := map[model.WoodKind]bool{}
	for i := range job.Yard {
		if n := job.ForSale(&job.Yard[i]); n == nil || *n > 0 {
			out[job.Yard[i].Kind()] = true
		}
	}
	return out
}

// free lets parts come from any board that cannot come from the one that they name.
func (r *Rest) free() {
	for i := range r.Job.Parts {
		p := &r.Job.Parts[i]
		if p.Board == "" || slices.ContainsFunc(r.Job.Rack, func(b model.Board) bool {
			ok, _ := r.Job.Holds(p, &b, model.FromRack)
			return ok
		}) {
			continue
		}
		r.Freed = append(r.Freed, *p)
		p.Board = ""
	}
}

// before are the boards not begun that are there or to come, as the plan has them.
func (l *left) before() (out []model.Laid) {
	offcuts := map[string][]string{}
	for i := range l.plan.Cuts {
		if c := &l.plan.Cuts[i]; c.Kind == model.KindOffcut {
			offcuts[c.Board] = append(offcuts[c.Board], c.Offcut)
		}
	}
	for _, p := range l.plan.Placements {
		here := l.now[p.Board] != nil
		if l.begun[p.Board] || !here && !l.expected[p.Board] {
			continue
		}
		if here {
			p.Offer = 0
		}
		out = append(out, model.Laid{Placement: p, Offcuts: offcuts[p.Board]})
	}
	return out
}

// known are the ids that no board may get any more: those that the plan gave and the book knows,
// but those of boards on hand, and those that still stand for what is to come.
func (l *left) known(r *Rest) []string {
	ids := slices.Concat(l.job.Known, l.shop.Known)
	for _, p := range l.plan.Placements {
		ids = append(ids, p.Board)
	}
	for i := range l.plan.Cuts {
		ids = append(ids, l.plan.Cuts[i].Offcut)
	}
	if before := l.plan.Revision; before != nil {
		for n := range before.Before {
			ids = append(append(ids, before.Before[n].Board), before.Before[n].Offcuts...)
		}
	}
	stands := map[string]bool{"": true}
	for i := range r.Job.Rack {
		stands[r.Job.Rack[i].ID] = true
	}
	for n := range r.Revision.Before {
		stands[r.Revision.Before[n].Board] = true
		for _, id := range r.Revision.Before[n].Offcuts {
			stands[id] = true
		}
	}
	ids = slices.DeleteFunc(ids, func(id string) bool { return stands[id] })
	slices.Sort(ids)
	return slices.Compact(ids)
}

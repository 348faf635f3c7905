package check

import (
	"slices"

	"rackwright/model"
)

// A plan that takes the place of another names the boards not begun and how they were laid out. One
// of them is cut as before where it is the same board, of the rack or by the same line of the yard,
// with the same pieces in the same places. All others count as changed. A board that is cut as
// before keeps the ids of its offcuts.

// before are the boards as the plan before has them, by their ids; none where there is none.
func (c *checker) before() map[string]*model.Laid {
	out := map[string]*model.Laid{}
	if r := c.plan.Revision; r != nil {
		for n := range r.Before {
			out[r.Before[n].Board] = &r.Before[n]
		}
	}
	return out
}

// givenBefore are the ids that the plan before has given, as far as the revision names them.
func (c *checker) givenBefore() (ids []string) {
	r := c.plan.Revision
	if r == nil {
		return nil
	}
	for n := range r.Before {
		ids = append(append(ids, r.Before[n].Board), r.Before[n].Offcuts...)
	}
	return ids
}

// revision judges what a plan says of the one before it.
func (c *checker) revision() {
	r := c.plan.Revision
	if r == nil {
		return
	}
	const where = "plan.json: revision"
	before := c.before()
	if len(before) != len(r.Before) {
		c.say(where, "a board stands twice among those before")
		return
	}
	kept := int64(0)
	for n, u := range c.boards {
		b := before[u.id]
		if b == nil || !c.cutAsBefore(u, &c.plan.Placements[n], b) {
			continue
		}
		kept++
		var ids []string
		for i := range u.rows {
			if u.rows[i].Kind == model.KindOffcut {
				ids = append(ids, u.rows[i].Offcut)
			}
		}
		if k := min(len(ids), len(b.Offcuts)); !slices.Equal(ids[:k], b.Offcuts[:k]) {
			c.say("cuts.csv: board "+u.id, "is cut as before, yet its offcuts have other ids")
		}
	}
	for n := range r.Before {
		b := &r.Before[n]
		_, onRack := c.rack[b.Board]
		if _, sold := c.offers[b.Offer]; b.Offer == 0 && !onRack || b.Offer != 0 && !sold {
			c.say(where, "board %s of the plan before is neither on the rack nor for sale",
				b.Board)
		}
	}
	changed := int64(len(r.Before)) - kept
	c.fields(where, []field{{"changed", r.Changed, changed},
		{"change", r.Change, c.job.Settings.Change},
		{"counts", r.Counts, model.Money(changed) * r.Change}})
}

// cutAsBefore says whether a board is cut as it was laid out before.
func (c *checker) cutAsBefore(u *usedBoard, p *model.Placement, b *model.Laid) bool {
	line := 0
	if u.offer >= 0 {
		line = c.job.Yard[u.offer].Where.Line
	}
	return line == b.Offer && p.First == b.First && p.RipFrom == b.RipFrom &&
		p.RipTo == b.RipTo && slices.Equal(p.Pieces, b.Pieces)
}

package makeup

import (
	"slices"

	"rackwright/model"
)

// Choice is all that a plan may choose from for the copies of one part: ways, then covers. Each
// copy comes about by one of them. Of a part that is not glued up the choice is about spare copies
// alone; its other copies are cut as they are.
type Choice struct {
	Part   *model.Part
	Copies int64 // that are chosen for, spare ones with them
	Spare  int64 // of them
	Ways   []Way
	Covers []Cover
}

// ChoiceOf is the choice of a part; nil of one that is just cut.
//
// A number of staves or layers is kept to; a cell that is left blank means one. Of [model.Auto]
// any number will do, one included. Staves of random widths are alike only where their number is
// given, or is near the fewest.
func ChoiceOf(job *model.Job, p *model.Part) *Choice {
	switch {
	case !p.MadeUp():
		return nil
	case !p.ByWays():
		c := &Choice{Part: p, Copies: p.Spare, Spare: p.Spare}
		c.Ways = onePiece(job, p, p.Spare)
		return c
	}
	all := *p
	all.Qty += p.Spare
	c := &Choice{Part: p, Copies: all.Qty, Spare: p.Spare}
	if p.InOne != 0 && p.Staves == 0 && p.Layers == 0 {
		if c.Ways = Gangs(job, &all); len(c.Ways) == 0 {
			c.Ways = onePiece(job, p, all.Qty)
		}
		for n := range c.Ways {
			c.Ways[n].Part = p
		}
		return c
	}
	if p.Staves == model.Auto {
		for _, v := range Covers(job, &all) {
			if allows(p.Layers, v.Through.Times) {
				v.Part = p
				c.Covers = append(c.Covers, v)
			}
		}
	}
	if allows(p.Staves, 1) && allows(p.Layers, 1) {
		c.Ways = onePiece(job, p, all.Qty)
	}
	for _, w := range GlueUps(job, &all) {
		if allows(p.Staves, w.Across.Times) && allows(p.Layers, w.Through.Times) &&
			!c.covered(&w) {
			w.Part = p
			c.Ways = append(c.Ways, w)
		}
	}
	return c
}

// fewAlike is how many more staves than the fewest there may be where they are alike though a cover
// gives different ones.
const fewAlike = 2

// covered says whether a way is of many alike staves, and a cover gives different ones in their
// place: from the same wood, in as many layers. They would be ways of very many pieces, and narrow
// staves come to the width as near by whole steps.
func (c *Choice) covered(w *Way) bool {
	return w.Across.Times > 1 && slices.ContainsFunc(c.Covers, func(v Cover) bool {
		return v.Wood.Section == w.Wood.Section && v.Wood.Surface == w.Wood.Surface &&
			v.Wood.Thickness == w.Wood.Thickness && v.Through.Times == w.Through.Times &&
			w.Across.Times > v.Fewest+fewAlike
	})
}

// Pieces are all that the part may be made of.
func (c *Choice) Pieces() (out []model.Part) {
	for n := range c.Ways {
		out = append(out, c.Ways[n].Piece)
	}
	for n := range c.Covers {
		for k := range c.Covers[n].Staves {
			out = append(out, c.Covers[n].Staves[k].Piece)
		}
	}
	return out
}

// allows says whether so many pieces are what a part may be of.
func allows(wanted model.Pieces, n int64) bool {
	return wanted == model.Auto || max(1, int64(wanted)) == n
}

// onePiece is the way to cut a part as it is, where any board gives it.
func onePiece(job *model.Job, p *model.Part, copies int64) []Way {
	m, q := makerOf(job, p), plain(p)
	w := Way{Part: p, Piece: q, Pieces: 1, Copies: 1, Across: Fill{Times: 1},
		Through: Fill{Times: 1}, Length: model.Sum{{Times: 1, Length: p.Length}}}
	w.Piece.Qty = copies
	for i := range m.stocks {
		s := &m.stocks[i]
		g := m.give(s, &q)
		if none(g) {
			continue
		}
		if none(w.Woods) {
			w.Wood, w.Blank = s.Wood, job.BlankIn(&q, &s.Wood)
		}
		w.Woods.Rack = append(w.Woods.Rack, g.Rack...)
		w.Woods.Yard = append(w.Woods.Yard, g.Yard...)
	}
	if none(w.Woods) {
		return nil
	}
	w.Price = m.price(&q, w.Woods.Yard, 1)
	return []Way{w}
}

// plain is a part that is just cut.
func plain(p *model.Part) model.Part {
	q := *p
	q.Staves, q.Layers, q.InOne, q.Spare = 0, 0, 0, 0
	return q
}

// Prepare gives a job the pieces that its parts may be of which are made up, as its valuation asks
// for. A job that was prepared is given back.
func Prepare(job *model.Job) *model.Job {
	if job.Entered != nil || job.Pieces != nil ||
		!slices.ContainsFunc(job.Parts, func(p model.Part) bool { return p.MadeUp() }) {
		return job
	}
	out := *job
	for i := range job.Parts {
		c := ChoiceOf(job, &job.Parts[i])
		if c == nil {
			continue
		}
		for n := range c.Ways {
			out.Pieces = append(out.Pieces, c.Ways[n].Piece)
		}
		for n := range c.Covers {
			v := &c.Covers[n]
			for k := range v.Staves {
				q := v.Staves[k].Piece
				q.Qty = v.Most * v.Through.Times * c.Copies
				out.Pieces = append(out.Pieces, q)
			}
		}
	}
	return &out
}

package cutlist

import (
	"fmt"
	"strings"

	"rackwright/model"
)

// Unit is what is taken in hand at one go, with its cuts in order: a board, then a length of it or
// its ripped span, then a strip, then a blank to be trimmed. The places of the cuts in the order of
// work are left open.
type Unit struct {
	Board int // index
	Cuts  []model.Sawing
}

// unit lists the cuts that part a line, the first of them after so many made before. A kerf behind
// a kerf is a thing of its own that a cut takes away: dust.
func (t *tiler) unit(l line, pass, before, cuts int) (u Unit) {
	var things []thing
	for n, x := range l {
		if !x.kerf || n > 0 && l[n-1].kerf {
			things = append(things, x)
		}
	}
	shaved := l[len(l)-1].kerf // dust at the far end
	if len(things) == 1 && !shaved {
		things = append([]thing{{kerf: true}}, things...) // dust at the near end
	}
	end := t.rect(l[len(l)-1])
	saw, a := model.Crosscut, model.Along
	if pass%2 == 0 {
		saw, a = model.Rip, model.Across
	}
	for k := range cuts {
		c := cut{t: t, pass: pass, last: k == cuts-1}
		if near := things[k]; !near.kerf {
			c.near = t.named(near)
			c.near.size = t.rect(near).On(a).To - t.rect(near).On(a).From
		}
		if rest := things[k+1:]; len(rest) > 0 {
			c.far = t.named(rest[0])
			c.far.size = end.On(a).To - t.rect(rest[0]).On(a).From
		}
		u.Cuts = append(u.Cuts, model.Sawing{Pass: pass, Saw: saw, Setting: c.setting(),
			Board: t.board.ID, Step: before + k + 1, Piece: c.piece()})
	}
	return u
}

// rect is where a thing lies.
func (t *tiler) rect(x thing) model.Rect {
	r := t.rows[x.rows[0]].Rect()
	for _, c := range t.rows[x.rows[0]:x.rows[1]] {
		r = model.Rect{From: min(r.From, c.From), To: max(r.To, c.To), Left: min(r.Left, c.Left),
			Right: max(r.Right, c.Right)}
	}
	return r
}

// side is what lies on one side of a cut.
type side struct {
	size  model.Length // along the axis that the cut goes across; 0: there is nothing
	kept  []string     // names of blanks and offcuts in it
	parts bool         // some of them are blanks
	whole bool         // it is one row
	trim  bool
}

// named says what a thing is; of no rows it is nothing.
func (t *tiler) named(x thing) (s side) {
	for i := x.rows[0]; i < x.rows[1]; i++ {
		switch c := &t.rows[i]; c.Kind {
		case model.KindPart:
			s.kept = append(s.kept, fmt.Sprintf("%s, %s, %d", c.Commission, c.Part, c.Copy))
			s.parts = true
		case model.KindOffcut:
			s.kept = append(s.kept, c.Offcut)
		case model.KindTrim:
			s.trim = true
		}
	}
	s.whole = x.rows[1]-x.rows[0] == 1
	return s
}

// cut is one cut and what lies on both sides of it.
type cut struct {
	t         *tiler
	pass      int
	near, far side
	last      bool // of its unit: the far side is not cut again in this pass
}

// setting is the length between stop and blade, or the width between fence and blade.
//
//   - The stop is set to a length, strip piece or blank: the one that comes off, or else the one
//     that is left at last. Anything else is cut at its mark, and so is a ripped span.
//   - The fence is set to the near side if there are blanks in it, or an offcut that leaves more
//     to be ripped. Else it is set to the far side.
func (c *cut) setting() model.Length {
	if c.pass%2 == 1 {
		switch {
		case c.near.parts && !c.isSpan(&c.near):
			return c.near.size
		case c.far.parts && c.last && !c.isSpan(&c.far):
			return c.far.size
		}
		return 0
	}
	switch {
	case c.near.size == 0:
		return c.far.size
	case c.far.size == 0 || c.near.parts:
		return c.near.size
	case len(c.near.kept) > 0 && !(c.last && c.far.whole && len(c.far.kept) > 0):
		return c.near.size
	}
	return c.far.size
}

// isSpan says of a side with blanks in it whether it is the span of a board that is ripped first.
func (c *cut) isSpan(s *side) bool {
	return c.pass == 1 && c.t.board.First == model.RipFirst && s.parts
}

// piece names what comes off; after the last cut also what is left.
func (c *cut) piece() string {
	sides := []*side{&c.near}
	if c.last {
		sides = append(sides, &c.far)
	}
	var kept []string
	for _, s := range sides {
		if c.isSpan(s) {
			return "ripped span"
		}
		kept = append(kept, s.kept...)
	}
	switch {
	case len(kept) > 0:
		return strings.Join(kept, "; ")
	case c.near.trim:
		return "trim"
	}
	return "waste"
}

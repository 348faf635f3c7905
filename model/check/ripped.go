package check

import (
	"cmp"
	"slices"

	"rackwright/model"
)

// The rows of a ripped board. It is made of slabs: lengths, one after the other along it, or strips
// across it. Pieces that overlap in that direction are of one slab.
//
//	crosscut first   along:   trim | gap | length | gap | length | ... | gap | trim
//	                 in a length, across:   gap | blank | gap | blank | ... | gap
//
//	rip first        the trims at both ends, then
//	                 across:  gap | strip | gap | strip | ... | gap
//	                 in a strip, along, from trim to trim:   gap | blank | ... | gap
//
//	with a span of its own
//	                 along:   trim | gap | span | gap | trim
//	                 across, in the span:                    gap | strip | ... | gap
//	                 in a strip, along, over the span:       gap | blank | ... | gap
//
// Gaps start at the board's edge or at the trim, and have the kerf of their direction (gap.go). A
// blank shorter than its length, or narrower than its strip, is trimmed by a third cut, which
// leaves a kerf and a gap behind it. A length that one blank takes with all its width is plain: it
// is that blank's row.
//
// Steps number the cuts in order. First come those of the board itself (rip first: the trims, then
// the rips; with a span of its own: the crosscuts, as of a single length, then the rips). Those in
// each slab follow, slab by slab. Last come the cuts that trim single blanks. A list of pieces is
// numbered as on a board that is not ripped (layout.go); a slab counts as one piece of its list. A
// list of one piece needs no cut, so that piece has the number that freed its list.

// rippedBoard is a board with its slabs, as the places of its pieces tell.
type rippedBoard struct {
	*usedBoard
	way   model.Axis // in which its slabs lie one after the other
	slabs []slab
}

// slab is a length or a strip with its blanks in order. It reaches from edge to edge of the board,
// or from end to end of what is ripped.
type slab struct {
	model.Rect
	plain  bool
	blanks []laidPiece
}

func (l *laidPiece) rect() model.Rect {
	return model.Rect{From: l.From, To: l.To, Left: l.Left, Right: l.Right}
}

// usable is where slabs may lie on a board in one direction: all its width, or between its trims.
func (c *checker) usable(u *usedBoard, a model.Axis) model.Span {
	if a == model.Across {
		return model.Span{From: 0, To: u.board.Width}
	}
	trim := c.job.Settings.TrimFor(u.board, u.origin)
	return model.Span{From: trim, To: u.board.Length - trim}
}

// findSlabs finds the lengths or strips of a board.
func (c *checker) findSlabs(u *usedBoard) *rippedBoard {
	b := &rippedBoard{usedBoard: u, way: model.Along}
	if u.down == model.RipFirst {
		b.way = model.Across
	}
	inOrder := func(blanks []laidPiece, a model.Axis) {
		slices.SortStableFunc(blanks, func(l, m laidPiece) int {
			return cmp.Compare(l.rect().On(a).From, m.rect().On(a).From)
		})
	}
	blanks := slices.Clone(u.pieces)
	inOrder(blanks, b.way)
	for _, l := range blanks {
		n, s := len(b.slabs)-1, l.rect().On(b.way)
		if n >= 0 && s.From < b.slabs[n].On(b.way).To {
			r := &b.slabs[n]
			r.Rect = r.With(b.way,
				model.Span{From: r.On(b.way).From, To: max(r.On(b.way).To, s.To)})
			r.blanks = append(r.blanks, l)
			continue
		}
		full := model.Rect{From: 0, To: u.board.Length, Left: 0,
			Right: u.board.Width}.With(b.way.Other(),
			c.slabsReach(u, b.way.Other()))
		b.slabs = append(b.slabs, slab{Rect: full.With(b.way, s), blanks: []laidPiece{l}})
	}
	for i := range b.slabs {
		r := &b.slabs[i]
		inOrder(r.blanks, b.way.Other())
		r.plain = u.down == model.CrosscutFirst && len(r.blanks) == 1 && r.blanks[0].takesAllOf(u)
	}
	return b
}

func (l *laidPiece) takesAllOf(u *usedBoard) bool { return l.Left == 0 && l.Right == u.board.Width }

// trimmed says whether a blank is cut to the size of its own by a third cut.
func (b *rippedBoard) trimmed(r *slab, l *laidPiece) bool {
	return l.rect().On(b.way) != r.On(b.way)
}

// laying lays one ripped board out; cuts is how many are numbered so far.
type laying struct {
	c    *checker
	b    *rippedBoard
	cuts int
}

// layOutRipped gives the rows that the rules make of the pieces on a ripped board. Ids of offcuts
// are left to the plan.
func (c *checker) layOutRipped(b *rippedBoard) (out []model.Cut) {
	l := &laying{c: c, b: b}
	marked, in, far, freed := l.ends()
	outer := l.list(in, b.way, len(b.slabs), func(i int) model.Cut {
		return b.newRow(model.KindPart, b.slabs[i].Rect)
	})
	if b.way == model.Along {
		outer = slices.Concat(marked, outer, far)
	}
	l.numberList(outer, freed)
	inner := make([][]model.Cut, 0, len(b.slabs))
	for i := range outer {
		if outer[i].Kind == model.KindPart {
			inner = append(inner, l.inside(&b.slabs[len(inner)], outer[i].Step))
		}
	}
	n := 0
	for i := range outer {
		if outer[i].Kind == model.KindPart {
			out = append(out, l.trimBlanks(&b.slabs[n], inner[n])...)
			n++
		} else {
			out = append(out, outer[i])
		}
	}
	if b.way == model.Across {
		out = slices.Concat(marked, out, far)
	}
	return out
}

// ends gives what lies at either end of a board before and behind its slabs, and where these lie.
// Of a board that is ripped first it numbers the crosscuts; freed is the number of the one that
// frees what is ripped.
func (l *laying) ends() (marked []model.Cut, in model.Rect, far []model.Cut, freed int) {
	all := model.Rect{From: 0, To: l.b.board.Length, Left: 0, Right: l.b.board.Width}
	x := l.c.usable(l.b.usedBoard, model.Along)
	marked = l.rowAt(model.KindTrim, all.With(model.Along, model.Span{From: 0, To: x.From}))
	far = l.rowAt(model.KindTrim, all.With(model.Along, model.Span{From: x.To, To: all.To}))
	in = all.With(model.Along, x)
	switch {
	case l.b.way == model.Along:
	case l.b.hasSpan():
		span := l.b.newRow(model.KindPart, all.With(model.Along, l.b.span))
		list := slices.Concat(marked, l.list(in, model.Along, 1,
			func(int) model.Cut { return span }), far)
		l.numberList(list, 1)
		at := slices.IndexFunc(list, func(r model.Cut) bool { return r.Kind == model.KindPart })
		return list[:at:at], span.Rect(), list[at+1:], list[at].Step
	default:
		for _, t := range [][]model.Cut{marked, far} {
			for i := range t {
				l.cuts++
				t[i].Step = l.cuts
			}
		}
	}
	return marked, in, far, max(1, l.cuts)
}

// rowAt is one row, or none where it would have no size.
func (l *laying) rowAt(kind model.Kind, at model.Rect) []model.Cut {
	if at.From >= at.To || at.Left >= at.Right {
		return nil
	}
	return []model.Cut{l.b.newRow(kind, at)}
}

// list lays pieces out in a rectangle, one after the other in a direction, with the gaps between
// them. Rows of the kind part are the pieces.
func (l *laying) list(in model.Rect, way model.Axis, pieces int,
	piece func(i int) model.Cut) (out []model.Cut) {
	add := func(kind model.Kind, at model.Rect) { out = append(out, l.rowAt(kind, at)...) }
	at := in.On(way).From
	for i := range pieces {
		p := piece(i)
		s := model.Rect{From: p.From, To: p.To, Left: p.Left, Right: p.Right}.On(way)
		l.c.layOutGap(l.b.usedBoard, in.With(way, model.Span{From: at, To: s.From}), way, i > 0,
			true, add)
		out = append(out, p)
		at = s.To
	}
	l.c.layOutGap(l.b.usedBoard, in.With(way, model.Span{From: at, To: in.On(way).To}), way, true,
		false, add)
	return out
}

// numberList numbers the rows of a list on from the cuts so far. A list of one piece has no cut: an
// earlier one freed that piece.
func (l *laying) numberList(list []model.Cut, freed int) {
	if len(list) == 1 {
		list[0].Step = freed
		return
	}
	numberSteps(list)
	made := 0
	for i := range list {
		made = max(made, list[i].Step)
		list[i].Step += l.cuts
	}
	l.cuts += made
}

// inside lays out a slab that was freed by a cut, as if none of its blanks were trimmed.
func (l *laying) inside(r *slab, freed int) []model.Cut {
	list := l.list(r.Rect, l.b.way.Other(), len(r.blanks), func(i int) model.Cut {
		b := r.blanks[i]
		return l.c.partRow(l.b.usedBoard, b, b.rect().With(l.b.way, r.On(l.b.way)))
	})
	l.numberList(list, freed)
	return list
}

// trimBlanks replaces each blank that is trimmed by what the third cut makes of it, and numbers
// that cut.
func (l *laying) trimBlanks(r *slab, list []model.Cut) (out []model.Cut) {
	n := 0 // of the blanks
	for _, row := range list {
		if row.Kind != model.KindPart {
			out = append(out, row)
			continue
		}
		b := r.blanks[n]
		if n++; !l.b.trimmed(r, &b) {
			out = append(out, row)
			continue
		}
		l.cuts++
		for _, t := range l.list(b.rect().With(l.b.way, r.On(l.b.way)), l.b.way, 1,
			func(int) model.Cut {
				return l.c.partRow(l.b.usedBoard, b, b.rect())
			}) {
			t.Step = l.cuts
			out = append(out, t)
		}
	}
	return out
}

package check

import (
	"fmt"

	"rackwright/model"
)

// The rows of one board that is not ripped, from its marked end, for pieces p1, p2, ...:
//
//	[0, S] trim | gap | p1 | gap | p2 | ... | gap | [U, L] trim
//
//	L   the length of the board
//	S   the trim
//	U   L - trim: pieces lie in [S, U]
//
// gap.go says what becomes of a gap.
//
// Steps count the crosscuts from the marked end. Trim, part and offcut are pieces, and so is waste
// with its defects. One cut parts a piece from the next, and a row carries 1 + the number of cuts
// before it. Special cases:
//
//   - A kerf goes with the piece before it, the first on a board with the first piece.
//   - The second kerf of a gap goes with what the gap holds. Where the gap holds nothing, the
//     second kerf is a cut of its own.
//   - The last piece needs no cut when no kerf follows. It carries the number of the last cut.

// judgeBoard judges the rows of one board.
func (c *checker) judgeBoard(u *usedBoard) {
	before := len(c.found)
	where := "cuts.csv: board " + u.id
	switch u.down {
	case model.NotRipped, model.CrosscutFirst, model.RipFirst:
	default:
		c.say(where, "is broken down by %q first, as plan.json has it; it can be %q, %q, or "+
			"nothing where it is not ripped",
			u.down, model.CrosscutFirst, model.RipFirst)
		u.down = model.NotRipped
	}
	c.judgeSpan(u)
	c.judgePieces(u)
	if u.down == model.NotRipped {
		c.judgeEndToEnd(u)
	} else {
		c.judgeTiling(u)
	}
	if len(u.pieces) == 0 {
		c.say(where, "is used but gives no part")
	}
	if len(c.found) > before {
		return
	}
	if u.down == model.NotRipped {
		c.compareRows(u, c.layOut(u))
	} else if u.ripped = c.judgePattern(u); len(c.found) == before {
		want := c.layOutRipped(u.ripped)
		c.judgePlainest(u.ripped, want)
		c.compareRows(u, want)
	}
	c.replay(u)
}

// judgeEndToEnd judges that the rows of a board that is not ripped go from end to end of it.
func (c *checker) judgeEndToEnd(u *usedBoard) {
	var at model.Length
	for i := range u.rows {
		r := &u.rows[i]
		switch {
		case r.To <= r.From:
			c.say(c.rowName(u, i), "is of no length: it goes from %s to %s", c.shop(r.From),
				c.shop(r.To))
		case r.From > at:
			c.say(c.rowName(u, i), "leaves a gap: it starts at %s, the row before ends at %s",
				c.shop(r.From), c.shop(at))
		case r.From < at:
			c.say(c.rowName(u, i), "overlaps the row before: it starts at %s, that one ends at %s",
				c.shop(r.From), c.shop(at))
		}
		at = r.To
	}
	if at != u.board.Length {
		c.say("cuts.csv: board "+u.id, "the rows end at %s, the board at %s", c.shop(at),
			c.shop(u.board.Length))
	}
}

// judgePieces judges each piece of a board by itself. It must be a part of the job, of the right
// size, held by the board, in wood that its face may have, and inside the trims. On a board that is
// not ripped it must be a kerf away from its neighbour.
func (c *checker) judgePieces(u *usedBoard) {
	s := &c.job.Settings
	trim, end := s.TrimFor(u.board, u.origin), model.Length(-1)
	for i := range u.rows {
		r := &u.rows[i]
		if r.Kind != model.KindPart {
			continue
		}
		where := c.rowName(u, i)
		part, known := c.parts[partName{r.Commission, r.Part}]
		if !known {
			c.say(where, "the job has no part %q of %q", r.Part, r.Commission)
			continue
		}
		u.pieces = append(u.pieces, laidPiece{part, r})
		p := &c.job.Parts[part]
		if want := c.job.BlankLength(p); r.From < 0 || r.To > u.board.Length ||
			r.To-r.From != want {
			c.say(where,
				"the blank of %s goes from %s to %s; it is to be %s long, on a board of %s",
				p.Name, c.shop(r.From), c.shop(r.To), c.shop(want), c.shop(u.board.Length))
			continue
		}
		if u.down != model.NotRipped && !c.judgeWidth(u, where, p, r) {
			continue
		}
		if ok, why := c.job.Holds(p, u.board, u.origin); !ok {
			c.say(where, "this board does not hold %s of %s: %s", p.Name, p.Commission, why)
		}
		if r.From < trim || r.To > u.board.Length-trim {
			c.say(where, "%s lies in the trim of %s at the board's end", p.Name, c.shop(trim))
		}
		if u.down == model.NotRipped && end >= 0 && r.From-end < s.CrosscutKerf {
			c.say(where, "%s is nearer than a kerf to the piece before it, or lies over it", p.Name)
		}
		end = r.To
		c.judgeClearWood(u, where, p, r)
	}
}

// judgeClearWood judges that a blank lies on no defect that its face does not tolerate. A blank
// that is not ripped takes the whole width.
func (c *checker) judgeClearWood(u *usedBoard, where string, p *model.Part, r *model.Cut) {
	left, right := r.Left, r.Right
	if u.down == model.NotRipped {
		left, right = 0, u.board.Width
	}
	for _, d := range c.intolerable(u.board, p.Face) {
		switch {
		case d.From >= r.To || r.From >= d.To || d.Left >= right || left >= d.Right:
		case d.Left == 0 && d.Right == u.board.Width:
			c.say(where, "%s may not lie on the defect that, with its margin, goes from %s to %s",
				p.Name, c.shop(d.From), c.shop(d.To))
		default:
			c.say(where, "%s may not lie on the defect that, with its margin, goes from %s to %s "+
				"and across from %s to %s",
				p.Name, c.shop(d.From), c.shop(d.To), c.shop(d.Left), c.shop(d.Right))
		}
	}
}

// intolerable gives the defects of a board, with their margin, that a face does not tolerate.
func (c *checker) intolerable(b *model.Board, f model.Face) []model.Rect {
	return c.job.WidenedRects(b, func(kind string) bool {
		return c.job.Settings.Tolerates(f, kind)
	})
}

// layOut gives the rows that the rules make of the pieces on a board that is not ripped. Ids of
// offcuts are left to the plan.
func (c *checker) layOut(u *usedBoard) []model.Cut {
	trim, width := c.job.Settings.TrimFor(u.board, u.origin), u.board.Width
	var out []model.Cut
	add := func(kind model.Kind, at model.Rect) {
		if at.From < at.To {
			out = append(out, u.newRow(kind, at))
		}
	}
	add(model.KindTrim, model.Rect{From: 0, To: trim, Left: 0, Right: width})
	at := trim
	for i, l := range u.pieces {
		c.layOutGap(u, model.Rect{From: at, To: l.From, Left: 0, Right: width}, model.Along, i > 0,
			true,
			add)
		out = append(out, c.partRow(u, l,
			model.Rect{From: l.From, To: l.To, Left: 0, Right: width}))
		at = l.To
	}
	c.layOutGap(u, model.Rect{From: at, To: u.board.Length - trim, Left: 0, Right: width},
		model.Along,
		true, false, add)
	add(model.KindTrim, model.Rect{From: u.board.Length - trim, To: u.board.Length, Left: 0,
		Right: width})
	numberSteps(out)
	return out
}

// numberSteps gives the rows of one board their steps.
func numberSteps(rows []model.Cut) {
	step := 0 // of the piece that the row belongs to
	for i := range rows {
		kind, before := rows[i].Kind, model.Kind("")
		if i > 0 {
			before = rows[i-1].Kind
		}
		sameWaste := (kind == model.KindWaste || kind == model.KindDefect) &&
			(before == model.KindWaste || before == model.KindDefect)
		if kind == model.KindKerf && before != model.KindKerf || sameWaste {
			rows[i].Step = max(1, step)
			continue
		}
		step++
		rows[i].Step = step
	}
	for i := len(rows) - 1; i >= 0 && rows[i].Kind != model.KindKerf && rows[i].Step == step; i-- {
		rows[i].Step = max(1, step-1)
	}
}

// compareRows compares the rows of a board, field by field, with those that the rules make.
func (c *checker) compareRows(u *usedBoard, want []model.Cut) {
	for i := range u.rows {
		got, where := u.rows[i], c.rowName(u, i)
		if i >= len(want) {
			c.say(where, "%s from %s to %s is one row too many", got.Kind, c.shop(got.From),
				c.shop(got.To))
			return
		}
		w := want[i]
		if got.Kind != w.Kind || got.From != w.From || got.To != w.To {
			c.say(where, "%s from %s to %s stands where the rules make %s from %s to %s",
				got.Kind, c.shop(got.From), c.shop(got.To), w.Kind, c.shop(w.From), c.shop(w.To))
			return
		}
		if w.Kind == model.KindOffcut {
			w.Offcut = got.Offcut // judged by newIDs
		}
		c.fields(where, []field{
			{"origin", got.Origin, w.Origin}, {"material", got.Material, w.Material},
			{"section", got.Section, w.Section},
			{"step", got.Step, w.Step}, {"left", got.Left, w.Left}, {"right", got.Right, w.Right},
			{"commission", got.Commission, w.Commission}, {"part", got.Part, w.Part},
			{"copy", got.Copy, w.Copy},
			{"face", got.Face, w.Face}, {"offcut", got.Offcut, w.Offcut},
		})
	}
	if len(u.rows) < len(want) {
		w := want[len(u.rows)]
		c.say("cuts.csv: board "+u.id, "%s from %s to %s is missing", w.Kind, c.shop(w.From),
			c.shop(w.To))
	}
}

// text writes one field of a row for people.
func (c *checker) text(v any) string {
	switch v := v.(type) {
	case model.Length:
		return c.shop(v)
	case model.Face:
		if v < 0 || v >= model.Faces {
			return "no face"
		}
		return v.String()
	case int, int64, model.Money, model.Minutes:
		return fmt.Sprint(v)
	case tallied:
		return fmt.Sprintf("%d.%06d", v/1_000_000, v%1_000_000)
	}
	return fmt.Sprintf("%q", v)
}

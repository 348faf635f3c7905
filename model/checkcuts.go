package model

import (
	"cmp"
	"fmt"
	"slices"
)

// Layout of one board, from its marked end, for pieces p1, p2, ... inside the usable span [S, U]:
//
//	[0, S] trim | gap | p1 | gap | p2 | ... | gap | [U, L] trim           S = trim, U = L - trim
//
// A gap of length g gives up a kerf on each side that faces a piece: min(kerf, what is left), nothing where it is
// empty; between two pieces g >= kerf. What then remains is one offcut when it is at least keep_length long and has a
// run that long which some face could use; else its recorded defects are defect rows and the rest of it is waste.
//
// Steps count the crosscuts from the marked end. Trim, part, offcut, and waste with its defect rows are pieces; where
// one ends and the next begins is one cut, and a row carries 1 + the number of cuts before it. A kerf goes with the
// piece before it, the first on a board with the first piece. The second kerf of a gap goes with what the gap holds;
// where it holds nothing it is a cut of its own. The last piece, when no kerf follows, needs no cut: it carries the
// number of the last one.

// judge judges the rows of one board.
func (c *checker) judge(u *used) {
	before := len(c.found)
	c.pieces(u)
	where := "cuts.csv: board " + u.id
	var at Length
	for i := range u.rows {
		r := &u.rows[i]
		switch {
		case r.To <= r.From:
			c.say(c.row(u, i), "is of no length: it goes from %s to %s", c.len(r.From), c.len(r.To))
		case r.From > at:
			c.say(c.row(u, i), "leaves a gap: it starts at %s, the row before ends at %s", c.len(r.From), c.len(at))
		case r.From < at:
			c.say(c.row(u, i), "overlaps the row before: it starts at %s, that one ends at %s", c.len(r.From), c.len(at))
		}
		at = r.To
	}
	if at != u.board.Length {
		c.say(where, "the rows end at %s, the board at %s", c.len(at), c.len(u.board.Length))
	}
	if len(u.laid) == 0 {
		c.say(where, "is used but gives no part")
	}
	if len(c.found) == before {
		c.compare(u, c.layout(u))
	}
}

// pieces judges each piece of a board: a part of the job, of the right length, held by the board, in wood that its
// face may have, inside the trims and a kerf from its neighbour.
func (c *checker) pieces(u *used) {
	s := &c.job.Settings
	trim, end := s.TrimFor(u.origin), Length(-1)
	for i := range u.rows {
		r := &u.rows[i]
		if r.Kind != KindPart {
			continue
		}
		where := c.row(u, i)
		part, known := c.parts[partName{r.Commission, r.Part}]
		if !known {
			c.say(where, "the job has no part %q of %q", r.Part, r.Commission)
			continue
		}
		u.laid = append(u.laid, laid{part, r})
		p := &c.job.Parts[part]
		if want := c.job.BlankLength(p); r.From < 0 || r.To > u.board.Length || r.To-r.From != want {
			c.say(where, "the blank of %s goes from %s to %s; it is to be %s long, on a board of %s",
				p.Name, c.len(r.From), c.len(r.To), c.len(want), c.len(u.board.Length))
			continue
		}
		if ok, why := c.job.Holds(p, u.board, u.origin); !ok {
			c.say(where, "this board does not hold %s of %s: %s", p.Name, p.Commission, why)
		}
		if r.From < trim || r.To > u.board.Length-trim {
			c.say(where, "%s lies in the trim of %s at the board's end", p.Name, c.len(trim))
		}
		if end >= 0 && r.From-end < s.CrosscutKerf {
			c.say(where, "%s is nearer than a kerf to the piece before it, or lies over it", p.Name)
		}
		end = r.To
		tolerated := func(kind string) bool { return s.Tolerates(p.Face, kind) }
		for _, d := range c.job.Widened(u.board, tolerated) {
			if d.From < r.To && r.From < d.To && d.From < d.To {
				c.say(where, "%s may not lie on the defect that, with its margin, goes from %s to %s", p.Name, c.len(d.From), c.len(d.To))
			}
		}
	}
}

// layout gives the rows that the rules make of the pieces on a board; ids of offcuts are left to the plan.
func (c *checker) layout(u *used) []Cut {
	trim := c.job.Settings.TrimFor(u.origin)
	var out []Cut
	add := func(kind Kind, from, to Length) {
		if from < to {
			out = append(out, Cut{
				Board: u.id, Origin: u.origin, Material: u.board.Material, Section: u.board.Section,
				Kind: kind, From: from, To: to, Right: u.board.Width,
			})
		}
	}
	add(KindTrim, 0, trim)
	at := trim
	for i, l := range u.laid {
		c.gap(u, at, l.From, i > 0, true, add)
		add(KindPart, l.From, l.To)
		last := &out[len(out)-1]
		last.Commission, last.Part, last.Copy, last.Face = l.Commission, l.Part, l.Copy, c.job.Parts[l.part].Face
		at = l.To
	}
	c.gap(u, at, u.board.Length-trim, true, false, add)
	add(KindTrim, u.board.Length-trim, u.board.Length)
	number(out)
	return out
}

// gap lays out the gap [from, to]; before and after say on which sides it faces a piece.
func (c *checker) gap(u *used, from, to Length, before, after bool, add func(Kind, Length, Length)) {
	kerf := c.job.Settings.CrosscutKerf
	a, b := from, to
	if before {
		a = min(from+kerf, to)
	}
	if after {
		b = max(a, to-kerf)
	}
	add(KindKerf, from, a)
	if c.keepable(u.board, a, b) {
		add(KindOffcut, a, b)
	} else {
		at := a
		for _, clear := range ClearRuns(a, b, recorded(u.board)) {
			add(KindDefect, at, clear.From)
			add(KindWaste, clear.From, clear.To)
			at = clear.To
		}
		add(KindDefect, at, b)
	}
	add(KindKerf, b, to)
}

// recorded gives the spans of a board's defects as they were measured, sorted; a defect of no length is no row.
func recorded(b *Board) []Span {
	var out []Span
	for _, d := range b.Defects {
		if d.From < d.To {
			out = append(out, Span{d.From, d.To})
		}
	}
	slices.SortFunc(out, func(x, y Span) int { return cmp.Compare(x.From, y.From) })
	return out
}

// keepable says whether [from, to], a gap less its kerfs, is an offcut.
func (c *checker) keepable(b *Board, from, to Length) bool {
	keep := c.worth.Keep(&b.Wood)
	if to <= from || to-from < keep {
		return false
	}
	for f := Show; f < Faces; f++ {
		bad := c.job.Widened(b, func(kind string) bool { return c.job.Settings.Tolerates(f, kind) })
		for _, run := range ClearRuns(from, to, bad) {
			if run.To-run.From >= keep {
				return true
			}
		}
	}
	return false
}

// number gives the rows of one board their steps.
func number(rows []Cut) {
	step := 0 // of the piece that the row belongs to
	for i := range rows {
		kind, before := rows[i].Kind, Kind("")
		if i > 0 {
			before = rows[i-1].Kind
		}
		sameWaste := (kind == KindWaste || kind == KindDefect) && (before == KindWaste || before == KindDefect)
		if kind == KindKerf && before != KindKerf || sameWaste {
			rows[i].Step = max(1, step)
			continue
		}
		step++
		rows[i].Step = step
	}
	for i := len(rows) - 1; i >= 0 && rows[i].Kind != KindKerf && rows[i].Step == step; i-- {
		rows[i].Step = max(1, step-1)
	}
}

// compare judges a board's rows, field by field, by those that the rules make.
func (c *checker) compare(u *used, want []Cut) {
	for i := range u.rows {
		got, where := u.rows[i], c.row(u, i)
		if i >= len(want) {
			c.say(where, "%s from %s to %s is one row too many", got.Kind, c.len(got.From), c.len(got.To))
			return
		}
		w := want[i]
		if got.Kind != w.Kind || got.From != w.From || got.To != w.To {
			c.say(where, "%s from %s to %s stands where the rules make %s from %s to %s",
				got.Kind, c.len(got.From), c.len(got.To), w.Kind, c.len(w.From), c.len(w.To))
			return
		}
		if w.Kind == KindOffcut {
			w.Offcut = got.Offcut // judged by newIDs
		}
		c.fields(where, []field{
			{"origin", got.Origin, w.Origin}, {"material", got.Material, w.Material}, {"section", got.Section, w.Section},
			{"step", got.Step, w.Step}, {"left", got.Left, w.Left}, {"right", got.Right, w.Right},
			{"commission", got.Commission, w.Commission}, {"part", got.Part, w.Part}, {"copy", got.Copy, w.Copy},
			{"face", got.Face, w.Face}, {"offcut", got.Offcut, w.Offcut},
		})
	}
	if len(u.rows) < len(want) {
		w := want[len(u.rows)]
		c.say("cuts.csv: board "+u.id, "%s from %s to %s is missing", w.Kind, c.len(w.From), c.len(w.To))
	}
}

// text writes one field of a row for people.
func (c *checker) text(v any) string {
	switch v := v.(type) {
	case Length:
		return c.len(v)
	case Face:
		if v < 0 || v >= Faces {
			return "no face"
		}
		return v.String()
	case int, int64, Money:
		return fmt.Sprint(v)
	case tallied:
		return fmt.Sprintf("%d.%06d", v/1_000_000, v%1_000_000)
	}
	return fmt.Sprintf("%q", v)
}

package report

import (
	"fmt"
	"slices"
	"strings"

	"rackwright/model"
)

// The order of the cuts of a board in words. The steps of its rows are replayed with the pieces in
// hand. A step is one straight cut, from edge to edge of one piece. It goes along the kerf row of
// its number, or along the inner side of a trim, which has its saw cut in it.

// stroke is one straight cut: what it turns into dust, which is of no width where the saw cut is in
// the trim.
type stroke struct {
	step int
	dust model.Rect
}

// strokes lists the cuts of a board in order; unknown are the steps that the rows do not tell.
func (l *layout) strokes() (out []stroke, unknown []int) {
	last := 0
	for i := range l.rows {
		last = max(last, l.rows[i].Step)
	}
	for n := 1; n <= last; n++ {
		cuts := l.strokesOf(n)
		if len(cuts) == 0 && len(l.rows) > 1 {
			unknown = append(unknown, n)
		}
		out = append(out, cuts...)
	}
	return out, unknown
}

func (l *layout) strokesOf(n int) (trims []stroke) {
	var kerfs []stroke
	for i := range l.rows {
		if c := &l.rows[i]; c.Step == n && c.Kind == model.KindKerf {
			kerfs = append(kerfs, stroke{n, c.Rect()})
		}
	}
	for i := range l.rows {
		c := &l.rows[i]
		if c.Step != n || c.Kind != model.KindTrim {
			continue
		}
		at := c.From
		if at == 0 {
			at = c.To
		}
		if !slices.ContainsFunc(kerfs, func(k stroke) bool {
			return k.dust.From == at || k.dust.To == at
		}) {
			trims = append(trims,
				stroke{n, model.Rect{From: at, To: at, Left: c.Left, Right: c.Right}})
		}
	}
	if len(trims)+len(kerfs) == 0 && l.first == model.NotRipped {
		return l.withoutKerf(n)
	}
	return append(trims, kerfs...)
}

// withoutKerf finds a crosscut of a saw that is said to have no kerf: where the first piece of a
// step ends.
func (l *layout) withoutKerf(n int) []stroke {
	i := slices.IndexFunc(l.rows, func(c model.Cut) bool { return c.Step == n })
	for i >= 0 && i+1 < len(l.rows) && isWaste(l.rows[i].Kind) && isWaste(l.rows[i+1].Kind) {
		i++
	}
	if i < 0 || l.rows[i].To == l.size.To {
		return nil
	}
	at := l.rows[i].To
	return []stroke{{n, model.Rect{From: at, To: at, Right: l.size.Right}}}
}

// made is a cut as it is made, on a piece in hand. What is near comes off: on the side of the
// marked end (a crosscut), or of the left edge (a rip). What is far stays.
type made struct {
	stroke
	rip              bool
	piece, near, far model.Rect
}

// replay makes the cuts one after the other; unknown are the steps that the rows do not tell, or
// that do not go from edge to edge.
func (l *layout) replay() (out []made, unknown []int) {
	cuts, unknown := l.strokes()
	hand := []model.Rect{l.size}
	for _, s := range cuts {
		i := slices.IndexFunc(hand, func(r model.Rect) bool {
			return r.From <= s.dust.From && s.dust.To <= r.To && r.Left <= s.dust.Left &&
				s.dust.Right <= r.Right
		})
		if i < 0 {
			unknown = append(unknown, s.step)
			continue
		}
		m := made{stroke: s, piece: hand[i], near: hand[i], far: hand[i]}
		crosscut := s.dust.Left == m.piece.Left && s.dust.Right == m.piece.Right
		m.rip = s.dust.From == m.piece.From && s.dust.To == m.piece.To
		if crosscut && m.rip { // all of the piece is dust
			m.rip = s.dust.Right-s.dust.Left < s.dust.To-s.dust.From
		}
		switch {
		case m.rip:
			m.near.Right, m.far.Left = s.dust.Left, s.dust.Right
		case crosscut:
			m.near.To, m.far.From = s.dust.From, s.dust.To
		default:
			unknown = append(unknown, s.step)
			continue
		}
		hand = slices.Replace(hand, i, i+1, m.near, m.far)
		out = append(out, m)
	}
	slices.Sort(unknown)
	return out, slices.Compact(unknown)
}

// order writes the cuts as a numbered list.
func (p *printer) order(l *layout) {
	cuts, unknown := l.replay()
	if len(cuts) == 0 && len(unknown) == 0 {
		p.line("No cut: the board is taken as it is.")
		return
	}
	fence := ""
	if slices.ContainsFunc(cuts, func(m made) bool { return m.rip }) {
		fence = " A fence setting is the width that passes between fence and blade."
	}
	p.line("Cuts in order, marked out on the whole board from its marked end. Cut on the far "+
		"side of the mark.%s",
		fence)
	if l.span != (model.Span{}) {
		p.line("Before any rip, crosscut the board to what lies from %s to %s: no rip may run "+
			"through weak wood%s.", p.exact(l.span.From), p.exact(l.span.To), l.weak(p.job))
	}
	for i := range cuts {
		m := &cuts[i]
		text := ""
		if m.rip {
			text = p.rip(l, m)
		} else {
			text = p.crosscut(l, m)
		}
		p.item(fmt.Sprintf(" %3d  ", m.step), "%s", text)
	}
	if len(unknown) > 0 {
		p.line("The rows of cuts.csv do not tell step %s; `rackwright verify` says what is "+
			"wrong, if anything is.",
			strings.Trim(fmt.Sprint(unknown), "[]"))
	}
}

// weak names, in brackets, the kinds of defect of a board that no rip runs through.
func (l *layout) weak(job *model.Job) string {
	var kinds []string
	for _, d := range l.noted {
		if slices.Contains(job.Settings.Weak, d.Kind) && !slices.Contains(kinds, d.Kind) {
			kinds = append(kinds, d.Kind)
		}
	}
	if len(kinds) == 0 {
		return ""
	}
	return " (" + strings.Join(kinds, ", ") + ")"
}

// crosscut words a cut across a piece.
func (p *printer) crosscut(l *layout, m *made) string {
	piece, near, far := m.piece, m.near, m.far
	off, rest := l.inHand(near), l.inHand(far)
	where := "crosscut at " + p.exact(near.To)
	if piece.Left != 0 || piece.Right != l.size.Right { // a strip, or a blank to be trimmed
		where = "crosscut " + l.inHand(piece).name
	}
	rests := ""
	if rest.kept {
		rests = ", " + p.exact(far.To-far.From) + " long"
	}
	switch {
	case near.From == near.To && far.From == far.To:
		return where + ": the saw takes all of it"
	case near.From == near.To:
		end := "near end"
		if piece.From == 0 {
			end = "marked end"
		}
		return fmt.Sprintf("%s: shave %s off the %s%s", where, p.exact(far.From-piece.From), end,
			leaving(rest, rests))
	case far.From == far.To:
		return fmt.Sprintf("%s: shave %s off the far end%s", where, p.exact(piece.To-near.To),
			leaving(off, ", "+p.exact(near.To-near.From)+" long"))
	case off.name == theTrim && m.dust.From == m.dust.To: // its saw cut is in the trim
		return where + ", on the near side of the mark: the trim comes off" + leaving(rest, rests)
	case l.first == model.RipFirst && piece.Right-piece.Left == l.size.Right &&
		rest.name == theTrim && !(l.span != (model.Span{}) && off.kept && off.last):
		return where + ": the trim at the far end comes off"
	case off.kept:
		return fmt.Sprintf("%s: %s comes off, %s long%s", where, off.name,
			p.exact(near.To-near.From), leaving(rest, rests))
	}
	return fmt.Sprintf("%s: %s comes off%s", where, off.name, leaving(rest, rests))
}

// rip words a cut along a piece. The fence is set to what is kept.
func (p *printer) rip(l *layout, m *made) string {
	piece, near, far := m.piece, m.near, m.far
	off, rest := l.inHand(near), l.inHand(far)
	what := "rip"
	if whole := piece.Left == 0 && piece.Right == l.size.Right; l.first != model.RipFirst ||
		!whole && !l.strip(piece) { // a length, or a blank to be trimmed
		what += " " + l.inHand(piece).name
	}
	fence, rests := ", fence "+p.exact(near.Right-near.Left), ""
	if rest.kept {
		rests = ", " + p.exact(far.Right-far.Left) + " wide"
	}
	if rest.last && rest.kept && !off.parts { // what is to have its width is against the fence
		fence, rests = ", fence "+p.exact(far.Right-far.Left), ""
	}
	farFence := ", fence " + p.exact(far.Right-far.Left)
	switch {
	case near.Left == near.Right && far.Left == far.Right:
		return what + ": the saw takes all of it"
	case near.Left == near.Right:
		return fmt.Sprintf("%s%s: shave %s off the left edge%s", what, farFence,
			p.exact(far.Left-piece.Left), leaving(rest, ""))
	case far.Left == far.Right:
		return fmt.Sprintf("%s%s: shave %s off the right edge%s", what, fence,
			p.exact(piece.Right-near.Right), leaving(off, ""))
	case off.kept || rest.last && rest.kept:
		return fmt.Sprintf("%s%s: %s comes off%s", what, fence, off.name, leaving(rest, rests))
	}
	return fmt.Sprintf("%s%s: %s of %s off the left edge", what, farFence,
		p.exact(near.Right-near.Left), off.name)
}

const theTrim = "the trim"

// inHand is a piece in hand: its name, and what is to become of it.
type inHand struct {
	name  string
	kept  bool // some of it is a part or an offcut
	parts bool // some of it is a part
	last  bool // nothing more is to be cut from it
}

// leaving says what stays where that is done, and its size.
func leaving(rest inHand, size string) string {
	if !rest.last {
		return ""
	}
	return ", leaving " + rest.name + size
}

// rowsIn gives the rows that lie in a piece; kerfs do not count.
func (l *layout) rowsIn(r model.Rect) (out []int) {
	for i, c := range l.rows {
		if c.Kind != model.KindKerf && r.From <= c.From && c.To <= r.To && r.Left <= c.Left &&
			c.Right <= r.Right {
			out = append(out, i)
		}
	}
	return out
}

// inHand names a piece by the letters in it.
func (l *layout) inHand(r model.Rect) inHand {
	if r.From >= r.To || r.Left >= r.Right {
		return inHand{name: "nothing"}
	}
	rows := l.rowsIn(r)
	var labels []string
	trim, parts := false, 0
	for _, i := range rows {
		if l.labels[i] != "" {
			labels = append(labels, l.labels[i])
		}
		if l.rows[i].Kind == model.KindPart {
			parts++
		}
		trim = trim || l.rows[i].Kind == model.KindTrim
	}
	list, done := strings.Join(labels, ", "), len(rows) == 1 && l.rows[rows[0]].Rect() == r
	switch {
	case len(labels) == 0 && trim && len(rows) == 1:
		return inHand{name: theTrim, last: true}
	case len(labels) == 0:
		return inHand{name: "waste", last: true}
	case done && parts == 0:
		return inHand{name: "offcut " + list, kept: true, last: true}
	case done:
		return inHand{name: list, kept: true, parts: true, last: true}
	}
	kind := "piece"
	if l.first == model.CrosscutFirst && r.Left == 0 && r.Right == l.size.Right {
		kind = "length"
	} else if l.first == model.RipFirst && l.strip(r) {
		kind = "strip"
	}
	return inHand{name: "the " + kind + " with " + list, kept: true, parts: parts > 0}
}

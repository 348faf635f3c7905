package report

import (
	"fmt"
	"slices"
	"strings"

	"rackwright/io/layout"
	"rackwright/model"
)

// The order of the cuts of a board in words.

// order writes the cuts as a numbered list.
func (p *printer) order(l *layout.Board) {
	for _, text := range AboveCuts(p.job, l) {
		p.line("%s", text)
	}
	cuts, unknown := l.Cuts()
	for i := range cuts {
		p.item(fmt.Sprintf(" %3d  ", cuts[i].Step), "%s", p.cut(l, &cuts[i]))
	}
	if len(unknown) > 0 {
		p.line("The rows of cuts.csv do not tell step %s; `rackwright verify` says what is "+
			"wrong, if anything is.",
			strings.Trim(fmt.Sprint(unknown), "[]"))
	}
}

// AboveCuts is what stands above the cuts of a board: how they are marked out, and which of them no
// rip may come before. Blanks within lengths do not break.
func AboveCuts(job *model.Job, l *layout.Board) []string {
	cuts, unknown := l.Cuts()
	if len(cuts) == 0 && len(unknown) == 0 {
		return []string{"No cut: the board is taken as it is."}
	}
	text := "Cuts in order, marked out on the whole board from its marked end. Cut on the far " +
		"side of the mark."
	if slices.ContainsFunc(cuts, func(m layout.Cut) bool { return m.Rip }) {
		text += " A fence setting is the width that passes between fence and blade."
	}
	out := []string{text}
	if l.Span != (model.Span{}) {
		out = append(out, fmt.Sprintf("Before any rip, crosscut the board to what lies from %s to "+
			"%s: no rip may run through weak wood%s.",
			job.Settings.Show(l.Span.From), job.Settings.Show(l.Span.To), weak(job, l)))
	}
	return out
}

// CutsInWords tells the cuts of a board, those of step n in the text n-1. A step is one cut, and
// one more where an edge is shaved first; its text is empty where the rows do not tell it. Blanks
// within lengths do not break.
func CutsInWords(job *model.Job, l *layout.Board) []string {
	p := printer{job: job}
	cuts, unknown := l.Cuts()
	steps := 0
	for i := range cuts {
		steps = max(steps, cuts[i].Step)
	}
	for _, n := range unknown {
		steps = max(steps, n)
	}
	out := make([]string, steps)
	for i := range cuts {
		at := &out[cuts[i].Step-1]
		if *at != "" {
			*at += "; "
		}
		*at += p.cut(l, &cuts[i])
	}
	return out
}

// cut words one cut.
func (p *printer) cut(l *layout.Board, m *layout.Cut) string {
	if m.Rip {
		return p.rip(l, m)
	}
	return p.crosscut(l, m)
}

// weak names, in brackets, the kinds of defect of a board that no rip runs through.
func weak(job *model.Job, l *layout.Board) string {
	var kinds []string
	for _, d := range l.Noted {
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
func (p *printer) crosscut(l *layout.Board, m *layout.Cut) string {
	piece, near, far := m.Piece, m.Near, m.Far
	off, rest := l.InHand(near), l.InHand(far)
	where := "crosscut at " + p.show(near.To)
	if piece.Left != 0 || piece.Right != l.Size.Right { // a strip, or a blank to be trimmed
		where = "crosscut " + l.InHand(piece).Name
	}
	rests := ""
	if rest.Kept {
		rests = ", " + p.show(far.To-far.From) + " long"
	}
	switch {
	case near.From == near.To && far.From == far.To:
		return where + ": the saw takes all of it"
	case near.From == near.To:
		end := "near end"
		if piece.From == 0 {
			end = "marked end"
		}
		return fmt.Sprintf("%s: shave %s off the %s%s", where, p.show(far.From-piece.From), end,
			leaving(rest, rests))
	case far.From == far.To:
		return fmt.Sprintf("%s: shave %s off the far end%s", where, p.show(piece.To-near.To),
			leaving(off, ", "+p.show(near.To-near.From)+" long"))
	case off.Name == layout.TheTrim && m.Dust.From == m.Dust.To: // its saw cut is in the trim
		return where + ", on the near side of the mark: the trim comes off" + leaving(rest, rests)
	case l.First == model.RipFirst && piece.Right-piece.Left == l.Size.Right &&
		rest.Name == layout.TheTrim && !(l.Span != (model.Span{}) && off.Kept && off.Last):
		return where + ": the trim at the far end comes off"
	case off.Kept:
		return fmt.Sprintf("%s: %s comes off, %s long%s", where, off.Name,
			p.show(near.To-near.From), leaving(rest, rests))
	}
	return fmt.Sprintf("%s: %s comes off%s", where, off.Name, leaving(rest, rests))
}

// rip words a cut along a piece. The fence is set to what is kept.
func (p *printer) rip(l *layout.Board, m *layout.Cut) string {
	piece, near, far := m.Piece, m.Near, m.Far
	off, rest := l.InHand(near), l.InHand(far)
	what := "rip"
	if whole := piece.Left == 0 && piece.Right == l.Size.Right; l.First != model.RipFirst ||
		!whole && !l.Strip(piece) { // a length, or a blank to be trimmed
		what += " " + l.InHand(piece).Name
	}
	fence, rests := ", fence "+p.show(l.Fence(m)), ""
	if rest.Kept && (!rest.Last || off.Parts) { // else it is what the fence is set to
		rests = ", " + p.show(far.Right-far.Left) + " wide"
	}
	switch {
	case near.Left == near.Right && far.Left == far.Right:
		return what + ": the saw takes all of it"
	case near.Left == near.Right:
		return fmt.Sprintf("%s%s: shave %s off the left edge%s", what, fence,
			p.show(far.Left-piece.Left), leaving(rest, ""))
	case far.Left == far.Right:
		return fmt.Sprintf("%s%s: shave %s off the right edge%s", what, fence,
			p.show(piece.Right-near.Right), leaving(off, ""))
	case off.Kept || rest.Last && rest.Kept:
		return fmt.Sprintf("%s%s: %s comes off%s", what, fence, off.Name, leaving(rest, rests))
	}
	return fmt.Sprintf("%s%s: %s of %s off the left edge", what, fence,
		p.show(near.Right-near.Left), off.Name)
}

// leaving says what stays where that is done, and its size.
func leaving(rest layout.InHand, size string) string {
	if !rest.Last {
		return ""
	}
	return ", leaving " + rest.Name + size
}

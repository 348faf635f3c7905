package check

import (
	"fmt"
	"slices"

	"rackwright/model"
)

// What may be done with one piece in hand, and what is a piece by itself. The head of replay.go has
// the rules.

// depthAfter is how far down a piece is broken by a cut, or why it is not to be made.
func (p *replaying) depthAfter(step, before int, way model.Axis) (after int, why string) {
	firstWay := model.Along // of the first kind of cut
	switch p.u.down {
	case model.NotRipped:
		if way == model.Across {
			return 0, "a board is ripped that is not to be ripped"
		}
		return 1, ""
	case model.RipFirst:
		firstWay = model.Across
		if way == model.Along && before == 0 && (p.u.hasSpan() || p.has(step, model.KindTrim)) {
			return 0, "" // the trims and the end pieces come off the whole board
		}
	}
	switch {
	case way == firstWay && before <= 1:
		return 1, ""
	case way == firstWay:
		return 3, ""
	case before == 3:
		return 0, "a piece is turned once more after it was trimmed"
	}
	return 2, ""
}

// whySpan says why a cut of a whole board that is ripped over a span of its own is not to be made:
// the board is crosscut outside the span only, and is ripped where just the span is in hand.
func (p *replaying) whySpan(piece sawnOff, way model.Axis, kerf model.Span) string {
	span := p.u.span
	switch {
	case !p.u.hasSpan() || piece.depth > 0:
	case way == model.Along && kerf.To > span.From && kerf.From < span.To:
		return "the span to be ripped is crosscut before it is ripped"
	case way == model.Across && piece.On(model.Along) != span:
		return "a board is ripped before the ends outside the span to be ripped are off"
	}
	return ""
}

func (p *replaying) has(step int, kind model.Kind) bool {
	return slices.ContainsFunc(p.steps[step], func(i int) bool { return p.u.rows[i].Kind == kind })
}

// judgeSafety judges the sizes that one cut has to do with.
func (p *replaying) judgeSafety(step int, piece model.Rect, way model.Axis,
	came []model.Rect) bool {
	length := piece.To - piece.From
	if way == model.Along {
		if length < p.safe.ShortestBlank && !p.contains(piece, model.KindPart) &&
			!p.has(step, model.KindTrim) {
			return p.fail(step,
				"a piece %s long is crosscut that holds no blank, less than the %s of "+
					"shortest_blank",
				p.c.shop(length), p.c.shop(p.safe.ShortestBlank))
		}
		return true
	}
	if length < p.safe.ShortestRip {
		return p.fail(step, "a piece %s long is ripped, less than the %s of shortest_rip",
			p.c.shop(length), p.c.shop(p.safe.ShortestRip))
	}
	for _, r := range came {
		if width := r.Right - r.Left; width < p.safe.NarrowestRip &&
			(p.contains(r, model.KindPart) || p.contains(r, model.KindOffcut)) {
			return p.fail(step,
				"a piece %s wide comes off the rip, less than the %s of narrowest_rip",
				p.c.shop(width), p.c.shop(p.safe.NarrowestRip))
		}
	}
	return true
}

// judgeFreed judges that each row of a step is a piece by itself now, and that it came of the cuts
// of this step.
func (p *replaying) judgeFreed(step int, came []model.Rect) bool {
	for _, i := range p.steps[step] {
		r := p.u.rows[i].Rect()
		if p.u.rows[i].Kind != model.KindKerf &&
			!slices.ContainsFunc(came, func(c model.Rect) bool {
				return liesIn(r, c) && p.isOnePiece(c)
			}) {
			return p.fail(step, "%s at %s is not what the cut frees", p.u.rows[i].Kind, p.where(r))
		}
	}
	return true
}

// isOnePiece says whether a piece is one row, or waste and defect rows of one step.
func (p *replaying) isOnePiece(piece model.Rect) bool {
	step := 0
	for i := range p.u.rows {
		r := &p.u.rows[i]
		switch at := r.Rect(); {
		case !liesIn(at, piece):
		case at == piece && r.Kind != model.KindKerf:
			return true
		case r.Kind != model.KindWaste && r.Kind != model.KindDefect, step > 0 && r.Step != step:
			return false
		default:
			step = r.Step
		}
	}
	return step > 0
}

func (p *replaying) contains(piece model.Rect, kind model.Kind) bool {
	return slices.ContainsFunc(p.u.rows, func(r model.Cut) bool {
		return r.Kind == kind && liesIn(r.Rect(), piece)
	})
}

func (p *replaying) where(r model.Rect) string {
	text := fmt.Sprintf("%s to %s", p.c.shop(r.From), p.c.shop(r.To))
	if r.Left > 0 || r.Right < p.u.board.Width {
		text += fmt.Sprintf(" and across %s to %s", p.c.shop(r.Left), p.c.shop(r.Right))
	}
	return text
}

func liesIn(r, in model.Rect) bool {
	return in.From <= r.From && r.To <= in.To && in.Left <= r.Left && r.Right <= in.Right
}

package check

import (
	"fmt"
	"rackwright/model"
	"slices"
)

// What may be done with one piece in hand, and what is a piece by itself; the head of
// checkreplay.go has the rules.

// level is how far down a piece is broken by a cut, or why it is not to be made.
func (p *replaying) level(step, before int, way model.Axis) (after int, why string) {
	first := model.Along
	switch p.u.down {
	case model.NotRipped:
		if way == model.Across {
			return 0, "a board is ripped that is not to be ripped"
		}
		return 1, ""
	case model.RipFirst:
		first = model.Across
		if way == model.Along && before == 0 && p.has(step, model.KindTrim) {
			return 0, "" // the trims come off the whole board
		}
	}
	switch {
	case way == first && before <= 1:
		return 1, ""
	case way == first:
		return 3, ""
	case before == 3:
		return 0, "a piece is turned once more after it was trimmed"
	}
	return 2, ""
}

func (p *replaying) has(step int, kind model.Kind) bool {
	return slices.ContainsFunc(p.steps[step], func(i int) bool { return p.u.rows[i].Kind == kind })
}

// safely judges the sizes that one cut has to do with.
func (p *replaying) safely(step int, piece model.Rect, way model.Axis, came []model.Rect) bool {
	length := piece.To - piece.From
	if way == model.Along {
		if length < p.safe.ShortestBlank && !p.contains(piece, model.KindPart) &&
			!p.has(step, model.KindTrim) {
			return p.fail(step,
				"a piece %s long is crosscut that holds no blank, less than the %s of shortest_blank", p.c.len(length), p.c.len(p.safe.ShortestBlank))
		}
		return true
	}
	if length < p.safe.ShortestRip {
		return p.fail(step, "a piece %s long is ripped, less than the %s of shortest_rip",
			p.c.len(length), p.c.len(p.safe.ShortestRip))
	}
	for _, r := range came {
		if width := r.Right - r.Left; width < p.safe.NarrowestRip &&
			(p.contains(r, model.KindPart) || p.contains(r, model.KindOffcut)) {
			return p.fail(step,
				"a piece %s wide comes off the rip, less than the %s of narrowest_rip",
				p.c.len(width), p.c.len(p.safe.NarrowestRip))
		}
	}
	return true
}

// frees judges that each row of a step is a piece by itself now, and that it came of the cuts of
// this step.
func (p *replaying) frees(step int, came []model.Rect) bool {
	for _, i := range p.steps[step] {
		r := rectOf(&p.u.rows[i])
		if p.u.rows[i].Kind != model.KindKerf &&
			!slices.ContainsFunc(came, func(c model.Rect) bool {
				return liesIn(r, c) && p.single(c)
			}) {
			return p.fail(step, "%s at %s is not what the cut frees", p.u.rows[i].Kind, p.at(r))
		}
	}
	return true
}

// single says whether a piece is one row, or waste and defect rows of one step.
func (p *replaying) single(piece model.Rect) bool {
	step := 0
	for i := range p.u.rows {
		r := &p.u.rows[i]
		switch at := rectOf(r); {
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
		return r.Kind == kind && liesIn(rectOf(&r), piece)
	})
}

func (p *replaying) at(r model.Rect) string {
	text := fmt.Sprintf("%s to %s", p.c.len(r.From), p.c.len(r.To))
	if r.Left > 0 || r.Right < p.u.board.Width {
		text += fmt.Sprintf(" and across %s to %s", p.c.len(r.Left), p.c.len(r.Right))
	}
	return text
}

func rectOf(r *model.Cut) model.Rect {
	return model.Rect{From: r.From, To: r.To, Left: r.Left, Right: r.Right}
}

func liesIn(r, of model.Rect) bool {
	return of.From <= r.From && r.To <= of.To && of.Left <= r.Left && r.Right <= of.Right
}

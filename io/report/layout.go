package report

import (
	"cmp"
	"slices"

	"rackwright/model"
)

// layout is one board as a plan cuts it.
type layout struct {
	id     string
	first  model.First
	span   model.Span  // what is ripped first where that is not all between the trims; or zero
	size   model.Rect  // the whole board
	rows   []model.Cut // those that have any size
	labels []string    // of the rows: parts A, B, ..., offcuts a, b, ...
	noted  []model.Defect
	bin    string

	parts, offcuts int // labels given so far
}

// layouts collects what a plan says of each board that it cuts.
func layouts(job *model.Job, plan *model.Plan) map[string]*layout {
	all := map[string]*layout{}
	for i := range plan.Cuts {
		c := &plan.Cuts[i]
		if sizeless(c) {
			continue
		}
		if all[c.Board] == nil {
			all[c.Board] = &layout{id: c.Board}
		}
		all[c.Board].add(c)
	}
	for i := range plan.Placements {
		if l := all[plan.Placements[i].Board]; l != nil {
			x := &plan.Placements[i]
			l.first, l.span = x.First, model.Span{From: x.RipFrom, To: x.RipTo}
		}
	}
	for i := range job.Rack {
		b := &job.Rack[i]
		if l := all[b.ID]; l != nil && l.rows[0].Origin == model.FromRack {
			l.noted, l.bin = b.Defects, b.Bin
		}
	}
	return all
}

// UsedBoards lists the boards that a plan cuts, in the order of its cuts.
func UsedBoards(plan *model.Plan) (ids []string) {
	met := map[string]bool{}
	for i := range plan.Cuts {
		if c := &plan.Cuts[i]; !sizeless(c) && !met[c.Board] {
			met[c.Board] = true
			ids = append(ids, c.Board)
		}
	}
	return ids
}

// sizeless says of a row that there is nothing of it to draw; no plan of ours has one.
func sizeless(c *model.Cut) bool { return c.From >= c.To || c.Left >= c.Right }

func (l *layout) add(c *model.Cut) {
	label := ""
	switch c.Kind {
	case model.KindPart:
		label, l.parts = letters(l.parts, 'A'), l.parts+1
	case model.KindOffcut:
		label, l.offcuts = letters(l.offcuts, 'a'), l.offcuts+1
	}
	l.rows, l.labels = append(l.rows, *c), append(l.labels, label)
	l.size.To, l.size.Right = max(l.size.To, c.To), max(l.size.Right, c.Right)
}

// letters counts A, B, ..., Z, AA, AB, ..., or the same in small letters.
func letters(n int, first byte) string {
	if n < 26 {
		return string(rune(int(first) + n))
	}
	return letters(n/26-1, first) + string(rune(int(first)+n%26))
}

// alone is the part of a plan that is of this board.
func (l *layout) alone(plan *model.Plan) *model.Plan {
	out := &model.Plan{Cuts: l.rows}
	for _, s := range plan.Setups {
		if s.Board == l.id {
			out.Setups = append(out.Setups, s)
		}
	}
	return out
}

func isWaste(k model.Kind) bool {
	return slices.Contains([]model.Kind{model.KindWaste, model.KindDefect, model.KindKerf}, k)
}

// axis is the direction that the first cuts take the board apart in.
func (l *layout) axis() model.Axis {
	if l.first == model.RipFirst {
		return model.Across
	}
	return model.Along
}

// sideBySide puts the parts together that share a length (crosscut first) or a strip (rip first),
// in order.
func (l *layout) sideBySide() (out [][]*model.Cut) {
	var parts []*model.Cut
	for i := range l.rows {
		if l.rows[i].Kind == model.KindPart {
			parts = append(parts, &l.rows[i])
		}
	}
	a := l.axis()
	byStart := func(a model.Axis) func(c, d *model.Cut) int {
		return func(c, d *model.Cut) int {
			return cmp.Compare(c.Rect().On(a).From, d.Rect().On(a).From)
		}
	}
	slices.SortStableFunc(parts, byStart(a))
	var end model.Length
	for _, c := range parts {
		span := c.Rect().On(a)
		if len(out) == 0 || span.From >= end {
			out = append(out, nil)
		}
		end = max(end, span.To)
		out[len(out)-1] = append(out[len(out)-1], c)
	}
	for _, group := range out {
		slices.SortStableFunc(group, byStart(a.Other()))
	}
	return out
}

// usable is what lies between the trims.
func (l *layout) usable() model.Span {
	out := l.size.On(model.Along)
	for _, c := range l.rows {
		if c.Kind == model.KindTrim && c.From == 0 {
			out.From = c.To
		} else if c.Kind == model.KindTrim {
			out.To = c.From
		}
	}
	return out
}

// strip says whether a piece is as long as what is ripped first, and not as wide as the board.
func (l *layout) strip(r model.Rect) bool {
	span := l.span
	if span == (model.Span{}) {
		span = l.usable()
	}
	return r.On(model.Along) == span && (r.Left > 0 || r.Right < l.size.Right)
}

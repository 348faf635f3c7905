package check

import (
	"cmp"
	"slices"

	"rackwright/model"
)

// What a gap between pieces becomes, along a board or across it: its kerfs, and an offcut, or waste
// with its defects. The heads of checkcuts.go and checkrip.go have the rules.

// kerf is that of cuts which part what lies one after the other in this direction.
func (c *checker) kerf(a model.Axis) model.Length {
	if a == model.Along {
		return c.job.Settings.CrosscutKerf
	}
	return c.job.Settings.RipKerf
}

// layOutGap lays out a layOutGap between pieces that lie one after the other in a direction; before and after
// say on which sides it faces a piece.
func (c *checker) layOutGap(u *usedBoard, of model.Rect, a model.Axis, before, after bool,
	add func(model.Kind, model.Rect)) {
	kerf, s := c.kerf(a), of.On(a)
	from, to := s.From, s.To
	if before {
		from = min(s.From+kerf, s.To)
	}
	if after {
		to = max(from, s.To-kerf)
	}
	add(model.KindKerf, of.With(a, model.Span{From: s.From, To: from}))
	rest := of.With(a, model.Span{From: from, To: to})
	switch {
	case c.keepable(u.board, rest):
		add(model.KindOffcut, rest)
	case u.down != model.NotRipped:
		leavings(u.board, rest, add)
	default:
		at := from
		for _, clear := range model.ClearRuns(from, to, recorded(u.board)) {
			add(model.KindDefect, rest.With(model.Along, model.Span{From: at, To: clear.From}))
			add(model.KindWaste, rest.With(model.Along, clear))
			at = clear.To
		}
		add(model.KindDefect, rest.With(model.Along, model.Span{From: at, To: to}))
	}
	add(model.KindKerf, of.With(a, model.Span{From: to, To: s.To}))
}

// recorded gives the spans of a board's defects as they were measured, sorted; a defect of no
// length is no row.
func recorded(b *model.Board) []model.Span {
	var out []model.Span
	for _, d := range b.Defects {
		if d.From < d.To {
			out = append(out, model.Span{From: d.From, To: d.To})
		}
	}
	slices.SortFunc(out, func(x, y model.Span) int { return cmp.Compare(x.From, y.From) })
	return out
}

// keepable says whether what is left of a gap without its kerfs is an offcut.
func (c *checker) keepable(b *model.Board, of model.Rect) bool {
	keep := c.worth.Keep(&b.Wood)
	if of.To <= of.From || of.Right <= of.Left || of.To-of.From < keep {
		return false
	}
	if (of.Left > 0 || of.Right < b.Width) && of.Right-of.Left < c.job.KeepWidth(&b.Wood) {
		return false
	}
	for f := model.Show; f < model.Faces; f++ {
		bad := c.intolerable(b, f)
		for _, band := range model.Bands(of.Left, of.Right, bad) {
			for _, run := range model.ClearRuns(of.From, of.To,
				model.Meeting(bad, band.From, band.To)) {
				if run.To-run.From >= keep {
					return true
				}
			}
		}
	}
	return false
}

// newRow is a row that the rules make of a board, but for its step.
func (u *usedBoard) newRow(kind model.Kind, at model.Rect) model.Cut {
	return model.Cut{
		Board: u.id, Origin: u.origin, Material: u.board.Material, Section: u.board.Section,
		Kind: kind, From: at.From, To: at.To, Left: at.Left, Right: at.Right,
	}
}

// partRow is the row of a piece.
func (c *checker) partRow(u *usedBoard, l laidPiece, at model.Rect) model.Cut {
	r := u.newRow(model.KindPart, at)
	r.Commission, r.Part, r.Copy, r.Face = l.Commission, l.Part, l.Copy, c.job.Parts[l.part].Face
	return r
}

// leavings divides what is worth no keeping into defect and waste: along at the edges of the
// recorded defects in it, each slab across by those that it meets; slabs next to each other that
// are divided alike are one.
func leavings(b *model.Board, of model.Rect, add func(model.Kind, model.Rect)) {
	var in []model.Rect
	edges := []model.Length{of.From, of.To}
	for _, d := range b.Defects {
		r := model.Rect{From: max(d.From, of.From), To: min(d.To, of.To),
			Left:  max(d.Left, of.Left),
			Right: min(d.Right, of.Right)}
		if r.From < r.To && r.Left < r.Right {
			in = append(in, r)
			edges = append(edges, r.From, r.To)
		}
	}
	slices.Sort(edges)
	edges = slices.Compact(edges)
	type strip struct {
		kind model.Kind
		model.Span
	}
	var slab []strip
	start := of.From
	write := func(to model.Length) {
		for _, s := range slab {
			add(s.kind, model.Rect{From: start, To: to, Left: s.From, Right: s.To})
		}
		start = to
	}
	for i := 1; i < len(edges); i++ {
		var bad []model.Span
		for _, r := range in {
			if r.From <= edges[i-1] && r.To >= edges[i] {
				bad = append(bad, model.Span{From: r.Left, To: r.Right})
			}
		}
		slices.SortFunc(bad, func(a, b model.Span) int { return cmp.Compare(a.From, b.From) })
		var divided []strip
		divide := func(kind model.Kind, from, to model.Length) {
			if from < to {
				divided = append(divided, strip{kind, model.Span{From: from, To: to}})
			}
		}
		at := of.Left
		for _, clear := range model.ClearRuns(of.Left, of.Right, bad) {
			divide(model.KindDefect, at, clear.From)
			divide(model.KindWaste, clear.From, clear.To)
			at = clear.To
		}
		divide(model.KindDefect, at, of.Right)
		if i > 1 && !slices.Equal(divided, slab) {
			write(edges[i-1])
		}
		slab = divided
	}
	write(of.To)
}

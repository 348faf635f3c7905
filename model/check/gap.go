package check

import (
	"cmp"
	"slices"

	"rackwright/model"
)

// What becomes of a gap between pieces, along a board or across it. The sides of the gap that face
// a piece give up a kerf first:
//
//	kerf of a side = min(kerf of the direction, what is left of the gap)
//
// and nothing where the gap is empty. What then remains is one offcut, if it may be kept; keepable
// has the rule. Else its recorded defects are rows of kind defect, and all other wood of it is
// waste.

// kerf is the kerf of a cut that parts what lies one after the other in a direction.
func (c *checker) kerf(a model.Axis) model.Length {
	if a == model.Along {
		return c.job.Settings.CrosscutKerf
	}
	return c.job.Settings.RipKerf
}

// layOutGap adds the rows of one gap in a direction; before and after say on which of its sides a
// piece lies.
func (c *checker) layOutGap(u *usedBoard, gap model.Rect, way model.Axis, before, after bool,
	add func(model.Kind, model.Rect)) {
	kerf, s := c.kerf(way), gap.On(way)
	from, to := s.From, s.To
	if before {
		from = min(s.From+kerf, s.To)
	}
	if after {
		to = max(from, s.To-kerf)
	}
	add(model.KindKerf, gap.With(way, model.Span{From: s.From, To: from}))
	left := gap.With(way, model.Span{From: from, To: to})
	switch {
	case c.keepable(u.board, left):
		add(model.KindOffcut, left)
	case u.down != model.NotRipped:
		leavings(u.board, left, add)
	default:
		at := from
		for _, clear := range model.ClearRuns(from, to, recorded(u.board)) {
			add(model.KindDefect, left.With(model.Along, model.Span{From: at, To: clear.From}))
			add(model.KindWaste, left.With(model.Along, clear))
			at = clear.To
		}
		add(model.KindDefect, left.With(model.Along, model.Span{From: at, To: to}))
	}
	add(model.KindKerf, gap.With(way, model.Span{From: to, To: s.To}))
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

// keepable says whether what is left of a gap without its kerfs is an offcut. It is one where
//
//   - it is at least keep_length long,
//   - it is as wide as the board, or at least [model.Job.KeepWidth] wide, and
//   - on some line along it lies a run of keep_length that some face can use.
//
// The solver looks for that run band by band, among the clear runs that all lines of a band share.
// Here single lines are walked along, past the defects as they were measured. A few lines will do:
// from any line go to the left until the first line of the gap, or the first behind a defect. No
// defect is entered on the way, so the run is still there.
func (c *checker) keepable(b *model.Board, left model.Rect) bool {
	length, width := left.To-left.From, left.Right-left.Left
	keep := c.worth.Keep(&b.Wood)
	if length <= 0 || width <= 0 || length < keep ||
		width < b.Width && width < c.job.KeepWidth(&b.Wood) {
		return false
	}
	for f := model.Show; f < model.Faces; f++ {
		spoilt := c.spoiltFor(f, b, left)
		lines := []model.Length{left.Left}
		for _, d := range spoilt {
			lines = append(lines, d.Right)
		}
		for _, y := range lines {
			if y < left.Right && longestRun(left.On(model.Along), y, spoilt) >= max(keep, 1) {
				return true
			}
		}
	}
	return false
}

// spoiltFor gives what a face cannot use of a part of a board: the defects there that it does not
// tolerate, with their margin, by where they begin.
func (c *checker) spoiltFor(f model.Face, b *model.Board, in model.Rect) (out []model.Rect) {
	m := c.job.Settings.Margin
	for _, d := range b.Defects {
		r := model.Rect{From: max(d.From-m, in.From), To: min(d.To+m, in.To),
			Left: max(d.Left-m, in.Left), Right: min(d.Right+m, in.Right)}
		if r.From < r.To && r.Left < r.Right && !c.job.Settings.Tolerates(f, d.Kind) {
			out = append(out, r)
		}
	}
	slices.SortFunc(out, func(a, b model.Rect) int { return cmp.Compare(a.From, b.From) })
	return out
}

// longestRun walks along the line at y, past what is spoilt on it, and gives the longest stretch
// between.
func longestRun(along model.Span, y model.Length, spoilt []model.Rect) (longest model.Length) {
	at := along.From
	for _, d := range spoilt {
		if d.Left <= y && y < d.Right {
			longest = max(longest, d.From-at)
			at = max(at, d.To)
		}
	}
	return max(longest, along.To-at)
}

// newRow is a row that the rules make on a board, but for its step.
func (u *usedBoard) newRow(kind model.Kind, at model.Rect) model.Cut {
	return model.Cut{
		Board: u.id, Origin: u.origin, Material: u.board.Material, Section: u.board.Section,
		Kind: kind, From: at.From, To: at.To, Left: at.Left, Right: at.Right,
	}
}

// partRow is the row of a piece, at a place that may be larger than the piece.
func (c *checker) partRow(u *usedBoard, l laidPiece, at model.Rect) model.Cut {
	r := u.newRow(model.KindPart, at)
	r.Commission, r.Part, r.Copy, r.Face = l.Commission, l.Part, l.Copy, c.job.Parts[l.part].Face
	return r
}

// leavings divides a gap that is worth no keeping into rows of kind defect and waste. It is cut
// along at the edges of the recorded defects in it, and each slice across by the defects that it
// meets. Slices next to each other that are divided alike are one.
func leavings(b *model.Board, gap model.Rect, add func(model.Kind, model.Rect)) {
	var in []model.Rect
	edges := []model.Length{gap.From, gap.To}
	for _, d := range b.Defects {
		r := model.Rect{From: max(d.From, gap.From), To: min(d.To, gap.To),
			Left:  max(d.Left, gap.Left),
			Right: min(d.Right, gap.Right)}
		if r.From < r.To && r.Left < r.Right {
			in = append(in, r)
			edges = append(edges, r.From, r.To)
		}
	}
	slices.Sort(edges)
	edges = slices.Compact(edges)
	type stretch struct {
		kind model.Kind
		model.Span
	}
	var slice []stretch
	start := gap.From
	write := func(to model.Length) {
		for _, s := range slice {
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
		var divided []stretch
		divide := func(kind model.Kind, from, to model.Length) {
			if from < to {
				divided = append(divided, stretch{kind, model.Span{From: from, To: to}})
			}
		}
		at := gap.Left
		for _, clear := range model.ClearRuns(gap.Left, gap.Right, bad) {
			divide(model.KindDefect, at, clear.From)
			divide(model.KindWaste, clear.From, clear.To)
			at = clear.To
		}
		divide(model.KindDefect, at, gap.Right)
		if i > 1 && !slices.Equal(divided, slice) {
			write(edges[i-1])
		}
		slice = divided
	}
	write(gap.To)
}

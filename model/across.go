package model

import (
	"cmp"
	"slices"
)

// What is meant across the width. x runs along a board from its marked end, y across it from its
// left edge.
//
// A blank is whole in a board whose width is the finished width of its part and whose edges are
// finished: the blank takes the edges of the board as they are. Any other blank that is sawn to its
// width comes from inside the insets, which are the rounded edges of the board less what serves as
// allowance.
//
// A board is laid out in one of two ways.
//
//   - Crosscut first: into lengths, as long as the longest blank in each. A length holds one blank
//     that takes the whole width, or is ripped into blanks one rip kerf apart.
//   - Rip first: into strips, as wide as the widest blank in each, one rip kerf apart. A strip is
//     crosscut into blanks one crosscut kerf apart.
//
// A blank shorter than its length or narrower than its strip lies at one side of it. It is trimmed
// to size by a third cut, where [rip] trimming_cut allows that.
//
// A rip is a cut along: on each side of a blank or strip that is sawn off, unless that side is the
// board's own edge. It takes one rip kerf beyond the side. Two sides that face each other just a
// kerf apart share one. A rip is as long as what is in hand:
//
//   - crosscut first: as long as the length that it rips;
//   - rip first: as long as the ripped span;
//   - a trimming cut of a blank narrower than its strip: as long as the blank.
//
// The ripped span is all between the trims, unless the plan says otherwise. It may begin where a
// weak defect ends, and end where one begins. Then the board is crosscut there before it is ripped,
// a kerf outside the span, and the ends are gaps over the whole width, as between two lengths.
//
// No rip runs through a weak defect, of the kinds of [defects] weak: its kerf, over its length,
// does not overlap the widened rectangle of one. A crosscut may.

// Rect is [From, To] along a board, [Left, Right] across it.
type Rect struct{ From, To, Left, Right Length }

// Whole says whether the blank of a part takes the width of a board as it is, edge to edge.
func (p *Part) Whole(w *Wood) bool { return p.Width == w.Width && w.Surface == "" }

// Sawn says whether both edges of a part are to be sawn, as they are glued: it is a stave.
func (p *Part) Sawn() bool { return p.Makes != nil && p.Makes.Net > 0 }

// Inset is how much of either edge of a board no sawn blank may take.
func (j *Job) Inset(w *Wood) Length {
	if !w.Section.Eased() {
		return 0
	}
	a := j.Settings.AllowanceFor(w.Material)
	return max(0, a.EasedEdge-a.Edge)
}

// KeepWidth is the least width of an offcut that is worth anything, unless it is as wide as its
// board: keep_width, or narrowest_rip where that is more.
func (j *Job) KeepWidth(w *Wood) Length {
	return max(j.Settings.OffcutFor(w.Material, w.Section).KeepWidth,
		j.Settings.SafetyFor(w.Material, w.Section).NarrowestRip)
}

// WidenedRects gives the defects of a board with the margin on every side, clipped to the board and
// sorted. None is empty. Defects of a kind that is tolerated are left out; nil tolerates none.
func (j *Job) WidenedRects(b *Board, tolerated func(kind string) bool) []Rect {
	var out []Rect
	m := j.Settings.Margin
	for _, d := range b.Defects {
		r := Rect{max(0, d.From-m), min(b.Length, d.To+m), max(0, d.Left-m),
			min(b.Width, d.Right+m)}
		if r.From < r.To && r.Left < r.Right && (tolerated == nil || !tolerated(d.Kind)) {
			out = append(out, r)
		}
	}
	slices.SortFunc(out, func(a, b Rect) int {
		return cmp.Or(cmp.Compare(a.From, b.From), cmp.Compare(a.To, b.To),
			cmp.Compare(a.Left, b.Left), cmp.Compare(a.Right, b.Right))
	})
	return out
}

// Rippable says whether it can matter what lies across a board; parts are those that it holds. It
// matters where two blanks could lie beside each other, where something beside a blank could be
// worth keeping, or where a defect between the trims does not go from edge to edge. On any other
// board every layout is one of the length alone.
func (j *Job) Rippable(b *Board, o Origin, parts []*Part) bool {
	if len(parts) == 0 {
		return false
	}
	trim := j.Settings.TrimFor(b, o)
	for _, r := range j.WidenedRects(b, nil) {
		if (r.Left > 0 || r.Right < b.Width) && r.To > trim && r.From < b.Length-trim {
			return true
		}
	}
	safe := j.Settings.SafetyFor(b.Material, b.Section)
	if b.Length-2*trim < safe.ShortestRip {
		return false
	}
	narrowest := b.Width // of the sawn blanks
	for _, p := range parts {
		if w := j.BlankIn(p, &b.Wood).Width; !p.Whole(&b.Wood) && w >= safe.NarrowestRip {
			narrowest = min(narrowest, w)
		}
	}
	inset := j.Inset(&b.Wood)
	return narrowest < b.Width &&
		(2*narrowest+j.Settings.RipKerf <= b.Width-2*inset ||
			inset+narrowest+j.Settings.RipKerf+j.KeepWidth(&b.Wood) <= b.Width)
}

// WeakRects gives the widened weak defects of a board.
func (j *Job) WeakRects(b *Board) []Rect {
	return j.WidenedRects(b, func(kind string) bool {
		return !slices.Contains(j.Settings.Weak, kind)
	})
}

// HasRun says whether the blank of a part that a board holds has a place on it: a run between the
// trims that is clear enough for its face. The run must be clear over the whole width or, where the
// blank can be ripped safely, over the width of the blank.
func (j *Job) HasRun(p *Part, b *Board, o Origin) bool {
	trim, blank := j.Settings.TrimFor(b, o), j.BlankIn(p, &b.Wood)
	bad := j.WidenedRects(b, func(kind string) bool { return j.Settings.Tolerates(p.Face, kind) })
	clear := func(left, right Length) bool {
		return slices.ContainsFunc(ClearRuns(trim, b.Length-trim, Meeting(bad, left, right)),
			func(run Span) bool { return run.To-run.From >= blank.Length })
	}
	if clear(0, b.Width) {
		return true
	}
	safe := j.Settings.SafetyFor(b.Material, b.Section)
	if p.Whole(&b.Wood) || blank.Width < safe.NarrowestRip || b.Length-2*trim < safe.ShortestRip {
		return false
	}
	inset, kerf, weak := j.Inset(&b.Wood), j.Settings.RipKerf, j.WeakRects(b)
	lefts := []Length{inset, b.Width - inset - blank.Width}
	for _, r := range bad {
		lefts = append(lefts, r.Right)
	}
	for _, r := range weak { // a rip at either side of the blank is right of it
		lefts = append(lefts, r.Right+kerf, r.Right-blank.Width)
	}
	for _, left := range lefts { // as far left as it goes
		if right := left + blank.Width; left >= inset && right <= b.Width-inset &&
			j.hasRunRipped(b, Span{trim, b.Length - trim}, blank.Length, safe.ShortestRip,
				Meeting(bad, left, right), j.ripsMeet(b, weak, left, right)) {
			return true
		}
	}
	return false
}

// ripsMeet gives the spans along a board of those rectangles that the rips beside a blank or strip
// run into, by their ends sorted. The board's own edge is no rip.
func (j *Job) ripsMeet(b *Board, rects []Rect, left, right Length) (out []Span) {
	if k := j.Settings.RipKerf; left > 0 {
		out = Meeting(rects, left-k, left)
	}
	if k := j.Settings.RipKerf; right < b.Width {
		out = append(out, Meeting(rects, right, right+k)...)
	}
	return out
}

// hasRunRipped says whether a blank so long can be ripped off. bad is what the blank may not lie
// over, weak what the rips beside it may not run into. A blank long enough to be ripped is a length
// by itself. A shorter one is cut from a strip over the ripped span.
func (j *Job) hasRunRipped(b *Board, usable Span, length, shortest Length, bad, weak []Span) bool {
	holds := func(in Span, not []Span) bool {
		slices.SortFunc(not, func(a, b Span) int { return cmp.Compare(a.From, b.From) })
		return slices.ContainsFunc(ClearRuns(in.From, in.To, not),
			func(run Span) bool { return run.To-run.From >= length })
	}
	if length >= shortest {
		return holds(usable, slices.Concat(bad, weak))
	}
	starts, ends := []Length{usable.From}, []Length{usable.To}
	for _, r := range j.WeakRects(b) {
		starts, ends = append(starts, r.To), append(ends, r.From)
	}
	for _, from := range starts {
		for _, to := range ends {
			in := Span{max(from, usable.From), min(to, usable.To)}
			if in.To-in.From >= shortest && holds(in, bad) &&
				!slices.ContainsFunc(weak, func(r Span) bool {
					return r.From < in.To && r.To > in.From
				}) {
				return true
			}
		}
	}
	return false
}

// Meeting gives the spans along the board of those rectangles that reach into [left, right] of its
// width, sorted by start.
func Meeting(rects []Rect, left, right Length) []Span {
	var out []Span
	for _, r := range rects {
		if r.Left < right && r.Right > left {
			out = append(out, Span{r.From, r.To})
		}
	}
	slices.SortFunc(out, func(a, b Span) int {
		return cmp.Or(cmp.Compare(a.From, b.From), cmp.Compare(a.To, b.To))
	})
	return out
}

// Axis is one of the two directions on a board.
type Axis int

// The directions.
const (
	Along  Axis = iota // x, from the marked end
	Across             // y, from the left edge
)

// Other is the direction square to a.
func (a Axis) Other() Axis { return Across - a }

// On is what the rectangle spans in one direction.
func (r Rect) On(a Axis) Span {
	if a == Along {
		return Span{r.From, r.To}
	}
	return Span{r.Left, r.Right}
}

// With is the rectangle with another span in one direction.
func (r Rect) With(a Axis, s Span) Rect {
	if a == Along {
		r.From, r.To = s.From, s.To
	} else {
		r.Left, r.Right = s.From, s.To
	}
	return r
}

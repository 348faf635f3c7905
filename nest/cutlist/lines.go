package cutlist

import (
	"cmp"
	"slices"

	"rackwright/model"
)

// What becomes of every place of a board, and by which cut.
//
// A board is cut up in levels:
//
//   - the cuts of the board itself;
//   - then those of each length, or of each strip;
//   - then a trimming cut for each blank that is shorter than its length or narrower than its
//     strip.
//
// What is cut at one level is a line of things side by side along one axis: lengths, strips or
// blanks. On each side that faces another thing there is a kerf, and between the kerfs is a gap.
// Every cut goes from edge to edge of what is in hand then.
//
// Rip first takes both trims off before the rips, while the board is whole, so that strips are as
// long as they will be used. With a ripped span of its own the board is crosscut to that span as to
// a length, so that no rip runs through what is weak at its ends. Trimming cuts come last, so that
// each blank is cut short as late as possible.

// line is what lies side by side along an axis, cut apart at one level.
type line []thing

// thing is a part of a line: a kerf, a gap between kerfs, a trim, or a length, strip or blank.
type thing struct {
	kerf   bool
	rows   [2]int // of the board, the second one not in it
	inside line   // what it is cut up into; nil: it is not cut up
}

// tiler makes the rows of one board.
type tiler struct {
	*writer
	board   *Board
	kerf    [2]model.Length // by axis
	bad     [][]model.Rect  // widened defects, by the face that does not tolerate them
	defects []model.Rect    // as recorded; on a board that is not ripped from edge to edge
	rows    []model.Cut
	units   []Unit
	ownIDs  int // offcuts that have an id of the board's own
}

// cuts gives the rows of a board, with their steps, and its cuts by what is in hand.
func (w *writer) cuts(b *Board) ([]model.Cut, []Unit) {
	t := tiler{writer: w, board: b, kerf: [2]model.Length{model.Along: w.job.Settings.CrosscutKerf,
		model.Across: w.job.Settings.RipKerf}}
	for f := range model.Face(model.Faces) {
		t.bad = append(t.bad, w.job.WidenedRects(&b.Board, func(kind string) bool {
			return w.job.Settings.Tolerates(f, kind)
		}))
	}
	for _, d := range b.Defects {
		r := model.Rect{From: d.From, To: d.To, Left: d.Left, Right: d.Right}
		if b.First == model.NotRipped { // nothing is cut out of its width
			r.Left, r.Right = 0, b.Width
		}
		t.defects = append(t.defects, r)
	}
	whole := model.Rect{To: b.Length, Right: b.Width}
	usable := whole.With(model.Along, b.usable(w.job))
	all := t.row(nil, model.KindTrim, whole.With(model.Along, model.Span{To: usable.From}))
	lengths := bundles(model.Along, b.Pieces)
	if b.First == model.RipFirst {
		lengths = []bundle{{b.ripped(w.job), b.Pieces}}
	}
	all = append(all, t.line(model.Along, usable, lengths)...)
	all = t.row(all, model.KindTrim,
		whole.With(model.Along, model.Span{From: usable.To, To: b.Length}))
	t.number(all)
	return t.rows, t.units
}

// row adds a rectangle to the rows, and to the line that it is a thing of; an empty one is neither.
func (t *tiler) row(l line, kind model.Kind, r model.Rect) line {
	if r.From >= r.To || r.Left >= r.Right {
		return l
	}
	n := len(t.rows)
	t.rows = append(t.rows, model.Cut{Board: t.board.ID, Origin: t.board.origin(),
		Material: t.board.Material, Section: t.board.Section, Kind: kind, From: r.From, To: r.To,
		Left: r.Left, Right: r.Right})
	return append(l, thing{kerf: kind == model.KindKerf, rows: [2]int{n, n + 1}})
}

// line lays out what a rectangle is cut into along an axis: lengths, strips or blanks that lie side
// by side there, and what is between.
func (t *tiler) line(a model.Axis, in model.Rect, of []bundle) (l line) {
	kerf, span := t.kerf[a], in.On(a)
	part := func(from, to model.Length) model.Rect {
		return in.With(a, model.Span{From: from, To: to})
	}
	at := span.From
	for n, b := range of {
		if n > 0 {
			l = t.row(l, model.KindKerf, part(at, at+kerf))
			at += kerf
		}
		cut := max(at, b.From-kerf)
		l = t.gap(l, part(at, cut))
		l = t.row(l, model.KindKerf, part(cut, b.From))
		l = append(l, t.bundle(a, part(b.From, b.To), b.pieces))
		at = b.To
	}
	cut := min(span.To, at+kerf)
	l = t.row(l, model.KindKerf, part(at, cut))
	return t.gap(l, part(cut, span.To))
}

// bundle lays out a length or a strip, cut to its size along an axis; or one blank that takes it
// all.
func (t *tiler) bundle(a model.Axis, in model.Rect, pieces []Piece) thing {
	x := thing{rows: [2]int{len(t.rows)}}
	if len(pieces) == 1 && pieces[0].Rect == in {
		t.blank(&pieces[0])
	} else {
		x.inside = t.line(a.Other(), in, bundles(a.Other(), pieces))
	}
	x.rows[1] = len(t.rows)
	return x
}

func (t *tiler) blank(p *Piece) {
	t.row(nil, model.KindPart, p.Rect)
	c, part := &t.rows[len(t.rows)-1], &t.job.Parts[p.Part]
	c.Commission, c.Part, c.Copy, c.Face = part.Commission, part.Name, p.Copy, part.Face
}

// bundle is a length or a strip with its blanks: as long as the longest, or as wide as the widest
// of them.
type bundle struct {
	model.Span
	pieces []Piece
}

// bundles parts blanks into those that overlap along an axis, in order.
func bundles(a model.Axis, pieces []Piece) (out []bundle) {
	pieces = slices.Clone(pieces)
	slices.SortStableFunc(pieces, func(x, y Piece) int {
		return cmp.Compare(x.On(a).From, y.On(a).From)
	})
	for _, p := range pieces {
		s := p.On(a)
		if n := len(out) - 1; n >= 0 && s.From < out[n].To {
			out[n].To = max(out[n].To, s.To)
			out[n].pieces = append(out[n].pieces, p)
			continue
		}
		out = append(out, bundle{s, []Piece{p}})
	}
	return out
}

package nest

import (
	"cmp"
	"slices"

	"rackwright/model"
)

// What becomes of every place of a board, and by which cut. A board is cut up in levels: the cuts
// of the board itself; then those of each length, or of each strip; then a trimming cut for each
// blank that is shorter than its length or narrower than its strip. What is cut at one level is a
// line of things side by side along one axis, lengths, strips or blanks, with a kerf on each side
// that faces another thing and between the kerfs what is left. Every cut goes from edge to edge of
// what is in hand then.
//
// A ripped board has its cuts numbered level by level, each level in the order of the board. Within
// a line each thing has the number of the cut that frees its far side, the last one that of the
// last cut; a kerf goes with the thing before it.

// axis is that along which things lie side by side.
type axis int

const (
	along  axis = iota // the board's length; parted by crosscuts
	across             // its width; parted by rips
)

// span is where a rectangle lies on an axis.
func (a axis) span(r model.Rect) model.Span {
	if a == across {
		return model.Span{From: r.Left, To: r.Right}
	}
	return model.Span{From: r.From, To: r.To}
}

// part is that part of a rectangle that lies in a span of the axis.
func (a axis) part(r model.Rect, from, to model.Length) model.Rect {
	if a == across {
		r.Left, r.Right = from, to
	} else {
		r.From, r.To = from, to
	}
	return r
}

// other is the axis at a right angle.
func (a axis) other() axis { return along + across - a }

// line is what lies side by side along an axis, cut apart at one level.
type line []thing

// thing is a part of a line: a kerf, what is left between kerfs, a trim, or a piece, which may be
// cut up further.
type thing struct {
	kerf   bool
	rows   [2]int // of the board, the second one not in it
	inside line   // nil: it is not cut up
}

// tile says what becomes of every place of a board.
func (d *decoder) tile(u *used) []model.Cut {
	t := tiler{d: d, u: u, kerf: [2]model.Length{along: d.job.Settings.CrosscutKerf,
		across: d.job.Settings.RipKerf}}
	t.bad = make([][]model.Rect, model.Faces)
	for f := range t.bad {
		t.bad[f] = d.job.WidenedRects(&u.Board, func(kind string) bool {
			return d.job.Settings.Tolerates(model.Face(f), kind)
		})
	}
	for _, f := range u.Defects {
		r := model.Rect{From: f.From, To: f.To, Left: f.Left, Right: f.Right}
		if u.first == model.NotRipped { // there nothing is cut out of the width
			r.Left, r.Right = 0, u.Width
		}
		t.defects = append(t.defects, r)
	}
	trim := d.job.Settings.TrimFor(u.origin)
	usable := model.Rect{From: trim, To: u.Length - trim, Right: u.Width}
	var board line
	board = t.row(board, model.KindTrim, along.part(usable, 0, trim))
	if u.first == model.RipFirst {
		from := len(t.cuts)
		strips := t.line(across, usable, u.pieces)
		board = append(board, thing{rows: [2]int{from, len(t.cuts)}, inside: strips})
	} else {
		board = append(board, t.line(along, usable, u.pieces)...)
	}
	board = t.row(board, model.KindTrim, along.part(usable, u.Length-trim, u.Length))
	t.number(board)
	return t.cuts
}

type tiler struct {
	d       *decoder
	u       *used
	kerf    [2]model.Length // by axis
	bad     [][]model.Rect  // widened defects, by the face that does not tolerate them
	defects []model.Rect    // as recorded
	cuts    []model.Cut
}

// row adds a rectangle to the rows, and to the line that it is a thing of; an empty one is neither.
func (t *tiler) row(l line, kind model.Kind, r model.Rect) line {
	if r.From >= r.To || r.Left >= r.Right {
		return l
	}
	n := len(t.cuts)
	t.cuts = append(t.cuts, model.Cut{Board: t.u.ID, Origin: t.u.origin, Material: t.u.Material,
		Section: t.u.Section,
		Kind:    kind, From: r.From, To: r.To, Left: r.Left, Right: r.Right})
	return append(l, thing{kerf: kind == model.KindKerf, rows: [2]int{n, n + 1}})
}

// line lays out what a rectangle is cut into along an axis: pieces that lie side by side there, or
// stand in lengths or strips, and what is between.
func (t *tiler) line(a axis, in model.Rect, pieces []piece) (l line) {
	kerf, whole := t.kerf[a], a.span(in)
	kerfRow := func(from, to model.Length) { l = t.row(l, model.KindKerf, a.part(in, from, to)) }
	at := whole.From
	for n, b := range bundles(a, pieces) {
		if n > 0 {
			kerfRow(at, at+kerf)
			at += kerf
		}
		cut := max(at, b.From-kerf)
		l = t.gap(l, a.part(in, at, cut))
		kerfRow(cut, b.From)
		l = append(l, t.bundle(a, a.part(in, b.From, b.To), b.pieces))
		at = b.To
	}
	cut := min(whole.To, at+kerf)
	kerfRow(at, cut)
	return t.gap(l, a.part(in, cut, whole.To))
}

// bundle lays out a length or a strip, cut to its size along an axis; or one blank that takes it
// whole.
func (t *tiler) bundle(a axis, in model.Rect, pieces []piece) thing {
	x := thing{rows: [2]int{len(t.cuts)}}
	if len(pieces) == 1 && pieces[0].Rect == in {
		t.blank(&pieces[0])
	} else {
		x.inside = t.line(a.other(), in, pieces)
	}
	x.rows[1] = len(t.cuts)
	return x
}

func (t *tiler) blank(p *piece) {
	t.row(nil, model.KindPart, p.Rect)
	c := &t.cuts[len(t.cuts)-1]
	c.Commission, c.Part, c.Copy, c.Face = p.part.Commission, p.part.Name, p.copy, p.part.Face
}

// bundled is a length or a strip with its blanks: as long as the longest, as wide as the widest of
// them.
type bundled struct {
	model.Span
	pieces []piece
}

// bundles parts blanks into those that overlap along an axis, in order.
func bundles(a axis, pieces []piece) (out []bundled) {
	pieces = slices.Clone(pieces)
	slices.SortStableFunc(pieces, func(x, y piece) int {
		return cmp.Compare(a.span(x.Rect).From, a.span(y.Rect).From)
	})
	for _, p := range pieces {
		s := a.span(p.Rect)
		if n := len(out) - 1; n >= 0 && s.From < out[n].To {
			out[n].To = max(out[n].To, s.To)
			out[n].pieces = append(out[n].pieces, p)
			continue
		}
		out = append(out, bundled{s, []piece{p}})
	}
	return out
}

package cutlist

import (
	"cmp"
	"slices"

	"rackwright/model"
)

// gap is what lies between the kerfs of two things: one offcut, or waste with the recorded defects
// in it.
func (t *tiler) gap(l line, r model.Rect) line {
	if t.keeps(r) {
		l = t.row(l, model.KindOffcut, r)
		t.rows[len(t.rows)-1].Offcut = t.offcutID()
		return l
	}
	from := len(t.rows)
	if r.From < r.To && r.Left < r.Right {
		t.waste(r)
	}
	if n := len(t.rows); n > from {
		l = append(l, thing{rows: [2]int{from, n}})
	}
	return l
}

// offcutID is the id of the next offcut of the board: one of its own, or a new one.
func (t *tiler) offcutID() string {
	if t.ownIDs < len(t.board.Offcuts) {
		t.ownIDs++
		return t.board.Offcuts[t.ownIDs-1]
	}
	return t.ids.give("off")
}

// keeps says whether a gap is an offcut: long and wide enough, with a line of it that is clear over
// keep_length for some face. All lines of a band meet the same defects, so each band is looked at
// once. (The checker walks along single lines instead.)
func (t *tiler) keeps(r model.Rect) bool {
	keep := t.worth.Keep(&t.board.Wood)
	allWidth := r.Left == 0 && r.Right == t.board.Width
	if r.From >= r.To || r.Left >= r.Right || r.To-r.From < keep ||
		!allWidth && r.Right-r.Left < t.job.KeepWidth(&t.board.Wood) {
		return false
	}
	for _, bad := range t.bad {
		for _, band := range model.Bands(r.Left, r.Right, bad) {
			for _, run := range model.ClearRuns(r.From, r.To,
				model.Meeting(bad, band.From, band.To)) {
				if run.To-run.From >= keep {
					return true
				}
			}
		}
	}
	return false
}

// waste divides what is not kept where recorded defects begin and end along the board. Each such
// slab is divided across into defects and what is beside them. Neighbouring slabs that are divided
// alike are one.
func (t *tiler) waste(r model.Rect) {
	var met []model.Rect
	edges := []model.Length{r.From, r.To}
	for _, f := range t.defects {
		f = model.Rect{From: max(f.From, r.From), To: min(f.To, r.To), Left: max(f.Left, r.Left),
			Right: min(f.Right, r.Right)}
		if f.From < f.To && f.Left < f.Right {
			met, edges = append(met, f), append(edges, f.From, f.To)
		}
	}
	slices.Sort(edges)
	var before []model.Rect // of the last slab
	start := r.From
	for n := 1; n < len(edges); n++ {
		if edges[n-1] == edges[n] {
			continue
		}
		var there []model.Rect
		for _, f := range met {
			if f.From < edges[n] && f.To > edges[n-1] {
				there = append(there, model.Rect{Left: f.Left, Right: f.Right})
			}
		}
		if there = joined(there); !slices.Equal(there, before) {
			t.slab(model.Rect{From: start, To: edges[n-1], Left: r.Left, Right: r.Right}, before)
			start, before = edges[n-1], there
		}
	}
	t.slab(model.Rect{From: start, To: r.To, Left: r.Left, Right: r.Right}, before)
}

// joined makes one span of the width of those that overlap or touch.
func joined(rects []model.Rect) (out []model.Rect) {
	slices.SortFunc(rects, func(a, b model.Rect) int { return cmp.Compare(a.Left, b.Left) })
	for _, r := range rects {
		if n := len(out) - 1; n >= 0 && r.Left <= out[n].Right {
			out[n].Right = max(out[n].Right, r.Right)
			continue
		}
		out = append(out, r)
	}
	return out
}

// slab is a stretch of waste with defects at some spans of its width.
func (t *tiler) slab(r model.Rect, defects []model.Rect) {
	part := func(left, right model.Length) model.Rect {
		return r.With(model.Across, model.Span{From: left, To: right})
	}
	at := r.Left
	for _, f := range defects {
		t.row(nil, model.KindWaste, part(at, f.Left))
		t.row(nil, model.KindDefect, part(f.Left, f.Right))
		at = f.Right
	}
	t.row(nil, model.KindWaste, part(at, r.Right))
}

package model

import (
	"cmp"
	"slices"
)

// What a gap between pieces becomes, along a board or across it: its kerfs, and an offcut, or waste
// with its defects. The heads of checkcuts.go and checkrip.go have the rules.

// kerf is that of cuts which part what lies one after the other in this direction.
func (c *checker) kerf(a Axis) Length {
	if a == Along {
		return c.job.Settings.CrosscutKerf
	}
	return c.job.Settings.RipKerf
}

// gap lays out a gap between pieces that lie one after the other in a direction; before and after
// say on which sides it faces a piece.
func (c *checker) gap(u *used, of Rect, a Axis, before, after bool, add func(Kind, Rect)) {
	kerf, s := c.kerf(a), of.On(a)
	from, to := s.From, s.To
	if before {
		from = min(s.From+kerf, s.To)
	}
	if after {
		to = max(from, s.To-kerf)
	}
	add(KindKerf, of.With(a, Span{s.From, from}))
	rest := of.With(a, Span{from, to})
	switch {
	case c.keepable(u.board, rest):
		add(KindOffcut, rest)
	case u.down != NotRipped:
		leavings(u.board, rest, add)
	default:
		at := from
		for _, clear := range ClearRuns(from, to, recorded(u.board)) {
			add(KindDefect, rest.With(Along, Span{at, clear.From}))
			add(KindWaste, rest.With(Along, clear))
			at = clear.To
		}
		add(KindDefect, rest.With(Along, Span{at, to}))
	}
	add(KindKerf, of.With(a, Span{to, s.To}))
}

// recorded gives the spans of a board's defects as they were measured, sorted; a defect of no
// length is no row.
func recorded(b *Board) []Span {
	var out []Span
	for _, d := range b.Defects {
		if d.From < d.To {
			out = append(out, Span{d.From, d.To})
		}
	}
	slices.SortFunc(out, func(x, y Span) int { return cmp.Compare(x.From, y.From) })
	return out
}

// keepable says whether what is left of a gap without its kerfs is an offcut.
func (c *checker) keepable(b *Board, of Rect) bool {
	keep := c.worth.Keep(&b.Wood)
	if of.To <= of.From || of.Right <= of.Left || of.To-of.From < keep {
		return false
	}
	if (of.Left > 0 || of.Right < b.Width) && of.Right-of.Left < c.job.KeepWidth(&b.Wood) {
		return false
	}
	for f := Show; f < Faces; f++ {
		bad := c.intolerable(b, f)
		for _, band := range Bands(of.Left, of.Right, bad) {
			for _, run := range ClearRuns(of.From, of.To, Meeting(bad, band.From, band.To)) {
				if run.To-run.From >= keep {
					return true
				}
			}
		}
	}
	return false
}

// made is a row that the rules make of a board, but for its step.
func (u *used) made(kind Kind, at Rect) Cut {
	return Cut{
		Board: u.id, Origin: u.origin, Material: u.board.Material, Section: u.board.Section,
		Kind: kind, From: at.From, To: at.To, Left: at.Left, Right: at.Right,
	}
}

// blank is the row of a piece.
func (c *checker) blank(u *used, l laid, at Rect) Cut {
	r := u.made(KindPart, at)
	r.Commission, r.Part, r.Copy, r.Face = l.Commission, l.Part, l.Copy, c.job.Parts[l.part].Face
	return r
}

// leavings divides what is worth no keeping into defect and waste: along at the edges of the
// recorded defects in it, each slab across by those that it meets; slabs next to each other that
// are divided alike are one.
func leavings(b *Board, of Rect, add func(Kind, Rect)) {
	var in []Rect
	edges := []Length{of.From, of.To}
	for _, d := range b.Defects {
		r := Rect{max(d.From, of.From), min(d.To, of.To), max(d.Left, of.Left),
			min(d.Right, of.Right)}
		if r.From < r.To && r.Left < r.Right {
			in = append(in, r)
			edges = append(edges, r.From, r.To)
		}
	}
	slices.Sort(edges)
	edges = slices.Compact(edges)
	type strip struct {
		kind Kind
		Span
	}
	var slab []strip
	start := of.From
	write := func(to Length) {
		for _, s := range slab {
			add(s.kind, Rect{start, to, s.From, s.To})
		}
		start = to
	}
	for i := 1; i < len(edges); i++ {
		var bad []Span
		for _, r := range in {
			if r.From <= edges[i-1] && r.To >= edges[i] {
				bad = append(bad, Span{r.Left, r.Right})
			}
		}
		slices.SortFunc(bad, func(a, b Span) int { return cmp.Compare(a.From, b.From) })
		var divided []strip
		divide := func(kind Kind, from, to Length) {
			if from < to {
				divided = append(divided, strip{kind, Span{from, to}})
			}
		}
		at := of.Left
		for _, clear := range ClearRuns(of.Left, of.Right, bad) {
			divide(KindDefect, at, clear.From)
			divide(KindWaste, clear.From, clear.To)
			at = clear.To
		}
		divide(KindDefect, at, of.Right)
		if i > 1 && !slices.Equal(divided, slab) {
			write(edges[i-1])
		}
		slab = divided
	}
	write(of.To)
}

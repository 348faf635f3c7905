package model

import "sort"

// Span is [From, To] along a board.
type Span struct{ From, To Length }

// Blank is what must be cut so that the finished part is still in it, in one particular wood.
type Blank struct{ Length, Width, Thickness Length }

// BlankLength is the finished length and the length allowance of its material. It is the same in any wood.
func (j *Job) BlankLength(p *Part) Length {
	return p.Length + j.Settings.AllowanceFor(p.Material).Length
}

// BlankIn sizes the blank of a part cut from one wood: a face or an edge gets its allowance only where it is machined,
// that is where finished and actual size differ. The board's own eased edges (sections of PS 20) serve as the edge allowance.
func (j *Job) BlankIn(p *Part, w *Wood) Blank {
	a := j.Settings.AllowanceFor(p.Material)
	b := Blank{Length: p.Length + a.Length, Width: p.Width, Thickness: p.Thickness}
	if p.Width != w.Width {
		b.Width += 2 * a.Edge
	}
	if p.Thickness != w.Thickness {
		b.Thickness += a.Thickness
	}
	return b
}

// Hindrances are the reasons why no wood holds a part, in the order in which Holds looks: the later, the nearer it came.
var Hindrances = []string{
	"no board of this material",
	"no board of this section",
	"no board is wide enough",
	"no board is thick enough",
	"every board is thicker than plane_limit allows to be planed away",
	"no board is long enough",
}

// Holds says whether a wood holds the blank of a part (design: material, section where named, width, thickness),
// and if not, why: one of Hindrances. Length is checked against the span between the trims.
func (j *Job) Holds(p *Part, w *Wood, o Origin) (bool, string) {
	a := j.Settings.AllowanceFor(p.Material)
	b := j.BlankIn(p, w)
	usable := w.Width
	if p.Width != w.Width && w.Section.Eased() {
		usable -= 2 * max(0, a.EasedEdge-a.Edge)
	}
	for n, hindered := range []bool{
		p.Material != w.Material,
		p.Section != "" && p.Section != w.Section,
		b.Width > usable,
		b.Thickness > w.Thickness,
		w.Thickness-b.Thickness > a.PlaneLimit,
		b.Length > w.Length-2*j.Settings.TrimFor(o),
	} {
		if hindered {
			return false, Hindrances[n]
		}
	}
	return true, ""
}

// Widened gives the defects of a board with the margin on each side, clipped to the board, sorted by start.
// Those whose kind is tolerated are left out; nil tolerates none.
func (j *Job) Widened(b *Board, tolerated func(kind string) bool) []Span {
	var out []Span
	for _, d := range b.Defects {
		if tolerated == nil || !tolerated(d.Kind) {
			out = append(out, Span{max(0, d.From-j.Settings.Margin), min(b.Length, d.To+j.Settings.Margin)})
		}
	}
	sort.Slice(out, func(i, k int) bool {
		return out[i].From < out[k].From || out[i].From == out[k].From && out[i].To < out[k].To
	})
	return out
}

// ClearRuns gives the maximal spans of [from, to] that no span of bad (sorted by start) overlaps. Empty runs are left out.
func ClearRuns(from, to Length, bad []Span) []Span {
	var out []Span
	for _, s := range bad {
		if s.From > from && from < to {
			out = append(out, Span{from, min(s.From, to)})
		}
		from = max(from, s.To)
	}
	if from < to {
		out = append(out, Span{from, to})
	}
	return out
}

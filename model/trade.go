package model

import (
	"slices"
	"strings"
)

// Span is [From, To] along a board.
type Span struct{ From, To Length }

// Blank is what must be cut so that the finished part is still in it, in one particular wood.
type Blank struct{ Length, Width, Thickness Length }

// BlankLength is the finished length and the length allowance of its material. It is the same in
// any wood.
func (j *Job) BlankLength(p *Part) Length {
	return p.Length + j.Settings.AllowanceFor(p.Material).Length
}

// BlankIn sizes the blank of a part cut from one wood. A face or an edge gets its allowance only
// where it is machined: see section.go. The board's own eased edges (sections of PS 20) serve as
// the edge allowance.
func (j *Job) BlankIn(p *Part, w *Wood) Blank {
	a := j.Settings.AllowanceFor(p.Material)
	f := a.finish(p, w)
	b := Blank{Length: p.Length + a.Length, Width: p.Width, Thickness: p.Thickness + f.Thickness}
	if f.Sawn {
		b.Width += 2 * a.Edge
	}
	return b
}

// Why boards do not hold a part.
const (
	NotTheOne     = "no board is the one it must come from"
	OtherMaterial = "no board of this material"
	OtherSection  = "no board of this section"
	TooNarrow     = "no board is wide enough"
	TooThin       = "no board is thick enough"
	TooThick      = "every board is thicker than plane_limit allows to be planed away"
	TooShort      = "no board is long enough"
	TooCrooked    = "every board long enough is crooked or bowed and gives shorter blanks only, " +
		"by its longest"
	Reserved  = "every board that would do is reserved for another commission"
	Untouched = "every board that would do is to stay untouched"
)

// Hindrances are the reasons why no wood holds a part, in the order in which Holds looks at them.
// The later the reason, the nearer the wood came.
var Hindrances = []string{NotTheOne, OtherMaterial, OtherSection, TooNarrow, TooThin, TooThick,
	TooShort, TooCrooked, Reserved, Untouched, TooLongToCarry}

// Why copies are short of a part that some board holds.
const (
	NoClearRun = "no board has a long enough run without defects that its face does not tolerate"
	NotEnough  = "the boards that hold it, on the rack and for sale, do not suffice for all"
)

// TooLongToCarry is why a part is short that boards for sale would give, had any of them a way to
// the shop: see [Job.Carried].
const TooLongToCarry = "every board for sale that would do is longer than the longest_load " +
	"of its yard"

// Holds says whether a board, of the rack or as the yard sells it, may give the blank of a part,
// and if not, why: one of Hindrances. It looks at material, section where named, width, thickness,
// what the maker says of the board, and at the length between the trims. It does not look at
// defects; see [Job.HasRun].
func (j *Job) Holds(p *Part, w *Board, o Origin) (bool, string) {
	other := [...]bool{
		p.Board != "" && (o != FromRack || !w.Answers(p.Board)),
		p.Material != w.Material,
		p.Section != "" && p.Section != w.Section,
	}
	if n := slices.Index(other[:], true); n >= 0 { // most boards are other wood: no blank is sized
		return false, Hindrances[n]
	}
	a := j.Settings.AllowanceFor(p.Material)
	b := j.BlankIn(p, &w.Wood)
	usable := w.Width - 2*j.insetOf(p, &w.Wood)
	for n, hindered := range [...]bool{
		b.Width > usable || p.Sawn() && p.Whole(&w.Wood),
		b.Thickness > w.Thickness,
		w.Thickness-b.Thickness > a.PlaneLimit,
		b.Length > w.Length-2*j.Settings.TrimFor(w, o),
		w.Longest > 0 && b.Length > w.Longest,
		w.For != "" && w.For != p.Commission,
		w.Untouched,
	} {
		if hindered {
			return false, Hindrances[len(other)+n]
		}
	}
	return true, ""
}

// insetOf is how much of either edge of a board the blank of a part may not take.
func (j *Job) insetOf(p *Part, w *Wood) Length {
	if p.Whole(w) {
		return 0
	}
	return j.Inset(w)
}

// Answers says whether a board goes by a name: its id, or ID where it is one of the alike boards
// ID.1, ID.2, ...
func (b *Board) Answers(name string) bool {
	return b.ID == name || b.rowID() == name && name != ""
}

// rowID is ID of a board ID.1, ID.2, ...; empty of any other.
func (b *Board) rowID() string {
	dot := strings.LastIndexByte(b.ID, '.')
	if dot < 0 || dot == len(b.ID)-1 || strings.Trim(b.ID[dot+1:], "0123456789") != "" {
		return ""
	}
	return b.ID[:dot]
}

// ClearRuns gives the maximal spans of [from, to] that no span of bad (sorted by start) overlaps.
// Empty runs are left out.
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

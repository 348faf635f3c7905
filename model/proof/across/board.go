package across

import (
	"cmp"
	"reflect"
	"slices"

	"rackwright/model"
	"rackwright/model/proof/internal/integer"
)

// Board is one rippable board of a stock, as its bound sees it. Make it with [NewBoard]. Lengths,
// here and of items, are in units of the job's valuation.
type Board struct {
	unit                model.Length // of all other lengths
	from, to            model.Length // the usable span along it
	slope               model.Slope  // of worth: ticks for a square of one unit
	keep                model.Length // keep_length
	width, inset        model.Length
	keepWidth           model.Length // kw
	over                model.Length // what a sawn blank is wider than its part
	shortest, narrowest model.Length // that may be ripped, and ripped off
	trimming            bool         // a third cut may trim a blank
	ripping             int64        // what a rip costs: ticks for one unit of its length
	patches             []patch
}

// patch is a defect with its margin, clipped to the board and to its usable span, which faces
// tolerate it, and whether it is weak: then no rip runs through it.
type patch struct {
	model.Rect
	tolerated [model.Faces]bool
	weak      bool
}

// Item is a blank as a board gives it. Make it with [Board.Item].
type Item struct {
	length, width model.Length
	whole         bool // it takes the width of the board as it is
	face          model.Face
	dual          int64 // what one copy is worth, in ticks
}

// NewBoard gives a board of the job that can be ripped; worth is that of the job.
func NewBoard(job *model.Job, worth *model.Valuation, b *model.Board, o model.Origin,
	slope model.Slope) *Board {
	safe, trim := job.Settings.SafetyFor(b.Material, b.Section), job.Settings.TrimFor(b, o)
	u := worth.Unit
	a := &Board{unit: u, from: trim / u, to: (b.Length - trim) / u, slope: slope,
		keep: worth.Keep(&b.Wood) / u, width: b.Width / u, inset: job.Inset(&b.Wood) / u,
		keepWidth: job.KeepWidth(&b.Wood) / u,
		over:      2 * job.Settings.AllowanceFor(b.Material).Edge / u,
		shortest:  (safe.ShortestRip + u - 1) / u, narrowest: safe.NarrowestRip / u,
		trimming: job.Settings.TrimmingCut, ripping: worth.Rip}
	for _, d := range b.Defects {
		for _, r := range job.WidenedRects(&model.Board{Wood: b.Wood, Defects: []model.Defect{d}},
			nil) {
			s := patch{Rect: model.Rect{From: max(r.From/u, a.from), To: min(r.To/u, a.to),
				Left: r.Left / u, Right: r.Right / u},
				weak: slices.Contains(job.Settings.Weak, d.Kind)}
			for f := model.Show; f < model.Faces; f++ {
				s.tolerated[f] = job.Settings.Tolerates(f, d.Kind)
			}
			if s.From < s.To {
				a.patches = append(a.patches, s)
			}
		}
	}
	slices.SortFunc(a.patches, comparePatches)
	a.patches = slices.Compact(a.patches)
	return a
}

// comparePatches puts patches in an order that tells all of them apart.
func comparePatches(x, y patch) int {
	return cmp.Or(cmp.Compare(x.From, y.From), cmp.Compare(x.To, y.To),
		cmp.Compare(integer.OfFlags(x.tolerated[:]), integer.OfFlags(y.tolerated[:])),
		cmp.Compare(x.Left, y.Left), cmp.Compare(x.Right, y.Right),
		cmp.Compare(integer.OfFlags([]bool{x.weak}), integer.OfFlags([]bool{y.weak})))
}

// Equal says whether two boards have the same bound, whatever is cut from them. They may be nil.
func (a *Board) Equal(o *Board) bool { return reflect.DeepEqual(a, o) }

// Item gives the blank of a part on this board: length is that of the blank and width that of the
// finished part, both as in the job, and dual what one copy is worth, in ticks.
func (a *Board) Item(length, width model.Length, f model.Face, dual int64) Item {
	length, width = length/a.unit, width/a.unit
	if width == a.width {
		return Item{length, width, true, f, dual}
	}
	return Item{length, width + a.over, false, f, dual}
}

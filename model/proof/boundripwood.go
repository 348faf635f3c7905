package proof

import (
	"cmp"
	"fmt"
	"math/bits"
	"rackwright/model"
	"slices"
)

// What is known of a rippable wood, and of the blanks that it holds.

// breadth is what a rippable board is across.
type breadth struct {
	width, inset, keep model.Length // keep: kw
	// what a blank has over the width of its part, if it is not whole
	over                model.Length
	shortest, narrowest model.Length // to rip, and to rip off
	trimming            bool
	patches             []patch
}

// patch is a defect with its margin, clipped to the board and along it to what is usable, and which
// faces tolerate it.
type patch struct {
	model.Rect
	tolerated [model.Faces]bool
}

// sawn is a blank that a rippable board holds, and what one copy is worth: 1/10000 x 1/scale.
type sawn struct {
	length, width model.Length // width: as sawn there
	whole         bool         // it takes the width of the board as it is
	face          model.Face
	dual          int64
}

// acrossOf is what a rippable wood is across.
func (p *proof) acrossOf(b *model.Board, usable model.Span) *breadth {
	job, safe := p.job, p.job.Settings.SafetyFor(b.Material, b.Section)
	a := &breadth{width: b.Width, inset: job.Inset(&b.Wood), keep: job.KeepWidth(&b.Wood),
		over:     2 * job.Settings.AllowanceFor(b.Material).Edge,
		shortest: safe.ShortestRip, narrowest: safe.NarrowestRip,
		trimming: job.Settings.TrimmingCut}
	for _, d := range b.Defects {
		for _, r := range job.WidenedRects(&model.Board{Wood: b.Wood, Defects: []model.Defect{d}},
			nil) {
			s := patch{Rect: r}
			s.From, s.To = max(r.From, usable.From), min(r.To, usable.To)
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
	return cmp.Or(compareSpots(spot{model.Span{From: x.From, To: x.To}, x.tolerated},
		spot{model.Span{From: y.From, To: y.To}, y.tolerated}), cmp.Compare(x.Left, y.Left),
		cmp.Compare(x.Right, y.Right))
}

// equal says whether two boards are alike across; nil: not rippable.
func (a *breadth) equal(o *breadth) bool {
	if a == nil || o == nil {
		return a == o
	}
	x, y := *a, *o
	x.patches, y.patches = nil, nil
	return x.width == y.width && x.inset == y.inset && x.keep == y.keep && x.over == y.over &&
		x.shortest == y.shortest && x.narrowest == y.narrowest &&
		x.trimming == y.trimming && slices.Equal(a.patches, o.patches)
}

// wantsSawn is the items that a rippable stock holds at the given duals.
func wantsSawn(cert *model.Certificate, b *bar, items []int, duals []int64) []sawn {
	held := make([]sawn, len(items))
	for k, i := range items {
		item := &cert.Items[i]
		held[k] = sawn{item.Length, item.Width + b.across.over, false, item.Face, duals[i]}
		if item.Width == b.across.width {
			held[k].width, held[k].whole = item.Width, true
		}
	}
	return held
}

// rip finds the woods that can be ripped. Of parts alike in what matters for that one is enough.
func (p *proof) rip(held []string) {
	type kind struct {
		material string
		width    model.Length
	}
	seen := make([]map[kind]bool, len(p.owner))
	parts := make([][]*model.Part, len(p.owner))
	done := map[kind]map[string]bool{}
	for i, set := range held {
		part := &p.job.Parts[i]
		k := kind{part.Material, part.Width}
		if done[k][set] {
			continue
		}
		if done[k] == nil {
			done[k] = map[string]bool{}
		}
		done[k][set] = true
		for _, w := range members(set) {
			if seen[w] == nil {
				seen[w] = map[kind]bool{}
			}
			if !seen[w][k] {
				seen[w][k] = true
				parts[w] = append(parts[w], part)
			}
		}
	}
	p.rippable = make([]bool, len(p.owner))
	for w := range parts {
		board, origin := p.board(w)
		p.rippable[w] = p.job.Rippable(board, origin, parts[w])
	}
}

// members lists the woods of a set.
func members(set string) (out []int) {
	for at := range len(set) {
		for rest := set[at]; rest != 0; rest &= rest - 1 {
			out = append(out, at*8+bits.TrailingZeros8(rest))
		}
	}
	return out
}

// unlikeWidth says what the width of an item should be; d is one of the job's with the same woods.
func (p *proof) unlikeWidth(d *demand, key demandKey) string {
	switch {
	case d.width == 0:
		return fmt.Sprintf("its width is %s; as none of its stocks can be ripped it is to have none", p.len(key.width))
	case key.width == 0:
		return fmt.Sprintf("it has no width, but one of its stocks can be ripped: that of %s is %s",
			p.job.Parts[d.part].Name, p.len(d.width))
	}
	return fmt.Sprintf("the job has no blank of %s, %s, for a part %s wide left to count",
		p.len(key.length), p.face(key.face), p.len(key.width))
}

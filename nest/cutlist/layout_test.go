package cutlist

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"rackwright/model"
	"rackwright/nest/internal/sawtest"
)

// tiny makes a board of a few units with a random layout, ripped in one of the two ways or not at
// all. Some that are ripped first have a ripped span of their own.
func tiny(r *rand.Rand, job *model.Job) *Board {
	s := &job.Settings
	s.CrosscutKerf, s.RipKerf, s.Margin = model.Length(1+r.IntN(3)), model.Length(1+r.IntN(3)),
		model.Length(r.IntN(2))
	s.RackEnd = s.CrosscutKerf * model.Length(r.IntN(2))
	s.Offcut.KeepLength, s.Offcut.KeepWidth, s.Safety.NarrowestRip = model.Length(r.IntN(8)),
		model.Length(r.IntN(6)), 2
	u := laid(job, oak(model.Length(20+r.IntN(40)), model.Length(8+r.IntN(20))),
		[]model.First{model.NotRipped, model.CrosscutFirst, model.RipFirst}[r.IntN(3)])
	for range r.IntN(4) {
		f := model.Defect{From: model.Length(r.IntN(int(u.Length))),
			Left: model.Length(r.IntN(int(u.Width))), Kind: "split"}
		f.To, f.Right = min(u.Length, f.From+1+model.Length(r.IntN(9))),
			min(u.Width, f.Left+1+model.Length(r.IntN(9)))
		u.Defects = append(u.Defects, f)
	}
	usable := model.Rect{From: s.RackEnd, To: u.Length - s.RackEnd, Right: u.Width}
	outer, inner := model.Along, model.Across
	if u.First == model.RipFirst {
		outer, inner = inner, outer
		if r.IntN(2) == 0 {
			u.Ripped.From = usable.From + model.Length(r.IntN(6)*r.IntN(2))
			u.Ripped.To = max(u.Ripped.From+1, usable.To-model.Length(r.IntN(6)*r.IntN(2)))
			usable.From, usable.To = u.Ripped.From, u.Ripped.To
		}
	}
	kerf := [2]model.Length{s.CrosscutKerf, s.RipKerf}
	for _, b := range stretches(r, usable.On(outer), kerf[outer], 8) {
		bundle := usable.With(outer, model.Span{From: b.From, To: b.To})
		if u.First == model.NotRipped || u.First == model.CrosscutFirst && r.IntN(3) == 0 {
			u.add(bundle)
			continue
		}
		within := stretches(r, bundle.On(inner), kerf[inner], 6)
		full := r.IntN(max(1, len(within)))
		for n, p := range within {
			rect := bundle.With(inner, model.Span{From: p.From, To: p.To})
			if cut := model.Length(r.IntN(int(b.To - b.From))); n != full && r.IntN(2) == 0 {
				if r.IntN(2) == 0 {
					rect = rect.With(outer, model.Span{From: b.From + cut, To: b.To})
				} else {
					rect = rect.With(outer, model.Span{From: b.From, To: b.To - cut})
				}
			}
			u.add(rect)
		}
	}
	return u
}

func (b *Board) add(r model.Rect) {
	b.Pieces = append(b.Pieces, Piece{0, int64(len(b.Pieces) + 1), r})
}

// stretches are random ones of a span, at least a kerf apart.
func stretches(r *rand.Rand, of model.Span, kerf model.Length, longest int) (out []model.Span) {
	for at := of.From; ; {
		if r.IntN(2) == 0 {
			at += model.Length(r.IntN(10))
		}
		end := at + 1 + model.Length(r.IntN(longest))
		if end > of.To {
			return out
		}
		out = append(out, model.Span{From: at, To: end})
		at = end + kerf
	}
}

// Every unit of a board is in one row, of the kind that the layout gives it, and the steps can be
// made one after the other.
func TestRowsOfRandomLayouts(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 1))
	kinds := map[string]int{}
	for n := range 800 {
		job := smallJob()
		u := tiny(r, job)
		if len(u.Pieces) == 0 {
			continue
		}
		cuts, _ := newWriter(job).cuts(u)
		if why := everyUnit(job, u, cuts); why != "" {
			t.Fatalf("layout %d, %s first: %s\n%+v\n%+v", n, u.First, why, u.Pieces, cuts)
		}
		if why := sawtest.Replay(cuts); why != "" {
			t.Fatalf("layout %d, %s first: %s\n%+v\n%+v", n, u.First, why, u.Pieces, cuts)
		}
		for _, c := range cuts {
			kinds[fmt.Sprint(u.First, c.Kind)]++
		}
	}
	if len(kinds) != 3*6 {
		t.Errorf("not every kind of row was met: %v", kinds)
	}
}

// everyUnit looks at a board unit by unit.
func everyUnit(job *model.Job, u *Board, cuts []model.Cut) string {
	for x := range u.Length {
		for y := range u.Width {
			var at *model.Cut
			for n := range cuts {
				if c := &cuts[n]; c.From <= x && x < c.To && c.Left <= y && y < c.Right {
					if at != nil {
						return fmt.Sprintf("two rows at %d, %d", x, y)
					}
					at = c
				}
			}
			if at == nil {
				return fmt.Sprintf("no row at %d, %d", x, y)
			}
			want := kindAt(job, u, x, y)
			if want == model.KindWaste {
				want = at.Kind
				flawed := slices.ContainsFunc(u.Defects, func(f model.Defect) bool {
					return f.From <= x && x < f.To &&
						(u.First == model.NotRipped || f.Left <= y && y < f.Right)
				})
				if at.Kind != model.KindOffcut && flawed != (at.Kind == model.KindDefect) ||
					at.Kind == model.KindPart || at.Kind == model.KindKerf ||
					at.Kind == model.KindTrim {
					return fmt.Sprintf("%s at %d, %d", at.Kind, x, y)
				}
			}
			if at.Kind != want {
				return fmt.Sprintf("%s at %d, %d is %s", want, x, y, at.Kind)
			}
		}
	}
	return ""
}

// kindAt is what a unit of a board is by the layout alone; waste stands for all that no piece, kerf
// or trim takes.
func kindAt(job *model.Job, u *Board, x, y model.Length) model.Kind {
	trim, kc, kr := job.Settings.RackEnd, job.Settings.CrosscutKerf, job.Settings.RipKerf
	if x < trim || x >= u.Length-trim {
		return model.KindTrim
	}
	if r := u.Ripped; r.To > 0 && (x < r.From-kc || x >= r.To+kc) {
		return model.KindWaste
	} else if r.To > 0 && (x < r.From || x >= r.To) {
		return model.KindKerf
	}
	// within a kerf of a piece this way; in its length or strip, and in the blank's share of it
	along, across, inBundle, inSlot := false, false, false, false
	for _, p := range u.Pieces {
		b := p.Rect // the length or strip
		for range u.Pieces {
			for _, q := range u.Pieces {
				if u.First == model.RipFirst && q.Left < b.Right && b.Left < q.Right {
					b.Left, b.Right = min(b.Left, q.Left), max(b.Right, q.Right)
				} else if u.First != model.RipFirst && q.From < b.To && b.From < q.To {
					b.From, b.To = min(b.From, q.From), max(b.To, q.To)
				}
			}
		}
		dx, dy, bx, by := distance(x, p.From, p.To), distance(y, p.Left, p.Right),
			distance(x, b.From, b.To), distance(y, b.Left, b.Right)
		switch {
		case dx == 0 && dy == 0:
			return model.KindPart
		case u.First == model.RipFirst && by == 0:
			inBundle = true
			inSlot = inSlot || dx == 0
			along, across = along || dx <= kc && dx > 0, across || dx == 0 && dy <= kr
		case u.First != model.RipFirst && bx == 0:
			inBundle = true
			inSlot = inSlot || dy == 0
			along, across = along || dy == 0 && dx <= kc, across || dy <= kr && dy > 0
		}
	}
	switch {
	case inSlot && (u.First == model.RipFirst && across || u.First != model.RipFirst && along):
		return model.KindKerf
	case inSlot:
		return model.KindWaste
	case inBundle && (along || across):
		return model.KindKerf
	case inBundle:
		return model.KindWaste
	}
	for _, p := range u.Pieces {
		if u.First == model.RipFirst && distance(y, p.Left, p.Right) <= kr ||
			u.First != model.RipFirst && distance(x, p.From, p.To) <= kc {
			return model.KindKerf
		}
	}
	return model.KindWaste
}

// distance of a unit from a span: 0 in it, 1 for the next one beside it.
func distance(x, from, to model.Length) model.Length {
	return max(0, from-x, x-to+1)
}

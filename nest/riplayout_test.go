package nest

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"rackwright/model"
)

// tiny makes a board of a few units with a random layout, ripped in one of the two ways or not at
// all.
func tiny(r *rand.Rand, job *model.Job) *used {
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
	outer, inner := along, across
	if u.first == model.RipFirst {
		outer, inner = across, along
	}
	kerf := [2]model.Length{s.CrosscutKerf, s.RipKerf}
	for _, b := range stretches(r, outer.span(usable), kerf[outer], 8) {
		bundle := outer.part(usable, b.From, b.To)
		if u.first == model.NotRipped || u.first == model.CrosscutFirst && r.IntN(3) == 0 {
			u.add(job, bundle)
			continue
		}
		within := stretches(r, inner.span(bundle), kerf[inner], 6)
		full := r.IntN(max(1, len(within)))
		for n, p := range within {
			rect := inner.part(bundle, p.From, p.To)
			if cut := model.Length(r.IntN(int(b.To - b.From))); n != full && r.IntN(2) == 0 {
				if r.IntN(2) == 0 {
					rect = outer.part(rect, b.From+cut, b.To)
				} else {
					rect = outer.part(rect, b.From, b.To-cut)
				}
			}
			u.add(job, rect)
		}
	}
	return u
}

func (u *used) add(job *model.Job, r model.Rect) {
	u.pieces = append(u.pieces, piece{&job.Parts[0], 0, int64(len(u.pieces) + 1), r})
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
		if len(u.pieces) == 0 {
			continue
		}
		cuts := newDecoder(job).tile(u)
		if why := everyUnit(job, u, cuts); why != "" {
			t.Fatalf("layout %d, %s first: %s\n%+v\n%+v", n, u.first, why, u.pieces, cuts)
		}
		if why := replay(u, cuts); why != "" {
			t.Fatalf("layout %d, %s first: %s\n%+v\n%+v", n, u.first, why, u.pieces, cuts)
		}
		for _, c := range cuts {
			kinds[fmt.Sprint(u.first, c.Kind)]++
		}
	}
	if len(kinds) != 3*6 {
		t.Errorf("not every kind of row was met: %v", kinds)
	}
}

// everyUnit looks at a board unit by unit.
func everyUnit(job *model.Job, u *used, cuts []model.Cut) string {
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
						(u.first == model.NotRipped || f.Left <= y && y < f.Right)
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
func kindAt(job *model.Job, u *used, x, y model.Length) model.Kind {
	trim, kc, kr := job.Settings.RackEnd, job.Settings.CrosscutKerf, job.Settings.RipKerf
	if x < trim || x >= u.Length-trim {
		return model.KindTrim
	}
	// within a kerf of a piece this way; in its length or strip, and in the blank's share of it
	along, across, inBundle, inSlot := false, false, false, false
	for _, p := range u.pieces {
		b := p.Rect // the length or strip
		for range u.pieces {
			for _, q := range u.pieces {
				if u.first == model.RipFirst && q.Left < b.Right && b.Left < q.Right {
					b.Left, b.Right = min(b.Left, q.Left), max(b.Right, q.Right)
				} else if u.first != model.RipFirst && q.From < b.To && b.From < q.To {
					b.From, b.To = min(b.From, q.From), max(b.To, q.To)
				}
			}
		}
		dx, dy, bx, by := distance(x, p.From, p.To), distance(y, p.Left, p.Right),
			distance(x, b.From, b.To), distance(y, b.Left, b.Right)
		switch {
		case dx == 0 && dy == 0:
			return model.KindPart
		case u.first == model.RipFirst && by == 0:
			inBundle = true
			inSlot = inSlot || dx == 0
			along, across = along || dx <= kc && dx > 0, across || dx == 0 && dy <= kr
		case u.first != model.RipFirst && bx == 0:
			inBundle = true
			inSlot = inSlot || dy == 0
			along, across = along || dy == 0 && dx <= kc, across || dy <= kr && dy > 0
		}
	}
	switch {
	case inSlot && (u.first == model.RipFirst && across || u.first != model.RipFirst && along):
		return model.KindKerf
	case inSlot:
		return model.KindWaste
	case inBundle && (along || across):
		return model.KindKerf
	case inBundle:
		return model.KindWaste
	}
	for _, p := range u.pieces {
		if u.first == model.RipFirst && distance(y, p.Left, p.Right) <= kr ||
			u.first != model.RipFirst && distance(x, p.From, p.To) <= kc {
			return model.KindKerf
		}
	}
	return model.KindWaste
}

// distance of a unit from a span: 0 in it, 1 for the next one beside it.
func distance(x, from, to model.Length) model.Length {
	return max(0, from-x, x-to+1)
}

// hand is a piece of a board at a moment of the work: the rows that are in it, and the last cut
// that freed it.
type hand struct {
	rows []model.Cut
	last int
}

func (h hand) bounds() model.Rect {
	b := model.Rect{From: h.rows[0].From, To: h.rows[0].To, Left: h.rows[0].Left,
		Right: h.rows[0].Right}
	for _, c := range h.rows {
		b = model.Rect{From: min(b.From, c.From), To: max(b.To, c.To), Left: min(b.Left, c.Left),
			Right: max(b.Right, c.Right)}
	}
	return b
}

// replay makes the steps: each is in one piece, and all its sawdust and trim go from edge to edge
// of it. In the end each piece is one row, or the waste of one gap, and has the number of the last
// cut that it came from.
func replay(u *used, cuts []model.Cut) string {
	hands, steps := []hand{{rows: cuts, last: 1}}, 0
	for _, c := range cuts {
		steps = max(steps, c.Step)
	}
	for step := 1; step <= steps; step++ {
		saws := func(c model.Cut) bool {
			return c.Step == step && (c.Kind == model.KindKerf || c.Kind == model.KindTrim)
		}
		in := slices.IndexFunc(hands, func(h hand) bool {
			return len(h.rows) > 1 && slices.ContainsFunc(h.rows, saws)
		})
		if in < 0 {
			if steps == 1 && len(cuts) == 1 {
				return ""
			}
			return fmt.Sprintf("step %d cuts nothing", step)
		}
		pieces := []hand{{hands[in].rows, step}}
		for _, c := range hands[in].rows {
			if !saws(c) {
				continue
			}
			at := slices.IndexFunc(pieces, func(h hand) bool { return slices.Contains(h.rows, c) })
			b := pieces[at].bounds()
			var before, after []model.Cut
			for _, o := range pieces[at].rows {
				switch {
				case o == c:
				case c.Left == b.Left && c.Right == b.Right && o.To <= c.From, c.From == b.From &&
					c.To == b.To && o.Right <= c.Left:
					before = append(before, o)
				case c.Left == b.Left && c.Right == b.Right && o.From >= c.To, c.From == b.From &&
					c.To == b.To && o.Left >= c.Right:
					after = append(after, o)
				default:
					return fmt.Sprintf("step %d does not go from edge to edge: %+v of %+v", step, c,
						b)
				}
			}
			pieces = slices.Delete(pieces, at, at+1)
			for _, rows := range [][]model.Cut{before, after} {
				if len(rows) > 0 {
					pieces = append(pieces, hand{rows, step})
				}
			}
		}
		hands = append(slices.Delete(hands, in, in+1), pieces...)
		if slices.ContainsFunc(hands, func(h hand) bool {
			return len(h.rows) > 1 && slices.ContainsFunc(h.rows, saws)
		}) {
			return fmt.Sprintf("step %d cuts two pieces", step)
		}
	}
	for _, h := range hands {
		for _, c := range h.rows {
			loose := c.Kind == model.KindWaste || c.Kind == model.KindDefect
			if len(h.rows) > 1 && !loose || c.Step != h.last {
				return fmt.Sprintf("in the end %+v, last cut %d", h.rows, h.last)
			}
		}
	}
	return ""
}

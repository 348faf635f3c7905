package drawing

import (
	"fmt"
	"slices"

	"rackwright/model"
)

// leastSpot is how long and how high a defect is drawn at least.
const leastSpot = 900

// spot is where a defect stands.
func (k *sketch) spot(d model.Defect) Rect {
	r := k.rect(model.Rect{From: d.From, To: d.To, Left: d.Left, Right: d.Right})
	whole := k.rect(k.b.Size)
	widen := func(at, long *int, from, end int) {
		if *long < leastSpot {
			*at -= (leastSpot - *long) / 2
			*long = leastSpot
		}
		*at = max(from, min(*at, end-*long))
		*long = min(*long, end-*at)
	}
	widen(&r.X, &r.Wide, whole.X, whole.X+whole.Wide)
	widen(&r.Y, &r.High, whole.Y, whole.Y+whole.High)
	return r
}

// spotHatch tells a defect by what it is good for: the denser the less.
func spotHatch(s *model.Settings, kind string) hatch {
	switch {
	case slices.Contains(s.Weak, kind):
		return weakSpot
	case s.Tolerates(model.Sound, kind):
		return mildSpot
	case s.Tolerates(model.Hidden, kind):
		return middlingSpot
	}
	return badSpot
}

// spots draws the defects, with the name of each in it or above the board.
func (k *sketch) spots() {
	for _, d := range k.b.Noted {
		r := k.spot(d)
		k.hatched(r, spotHatch(k.s, d.Kind))
		k.signs = append(k.signs, &Rect{X: r.X, Y: r.Y, Wide: r.Wide, High: r.High,
			Stroke: Black, Line: piecePen})
	}
	for _, d := range k.b.Noted {
		r, kind := k.spot(d), clean(d.Kind)
		free := !slices.ContainsFunc(k.taken, func(t Rect) bool { return t.overlaps(r, 0) })
		if free {
			if _, ok := k.writeAny(k.within(r), plain("", false, kind),
				setting{size: k.opt.Text}); ok {
				continue
			}
		}
		line := KeyLine{defectLetter, fmt.Sprintf("%s: %s", kind,
			k.place(model.Rect{From: d.From, To: d.To, Left: d.Left, Right: d.Right}))}
		text, _ := CutTo(kind, false, k.opt.Text, 10*k.opt.Text)
		over := label{at: r.X + r.Wide/2, on: r.Y, text: text}
		if text == kind {
			over.key = []KeyLine{line}
		} else {
			k.key = append(k.key, line)
		}
		k.top = append(k.top, over)
	}
}

// within is what of a rectangle lies in each piece, the largest first: no text may hide a kerf.
func (k *sketch) within(r Rect) (out []Rect) {
	for i := range k.b.Rows {
		p := k.rect(k.b.Rows[i].Rect())
		x, y := max(r.X, p.X), max(r.Y, p.Y)
		in := Rect{X: x, Y: y, Wide: min(r.X+r.Wide, p.X+p.Wide) - x,
			High: min(r.Y+r.High, p.Y+p.High) - y}
		if k.b.Rows[i].Kind != model.KindKerf && in.Wide > 0 && in.High > 0 {
			out = append(out, in)
		}
	}
	slices.SortStableFunc(out, func(a, b Rect) int { return b.Wide*b.High - a.Wide*a.High })
	return out
}

package drawing

import (
	"fmt"

	"rackwright/model"
)

// board draws the board, its pieces and its kerfs.
func (k *sketch) board() {
	var pens []Segment
	for i := range k.b.Rows {
		c := &k.b.Rows[i]
		r := k.rect(c.Rect())
		switch c.Kind {
		case model.KindKerf:
			k.lines = append(k.lines, kerf(r))
			continue
		case model.KindTrim:
			k.hatched(r, trimHatch)
		case model.KindWaste, model.KindDefect:
			k.hatched(r, wasteHatch)
		case model.KindOffcut:
			k.mark(dashed(inset(r, frameIn)), Black, piecePen)
		case model.KindPart:
			k.hatched(k.band(r), faceHatch(c.Face))
		}
		x2, y2 := r.X+r.Wide, r.Y+r.High
		pens = append(pens, Segment{r.X, r.Y, x2, r.Y}, Segment{x2, r.Y, x2, y2},
			Segment{x2, y2, r.X, y2}, Segment{r.X, y2, r.X, r.Y})
	}
	k.lines = append(k.lines, &Lines{pens, Black, piecePen})
	whole := k.rect(k.b.Size)
	k.lines = append(k.lines,
		&Rect{X: whole.X, Y: whole.Y, Wide: whole.Wide, High: whole.High, Stroke: Black,
			Line: boardPen},
		// the mark on its end
		&Rect{X: whole.X - markWide, Y: whole.Y - boardPen/2, Wide: markWide,
			High: whole.High + boardPen, Fill: Black})
}

// frameIn is how far within its edges the frame of an offcut stands.
const frameIn = 400

// markWide is how wide the mark at the marked end is.
const markWide = 1100

// kerf is what a saw takes: black, and never too thin to be seen.
func kerf(r Rect) *Rect {
	const least = 250
	if r.Wide < least {
		r.X, r.Wide = r.X-(least-r.Wide)/2, least
	}
	if r.High < least {
		r.Y, r.High = r.Y-(least-r.High)/2, least
	}
	r.Fill = Black
	return &r
}

func (k *sketch) hatched(r Rect, h hatch) {
	pen, ink := hatchPen, Pale
	if h.bold {
		pen, ink = boldPen, Black
	}
	k.mark(h.lines(r), ink, pen)
}

// mark draws lines among the signs.
func (k *sketch) mark(all []Segment, ink Ink, pen int) {
	if len(all) > 0 {
		k.signs = append(k.signs, &Lines{all, ink, pen})
	}
}

// inset is a rectangle without a rim, where it is larger than that.
func inset(r Rect, by int) Rect {
	x, y := min(by, r.Wide/2), min(by, r.High/2)
	return Rect{X: r.X + x, Y: r.Y + y, Wide: r.Wide - 2*x, High: r.High - 2*y}
}

// bandHigh is how high the band is that tells the face of a part, at most.
const bandHigh = 1300

// band is that band: along the right edge of a part, below its text, lower where the text needs
// room.
func (k *sketch) band(r Rect) Rect {
	high := min(bandHigh, r.High/4)
	high = max(min(high, r.High-pad-k.opt.Text), min(high, r.High/8))
	return Rect{X: r.X, Y: r.Y + r.High - high, Wide: r.Wide, High: high}
}

// faceHatch is how a face is told: none where it must show, the denser the less it is seen.
func faceHatch(f model.Face) hatch {
	switch f {
	case model.Sound:
		return soundFace
	case model.Hidden:
		return hiddenFace
	}
	return hatch{}
}

// pieces writes what becomes of each place into it.
func (k *sketch) pieces() {
	for i := range k.b.Rows {
		c := &k.b.Rows[i]
		r := k.rect(c.Rect())
		switch c.Kind {
		case model.KindTrim, model.KindWaste, model.KindDefect:
			what := string(c.Kind)
			if c.Kind == model.KindDefect {
				what = string(model.KindWaste)
			}
			k.fit(r, []words{plain("", false, what)})
			continue
		case model.KindKerf:
			continue
		case model.KindPart:
			r.High -= k.band(r).High
		case model.KindOffcut:
			r = inset(r, frameIn)
		}
		if whole := k.fit(r, k.wordings(i)); whole == inFull {
			continue
		} else if whole == notAtAll {
			at := k.rect(c.Rect())
			letter := k.b.Labels[i]
			k.top = append(k.top, label{at: at.X + at.Wide/2, on: at.Y + min(at.High/2, 1000),
				text: letter, bold: true})
		}
		k.key = append(k.key, k.pieceLine(i))
	}
}

// wordings are the ways to write what a piece is, the fullest first.
func (k *sketch) wordings(i int) []words {
	c, letter := &k.b.Rows[i], k.b.Labels[i]
	size := k.show(c.To - c.From)
	if c.Right-c.Left != k.b.Size.Right {
		size += " x " + k.show(c.Right-c.Left)
	}
	short := []words{plain(letter, true, size), plain(letter, true, "", size),
		plain(letter, true, "")}
	if c.Kind == model.KindOffcut {
		return append(full(letter, clean(c.Offcut), "", clean(k.b.InBin()), size), short...)
	}
	if made := k.b.Made(i); made != "" {
		return append(full(letter, clean(c.Commission), clean(made), "", size), short...)
	}
	return append(full(letter, clean(c.Commission), clean(c.Part), fmt.Sprint(c.Copy), size),
		short...)
}

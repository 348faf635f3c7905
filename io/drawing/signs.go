package drawing

import "rackwright/model"

// sign is what a drawing uses without a word, with what it means.
type sign struct {
	text  string
	paint func(r Rect) []Shape
}

func hatchSign(text string, h hatch) sign {
	return sign{text, func(r Rect) []Shape {
		pen, ink := hatchPen, Pale
		if h.bold {
			pen, ink = boldPen, Black
		}
		return []Shape{&Lines{h.lines(r), ink, pen}}
	}}
}

func faceSign(f model.Face) sign {
	return sign{"face: " + f.String(), func(r Rect) []Shape {
		if f == model.Show {
			return nil
		}
		b := r
		b.High = r.High / 3
		b.Y += r.High - b.High
		return []Shape{&Lines{faceHatch(f).lines(b), Pale, hatchPen}}
	}}
}

// cutSign is the number of a cut.
func cutSign(size int) sign {
	return sign{"the first cut", func(r Rect) []Shape {
		wide := TextWidth("1:", false, size)
		return []Shape{&Text{X: r.X + (r.Wide-wide)/2, Y: r.Y + size, Wide: wide, Size: size,
			Text: "1:"}}
	}}
}

// signsMet lists what the rows of a board, its defects and its cuts need.
func (k *sketch) signsMet() (out []sign) {
	kinds, faces := map[model.Kind]bool{}, map[model.Face]bool{}
	for i := range k.b.Rows {
		c := &k.b.Rows[i]
		if kinds[c.Kind] = true; c.Kind == model.KindPart {
			faces[c.Face] = true
		}
	}
	spots := map[hatch]bool{}
	for _, d := range k.b.Noted {
		spots[spotHatch(k.s, d.Kind)] = true
	}
	for _, s := range allSigns {
		if s.kind != "" && kinds[s.kind] || s.face >= 0 && faces[s.face] ||
			s.spot != (hatch{}) && spots[s.spot] {
			out = append(out, s.sign)
		}
	}
	if len(k.cuts) > 0 {
		out = append(out, cutSign(k.opt.Text))
	}
	return out
}

// allSigns are the signs with what calls for them.
var allSigns = []struct {
	sign
	kind model.Kind
	face model.Face // -1: none
	spot hatch
}{
	{faceSign(model.Show), "", model.Show, hatch{}},
	{faceSign(model.Sound), "", model.Sound, hatch{}},
	{faceSign(model.Hidden), "", model.Hidden, hatch{}},
	{sign{"offcut", func(r Rect) []Shape {
		return []Shape{&Lines{dashed(inset(r, frameIn)), Black, piecePen}}
	}}, model.KindOffcut, -1, hatch{}},
	{hatchSign("trim", trimHatch), model.KindTrim, -1, hatch{}},
	{hatchSign("waste", wasteHatch), model.KindWaste, -1, hatch{}},
	{hatchSign("defect that a sound face may have", mildSpot), "", -1, mildSpot},
	{hatchSign("defect for hidden faces only", middlingSpot), "", -1, middlingSpot},
	{hatchSign("defect for no part", badSpot), "", -1, badSpot},
	{hatchSign("defect that no rip runs through", weakSpot), "", -1, weakSpot},
}

// Signs draws all signs of the drawings with their meaning, for a page that has many boards.
// Width and text are as in [Options].
func Signs(opt Options) *Scene {
	opt = opt.usual()
	out := &Scene{Width: opt.Width, Title: "The signs of the drawings"}
	var list []sign
	for _, s := range allSigns {
		list = append(list, s.sign)
		out.Desc += s.text + ". "
	}
	list = append(list, cutSign(opt.Text))
	end := out.legend(list, opt, margin)
	out.Height = end + margin
	return out.onPaper()
}

// legend draws signs side by side from y on, and says where they end.
func (s *Scene) legend(list []sign, opt Options, y int) int {
	size := opt.Text
	swatch := Rect{X: margin, Y: y, Wide: 3 * size, High: size * 5 / 4}
	for _, x := range list {
		text := &Text{Size: size, Text: x.text, Wide: TextWidth(x.text, false, size)}
		if swatch.X > margin && swatch.X+swatch.Wide+size/2+text.Wide > opt.Width-margin {
			swatch.X, swatch.Y = margin, swatch.Y+size*8/5
		}
		s.Shapes = append(s.Shapes, x.paint(swatch)...)
		frame := swatch
		frame.Stroke, frame.Line = Black, piecePen
		s.Shapes = append(s.Shapes, &frame)
		text.X, text.Y = swatch.X+swatch.Wide+size/2, swatch.Y+size
		s.Shapes = append(s.Shapes, text)
		swatch.X = text.X + text.Wide + size
	}
	if len(list) == 0 {
		return y
	}
	return swatch.Y + size*8/5
}

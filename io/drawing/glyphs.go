package drawing

import (
	"image"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
)

// Texts of a picture, glyph by glyph, each where [TextWidth] has it.

var outlines = sync.OnceValue(func() (both [2]*opentype.Font) {
	for i, ttf := range [][]byte{goregular.TTF, gobold.TTF} {
		f, err := opentype.Parse(ttf)
		if err != nil {
			panic(err) // the fonts are part of the program
		}
		both[i] = f
	}
	return both
})

// paint paints a text. One that is turned is painted beside and turned then.
func (t *Text) paint(c *dots) error {
	if !t.Up {
		return t.glyphs(c, t.X, t.Y)
	}
	up, down := t.Size*2, t.Size
	beside := &dots{image.NewGray(image.Rect(0, 0, c.fine(t.Wide+t.Size), c.fine(up+down))), c.per}
	for i := range beside.Pix {
		beside.Pix[i] = 0xff
	}
	if err := t.glyphs(beside, 0, up); err != nil {
		return err
	}
	x0, y0 := c.fine(t.X)-beside.fine(up), c.fine(t.Y)
	for y := range beside.Rect.Max.Y {
		for x := range beside.Rect.Max.X {
			at := image.Pt(x0+y, y0-x)
			if v := beside.GrayAt(x, y).Y; v < 0xff && at.In(c.Rect) {
				i := c.PixOffset(at.X, at.Y)
				c.Pix[i] = byte(int(c.Pix[i]) * int(v) / 0xff)
			}
		}
	}
	return nil
}

// glyphs paints a text whose baseline begins at a place, in micrometres.
func (t *Text) glyphs(c *dots, x, y int) error {
	which := 0
	if t.Bold {
		which = 1
	}
	face, err := opentype.NewFace(outlines()[which], &opentype.FaceOptions{
		Size: float64(t.Size) * float64(c.per) / 25_400, DPI: 72, Hinting: font.HintingNone})
	if err != nil {
		return err
	}
	defer face.Close()
	m, passed := metricsOf(t.Bold), 0
	for _, r := range Drawable(t.Text) {
		at := int64(x) + int64(passed)*int64(t.Size)/int64(m.em)
		dot := fixed.Point26_6{X: fixed.Int26_6(at * c.per * 64 / 25_400),
			Y: fixed.I(c.fine(y))}
		box, mask, corner, _, ok := face.Glyph(dot, r)
		if ok {
			c.darken(box, mask, corner)
		}
		passed += m.advance[r]
	}
	return nil
}

// darken puts a mask on the dots of a box.
func (c *dots) darken(box image.Rectangle, mask image.Image, corner image.Point) {
	in := box.Intersect(c.Rect)
	for y := in.Min.Y; y < in.Max.Y; y++ {
		for x := in.Min.X; x < in.Max.X; x++ {
			_, _, _, a := mask.At(corner.X+x-box.Min.X, corner.Y+y-box.Min.Y).RGBA()
			i := c.PixOffset(x, y)
			c.Pix[i] = byte(int(c.Pix[i]) * int(0xffff-a) / 0xffff)
		}
	}
}

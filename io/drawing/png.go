package drawing

import (
	"fmt"
	"image"
	"image/png"
	"io"
)

// A scene as a picture in greys. It is painted finer than it is written, in fine dots, and the grey
// of a dot is the mean of its fine ones. All is reckoned in whole numbers, so that the bytes are
// the same on every machine.

// finer is how many fine dots a dot has each way.
const finer = 4

// mostFine is how many fine dots a picture may have.
const mostFine = 400_000_000

// PNG writes a scene with so many dots to an inch. It is an error if that makes too large a
// picture.
func (s *Scene) PNG(w io.Writer, dpi int) error {
	if dpi < 1 || dpi > 2400 {
		return fmt.Errorf("a picture cannot have %d dots to an inch; choose 1 to 2400", dpi)
	}
	c := &dots{per: int64(dpi) * finer}
	wide, high := (c.fine(s.Width)+finer-1)/finer, (c.fine(s.Height)+finer-1)/finer
	if wide < 1 || high < 1 || int64(wide)*int64(high) > mostFine/finer/finer {
		return fmt.Errorf("a picture of %d x %d dots is too large; choose fewer dots to an inch",
			wide, high)
	}
	c.Gray = image.NewGray(image.Rect(0, 0, wide*finer, high*finer))
	for i := range c.Pix {
		c.Pix[i] = 0xff
	}
	for _, shape := range s.Shapes {
		switch x := shape.(type) {
		case *Rect:
			x.paint(c)
		case *Lines:
			for _, l := range x.Segments {
				c.line(l, x.Line, byte(grey[x.Ink]))
			}
		case *Text:
			if err := x.paint(c); err != nil {
				return err
			}
		}
	}
	return png.Encode(w, c.coarse(wide, high))
}

// dots are the fine dots of a picture, so many to an inch.
type dots struct {
	*image.Gray
	per int64
}

// fine is the fine dot at a place, in micrometres.
func (c *dots) fine(um int) int { return int((int64(um)*c.per + 12_700) / 25_400) }

// coarse makes the picture of the means.
func (c *dots) coarse(wide, high int) *image.Gray {
	out := image.NewGray(image.Rect(0, 0, wide, high))
	for y := range high {
		for x := range wide {
			sum := 0
			for dy := range finer {
				at := c.PixOffset(x*finer, y*finer+dy)
				for _, p := range c.Pix[at : at+finer] {
					sum += int(p)
				}
			}
			out.Pix[out.PixOffset(x, y)] = byte(sum / (finer * finer))
		}
	}
	return out
}

// fill paints the dots from x1 to before x2, y1 to before y2.
func (c *dots) fill(x1, y1, x2, y2 int, value byte) {
	x1, y1 = max(x1, 0), max(y1, 0)
	x2, y2 = min(x2, c.Rect.Max.X), min(y2, c.Rect.Max.Y)
	for y := y1; y < y2 && x1 < x2; y++ {
		row := c.Pix[c.PixOffset(x1, y):]
		for x := range x2 - x1 {
			row[x] = value
		}
	}
}

func (r *Rect) paint(c *dots) {
	x1, y1, x2, y2 := r.X, r.Y, r.X+r.Wide, r.Y+r.High
	if r.Stroke == None {
		c.fill(c.fine(x1), c.fine(y1), c.fine(x2), c.fine(y2), byte(grey[r.Fill]))
		return
	}
	half := r.Line / 2
	for _, l := range []Segment{{x1 - half, y1, x2 + half, y1}, {x1 - half, y2, x2 + half, y2},
		{x1, y1, x1, y2}, {x2, y1, x2, y2}} {
		c.line(l, r.Line, byte(grey[r.Stroke]))
	}
}

// line paints a line of a width: all dots whose middle lies in it.
func (c *dots) line(s Segment, width int, value byte) {
	half := width / 2
	switch {
	case s.X1 == s.X2:
		c.fill(c.fine(s.X1-half), c.fine(min(s.Y1, s.Y2)), c.fine(s.X1+half),
			c.fine(max(s.Y1, s.Y2)), value)
	case s.Y1 == s.Y2:
		c.fill(c.fine(min(s.X1, s.X2)), c.fine(s.Y1-half), c.fine(max(s.X1, s.X2)),
			c.fine(s.Y1+half), value)
	default:
		c.slanted(s, half, value)
	}
}

// slanted paints a line as the four-sided figure around it.
func (c *dots) slanted(s Segment, half int, value byte) {
	dx, dy := s.X2-s.X1, s.Y2-s.Y1
	long := root(dx*dx + dy*dy)
	ox, oy := -dy*half/long, dx*half/long
	corners := [][2]int{{s.X1 + ox, s.Y1 + oy}, {s.X2 + ox, s.Y2 + oy}, {s.X2 - ox, s.Y2 - oy},
		{s.X1 - ox, s.Y1 - oy}}
	top, bottom := corners[0][1], corners[0][1]
	for _, p := range corners {
		top, bottom = min(top, p[1]), max(bottom, p[1])
	}
	for row := max(0, c.fine(top)); row < min(c.Rect.Max.Y, c.fine(bottom)); row++ {
		// the middle of the row, in micrometres
		y := int((int64(2*row+1) * 25_400) / (2 * c.per))
		from, end, met := 0, 0, false
		for i, p := range corners {
			q := corners[(i+1)%len(corners)]
			if p[1] == q[1] || y < min(p[1], q[1]) || y > max(p[1], q[1]) {
				continue
			}
			x := p[0] + (q[0]-p[0])*(y-p[1])/(q[1]-p[1])
			if !met {
				from, end, met = x, x, true
			}
			from, end = min(from, x), max(end, x)
		}
		if met {
			c.fill(c.fine(from), row, c.fine(end), row+1, value)
		}
	}
}

// root is the whole part of a square root.
func root(n int) int {
	low, high := 0, 1
	for high*high <= n {
		high *= 2
	}
	for low+1 < high {
		if mid := (low + high) / 2; mid*mid <= n {
			low = mid
		} else {
			high = mid
		}
	}
	return low
}

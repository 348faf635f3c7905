package drawing

import (
	"html"
	"io"
	"strconv"
)

// inlineUnit is the unit of an inline picture, in micrometres: finer than a screen or a printer
// shows.
const inlineUnit = 50

// inkClasses are the classes of the inks in an inline picture.
var inkClasses = map[Ink]string{Black: "k", Pale: "g", Paper: "w"}

// Inline writes a scene as one svg element within a page, much shorter than [Scene.SVG] does. Inks
// and line widths are left to the style sheet of the page: lines and frames have the class k (ink),
// g (pale) or w (paper), and p100 where they are 100 micrometres wide; what is filled has fk, fg or
// fw. One unit is 50 micrometres, to which all places are rounded. A text has its length with it.
func (s *Scene) Inline(w io.Writer) error {
	b := line(nil).text(`<svg class="drawing" role="img" viewBox="0 0 `).numbers(" ",
		unit(s.Width), unit(s.Height)).text(`" aria-label="`).
		text(html.EscapeString(s.Title)).text(`">`)
	for _, shape := range s.Shapes {
		switch x := shape.(type) {
		case *Rect:
			b = x.inline(b)
		case *Lines:
			b = x.inline(b)
		case *Text:
			b = x.inline(b)
		}
	}
	_, err := w.Write(b.text("</svg>"))
	return err
}

// line is what is written so far.
type line []byte

func (b line) text(s string) line { return append(b, s...) }

// numbers writes numbers with something between them.
func (b line) numbers(between string, all ...int) line {
	for i, n := range all {
		if i > 0 {
			b = append(b, between...)
		}
		b = strconv.AppendInt(b, int64(n), 10)
	}
	return b
}

// unit rounds micrometres.
func unit(n int) int {
	if n < 0 {
		return -unit(-n)
	}
	return (n + inlineUnit/2) / inlineUnit
}

func (r *Rect) inline(b line) line {
	class := "f" + inkClasses[r.Fill]
	if r.Stroke != None {
		class = penClass(r.Stroke, r.Line)
	}
	x, y := unit(r.X), unit(r.Y)
	wide := unit(r.X+r.Wide) - x
	return b.text(`<path class="`).text(class).text(`" d="M`).numbers(" ", x, y).text("h").
		numbers("", wide).text("v").numbers("", unit(r.Y+r.High)-y).text("h").
		numbers("", -wide).text(`z"/>`)
}

func penClass(ink Ink, line int) string {
	return inkClasses[ink] + " p" + strconv.Itoa(line)
}

// inline writes each line from where the one before ended.
func (l *Lines) inline(b line) line {
	b = b.text(`<path class="`).text(penClass(l.Ink, l.Line)).text(`" d="`)
	x, y := 0, 0
	for _, s := range l.Segments {
		x1, y1, x2, y2 := unit(s.X1), unit(s.Y1), unit(s.X2), unit(s.Y2)
		b = b.step('m', x1-x, y1-y).step('l', x2-x1, y2-y1)
		x, y = x2, y2
	}
	return b.text(`"/>`)
}

// step writes one command of a path in as few signs as there can be.
func (b line) step(command byte, dx, dy int) line {
	switch {
	case command == 'l' && dy == 0:
		return b.text("h").numbers("", dx)
	case command == 'l' && dx == 0:
		return b.text("v").numbers("", dy)
	}
	b = append(b, command)
	if dy < 0 {
		return b.numbers("", dx, dy)
	}
	return b.numbers(" ", dx, dy)
}

func (t *Text) inline(b line) line {
	b = b.text(`<text x="`).numbers("", unit(t.X)).text(`" y="`).numbers("", unit(t.Y)).
		text(`" font-size="`).numbers("", unit(t.Size)).
		text(`" textLength="`).numbers("", unit(t.Wide)).text(`"`)
	if t.Bold {
		b = b.text(` class="b"`)
	}
	if t.Up {
		b = b.text(` transform="rotate(-90 `).numbers(" ", unit(t.X), unit(t.Y)).text(`)"`)
	}
	return b.text(">").text(html.EscapeString(t.Text)).text("</text>")
}

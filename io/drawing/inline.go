package drawing

import (
	"bufio"
	"fmt"
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
	b := bufio.NewWriter(w)
	fmt.Fprintf(b, `<svg class="drawing" role="img" viewBox="0 0 %d %d" aria-label="%s">`,
		unit(s.Width), unit(s.Height), html.EscapeString(s.Title))
	for _, shape := range s.Shapes {
		switch x := shape.(type) {
		case *Rect:
			x.inline(b)
		case *Lines:
			x.inline(b)
		case *Text:
			x.inline(b)
		}
	}
	b.WriteString("</svg>")
	return b.Flush()
}

// unit rounds micrometres.
func unit(n int) int {
	if n < 0 {
		return -unit(-n)
	}
	return (n + inlineUnit/2) / inlineUnit
}

func (r *Rect) inline(w *bufio.Writer) {
	class := "f" + inkClasses[r.Fill]
	if r.Stroke != None {
		class = penClass(r.Stroke, r.Line)
	}
	x, y := unit(r.X), unit(r.Y)
	fmt.Fprintf(w, `<path class="%s" d="M%d %dh%dv%dh%dz"/>`, class, x, y, unit(r.X+r.Wide)-x,
		unit(r.Y+r.High)-y, x-unit(r.X+r.Wide))
}

func penClass(ink Ink, line int) string {
	return inkClasses[ink] + " p" + strconv.Itoa(line)
}

// inline writes each line from where the one before ended.
func (l *Lines) inline(w *bufio.Writer) {
	fmt.Fprintf(w, `<path class="%s" d="`, penClass(l.Ink, l.Line))
	x, y := 0, 0
	for _, s := range l.Segments {
		x1, y1, x2, y2 := unit(s.X1), unit(s.Y1), unit(s.X2), unit(s.Y2)
		step(w, 'm', x1-x, y1-y)
		step(w, 'l', x2-x1, y2-y1)
		x, y = x2, y2
	}
	w.WriteString(`"/>`)
}

// step writes one command of a path in as few signs as there can be.
func step(w *bufio.Writer, command byte, dx, dy int) {
	switch {
	case command == 'l' && dy == 0:
		w.WriteString("h" + strconv.Itoa(dx))
		return
	case command == 'l' && dx == 0:
		w.WriteString("v" + strconv.Itoa(dy))
		return
	}
	w.WriteByte(command)
	w.WriteString(strconv.Itoa(dx))
	if dy >= 0 {
		w.WriteByte(' ')
	}
	w.WriteString(strconv.Itoa(dy))
}

func (t *Text) inline(w *bufio.Writer) {
	fmt.Fprintf(w, `<text x="%d" y="%d" font-size="%d" textLength="%d"`, unit(t.X), unit(t.Y),
		unit(t.Size), unit(t.Wide))
	if t.Bold {
		w.WriteString(` class="b"`)
	}
	if t.Up {
		fmt.Fprintf(w, ` transform="rotate(-90 %d %d)"`, unit(t.X), unit(t.Y))
	}
	fmt.Fprintf(w, ">%s</text>", html.EscapeString(t.Text))
}

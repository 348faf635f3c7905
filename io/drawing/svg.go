package drawing

import (
	"bufio"
	"fmt"
	"html"
	"io"
	"strings"
)

// colour is what an ink is where no style sheet says otherwise.
var colour = map[Ink]string{None: "none", Black: "#000", Pale: "#666", Paper: "#fff"}

// SVG writes a scene as one svg element, for a file of its own or within a page. One unit is a
// micrometre. Shapes have the classes ink, pale and paper, so that a page may give them colours of
// its own: .drawing text and .drawing .ink, and so on. Each text has its length with it: another
// font than the one it was measured with cannot overflow.
func (s *Scene) SVG(w io.Writer) error {
	b := bufio.NewWriter(w)
	fmt.Fprintf(b, `<svg xmlns="http://www.w3.org/2000/svg" class="drawing" role="img" `+
		`width="%s" height="%s" viewBox="0 0 %d %d" font-family="%s, Arial, sans-serif" `+
		`aria-label="%s">`+"\n", mm(s.Width), mm(s.Height), s.Width, s.Height, Family,
		html.EscapeString(s.Title))
	fmt.Fprintf(b, "<title>%s</title>\n<desc>%s</desc>\n", html.EscapeString(s.Title),
		html.EscapeString(s.Desc))
	for _, shape := range s.Shapes {
		switch x := shape.(type) {
		case *Rect:
			x.svg(b)
		case *Lines:
			x.svg(b)
		case *Text:
			x.svg(b)
		}
	}
	b.WriteString("</svg>\n")
	return b.Flush()
}

// mm writes micrometres in millimetres.
func mm(n int) string {
	return strings.TrimSuffix(strings.TrimRight(fmt.Sprintf("%d.%03d", n/1000, n%1000), "0"), ".") +
		"mm"
}

func (r *Rect) svg(w io.Writer) {
	fmt.Fprintf(w, `<rect x="%d" y="%d" width="%d" height="%d"`, r.X, r.Y, r.Wide, r.High)
	if r.Stroke != None {
		fmt.Fprintf(w, ` class="%s line" fill="none" stroke="%s" stroke-width="%d"/>`+"\n",
			r.Stroke, colour[r.Stroke], r.Line)
		return
	}
	fmt.Fprintf(w, ` class="%s" fill="%s"/>`+"\n", r.Fill, colour[r.Fill])
}

func (l *Lines) svg(w io.Writer) {
	fmt.Fprintf(w, `<path class="%s line" fill="none" stroke="%s" stroke-width="%d" d="`, l.Ink,
		colour[l.Ink], l.Line)
	for _, s := range l.Segments {
		fmt.Fprintf(w, "M%d %dL%d %d", s.X1, s.Y1, s.X2, s.Y2)
	}
	fmt.Fprint(w, `"/>`+"\n")
}

func (t *Text) svg(w io.Writer) {
	fmt.Fprintf(w, `<text class="ink" x="%d" y="%d" font-size="%d" textLength="%d" `+
		`lengthAdjust="spacingAndGlyphs" fill="%s"`, t.X, t.Y, t.Size, t.Wide, colour[Black])
	if t.Bold {
		fmt.Fprint(w, ` font-weight="bold"`)
	}
	if t.Up {
		fmt.Fprintf(w, ` transform="rotate(-90 %d %d)"`, t.X, t.Y)
	}
	fmt.Fprintf(w, ">%s</text>\n", html.EscapeString(t.Text))
}

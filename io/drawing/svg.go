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
// micrometre. Groups have the classes ink, pale and paper, and those of lines the class line, so
// that a page may give them colours of its own. Each text has its length with it: another
// font than the one it was measured with cannot overflow.
func (s *Scene) SVG(w io.Writer) error {
	b := bufio.NewWriter(w)
	fmt.Fprintf(b, `<svg xmlns="http://www.w3.org/2000/svg" class="drawing" role="img" `+
		`width="%s" height="%s" viewBox="0 0 %d %d" font-family="%s, Arial, sans-serif" `+
		`aria-label="%s">`+"\n", mm(s.Width), mm(s.Height), s.Width, s.Height, Family,
		html.EscapeString(s.Title))
	fmt.Fprintf(b, "<title>%s</title>\n<desc>%s</desc>\n", inText.Replace(s.Title),
		inText.Replace(s.Desc))
	group := ""
	for _, shape := range s.Shapes {
		if style := svgStyle(shape); style != group {
			if group != "" {
				b.WriteString("</g>\n")
			}
			fmt.Fprintf(b, "<g %s>\n", style)
			group = style
		}
		switch x := shape.(type) {
		case *Rect:
			fmt.Fprintf(b, `<rect x="%d" y="%d" width="%d" height="%d"/>`+"\n", x.X, x.Y, x.Wide,
				x.High)
		case *Lines:
			fmt.Fprintf(b, `<path d="%s"/>`+"\n", x.path())
		case *Text:
			x.svg(b)
		}
	}
	if group != "" {
		b.WriteString("</g>\n")
	}
	b.WriteString("</svg>\n")
	return b.Flush()
}

// svgStyle is what the shapes of a group have in common.
func svgStyle(shape Shape) string {
	line := func(ink Ink, wide int) string {
		return fmt.Sprintf(`class="%s line" fill="none" stroke="%s" stroke-width="%d"`, ink,
			colour[ink], wide)
	}
	switch x := shape.(type) {
	case *Lines:
		return line(x.Ink, x.Line)
	case *Text:
		bold := ""
		if x.Bold {
			bold = ` font-weight="bold"`
		}
		return fmt.Sprintf(`class="%s" fill="%s" font-size="%d"%s`, Black, colour[Black], x.Size,
			bold)
	case *Rect:
		if x.Stroke != None {
			return line(x.Stroke, x.Line)
		}
		return fmt.Sprintf(`class="%s" fill="%s"`, x.Fill, colour[x.Fill])
	}
	return ""
}

// mm writes micrometres in millimetres.
func mm(n int) string {
	return strings.TrimSuffix(strings.TrimRight(fmt.Sprintf("%d.%03d", n/1000, n%1000), "0"), ".") +
		"mm"
}

// path is the lines as a path, each step from where the last one ended.
func (l *Lines) path() string {
	var out strings.Builder
	x, y := 0, 0
	for i, s := range l.Segments {
		if i == 0 {
			fmt.Fprintf(&out, "M%d %d", s.X1, s.Y1)
		} else if s.X1 != x || s.Y1 != y {
			fmt.Fprintf(&out, "m%d %d", s.X1-x, s.Y1-y)
		}
		switch dx, dy := s.X2-s.X1, s.Y2-s.Y1; {
		case dy == 0:
			fmt.Fprintf(&out, "h%d", dx)
		case dx == 0:
			fmt.Fprintf(&out, "v%d", dy)
		default:
			fmt.Fprintf(&out, "l%d %d", dx, dy)
		}
		x, y = s.X2, s.Y2
	}
	return strings.ReplaceAll(out.String(), " -", "-")
}

// inText escapes what would be markup in a text.
var inText = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;")

func (t *Text) svg(w io.Writer) {
	fmt.Fprintf(w, `<text x="%d" y="%d" textLength="%d" lengthAdjust="spacingAndGlyphs"`, t.X, t.Y,
		t.Wide)
	if t.Up {
		fmt.Fprintf(w, ` transform="rotate(-90 %d %d)"`, t.X, t.Y)
	}
	fmt.Fprintf(w, ">%s</text>\n", inText.Replace(t.Text))
}

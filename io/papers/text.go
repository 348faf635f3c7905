package papers

import (
	"strings"

	"rackwright/io/drawing"
	"rackwright/model"
)

// Texts, boxes and rules on a sheet.

// set takes a type into use.
func (s *sheet) set(size float64, bold bool) {
	s.size, s.bold = size, bold
	style := ""
	if bold {
		style = "B"
	}
	s.pdf.SetFont(drawing.Family, style, size)
}

// line is the height of a line of the type in use; base is from its top to the foot of the letters.
func (s *sheet) line() float64 { return s.size * point * lead }
func (s *sheet) base() float64 { return s.size * point * (lead + capped) / 2 }

func (s *sheet) width(text string) float64 { return s.pdf.GetStringWidth(printable(text)) }

// put sets a line at x, its top at y; putRight ends it at x.
func (s *sheet) put(x, y float64, text string) {
	text = strings.ReplaceAll(printable(text), model.NoBreakSpace, " ")
	if text != "" {
		s.pdf.Text(x, y+s.base(), text)
	}
}

func (s *sheet) putRight(x, y float64, text string) { s.put(x-s.width(text), y, text) }

// lines breaks a text at blanks, and within words that are wider than a line.
func (s *sheet) lines(text string, width float64) (out []string) {
	line := ""
	for n, word := range strings.Split(printable(text), " ") {
		if n > 0 {
			if longer := line + " " + word; s.width(longer) <= width {
				line = longer
				continue
			}
			out, line = append(out, line), ""
		}
		for s.width(word) > width {
			n := s.fits(word, width)
			out, word = append(out, word[:n]), word[n:]
		}
		line = word
	}
	return append(out, line)
}

// fits is how many bytes at the beginning of a text, at least one sign, are not wider than width.
func (s *sheet) fits(text string, width float64) int {
	fit := 0
	for i, r := range text {
		end := i + len(string(r))
		if fit > 0 && s.width(text[:end]) > width {
			break
		}
		fit = end
	}
	return fit
}

// cut shortens a text to a width, with an ellipsis where something is left out.
func (s *sheet) cut(text string, width float64) string {
	const more = "…"
	text = printable(text)
	if s.width(text) <= width {
		return text
	}
	return text[:s.fits(text, width-s.width(more))] + more
}

// para sets a text from x on, in as many lines as it needs, on as many pages.
func (s *sheet) para(x float64, text string) {
	for _, line := range s.lines(text, s.w-side-x) {
		s.need(s.line())
		s.put(x, s.y, line)
		s.y += s.line()
	}
}

// mark puts what begins at y into the outline of the file, for who reads it on a screen.
func (s *sheet) mark(text string, level int) { s.pdf.Bookmark(printable(text), level, s.y) }

// box draws a box to tick beside a line of the type in use whose top is at y.
func (s *sheet) box(x, y float64) {
	size := s.boxSize()
	s.pdf.SetLineWidth(fine)
	s.pdf.Rect(x, y+s.base()-s.size*point*capped/2-size/2, size, size, "D")
}

// boxSize is the side of a box to tick.
func (s *sheet) boxSize() float64 { return max(2.6, s.size*point*0.85) }

// rule draws a line at y.
func (s *sheet) rule(from, to, y, width float64) {
	s.pdf.SetLineWidth(width)
	s.pdf.Line(from, y, to, y)
}

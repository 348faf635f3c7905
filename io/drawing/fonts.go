package drawing

import (
	"strings"
	"sync"
	"unicode"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"golang.org/x/text/unicode/norm"

	"rackwright/model"
)

// Family is the name of the font of all drawings.
const Family = "Go"

// noGlyph is drawn for a character that the font does not have.
const noGlyph = '□'

// metrics are how far each character of a font moves on, in units of which an em has so many.
type metrics struct {
	advance map[rune]int
	latin   [0x100]int // of the first; 0: no glyph
	em      int
}

var fonts = sync.OnceValue(func() (both [2]*metrics) {
	for i, ttf := range [][]byte{goregular.TTF, gobold.TTF} {
		f, err := sfnt.Parse(ttf)
		if err != nil {
			panic(err) // the fonts are part of the program
		}
		both[i] = measure(f)
	}
	return both
})

func measure(f *sfnt.Font) *metrics {
	var buf sfnt.Buffer
	m := &metrics{advance: map[rune]int{}, em: int(f.UnitsPerEm())}
	for r := ' '; r <= 0xffff; r++ {
		n, err := f.GlyphIndex(&buf, r)
		if err != nil || n == 0 {
			continue
		}
		// of an em of as many pixels as units no advance is rounded
		a, err := f.GlyphAdvance(&buf, n, fixed.I(m.em), font.HintingNone)
		if err == nil && a > 0 {
			m.advance[r] = a.Round()
		}
	}
	for r := range m.latin {
		m.latin[r] = m.advance[rune(r)]
	}
	return m
}

func metricsOf(bold bool) *metrics {
	both := fonts()
	if bold {
		return both[1]
	}
	return both[0]
}

// Drawable writes a text with the characters that the font has. Letters and their accents are one
// character where there is one; other marks and joiners go. SVG keeps the text as it is: its viewer
// may have more fonts.
func Drawable(text string) string {
	if metricsOf(false).ofLatin(text) > 0 {
		return text
	}
	have := metricsOf(false).advance
	return strings.Map(func(r rune) rune {
		switch {
		case have[r] > 0:
			return r
		case unicode.In(r, unicode.Mn, unicode.Me, unicode.Cf):
			return -1
		}
		return noGlyph
	}, norm.NFC.String(text))
}

// TextWidth is how wide a line of text of a size is, in micrometres as the size, rounded up. A
// character without a glyph counts as the box that stands for it.
func TextWidth(text string, bold bool, size int) int {
	m := metricsOf(bold)
	sum := m.ofLatin(text)
	if sum == 0 {
		for _, r := range Drawable(text) {
			sum += m.advance[r]
		}
	}
	return (sum*size + m.em - 1) / m.em
}

// ofLatin is how far a text moves on whose characters are all of Latin-1 and have a glyph, as most
// have; 0 of another, and of an empty one.
func (m *metrics) ofLatin(text string) (sum int) {
	for _, r := range text {
		if int(r) >= len(m.latin) || m.latin[r] == 0 {
			return 0
		}
		sum += m.latin[r]
	}
	return sum
}

// clean makes a text one line of visible characters and plain blanks.
func clean(text string) string {
	text = strings.Join(strings.Fields(model.Visible(text)), " ")
	return strings.Map(func(r rune) rune {
		if r == 0xfffe || r == 0xffff { // XML must not have them
			return noGlyph
		}
		return r
	}, text)
}

// CutTo cuts a text so that it is at most wide, and ends it with an ellipsis where it is cut; it
// says how many of its characters stand there.
func CutTo(text string, bold bool, size, wide int) (string, int) {
	runes := []rune(text)
	if TextWidth(text, bold, size) <= wide {
		return text, len(runes)
	}
	for n := len(runes) - 1; n > 0; n-- {
		if cut := strings.TrimRight(string(runes[:n]), " ") + "…"; TextWidth(cut, bold,
			size) <= wide {
			return cut, n
		}
	}
	return "", 0
}

// Wrap breaks a text at blanks in lines that are at most wide; a longer word is parted.
func Wrap(text string, bold bool, size, wide int) (lines []string) {
	line := ""
	for _, word := range strings.Fields(text) {
		if line != "" && TextWidth(line+" "+word, bold, size) <= wide {
			line += " " + word
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		for line = word; TextWidth(line, bold, size) > wide; {
			n := fitting(line, bold, size, wide)
			lines, line = append(lines, line[:n]), line[n:]
		}
	}
	if line == "" {
		return lines
	}
	return append(lines, line)
}

// fitting is how many bytes of a word fit, of one character at least.
func fitting(word string, bold bool, size, wide int) int {
	n := 0
	for i := range word {
		if i > 0 && TextWidth(word[:i], bold, size) > wide {
			break
		}
		n = i
	}
	if n == 0 {
		return len(string([]rune(word)[:1]))
	}
	return n
}

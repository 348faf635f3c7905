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
	em      int
}

var fonts = sync.OnceValue(func() (both [2]metrics) {
	for i, ttf := range [][]byte{goregular.TTF, gobold.TTF} {
		f, err := sfnt.Parse(ttf)
		if err != nil {
			panic(err) // the fonts are part of the program
		}
		both[i] = measure(f)
	}
	return both
})

func measure(f *sfnt.Font) metrics {
	var buf sfnt.Buffer
	m := metrics{map[rune]int{}, int(f.UnitsPerEm())}
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
	return m
}

func metricsOf(bold bool) *metrics {
	both := fonts()
	if bold {
		return &both[1]
	}
	return &both[0]
}

// Drawable writes a text with the characters that the font has. Letters and their accents are one
// character where there is one; other marks and joiners go. SVG keeps the text as it is: its viewer
// may have more fonts.
func Drawable(text string) string {
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
	m, sum := metricsOf(bold), 0
	for _, r := range Drawable(text) {
		sum += m.advance[r]
	}
	return (sum*size + m.em - 1) / m.em
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

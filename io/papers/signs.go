package papers

import (
	"fmt"
	"strings"
	"sync"
	"unicode/utf8"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/text/unicode/norm"

	"rackwright/model"
)

// The fonts have Latin, Greek and Cyrillic letters, fractions but no sixteenths, and little more.

// glyphs says which signs both fonts have.
type glyphs struct {
	sync.Mutex
	fonts []*sfnt.Font
	buf   sfnt.Buffer
	known map[rune]bool
}

var inFonts = sync.OnceValue(func() *glyphs {
	g := &glyphs{known: map[rune]bool{}}
	for _, ttf := range [][]byte{goregular.TTF, gobold.TTF} {
		f, err := sfnt.Parse(ttf)
		if err != nil {
			panic(err) // it is part of the program
		}
		g.fonts = append(g.fonts, f)
	}
	return g
})

func (g *glyphs) have(r rune) bool {
	g.Lock()
	defer g.Unlock()
	has, known := g.known[r]
	if !known {
		has = true
		for _, f := range g.fonts {
			n, err := f.GlyphIndex(&g.buf, r)
			has = has && err == nil && n != 0
		}
		g.known[r] = has
	}
	return has
}

// printable writes a text with signs that the fonts have. Any other sign is an escape such as
// \u{1f600}, so that no name loses one in silence. A letter and its accent are one sign where there
// is one.
func printable(s string) string {
	if plain(s) {
		return s
	}
	var out strings.Builder
	for _, r := range model.Visible(norm.NFC.String(s)) {
		if r < utf8.RuneSelf || inFonts().have(r) {
			out.WriteRune(r)
		} else {
			fmt.Fprintf(&out, `\u{%x}`, r)
		}
	}
	return out.String()
}

// ascii writes a text with signs of ASCII alone.
func ascii(s string) string {
	if plain(s) {
		return s
	}
	var out strings.Builder
	for _, r := range model.Visible(norm.NFC.String(s)) {
		if r < utf8.RuneSelf {
			out.WriteRune(r)
		} else {
			fmt.Fprintf(&out, `\u{%x}`, r)
		}
	}
	return out.String()
}

// plain says whether a text has visible signs of ASCII only.
func plain(s string) bool {
	for i := range len(s) {
		if s[i] < ' ' || s[i] > '~' {
			return false
		}
	}
	return true
}

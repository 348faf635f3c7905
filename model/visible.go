package model

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Visible writes a text for people: what would steer a terminal or turn the letters after it round
// stands there as an escape such as \x1b or \u202e. These are control characters, line and
// paragraph separators, bidirectional controls and bytes that are no UTF-8. All else is as it is.
func Visible(s string) string {
	if utf8.ValidString(s) && !strings.ContainsFunc(s, steers) {
		return s
	}
	var out strings.Builder
	for i, r := range s {
		_, size := utf8.DecodeRuneInString(s[i:])
		switch {
		case r == '\n':
			out.WriteString(`\n`)
		case r == '\t':
			out.WriteString(`\t`)
		case r == utf8.RuneError && size == 1, r < utf8.RuneSelf && steers(r):
			fmt.Fprintf(&out, `\x%02x`, s[i])
		case steers(r):
			fmt.Fprintf(&out, `\u%04x`, r)
		default:
			out.WriteRune(r)
		}
	}
	return out.String()
}

func steers(r rune) bool {
	return unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) ||
		unicode.In(r, unicode.Zl, unicode.Zp)
}

package papers

import (
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"rackwright/model"
)

// Whatever a text is, no line of it is wider than asked for, but for one of a single sign; all its
// signs are in the lines, in order. Cut to a width it is not wider, and begins as the text does.
func TestLinesFit(t *testing.T) {
	s := newSheet(&model.Job{Settings: model.DefaultSettings()}, &model.Plan{}, Options{}, "")
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.OneOf(rapid.String(), rapid.StringMatching(`[a-zA-Z0-9 ,"/-]{0,300}`),
			rapid.StringMatching(`[а-яé½\x{202e}\x{1f600}a ]{0,60}`)).Draw(t, "text")
		width := float64(rapid.IntRange(1, 190).Draw(t, "width"))
		s.set(float64(rapid.IntRange(4, 18).Draw(t, "size")), rapid.Bool().Draw(t, "bold"))
		lines := s.lines(text, width)
		for _, line := range lines {
			if s.width(line) > width && utf8.RuneCountInString(line) > 1 {
				t.Fatalf("%q is %.1f wide, not %.1f", line, s.width(line), width)
			}
		}
		if strip := func(s string) string { return strings.ReplaceAll(s, " ", "") }; strip(
			strings.Join(lines, "")) != strip(printable(text)) {
			t.Fatalf("%q is broken into %q", text, lines)
		}
		cut := s.cut(text, width)
		before, more := strings.CutSuffix(cut, "…")
		if s.width(cut) > width && utf8.RuneCountInString(cut) > 2 ||
			!strings.HasPrefix(printable(text), before) || !more && cut != printable(text) {
			t.Fatalf("%q is cut to %q", text, cut)
		}
		all := []rune(printable(text))
		end := string(all[max(0, len(all)-8):])
		if middle := s.cutMiddle(text, width); s.width("W…"+end) <= width &&
			(s.width(middle) > width || !strings.HasSuffix(middle, end)) {
			t.Fatalf("%q is cut in its middle to %q", text, middle)
		}
	})
	if err := s.pdf.Error(); err != nil {
		t.Fatal(err)
	}
}

// What head and foot of a page leave is as high as the page allows; a text that is higher goes on,
// and each page has its foot.
func TestPagesGoOn(t *testing.T) {
	readers(t, "pdftotext")
	s := newSheet(&model.Job{Settings: model.DefaultSettings()}, &model.Plan{}, Options{}, "Long")
	s.footer([]string{"the foot", strings.Repeat("is long ", 60)})
	s.page()
	s.set(plainType, false)
	s.para(side, strings.Repeat("word ", 3000))
	var b strings.Builder
	if err := s.write(&b); err != nil {
		t.Fatal(err)
	}
	pages, words := textOf(t, []byte(b.String()), "-raw"), 0
	for n, page := range pages {
		words += strings.Count(page, "word")
		if !strings.Contains(page, "the foot") || strings.Count(page, "long") != 60 {
			t.Errorf("page %d has no foot", n+1)
		}
	}
	if len(pages) < 3 || words != 3000 {
		t.Errorf("%d words on %d pages", words, len(pages))
	}
}

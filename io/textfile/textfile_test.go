package textfile

import (
	"errors"
	"strings"
	"testing"
	"testing/iotest"

	"rackwright/model"
)

// Text is passed on as it stands but for its mark; what is no text is refused with its code.
func TestText(t *testing.T) {
	for _, c := range []struct{ data, text, code string }{
		{"a,b\n", "a,b\n", ""},
		{"\ufeffa\r\nb", "a\r\nb", ""},
		{"", "", ""},
		{"a\rb\n", "a\rb\n", ""},
		{"a\rb", "", model.CodeLineEnds},
		{"\xff\xfea\x00", "", model.CodeNotText},
		{"\xfe\xff\x00a", "", model.CodeNotText},
		{"a\x00b\x00", "", model.CodeNotText},
		{"abcdefgh\x00", "", model.CodeNotText},
		{"\xd0\xcf\x11\xe0", "", model.CodeNotText},
	} {
		text, e := Text([]byte(c.data), "a.csv")
		if string(text) != c.text || (e == nil) != (c.code == "") || e != nil && e.Code != c.code {
			t.Errorf("%q: got %q, %v", c.data, text, e)
		}
	}
}

// The first byte of another encoding is found by its line; the sign U+FFFD itself is text.
func TestNotUTF8(t *testing.T) {
	if e := NotUTF8([]byte("a\n\ufffd\nb"), "a.toml"); e != nil {
		t.Error(e)
	}
	e := NotUTF8([]byte("a\n\ufffd\n\xe9\n\xe8"), "a.toml")
	if e == nil || e.Line != 3 || !strings.Contains(e.Cause, "E9") ||
		strings.Contains(e.Remedy, "CSV") {
		t.Error(e)
	}
}

// One byte above the limit is refused, the limit itself is not; a fault of the disk is told.
func TestRead(t *testing.T) {
	if data, e := Read(strings.NewReader("12345"), "a", 5); string(data) != "12345" || e != nil {
		t.Error(data, e)
	}
	if _, e := Read(strings.NewReader("123456"), "a", 5); e == nil || e.Code != model.CodeTooBig {
		t.Error(e)
	}
	if _, e := Read(iotest.ErrReader(errors.New("bad disk")), "a", 5); e == nil ||
		e.Code != model.CodeUnreadable || !strings.Contains(e.Cause, "bad disk") {
		t.Error(e)
	}
}

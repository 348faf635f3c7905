// Package textfile takes in the bytes of one input file, or refuses them with a remedy.
//
// Refused are too many bytes, and bytes that are no UTF-8 text with line ends that can be counted.
package textfile

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"rackwright/model"
)

// saveAgain says how to save the file instead.
func saveAgain(name string) string {
	if strings.HasSuffix(name, ".csv") {
		return `save it again as "CSV UTF-8"`
	}
	return "save it again as plain text in UTF-8"
}

// Read reads at most limit bytes; more are refused.
func Read(r io.Reader, name string, limit int64) ([]byte, *model.InputError) {
	data, err := io.ReadAll(io.LimitReader(r, limit+1))
	if err != nil {
		return nil, &model.InputError{Code: model.CodeUnreadable, File: name,
			Cause: "it cannot be read (" + err.Error() +
				")", Remedy: "see that it is a plain file and not open elsewhere"}
	}
	if int64(len(data)) > limit {
		return nil, TooBig(name, limit)
	}
	return data, nil
}

// TooBig is the refusal of a file of more than limit bytes.
func TooBig(name string, limit int64) *model.InputError {
	return &model.InputError{Code: model.CodeTooBig, File: name,
		Cause:  fmt.Sprintf("the file has more than %d MB", limit>>20),
		Remedy: "see that it is the right file, or plan fewer rows at once"}
}

// Text strips the byte order mark and refuses what is no text: UTF-16, a spreadsheet's own file,
// zero bytes, and lines that end with CR alone. It does not look for bytes of other encodings: see
// [NotUTF8].
func Text(data []byte, name string) ([]byte, *model.InputError) {
	refuse := func(code, cause, remedy string) ([]byte, *model.InputError) {
		return nil, &model.InputError{Code: code, File: name, Cause: cause, Remedy: remedy}
	}
	text := bytes.TrimPrefix(data, []byte("\ufeff"))
	head := text[:min(len(text), 1000)]
	switch {
	case bytes.HasPrefix(data, []byte("\xff\xfe")) || bytes.HasPrefix(data, []byte("\xfe\xff")) ||
		bytes.Count(head, []byte{0})*3 > len(head):
		return refuse(model.CodeNotText, "the text is in UTF-16", saveAgain(name))
	case bytes.HasPrefix(data, []byte("PK\x03\x04")) ||
		bytes.HasPrefix(data, []byte("\xd0\xcf\x11\xe0")):
		return refuse(model.CodeNotText, "this is a spreadsheet's own file, not text",
			saveAgain(name))
	case bytes.IndexByte(text, 0) >= 0:
		return refuse(model.CodeNotText, "this is no text, it has zero bytes in it",
			saveAgain(name))
	case bytes.IndexByte(text, '\n') < 0 && bytes.IndexByte(text, '\r') >= 0:
		return refuse(model.CodeLineEnds, "its lines end with a carriage return alone",
			"save it again with usual line ends (LF or CRLF)")
	}
	return text, nil
}

// NotUTF8 names the first line whose bytes are not UTF-8, or is nil.
func NotUTF8(text []byte, name string) *model.InputError {
	if utf8.Valid(text) {
		return nil
	}
	at := 0
	for {
		r, n := utf8.DecodeRune(text[at:])
		if r == utf8.RuneError && n == 1 {
			break
		}
		at += n
	}
	return Foreign(name, bytes.Count(text[:at], []byte("\n"))+1, "", text[at])
}

// Foreign is the refusal of a byte that is not UTF-8.
func Foreign(name string, line int, column string, b byte) *model.InputError {
	return &model.InputError{Code: model.CodeNotUTF8, File: name, Line: line, Column: column,
		Cause:  fmt.Sprintf("byte %02X is not UTF-8, the file seems to be in an older encoding", b),
		Remedy: saveAgain(name)}
}

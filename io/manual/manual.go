// Package manual is the reference of rackwright, one text a topic.
//
// [Topics] lists the texts, [Text] gives one. Each is a Markdown file of this folder, with lines of
// at most 80 columns, so that it can be read in a terminal as it stands. Its first line is
//
//	# NAME: what it is about
//
// Tests compare the column names, keys and words of the texts with the program's own tables. The
// tests lie beside those tables, each in a file manual_test.go.
package manual

import (
	"embed"
	"strings"
)

//go:embed *.md
var files embed.FS

// names are the topics, in the order in which a new user meets them.
var names = []string{"files", "lengths", "blanks", "glue-up", "settings", "worth", "yard", "rips", "work",
	"papers", "proof", "movement", "book", "months"}

// Topic is one text: its name, and what it is about in a few words.
type Topic struct{ Name, About string }

// Topics lists all texts.
func Topics() []Topic {
	var out []Topic
	for _, name := range names {
		text, _ := Text(name)
		head, _, _ := strings.Cut(text, "\n")
		out = append(out, Topic{name, strings.TrimPrefix(head, "# "+name+": ")})
	}
	return out
}

// Text is a topic's text; false where there is none of that name.
func Text(name string) (string, bool) {
	text, err := files.ReadFile(name + ".md")
	return string(text), err == nil
}

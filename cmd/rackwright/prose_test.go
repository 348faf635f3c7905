package main

import (
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/alecthomas/kong"
	"github.com/rogpeppe/go-internal/testscript"

	"rackwright/io/manual"
)

// commandNames are the commands of the program, as its help lists them.
func commandNames(t *testing.T) (names []string) {
	t.Helper()
	parser, err := kong.New(&commands{}, kong.Vars{"version": "", "default_work": "",
		"default_demo": ""})
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range parser.Model.Children {
		names = append(names, n.Name)
	}
	return names
}

// README.md lists every command, every exit code and every topic of the manual.
func TestReadmeIsComplete(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	readme := string(text)
	section := func(from, to string) string {
		_, s, found := strings.Cut(readme, "\n"+from+"\n")
		s, _, closed := strings.Cut(s, "\n"+to+"\n")
		if !found || !closed {
			t.Fatalf("README.md has no %s before %s", from, to)
		}
		return s
	}
	firsts := func(s, pattern string) (out []string) {
		for _, m := range regexp.MustCompile(pattern).FindAllStringSubmatch(s, -1) {
			out = append(out, m[1])
		}
		return out
	}
	same := func(what string, got, want []string) {
		if !slices.Equal(got, want) {
			t.Errorf("%s: README.md has\n%q\nthe program\n%q", what, got, want)
		}
	}
	of := section("## Commands", "## The manual")
	same("commands", firsts(of, "(?m)^\\| `rackwright ([a-z]+)"), commandNames(t))
	var codes, topics []string
	for _, c := range []int{exitDone, exitShort, exitBad, exitFault, exitInterrupted} {
		codes = append(codes, fmt.Sprint(c))
	}
	same("exit codes", firsts(of, `(?m)^\| (\d+) \|`), codes)
	for _, topic := range manual.Topics() {
		topics = append(topics, fmt.Sprintf("- [%s](io/manual/%[1]s.md): %s", topic.Name,
			topic.About))
	}
	same("topics", firsts(section("## The manual", "## Cautions"), `(?m)^(- \[.*)$`), topics)
	if words := len(strings.Fields(readme)); words > 1800 {
		t.Errorf("README.md has %d words; what is more belongs into the manual", words)
	}
}

// session: the last command printed what README.md shows of it. Lines of three points stand there
// for any number of lines.
func session(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) > 0 {
		ts.Fatalf("usage: session")
	}
	readme, err := os.ReadFile("../../README.md")
	ts.Check(err)
	_, shown, found := strings.Cut(string(readme), "\n```\n$ ")
	shown, _, closed := strings.Cut(shown, "\n```\n")
	shown = shown[strings.IndexByte(shown, '\n')+1:]
	if lines := strings.Count(shown, "\n") + 1; !found || !closed || lines < 20 || lines > 40 {
		ts.Fatalf("README.md shows %d lines of a session, not 20 to 40", lines)
	}
	printed, at := "\n"+ts.ReadFile("stdout"), 0
	for n, lines := range strings.Split("\n"+shown+"\n", "\n...\n") {
		lines = "\n" + strings.TrimPrefix(lines, "\n")
		if !strings.HasSuffix(lines, "\n") {
			lines += "\n"
		}
		i := strings.Index(printed[at:], lines)
		if i < 0 || n == 0 && i > 0 {
			ts.Fatalf("README.md shows these lines, and they were not printed:\n%s", lines)
		}
		at += i + len(lines) - 1
	}
}

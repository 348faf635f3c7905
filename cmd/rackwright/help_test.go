package main

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"testing"

	"rackwright/io/folder"
	"rackwright/io/manual"
	"rackwright/io/report"
	"rackwright/model"
)

// rackwright help TOPIC prints the file of that topic, byte for byte.
func TestHelpPrintsTheManual(t *testing.T) {
	for _, topic := range manual.Topics() {
		want, err := os.ReadFile("../../io/manual/" + topic.Name + ".md")
		if err != nil {
			t.Fatal(err)
		}
		var out, errs bytes.Buffer
		if code := run(t.Context(), []string{"help", topic.Name}, &out, &errs); code != 0 ||
			errs.Len() > 0 || !bytes.Equal(out.Bytes(), want) {
			t.Errorf("help %s prints another text (exit code %d): %s", topic.Name, code, &errs)
		}
	}
}

// The three sample files of the manual are a whole job: there is nothing to remark on, and its plan
// is a proven optimum.
func TestManualSamplesPlan(t *testing.T) {
	text, _ := manual.Text("files")
	dir := t.TempDir()
	for _, m := range regexp.MustCompile("(?s)\n`([a-z]+\\.csv)`\n\n```csv\n(.*?)```\n").
		FindAllStringSubmatch(text, -1) {
		if err := os.WriteFile(filepath.Join(dir, m[1]), []byte(m[2]), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	for _, x := range []struct{ command, says string }{
		{"check", `^No mistakes\. Commissions 1, parts 2, pieces 7; rack boards 3, yard rows ` +
			`2\.\n$`},
		{"plan", `\nProven: with these blanks, boards and settings no plan for the same pieces ` +
			`is\ncheaper\.\n`},
	} {
		var out, errs bytes.Buffer
		code := run(t.Context(), []string{x.command, dir}, &out, &errs)
		if code != 0 || !regexp.MustCompile(x.says).Match(out.Bytes()) {
			t.Errorf("%s: exit code %d\n%s%s", x.command, code, &out, &errs)
		}
	}
}

// What the summary says of an out folder names each of its files once, and commands that there are.
func TestSummaryNamesTheFiles(t *testing.T) {
	var named []string
	for _, f := range report.OutFiles {
		named = append(named, f.Names...)
	}
	slices.Sort(named)
	there := slices.Sorted(slices.Values(append(folder.PlanFiles(), folder.Page)))
	if !slices.Equal(named, there) {
		t.Errorf("named are %q, written are %q", named, there)
	}
	var told, usage bytes.Buffer
	if err := report.Files(&told, &model.Job{}, "out", true, 80); err != nil {
		t.Fatal(err)
	}
	if code := run(t.Context(), []string{"--help"}, &usage, &usage); code != exitDone {
		t.Fatal(&usage)
	}
	name := regexp.MustCompile("`rackwright (\\w+) out`")
	commands := name.FindAllStringSubmatch(told.String(), -1)
	for _, c := range commands {
		if !regexp.MustCompile(`(?m)^  ` + c[1] + ` `).MatchString(usage.String()) {
			t.Errorf("there is no command %s in\n%s", c[1], &usage)
		}
	}
	if len(commands) < 2 {
		t.Errorf("no command is named in\n%s", &told)
	}
}

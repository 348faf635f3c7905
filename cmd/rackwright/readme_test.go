package main

import (
	"encoding/csv"
	"os"
	"slices"
	"strings"
	"testing"
)

// The commands of README.md from month to month can be typed as they stand, for the demo's first
// month and its second. Beside a piece it is marked that it is spoiled, and a board is missed when
// the bins are counted; the book is sound after each command. The searches are kept short.
func TestReadmeFromMonthToMonth(t *testing.T) {
	_, section, found := strings.Cut(prose(t)["README.md"], "\n## From month to month\n")
	section, _, closed := strings.Cut(section, "\n## ")
	var typed []string
	for line := range strings.Lines(section) {
		if after, is := strings.CutPrefix(line, "    rackwright "); is {
			command, _, _ := strings.Cut(after, "#")
			typed = append(typed, command)
		}
	}
	if !found || !closed || len(typed) < 8 {
		t.Fatalf("README.md has only these commands from month to month: %q", typed)
	}
	t.Chdir(t.TempDir())
	typing(t, "demo shop --work 1")
	for _, month := range []string{"2027-03", "2027-04"} {
		next := map[string]string{"2027-03": "2027-04", "2027-04": "2027-05"}[month]
		out := "shop/" + month + "/out"
		for _, command := range typed {
			command = strings.NewReplacer("2027-03", month, "2027-04", next).Replace(command)
			name, _, _ := strings.Cut(command, " ")
			switch name {
			case "plan", "replan":
				command += " --work 1"
			case "done":
				fillIn(t, out+"/marks.csv", "state", func(n int) string {
					return []string{"spoiled", "cut"}[min(n, 1)]
				}, func(row string) bool { return row == "piece" })
			case "reconcile":
				fillIn(t, strings.Fields(command)[2], "found", func(n int) string {
					return []string{"no", "yes"}[min(n, 1)]
				}, nil)
			}
			typing(t, command)
			if name == "book" && strings.Contains(command, "out-2") {
				rackwright(t, "receive", out+"-2", "--quiet") // it may have nothing to buy
				typing(t, "done "+out+"-2")
			}
			if _, err := os.Stat("shop/book.db"); err == nil {
				typing(t, "audit shop")
			}
		}
	}
	if _, err := os.Stat("shop/2027-05/out/plan.json"); err != nil {
		t.Errorf("the third month is not planned: %v", err)
	}
}

// typing is a command that must do what it is for.
func typing(t *testing.T, command string) {
	t.Helper()
	if code, said := rackwright(t, append(strings.Fields(command), "--quiet")...); code != exitDone {
		t.Fatalf("rackwright %s: exit code %d\n%s", command, code, said)
	}
}

// fillIn writes a column of a form, row by row from 0 on: of all rows, or of those that are wanted.
func fillIn(t *testing.T, file, column string, cell func(n int) string, of func(row string) bool) {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(strings.NewReader(string(text))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	at, kind, n := slices.Index(rows[0], column), slices.Index(rows[0], "row"), 0
	for _, row := range rows[1:] {
		if of == nil || of(row[kind]) {
			row[at] = cell(n)
			n++
		}
	}
	var out strings.Builder
	if err := csv.NewWriter(&out).WriteAll(rows); err != nil || n < 2 {
		t.Fatal(file, n, err)
	}
	if err := os.WriteFile(file, []byte(out.String()), 0o666); err != nil {
		t.Fatal(err)
	}
}

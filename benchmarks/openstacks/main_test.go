package main

import (
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// three customers that share two products: 2 are open at once.
const path3 = "path 3 2 2 none\n1 0\n1 1\n0 1\n"

// write puts a text into a file.
func write(t *testing.T, text string) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "instances.txt")
	if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return file
}

func TestLines(t *testing.T) {
	var out, told strings.Builder
	if err := run([]string{write(t, path3+"one 1 1 1 none\n1\n")}, &out, &told); err != nil {
		t.Error(err)
	}
	if out.String() != "path 2 2\none 1 1\n" ||
		told.String() != "2 instances, 2 at the optimum, 2 proven\n" {
		t.Error(out.String(), told.String())
	}
}

// What is wrong with a file is said with its line, and a wrong optimum with its instance.
func TestWrongFiles(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"", ":1: five fields"},
		{"x 0 1 1 none\n", `:1: "0" is no count`},
		{"x 1 many 1 none\n1\n", `:1: "many" is no count`},
		{path3 + "x 1 2 1 none\n1\n", ":6: 2 products are wanted, not 1"},
		{"x 1 2 1 none\n1 2\n", `:2: "2" is neither`},
		{"x 3 1 1 none\n1\n", "2 lines too few"},
		{strings.Replace(path3, "2 2", "2 1", 1), "path: 2 misses the optimum"},
		{strings.Replace(path3, "2 2", "2 3", 1), "path: 2 is below the optimum"},
	} {
		err := run([]string{write(t, c.text)}, io.Discard, io.Discard)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q: %v, wanted %s", c.text, err, c.want)
		}
	}
	for _, args := range [][]string{nil, {"none"}} {
		if run(args, io.Discard, io.Discard) == nil {
			t.Errorf("%v: there must be an error", args)
		}
	}
}

// Where the data is at hand, all instances of it reach their optima.
func TestInstances(t *testing.T) {
	dir := os.Getenv("RACKWRIGHT_DATA")
	if dir == "" {
		dir = filepath.Join("..", "..", "..", "shared", "data")
	}
	file := filepath.Join(dir, "open_stacks", "instances.txt")
	if _, err := os.Stat(file); err != nil {
		t.Skipf("the published instances are not here (RACKWRIGHT_DATA names the folder of "+
			"shared data): %v", err)
	}
	var out strings.Builder
	if err := run([]string{file}, &out, io.Discard); err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(out.String()), "\n")
	for _, line := range lines {
		if f := strings.Fields(line); len(f) != 3 || f[1] != f[2] {
			t.Error(line)
		}
	}
	if len(lines) != 12 {
		t.Errorf("%d instances, not 12", len(lines))
	}
}

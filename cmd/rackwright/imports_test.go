package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"strconv"
	"strings"
	"testing"
)

// arrows says what the packages of a folder may import of this module, and whether packages of
// others.
var arrows = []struct {
	folder string
	own    []string
	others bool
	why    string
}{
	{"model", nil, false, "model holds the words of the trade and the independent checker: it trusts nobody"},
	{"nest/lp", nil, false, "nest/lp is a linear program and nothing else"},
	{"nest/cutting", nil, false, "nest/cutting says what a program is, and solves nothing"},
	{"nest/cutstock", []string{"nest/lp", "nest/cutting"}, true,
		"nest/cutstock knows no words of the trade"},
	{"nest/baseline", []string{"nest/cutting"}, true,
		"nest/baseline knows no words of the trade, and nothing of the search"},
	{"nest", []string{"model", "nest/cutting", "nest/cutstock", "nest/baseline"}, true,
		"nest is between the trade and the engine"},
	{"io/manual", nil, false, "io/manual is texts and nothing else"},
	{"io", []string{"model", "io"}, true, "io reads and writes what model holds and plans nothing"},
	{"benchmarks", []string{"model", "io", "nest", "benchmarks"}, true,
		"benchmarks stand above all but cmd"},
	{"cmd", []string{"model", "io", "nest"}, true, "cmd wires the others together"},
}

// Imports point down: cmd to nest and io, both to model; model never to nest.
func TestImportArrows(t *testing.T) {
	const module = "rackwright/"
	root := os.DirFS("../..")
	seen := map[string]bool{}
	err := fs.WalkDir(root, ".", func(file string, d fs.DirEntry, err error) error {
		if err != nil || !strings.HasSuffix(file, ".go") || strings.HasSuffix(file, "_test.go") {
			return err
		}
		src, err := fs.ReadFile(root, file)
		if err != nil {
			return err
		}
		f, err := parser.ParseFile(token.NewFileSet(), file, src, parser.ImportsOnly)
		if err != nil {
			return err
		}
		for _, a := range arrows {
			if dir := path.Dir(file); dir != a.folder && !strings.HasPrefix(dir, a.folder+"/") {
				continue
			}
			seen[a.folder] = true
			for _, s := range f.Imports {
				name, _ := strconv.Unquote(s.Path.Value)
				own, ours := strings.CutPrefix(name, module)
				switch {
				case ours && !among(own, a.own):
					t.Errorf("%s imports %s: %s", file, name, a.why)
				case !ours && strings.Contains(strings.Split(name, "/")[0], ".") && !a.others:
					t.Errorf("%s imports %s: only the standard library may be used there, since %s",
						file, name, a.why)
				}
			}
			return nil
		}
		t.Errorf("%s lies in no folder that the layout knows", file)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, a := range arrows {
		if !seen[a.folder] {
			t.Errorf("no file of %s was looked at", a.folder)
		}
	}
}

func among(pkg string, folders []string) bool {
	for _, f := range folders {
		if pkg == f || strings.HasPrefix(pkg, f+"/") {
			return true
		}
	}
	return false
}

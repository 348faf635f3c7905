package main

import (
	"encoding/json"
	"errors"
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// Solver and checker share no functions and methods of package model but those that its comment
// lists.
func TestSharedFunctionsAreListed(t *testing.T) {
	text, err := os.ReadFile("../../model/doc.go")
	if err != nil {
		t.Fatal(err)
	}
	_, list, _ := strings.Cut(string(text), "they share these functions and methods:\n//\n")
	list, _, _ = strings.Cut(list, "\n//\n")
	listed := map[string]bool{}
	for _, row := range regexp.MustCompile(`(?m)^//\t\w+ +(.*)$`).FindAllStringSubmatch(list, -1) {
		for _, name := range strings.Split(row[1], ", ") {
			listed[name] = true
		}
	}
	solver, checker := called(t)
	shared := map[string]bool{}
	for full, name := range solver {
		if checker[full] != "" {
			shared[name] = true
		}
	}
	if len(shared) < 20 {
		t.Errorf("only %d shared functions were found", len(shared))
	}
	if diff := cmp.Diff(shared, listed); diff != "" {
		t.Errorf("model/doc.go lists what solver and checker share (-code +list):\n%s", diff)
	}
}

// called gives the functions and methods of package model that are used in nest and its rooms, and
// those used in the rooms check and proof: full names with their short ones. It reads what the
// compiler takes in for this system, no tests.
func called(t *testing.T) (solver, checker map[string]string) {
	t.Helper()
	type listedPackage struct {
		ImportPath, Dir, Export string
		GoFiles                 []string
	}
	list := exec.Command("go", "list", "-export", "-deps",
		"-json=ImportPath,Dir,Export,GoFiles", "../../nest/...", "../../model/...")
	list.Stderr = os.Stderr
	out, err := list.Output()
	if err != nil {
		t.Fatal(err)
	}
	packages := map[string]listedPackage{}
	for d := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p listedPackage
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatal(err)
		}
		packages[p.ImportPath] = p
	}
	fset := token.NewFileSet()
	compiled := importer.ForCompiler(fset, "gc", func(path string) (io.ReadCloser, error) {
		return os.Open(packages[path].Export)
	})
	solver, checker = map[string]string{}, map[string]string{}
	for _, path := range slices.Sorted(maps.Keys(packages)) {
		own, _ := strings.CutPrefix(path, "rackwright/")
		side := checker
		switch {
		case in(own, "nest") || in(own, "nest/..."):
			side = solver
		case in(own, "model/check") || in(own, "model/proof") || in(own, "model/proof/..."):
		default:
			continue
		}
		var files []*ast.File
		for _, name := range packages[path].GoFiles {
			f, err := parser.ParseFile(fset, filepath.Join(packages[path].Dir, name), nil,
				parser.SkipObjectResolution)
			if err != nil {
				t.Fatal(err)
			}
			files = append(files, f)
		}
		info := &types.Info{Uses: map[*ast.Ident]types.Object{}}
		config := &types.Config{Importer: compiled}
		if _, err := config.Check(path, fset, files, info); err != nil {
			t.Fatal(err)
		}
		for _, o := range info.Uses {
			f, ok := o.(*types.Func)
			if ok && f.Pkg() != nil && f.Pkg().Path() == "rackwright/model" {
				side[f.FullName()] = f.Name()
			}
		}
	}
	return solver, checker
}

package main

import (
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"rackwright/cmd/rackwright/place"
	"rackwright/io/folder"
	"rackwright/io/report"
	"rackwright/model"
)

// What is said of a new shop folder names each of its files once.
func TestNewNamesTheFiles(t *testing.T) {
	files, err := folder.NewShop(model.Inch, "m")
	if err != nil {
		t.Fatal(err)
	}
	var named, there []string
	for _, f := range report.ShopFiles {
		named = append(named, f.Names...)
	}
	for _, f := range report.MonthFiles {
		named = append(named, "m/"+f.Names[0])
	}
	for name := range files {
		there = append(there, strings.TrimSuffix(name, "/"))
	}
	slices.Sort(named)
	slices.Sort(there)
	if !slices.Equal(named, there) {
		t.Errorf("named are %q, written are %q", named, there)
	}
}

// A folder that cannot be written whole is not there after it; one that was there is as it was.
func TestTreeAllOrNothing(t *testing.T) {
	tooLong := strings.Repeat("z", 300)
	bad := place.Tree{Files: map[string][]byte{"a.csv": []byte("a\n"), "b/": nil,
		"c/d.csv": []byte("d\n"), tooLong: []byte("z\n")}, What: "the test"}
	dir := t.TempDir()
	if err := bad.Lay(filepath.Join(dir, "new", "shop")); err == nil {
		t.Error("a name that no disk takes is written")
	}
	if got := names(t, filepath.Join(dir, "new")); got != "" {
		t.Errorf("left is %s", got)
	}
	old := filepath.Join(dir, "old")
	lay(t, old, map[string]string{".DS_Store": "view"})
	if err := bad.Lay(old); err == nil || names(t, old) != ".DS_Store" {
		t.Errorf("%v; left is %s", err, names(t, old))
	}

	// what a killed run has left is made whole
	good := place.Tree{Files: maps.Clone(bad.Files), What: "the test"}
	delete(good.Files, tooLong)
	lay(t, old, map[string]string{"a.csv": "a"})
	if good.Complete(old) {
		t.Error("half a file is taken for a whole one")
	}
	if err := good.Lay(old); err != nil || !good.Complete(old) {
		t.Error(err)
	}
	if data, err := os.ReadFile(filepath.Join(old, "c", "d.csv")); string(data) != "d\n" {
		t.Error(string(data), err)
	}
	if got := names(t, old); got != ".DS_Store a.csv b c" {
		t.Errorf("there is %s", got)
	}
}

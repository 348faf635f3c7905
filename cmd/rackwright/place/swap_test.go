package place

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"testing"
)

// Where what writes a file has an error of its own, the folder is as it was, and nothing is beside
// it; the error is told apart from one of the disk.
func TestWriteFolderOrNothing(t *testing.T) {
	dir := t.TempDir()
	out := filepath.Join(dir, "out")
	text := func(s string) func(io.Writer) error {
		return func(w io.Writer) error {
			_, err := io.WriteString(w, s)
			return err
		}
	}
	if err := WriteFolder(out, map[string]func(io.Writer) error{
		"cuts.csv": text("old"), "plan.json": text("{}")}); err != nil {
		t.Fatal(err)
	}
	ours := errors.New("ours")
	err := WriteFolder(out, map[string]func(io.Writer) error{
		"cuts.csv": text("new"), "plan.json": func(w io.Writer) error {
			text("half")(w)
			return ours
		}})
	if _, fault := errors.AsType[Fault](err); !fault || !errors.Is(err, ours) {
		t.Errorf("the error is %v", err)
	}
	if got, err := os.ReadFile(filepath.Join(out, "cuts.csv")); string(got) != "old" {
		t.Errorf("cuts.csv is %q, %v", got, err)
	}
	for _, name := range []string{NewOf(out), OldOf(out)} {
		if _, err := os.Lstat(name); !errors.Is(err, os.ErrNotExist) {
			t.Errorf("%s is there: %v", name, err)
		}
	}
	blocked := filepath.Join(out, "cuts.csv") // a file, where a folder would be
	err = WriteFolder(filepath.Join(blocked, "out"), map[string]func(io.Writer) error{
		"plan.json": text("{}")})
	if _, fault := errors.AsType[Fault](err); err == nil || fault {
		t.Errorf("the error of the disk is %v", err)
	}
}

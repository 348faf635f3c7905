package place

import (
	"bytes"
	"errors"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"
)

func text(s string) *Text {
	var t Text
	io.WriteString(&t, s)
	return &t
}

// A text comes out as it was put in, in whatever pieces.
func TestText(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	var want bytes.Buffer
	var text Text
	for range 200 {
		long := r.IntN(5000)*r.IntN(2) + r.IntN(9)*r.IntN(1<<14)
		part := bytes.Repeat([]byte{byte(r.Uint32())}, long)
		want.Write(part)
		if n, err := text.Write(part); n != len(part) || err != nil {
			t.Fatalf("%d of %d bytes are taken, %v", n, len(part), err)
		}
	}
	var got bytes.Buffer
	n, err := text.WriteTo(&got)
	if n != int64(want.Len()) || err != nil || !bytes.Equal(got.Bytes(), want.Bytes()) {
		t.Errorf("of %d bytes %d come out, %v", want.Len(), n, err)
	}
}

// Where a file cannot be written the folder is as it was, and nothing is beside it.
func TestWriteFolderOrNothing(t *testing.T) {
	dir := t.TempDir()
	out := filepath.Join(dir, "out")
	if err := WriteFolder(out, map[string]*Text{
		"cuts.csv": text("old"), "plan.json": text("{}")}); err != nil {
		t.Fatal(err)
	}
	if err := WriteFolder(out, map[string]*Text{"cuts.csv": text("new"),
		"no/where.csv": text("x")}); !errors.Is(err, os.ErrNotExist) {
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
	if err := WriteFolder(filepath.Join(blocked, "out"), map[string]*Text{
		"plan.json": text("{}")}); err == nil {
		t.Error("there is a folder in a file")
	}
}

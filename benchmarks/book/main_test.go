package main

import (
	"bytes"
	"io"
	"path/filepath"
	"strings"
	"testing"

	"rackwright/io/book"
	"rackwright/model"
)

// A small book is measured: each command ends well and has its row.
func TestBookIsMeasured(t *testing.T) {
	var b bytes.Buffer
	if err := measure(t.Context(), []string{"-events", "300", "-boards", "200"}, &b,
		io.Discard); err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(b.String()), "\n")
	if len(lines) != 2+15 || !strings.Contains(lines[len(lines)-1], "| audit") {
		t.Errorf("table:\n%s", b.String())
	}
	if err := measure(t.Context(), []string{"-boards", "3"}, io.Discard, io.Discard); err == nil {
		t.Error("a shop of 3 boards is measured")
	}
}

// The invented book is sound, and of the size that was asked for; the same seed gives the same.
func TestInventedShop(t *testing.T) {
	dir := t.TempDir()
	if err := measure(t.Context(), []string{"-events", "900", "-boards", "300", "-write", dir},
		io.Discard, io.Discard); err != nil {
		t.Fatal(err)
	}
	a, err := book.AuditFile(filepath.Join(dir, "book.db"))
	if err != nil || len(a.Wrong) > 0 || a.Sound != 900 || a.Boards != 300 {
		t.Errorf("%+v (%v)", a, err)
	}
	one, other := invent(1, 900, 300), invent(1, 900, 300)
	for i := range one.rack {
		if !book.Same(one.rack[i], other.rack[i]) {
			t.Fatalf("board %d is another", i)
		}
	}
	if len(model.BinByBin(one.rack, []string{"A01"})) == 0 {
		t.Error("bin A01 is empty")
	}
}

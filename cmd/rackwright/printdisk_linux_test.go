package main

import (
	"maps"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// On a disk that fills up at any paper, or has no room for another file, the papers before stay, of
// a folder that had none there are none, and nothing is left beside it.
func TestPrintOnFullDisk(t *testing.T) {
	plan := planned(t, jobA)
	for _, c := range []struct {
		options, what string
		before        bool
	}{{"size=2m", "room", true}, {"size=2m", "room", false}, {"nr_inodes=60", "files", true}} {
		dir := disk(t, c.options)
		out := filepath.Join(dir, "out")
		lay(t, out, plan)
		if c.before {
			if code, stderr := rackwright(t, "print", out, "--quiet"); code != exitDone {
				t.Fatal(stderr)
			}
		}
		before := contents(t, out)
		failed := untilThereIsRoom(t, dir, c.what,
			"rackwright: "+out+": the papers cannot be written (", "print", out, "--quiet",
			"--from", "5")
		after := contents(t, out)
		if failed < 5 || after["labels.pdf"] == before["labels.pdf"] ||
			strings.Contains(names(t, dir), ".out") {
			t.Errorf("%s: after %d failures there is %s", c.what, failed, names(t, dir))
		}
		for name := range plan {
			if after[name] != plan[name] {
				t.Errorf("%s: %s of the plan is no longer as it was", c.what, name)
			}
		}
	}
}

// A disk of its own may be printed to, full or not, and nothing but papers is left there.
func TestPrintToAnotherDisk(t *testing.T) {
	out, dir := filepath.Join(t.TempDir(), "out"), disk(t, "size=2m")
	lay(t, out, planned(t, jobA))
	lay(t, dir, map[string]string{"note.txt": "mine"})
	used := fill(t, dir, "room")
	if code, stderr := rackwright(t, "print", out, "--to", dir); code != exitBad ||
		!strings.Contains(stderr, "no space left on device") || names(t, dir) != "full note.txt" {
		t.Errorf("full: exit code %d, there is %s, and it says:\n%s", code, names(t, dir), stderr)
	}
	leave(t, dir, "room", used, used)
	if code, stderr := rackwright(t, "print", out, "--to", dir); code != exitDone ||
		names(t, dir) != "bench.pdf full labels.pdf note.txt saw.pdf yard.pdf" {
		t.Errorf("exit code %d, there is %s, and it says:\n%s", code, names(t, dir), stderr)
	}
}

// Where another run put a new plan in place meanwhile, no papers of the old one go there; and where
// one file cannot be put in its place, those before are there again.
func TestPapersAllOrNone(t *testing.T) {
	out := filepath.Join(t.TempDir(), "out")
	lay(t, out, planned(t, jobA))
	if code, stderr := rackwright(t, "print", out, "--quiet"); code != exitDone {
		t.Fatal(stderr)
	}
	before := contents(t, out)
	files := map[string][]byte{}
	for _, name := range paperNames() {
		files[name] = []byte("new")
	}
	err := writePapers(out, true, files, func() error { return os.ErrDeadlineExceeded })
	if err == nil || !maps.Equal(contents(t, out), before) {
		t.Error("papers are written though another plan is there", err)
	}
	last := filepath.Join(out, paperNames()[len(files)-1])
	if err := os.Remove(last); err != nil {
		t.Fatal(err)
	}
	delete(before, filepath.Base(last))
	// The last paper is missing among the new ones, so that it cannot be moved.
	from := filepath.Join(t.TempDir(), "from")
	lay(t, from, map[string]string{paperNames()[0]: "new", paperNames()[1]: "new"})
	if err := swapFiles(out, from, paperNames()); err == nil ||
		!maps.Equal(contents(t, out), before) {
		t.Error("some papers are new and some are not", err)
	}
}

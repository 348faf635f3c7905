package main

import (
	"bytes"
	"maps"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"rackwright/io/report"
)

// disk is a small disk of its own, in memory.
func disk(t *testing.T, options string) string {
	t.Helper()
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, options); err != nil {
		t.Fatalf("a small tmpfs cannot be mounted (%v): this test needs a user who may mount, "+
			"such as root",
			err)
	}
	t.Cleanup(func() {
		if err := syscall.Unmount(dir, 0); err != nil {
			t.Error(err)
		}
	})
	return dir
}

// On a disk that fills up at any file, or has no room for another file, the old plan stays and
// nothing is left beside it.
func TestFullDisk(t *testing.T) {
	a, b := planned(t, jobA), planned(t, jobB)
	for _, c := range []struct{ options, what string }{{"size=1m", "room"},
		{"nr_inodes=30", "files"}} {
		dir := disk(t, c.options)
		out := filepath.Join(dir, "out")
		lay(t, out, a)
		failed := untilThereIsRoom(t, dir, c.what, "rackwright: "+out+": ", "plan", jobB, "--out",
			out, "--quiet")
		if failed < 5 || !maps.Equal(contents(t, out), b) ||
			strings.Contains(names(t, dir), ".out") {
			t.Errorf("%s: after %d failures there is %s", c.what, failed, names(t, dir))
		}
	}
}

// untilThereIsRoom runs the program on a full disk, with ever more room, until it is done, and says
// how often it failed. Each time it is to say why in one line, and leave the folder out in dir as
// it was, with nothing beside it.
func untilThereIsRoom(t *testing.T, dir, what, says string, args ...string) (failed int) {
	t.Helper()
	out := filepath.Join(dir, "out")
	before, used := contents(t, out), fill(t, dir, what)
	for free := 0; ; free++ {
		if free > used {
			t.Fatalf("%s: %s never finds room", what, args[0])
		}
		leave(t, dir, what, used, free)
		code, stderr := rackwright(t, args...)
		if code == exitDone {
			return failed
		}
		failed++
		if code != exitBad || strings.Count(stderr, "\n") != 1 ||
			!strings.HasPrefix(stderr, says) ||
			!strings.Contains(stderr, "no space left on device") {
			t.Errorf("%s: with %d free, exit code %d, and says:\n%s", what, free, code, stderr)
		}
		if !maps.Equal(contents(t, out), before) || strings.Contains(names(t, dir), ".out") {
			t.Fatalf("%s: with %d free, the folder is not as it was; there is %s", what, free,
				names(t, dir))
		}
	}
}

// On a disk that fills up, the picture that was there stays, and nothing is left beside it.
func TestPictureOnFullDisk(t *testing.T) {
	out := filepath.Join(t.TempDir(), "out")
	lay(t, out, planned(t, jobA))
	job, plan, err := readPlan(out)
	if err != nil {
		t.Fatal(err)
	}
	board := report.UsedBoards(job, plan)[0]
	for _, c := range []struct{ options, what string }{{"size=64k", "room"},
		{"nr_inodes=8", "files"}} {
		dir := disk(t, c.options)
		picture := filepath.Join(dir, "board.svg")
		if err := os.WriteFile(picture, []byte("the one before"), 0o666); err != nil {
			t.Fatal(err)
		}
		used := fill(t, dir, c.what)
		for free := 0; ; free++ {
			if free > used {
				t.Fatalf("%s: no picture can be written at all", c.what)
			}
			leave(t, dir, c.what, used, free)
			code, stderr := rackwright(t, "show", out, board, "--svg", picture, "--quiet")
			is, err := os.ReadFile(picture)
			if err != nil {
				t.Fatal(err)
			}
			if code == exitDone {
				if free == 0 || !bytes.HasSuffix(is, []byte("</svg>\n")) {
					t.Errorf("%s: with %d free there is %.30q", c.what, free, is)
				}
				break
			}
			if code != exitBad || !strings.Contains(stderr, "no space left on device") ||
				string(is) != "the one before" || strings.Contains(names(t, dir), ".board") {
				t.Fatalf("%s: with %d free, exit code %d, there is %s, and it says:\n%s", c.what,
					free, code, names(t, dir), stderr)
			}
		}
	}
}

// fill takes all room, or all files, and says how many pages or files that was.
func fill(t *testing.T, dir, what string) (used int) {
	t.Helper()
	full := filepath.Join(dir, "full")
	if what == "files" {
		lay(t, full, nil)
		for {
			if err := os.WriteFile(filepath.Join(full, strings.Repeat("x", used+1)), nil,
				0o666); err != nil {
				return used
			}
			used++
		}
	}
	f, err := os.Create(full)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for page := bytes.Repeat([]byte("x"), os.Getpagesize()); ; used++ {
		if _, err := f.Write(page); err != nil {
			return used
		}
	}
}

// leave gives back so many of the pages or files taken, in all; it is called with 0, 1, 2 and so
// on.
func leave(t *testing.T, dir, what string, used, free int) {
	t.Helper()
	full := filepath.Join(dir, "full")
	var err error
	switch {
	case what == "room":
		err = os.Truncate(full, int64((used-free)*os.Getpagesize()))
	case free > 0:
		err = os.Remove(filepath.Join(full, strings.Repeat("x", free)))
	}
	if err != nil {
		t.Fatal(err)
	}
}

// On a disk that is read-only a run is refused before any planning.
func TestReadOnlyDisk(t *testing.T) {
	a := planned(t, jobA)
	dir := disk(t, "size=1m")
	lay(t, filepath.Join(dir, "out"), a)
	remount := func(flags uintptr) {
		if err := syscall.Mount("tmpfs", dir, "tmpfs", syscall.MS_REMOUNT|flags, ""); err != nil {
			t.Fatal(err)
		}
	}
	remount(syscall.MS_RDONLY)
	for _, name := range []string{"out", "another"} {
		out := filepath.Join(dir, name)
		code, stderr := rackwright(t, "plan", jobB, "--out", out)
		if code != exitBad || !strings.HasPrefix(stderr,
			"rackwright: "+out+": cannot be written (") ||
			!strings.HasSuffix(stderr,
				"read-only file system); put that right, or name another folder with --out\n") {
			t.Errorf("%s: exit code %d, and says:\n%s", name, code, stderr)
		}
	}
	if !maps.Equal(contents(t, filepath.Join(dir, "out")), a) || names(t, dir) != "out" {
		t.Errorf("there is %s", names(t, dir))
	}
	remount(0)
	if code, stderr := rackwright(t, "plan", jobB, "--out",
		filepath.Join(dir, "out")); code != exitDone {
		t.Errorf("writable again: exit code %d, and says:\n%s", code, stderr)
	}
}

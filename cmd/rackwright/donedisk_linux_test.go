package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// On a disk that fills up, what was cut is entered whole or not at all, and with room again it is.
func TestDoneOnFullDisk(t *testing.T) {
	dir := disk(t, "size=2m")
	shop := filepath.Join(dir, "shop")
	out := bookedShop(t, shop)
	all := lifeOf(t, shop).Here
	used := fill(t, dir, "room")
	for free := 0; ; free++ {
		if free > used {
			t.Fatal("nothing can be entered at all")
		}
		leave(t, dir, "room", used, free)
		code, said := rackwright(t, "done", out, "--date", "2027-03-03", "--quiet")
		inBook := code == exitDone || strings.Contains(said, "is in the book")
		if code != exitDone && (code != exitBad || !strings.HasPrefix(said, "rackwright: "+shop)) {
			t.Fatalf("with %d free, exit code %d, and says:\n%s", free, code, said)
		}
		if inBook { // had some of it been entered before, the rest were refused now
			break
		}
	}
	if err := os.Remove(filepath.Join(dir, "full")); err != nil {
		t.Fatal(err)
	}
	if l := lifeOf(t, shop); len(l.Done) != len(all) || len(l.Here) != 0 {
		t.Errorf("of %q these are cut: %q", all, l.Done)
	}
	if code, said := rackwright(t, "rack", "write", shop, "--quiet"); code != exitDone {
		t.Fatal(said)
	}
	if code, said := rackwright(t, "audit", shop, "--quiet"); code != exitDone {
		t.Error(said)
	}
}

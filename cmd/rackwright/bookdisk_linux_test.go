package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"rackwright/cmd/rackwright/shopbook"
	"rackwright/io/book"
	"rackwright/io/folder"
)

// On a disk that fills up an event is entered or not, what is in the files is whole, and with room
// again the next run goes on.
func TestBookOnFullDisk(t *testing.T) {
	dir := disk(t, "size=1m")
	shop := newShopFolder(t, filepath.Join(dir, "shop"))
	used := fill(t, dir, "room")
	for free := 0; ; free++ {
		if free > used {
			t.Fatal("no book can be made at all")
		}
		leave(t, dir, "room", used, free)
		code, said := rackwright(t, "rack", "add", shop, "N-1", "pine", "2x4", "70", "--quiet")
		if code == exitDone {
			break
		}
		if code != exitBad || !strings.HasPrefix(said, "rackwright: "+shop) {
			t.Fatalf("with %d free, exit code %d, and says:\n%s", free, code, said)
		}
		if strings.Contains(said, "event 2 is in the book") { // the files could not be written
			break
		}
	}
	// events until the disk is full, then room, and all is as it was said
	b, err := book.Open(filepath.Join(shop, shopbook.BookFile))
	if err != nil {
		t.Fatal(err)
	}
	before, err := b.State()
	if err != nil {
		t.Fatal(err)
	}
	b.Close()
	entered, failed := before.Last, 0
	for n := range 400 {
		code, said := rackwright(t, "rack", "add", shop, fmt.Sprint("M-", n), "pine", "2x4", "70",
			"--note", strings.Repeat("long ", 200), "--quiet")
		if code == exitDone {
			entered++
			continue
		}
		if failed++; code != exitBad || !strings.Contains(said, "rackwright: "+shop) {
			t.Fatalf("exit code %d, and says:\n%s", code, said)
		}
		if strings.Contains(said, "is in the book") {
			entered++
		}
		break
	}
	if failed == 0 {
		t.Fatal("the disk did not fill up")
	}
	if err := os.Remove(filepath.Join(dir, "full")); err != nil {
		t.Fatal(err)
	}
	if code, said := rackwright(t, "rack", "write", shop, "--quiet"); code != exitDone {
		t.Fatal(said)
	}
	if b, err = book.Open(filepath.Join(shop, shopbook.BookFile)); err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	if a := b.Audit(); len(a.Wrong) > 0 || int64(a.Sound) != entered {
		t.Errorf("%d events were entered, found is %+v", entered, a)
	}
	if code, said := rackwright(t, "audit", shop, "--quiet"); code != exitDone {
		t.Error(said)
	}
}

// On a disk that fills up a plan is booked with all its files or not at all, and what it buys is
// received or not.
func TestPlanOnFullDisk(t *testing.T) {
	dir := disk(t, "size=2m")
	shop := newShopFolder(t, filepath.Join(dir, "shop"))
	out := planOfTwoBoards(t, shop)
	if code, said := rackwright(t, "rack", "move", shop, "B-1", "C", "--quiet"); code != exitDone {
		t.Fatal(said)
	}
	failed := 0
	for entered, command := range []string{"book", "receive"} {
		used := fill(t, dir, "room")
		for free := 0; ; free++ {
			if free > used {
				t.Fatalf("%s: there is never enough room", command)
			}
			leave(t, dir, "room", used, free)
			code, said := rackwright(t, command, out, "--quiet")
			if code == exitDone || strings.Contains(said,
				fmt.Sprintf("event %d is in the book", entered+3)) {
				break
			}
			if failed++; code != exitBad || !strings.HasPrefix(said, "rackwright: "+shop) {
				t.Fatalf("%s with %d free: exit code %d, and says:\n%s", command, free, code, said)
			}
		}
		if err := os.Remove(filepath.Join(dir, "full")); err != nil {
			t.Fatal(err)
		}
		for _, args := range [][]string{{"rack", "write", shop}, {"audit", shop}} {
			if code, said := rackwright(t, append(args, "--quiet")...); code != exitDone {
				t.Fatal(said)
			}
		}
	}
	if failed < 2 {
		t.Errorf("the disk was full in %d runs only", failed)
	}
	b, err := book.Open(filepath.Join(shop, shopbook.BookFile))
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	lives, err := b.Lives()
	if err != nil || len(lives) != 1 || len(lives[0].Here) != 2 {
		t.Fatalf("booked and received is %+v (%v)", lives, err)
	}
	files, err := b.PlanFiles(lives[0].Files)
	if err != nil {
		t.Fatal(err)
	}
	if _, _, err := folder.ReadPlan(files); err != nil {
		t.Error(err)
	}
}

// On a disk that is read-only the rack is listed and audited and can be planned on; nothing is
// entered.
func TestBookOnReadOnlyDisk(t *testing.T) {
	dir := disk(t, "size=1m")
	shop := newShopFolder(t, filepath.Join(dir, "shop"))
	out := planOfTwoBoards(t, shop)
	ok := func(args ...string) {
		t.Helper()
		if code, said := rackwright(t, args...); code != exitDone {
			t.Errorf("%s: exit code %d, and says:\n%s", strings.Join(args, " "), code, said)
		}
	}
	ok("rack", "move", shop, "B-1", "C")
	was := names(t, shop)
	remount := func(flags uintptr) {
		if err := syscall.Mount("tmpfs", dir, "tmpfs", syscall.MS_REMOUNT|flags, ""); err != nil {
			t.Fatal(err)
		}
	}
	remount(syscall.MS_RDONLY)
	ok("rack", "list", shop)
	ok("rack", "history", shop)
	ok("audit", shop)
	ok("check", filepath.Join(shop, "march"))
	for _, args := range [][]string{{"add", shop, "N-1", "pine", "2x4", "70"},
		{"scrap", shop, "B-1"}, {"undo", shop}, {"take", shop}, {"write", shop}, {"book", out},
		{"receive", out}} {
		if len(args[1]) == len(shop) {
			args = append([]string{"rack"}, args...)
		}
		code, said := rackwright(t, args...)
		if code != exitBad || !strings.HasSuffix(said, "the book cannot be written (read-only file "+
			"system); put that right\n") {
			t.Errorf("%s: exit code %d, and says:\n%s", args[0], code, said)
		}
	}
	remount(0)
	if is := names(t, shop); is != was {
		t.Errorf("the shop folder holds %s, and held %s", is, was)
	}
	ok("rack", "undo", shop)
	ok("book", out)
}

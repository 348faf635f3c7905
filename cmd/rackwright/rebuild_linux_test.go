package main

import (
	"bytes"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	_ "modernc.org/sqlite"

	"rackwright/cmd/rackwright/shopbook"
	"rackwright/io/book"
)

// damagedShop is a shop folder whose book has so many sound events, then a bad one.
func damagedShop(t *testing.T, dir string, sound int) string {
	t.Helper()
	shop := newShopFolder(t, filepath.Join(dir, "shop"))
	for n := range sound + 3 {
		if code, said := rackwright(t, "rack", "add", shop, fmt.Sprint("N-", n), "pine", "2x4",
			"70",
			"--note", strings.Repeat("long ", 100), "--date", "2027-03-02", "--quiet"); code !=
			exitDone {
			t.Fatal(said)
		}
	}
	path := filepath.Join(shop, shopbook.BookFile)
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	mark := fmt.Sprintf(`{"changes":[{"is":{"board":"N-%d",`, sound-1)
	bad := bytes.ReplaceAll(data, []byte(mark), bytes.ToUpper([]byte(mark)))
	if bytes.Equal(bad, data) {
		t.Fatal("the event is not in the file as it is written")
	}
	if err := os.WriteFile(path, bad, 0o666); err != nil {
		t.Fatal(err)
	}
	return shop
}

// rebuilt says that a new book is whole and has so many events, and removes it.
func rebuilt(t *testing.T, path string, events int) {
	t.Helper()
	a, err := book.AuditFile(path)
	if err != nil || len(a.Wrong) > 0 || a.Sound != events {
		t.Fatalf("the new book: %+v (%v)", a, err)
	}
	for _, name := range []string{path, path + "-wal", path + "-shm"} {
		if err := os.Remove(name); err != nil && !errors.Is(err, fs.ErrNotExist) {
			t.Fatal(err)
		}
	}
}

// A run that is killed while it rebuilds a book leaves the whole new book or none, the old one as
// it is, and nothing that keeps the next run from it.
func TestRebuildOutlivesKills(t *testing.T) {
	shop := damagedShop(t, t.TempDir(), 5)
	old := filepath.Join(shop, shopbook.BookFile)
	was, err := os.ReadFile(old)
	if err != nil {
		t.Fatal(err)
	}
	to := filepath.Join(shop, "new.db")
	run := func() *exec.Cmd {
		return exec.Command("rackwright", "audit", shop, "--rebuild", to, "--quiet")
	}
	began := time.Now()
	if out, err := run().CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	p, kills := paceOf(began, 5, 8), 0
	rebuilt(t, to, 5)
	rounds := killRounds(15)
	for n := range rounds {
		cmd := run()
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(p.wait())
		cmd.Process.Kill()
		cmd.Wait()
		killed := cmd.ProcessState.ExitCode() < 0
		if p.ended(killed); killed {
			kills++
		}
		if _, err := os.Lstat(to); errors.Is(err, fs.ErrNotExist) {
			if code, said := rackwright(t, "audit", shop, "--rebuild", to, "--quiet"); code !=
				exitDone {
				t.Fatalf("round %d: %s", n, said)
			}
		}
		rebuilt(t, to, 5)
		if is, err := os.ReadFile(old); err != nil || !bytes.Equal(is, was) {
			t.Fatalf("round %d: the old book is another (%v)", n, err)
		}
	}
	if is := names(t, shop); is != "book.db defects.csv rack.csv shop.toml" {
		t.Errorf("the shop folder holds %s", is)
	}
	if kills < rounds/4 {
		t.Errorf("only %d of %d runs were killed while they went on", kills, rounds)
	}
}

// On a full disk no new book is made, and nothing is left of it; elsewhere there is room.
func TestRebuildOnFullDisk(t *testing.T) {
	dir := disk(t, "size=1m")
	shop := damagedShop(t, dir, 60)
	to := filepath.Join(shop, "new.db")
	used, failed := fill(t, dir, "room"), 0
	for free := 0; ; free += 2 {
		if free > used {
			t.Fatal("there is never enough room")
		}
		leave(t, dir, "room", used, free)
		code, said := rackwright(t, "audit", shop, "--rebuild", to, "--quiet")
		if code == exitDone {
			break
		}
		failed++
		if is := names(t, shop); code != exitBad || !strings.Contains(said, "rackwright: "+to) ||
			strings.Contains(is, "new.db") {
			t.Fatalf("with %d free, exit code %d, the folder holds %s, and it says:\n%s", free,
				code, is, said)
		}
	}
	if failed == 0 {
		t.Error("the disk was never full")
	}
	rebuilt(t, to, 60)
}

// A shop goes on with a book that was rebuilt, whichever event of a plan's life was bad: what the
// files have otherwise is taken, and all is sound then. The plan's files are still in the book.
func TestShopGoesOnWithRebuiltBook(t *testing.T) {
	shop := newShopFolder(t, filepath.Join(t.TempDir(), "shop"))
	out := planOfTwoBoards(t, shop)
	for _, command := range []string{"book", "receive", "done"} {
		if code, said := rackwright(t, command, out, "--quiet", "--date", "2027-03-02"); code !=
			exitDone {
			t.Fatal(said)
		}
	}
	for bad := 1; bad <= 4; bad++ {
		dir := filepath.Join(t.TempDir(), "shop")
		if err := os.CopyFS(dir, os.DirFS(shop)); err != nil {
			t.Fatal(err)
		}
		path, to := filepath.Join(dir, shopbook.BookFile), filepath.Join(dir, "new.db")
		db, err := sql.Open("sqlite", path)
		if err == nil {
			_, err = db.Exec(fmt.Sprintf("DROP TRIGGER events_stay; UPDATE events SET hash = "+
				"replace(hash, substr(hash, 1, 1), 'x') WHERE number = %d", bad))
		}
		if err := errors.Join(err, db.Close()); err != nil {
			t.Fatal(err)
		}
		code, said := rackwright(t, "audit", dir, "--rebuild", to, "--quiet")
		if !strings.Contains(said, fmt.Sprintf("event %d: ", bad)) ||
			(code == exitDone) != (bad > 1) {
			t.Errorf("event %d is bad, and audit ends with %d and says:\n%s", bad, code, said)
		}
		if bad == 1 {
			continue
		}
		if err := os.Rename(to, path); err != nil {
			t.Fatal(err)
		}
		for _, args := range [][]string{{"rack", "take", dir}, {"audit", dir}} {
			if code, said := rackwright(t, append(args, "--quiet")...); code != exitDone {
				t.Errorf("event %d was bad, and %s says:\n%s", bad, args[0], said)
			}
		}
	}
}

// A book on a disk that is read-only, such as one that is failing, is rebuilt on another.
func TestRebuildFromReadOnlyDisk(t *testing.T) {
	dir := disk(t, "size=1m")
	shop := damagedShop(t, dir, 5)
	if err := syscall.Mount("tmpfs", dir, "tmpfs", syscall.MS_REMOUNT|syscall.MS_RDONLY,
		""); err != nil {
		t.Fatal(err)
	}
	to := filepath.Join(t.TempDir(), "new.db")
	if code, said := rackwright(t, "audit", shop, "--rebuild", to); code != exitDone {
		t.Fatal(said)
	}
	rebuilt(t, to, 5)
	if code, said := rackwright(t, "audit", shop, "--rebuild", filepath.Join(shop,
		"new.db")); code != exitBad || !strings.Contains(said, "read-only file system") {
		t.Errorf("exit code %d, and says:\n%s", code, said)
	}
}

// filesOf are the files of a folder, without the folders in it.
func filesOf(t *testing.T, dir string) map[string]string {
	t.Helper()
	files := map[string]string{}
	for name := range strings.SplitSeq(names(t, dir), " ") {
		if data, err := os.ReadFile(filepath.Join(dir, name)); err == nil {
			files[name] = string(data)
		}
	}
	return files
}

// A book of a newer version is refused by every command, and nothing is written.
func TestNewerBookIsRefused(t *testing.T) {
	shop := newShopFolder(t, filepath.Join(t.TempDir(), "shop"))
	out := planOfTwoBoards(t, shop)
	if code, said := rackwright(t, "book", out, "--quiet"); code != exitDone {
		t.Fatal(said)
	}
	path := filepath.Join(shop, shopbook.BookFile)
	db, err := sql.Open("sqlite", path)
	if err == nil {
		_, err = db.Exec("PRAGMA user_version = 99")
	}
	if err := errors.Join(err, db.Close()); err != nil {
		t.Fatal(err)
	}
	was, sheet := filesOf(t, shop), filepath.Join(t.TempDir(), "count.csv")
	lay(t, filepath.Dir(sheet),
		map[string]string{"count.csv": "bin,board,material,section,length\n"})
	for _, args := range [][]string{
		{"rack", "list", shop}, {"rack", "old", shop}, {"rack", "history", shop},
		{"rack", "add", shop, "N-1", "pine", "2x4", "70"}, {"rack", "move", shop, "B-1", "C"},
		{"rack", "scrap", shop, "B-1"}, {"rack", "undo", shop}, {"rack", "take", shop},
		{"rack", "write", shop}, {"count", shop}, {"reconcile", shop, sheet},
		{"reconcile", shop, sheet, "--accept"}, {"audit", shop},
		{"audit", shop, "--rebuild", filepath.Join(shop, "new.db")},
		{"check", filepath.Join(shop, "march")}, {"plan", filepath.Join(shop, "march")},
		{"book", out}, {"receive", out}, {"done", out}, {"replan", out}, {"months", shop},
	} {
		code, said := rackwright(t, args...)
		if code != exitBad || !strings.Contains(said, "it is of a newer version of this program") ||
			!strings.Contains(said, "use the program that wrote it, or a newer one") {
			t.Errorf("%s: exit code %d, and says:\n%s", strings.Join(args, " "), code, said)
		}
		if is := filesOf(t, shop); !maps.Equal(is, was) {
			t.Fatalf("%s: the folder holds %s", strings.Join(args, " "), names(t, shop))
		}
	}
}

//go:build unix

package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"rackwright/cmd/rackwright/shopbook"
	"rackwright/io/book"
)

// Counts that are entered, and files that are taken or written back, are killed like others, two at
// once: what was acknowledged is there, and a sheet of a count is whole or not there.
func TestCountsOutliveKills(t *testing.T) {
	rounds := killRounds(15)
	s := &ruinedShop{t: t, dir: newShopFolder(t, filepath.Join(t.TempDir(), "shop"))}
	other := t.TempDir()
	lay(t, other, map[string]string{
		"x.csv": "bin,board,material,section,length,found\nX,,,,,counted\nX,B-1,,,,yes\n",
		"y.csv": "bin,board,material,section,length,found\nY,,,,,counted\nY,B-1,,,,yes\n"})
	x, y, sheet := filepath.Join(other, "x.csv"), filepath.Join(other, "y.csv"),
		filepath.Join(s.dir, "count.csv")
	commands := [][]string{{"reconcile", s.dir, x, "--accept"}, {"reconcile", s.dir, y, "--accept"},
		{"rack", "take", s.dir}, {"rack", "write", s.dir}, {"rack", "move", s.dir, "B-2", "P"},
		{"rack", "move", s.dir, "B-2", "Q"}, {"count", s.dir}}
	began := time.Now()
	if code, said := rackwright(t, "rack", "move", s.dir, "B-1", "X", "--quiet"); code != exitDone {
		t.Fatal(said)
	}
	least, most, p := 1, 1, paceOf(began, 12, 14) // events that are entered
	for n := range rounds {
		var runs []*exec.Cmd
		for range 2 {
			c := slices.Concat(commands[p.IntN(len(commands))], []string{"--quiet"})
			if c[0] != "count" && c[1] != "write" {
				c = append(c, "--date", "2027-03-02")
			}
			runs = append(runs, exec.Command("rackwright", c...))
		}
		for i, done := range s.kill(p, runs...) {
			if most++; done && runs[i].Args[2] == "move" {
				least++ // a count may have nothing to enter
			}
		}
		if text, err := os.ReadFile(sheet); err == nil && (strings.Count(string(text), "\n") != 3 ||
			!strings.HasSuffix(string(text), "\n")) {
			t.Fatalf("round %d: the sheet is\n%s", n, text)
		}
		os.Remove(sheet)
		s.judge(n)
		b, err := book.Open(filepath.Join(s.dir, shopbook.BookFile))
		if err != nil {
			t.Fatal(err)
		}
		state, err := b.State()
		b.Close()
		if entered := int(state.Last) - 1; err != nil || entered < least || entered > most {
			t.Fatalf("round %d: %d events are entered, not %d to %d (%v)", n, entered, least, most,
				err)
		}
	}
	if s.kills < rounds/5 {
		t.Errorf("only %d runs were killed while they went on, %d ended before", s.kills, s.other)
	}
}

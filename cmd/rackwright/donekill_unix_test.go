//go:build unix

package main

import (
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"rackwright/cmd/rackwright/shopbook"
	"rackwright/io/book"
)

// bookedShop is a shop folder with a plan that is booked and received: it uses both boards and buys
// more. It gives the out folder.
func bookedShop(t *testing.T, shop string) (out string) {
	t.Helper()
	newShopFolder(t, shop)
	lay(t, shop, map[string]string{"yard.csv": "material,section,length,price\npine,2x4,96,5\n"})
	month := filepath.Join(shop, "march")
	lay(t, month, map[string]string{
		"parts.csv": "commission,part,qty,material,length,width,thickness,face\n" +
			"C-1,rail,3,pine,60,3 1/2,1 1/2,hidden\nC-1,post,6,pine,25,3 1/2,1 1/2,sound\n"})
	out = filepath.Join(month, "out")
	for _, args := range [][]string{{"plan", month}, {"book", out}, {"receive", out}} {
		if code, said := rackwright(t, append(args, "--date", "2027-03-02", "--quiet")...); code !=
			exitDone {
			t.Fatalf("%s: exit code %d: %s", args[0], code, said)
		}
	}
	return out
}

// lifeOf is the one plan of a book.
func lifeOf(t *testing.T, shop string) book.Life {
	t.Helper()
	b, err := book.Open(filepath.Join(shop, shopbook.BookFile))
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	lives, err := b.Lives()
	if err != nil || len(lives) != 1 {
		t.Fatal(err, lives)
	}
	return lives[0]
}

// Whenever a run is killed that enters what was cut, two at once as well: either all of it is
// entered or nothing is, once, and the files are whole. RACKWRIGHT_KILLS says how many rounds.
func TestDoneOutlivesKills(t *testing.T) {
	rounds := 12
	if testing.Short() {
		rounds = 4
	}
	if n, err := strconv.Atoi(os.Getenv("RACKWRIGHT_KILLS")); err == nil {
		rounds = n
	}
	s := &ruinedShop{t: t, dir: filepath.Join(t.TempDir(), "shop")}
	out := bookedShop(t, s.dir)
	all := lifeOf(t, s.dir).Here
	if len(all) < 4 {
		t.Fatalf("the plan has only the boards %q", all)
	}
	done := func() *exec.Cmd {
		return exec.Command("rackwright", "done", out, "--date", "2027-03-03", "--quiet")
	}
	undo := func() {
		if code, said := rackwright(t, "rack", "undo", s.dir, "--quiet"); code != exitDone {
			t.Fatal(said)
		}
	}
	began := time.Now()
	if said, err := done().CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, said)
	}
	takes, r, stayed := time.Since(began), rand.New(rand.NewPCG(1, 2)), 0
	undo()
	for n := range rounds {
		runs := []*exec.Cmd{done(), done()}
		for _, cmd := range runs {
			if err := cmd.Start(); err != nil {
				t.Fatal(err)
			}
			timer := time.AfterFunc(time.Duration(r.Int64N(int64(2*takes))),
				func() { cmd.Process.Kill() })
			defer timer.Stop()
		}
		entered := 0
		for _, cmd := range runs {
			cmd.Wait()
			switch state := cmd.ProcessState; {
			case state.ExitCode() < 0:
				s.kills++
			case state.Success():
				entered++
			}
		}
		l := lifeOf(t, s.dir)
		if len(l.Done) != 0 && len(l.Here) != 0 || len(l.Done)+len(l.Here) != len(all) {
			t.Fatalf("round %d: of %q these are cut: %q", n, all, l.Done)
		}
		if entered > 1 || entered == 1 && len(l.Done) == 0 {
			t.Fatalf("round %d: entered %d times, cut: %q", n, entered, l.Done)
		}
		s.judge(n)
		if len(l.Done) > 0 {
			if code, said := rackwright(t, "done", out); code != exitBad ||
				!strings.Contains(said, "none of its boards is here and not cut yet") {
				t.Fatalf("round %d: exit code %d: %s", n, code, said)
			}
			stayed++
			undo()
			takes -= takes / 16 // on a machine that is now slower, now quicker
		} else {
			takes += takes / 32
		}
	}
	if s.kills < rounds/4 {
		t.Errorf("only %d runs were killed while they went on", s.kills)
	}
	if stayed < rounds/6 {
		t.Errorf("only in %d of %d rounds it was entered", stayed, rounds)
	}
	t.Logf("%d runs were killed, in %d rounds it was entered", s.kills, stayed)
}

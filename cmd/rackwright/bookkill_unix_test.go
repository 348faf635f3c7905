//go:build unix

package main

import (
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"testing"
	"time"

	"rackwright/cmd/rackwright/shopbook"
	"rackwright/io/book"
	"rackwright/io/folder"
	"rackwright/model"
)

// ruinedShop is a shop folder whose writers are killed, and what was acknowledged to them.
type ruinedShop struct {
	t     *testing.T
	dir   string
	done  []string // boards that were added, and that was acknowledged
	kills int
	other int // runs that were quicker than the kill
}

// newShopFolder is a shop folder with two boards.
func newShopFolder(t *testing.T, dir string) string {
	t.Helper()
	lay(t, dir, map[string]string{
		"shop.toml": "",
		"rack.csv": "board,material,section,length,bin\n" +
			"B-1,pine,2x4,96,A\nB-2,pine,2x4,60 1/2,B\n",
		"defects.csv": "board,from,to,kind\nB-2,12,13,knot\n",
	})
	return dir
}

// Whenever writers are killed, two at once as well: every event that was acknowledged is there, the
// table is the sum of the events, each file is that of the old rack or of the new one, and the next
// run puts them right. RACKWRIGHT_KILLS says how many rounds there are.
func TestBookOutlivesKills(t *testing.T) {
	rounds := killRounds(25)
	s := &ruinedShop{t: t, dir: newShopFolder(t, filepath.Join(t.TempDir(), "shop"))}
	began := time.Now()
	if out, err := s.writer("first").CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	s.done = append(s.done, "first")
	p := paceOf(began, 3, 5)
	for n := range rounds {
		s.round(n, p)
		s.judge(n)
	}
	if s.kills < rounds/4 {
		t.Errorf("only %d runs were killed while they went on, %d ended before", s.kills, s.other)
	}
	t.Logf("%d runs were killed, %d ended before", s.kills, s.other)
}

// killRounds is how many rounds there are: those of RACKWRIGHT_KILLS, or as many as usual.
func killRounds(usual int) int {
	if n, err := strconv.Atoi(os.Getenv("RACKWRIGHT_KILLS")); err == nil {
		return n
	}
	if testing.Short() {
		return usual / 3
	}
	return usual
}

// pace is how long runs go on before they are killed: at random, so that about a third of them
// ends before, on a machine that is now slower, now quicker.
type pace struct {
	*rand.Rand
	most time.Duration
}

// paceOf is for runs of which one has taken the time since then.
func paceOf(began time.Time, seed1, seed2 uint64) *pace {
	return &pace{rand.New(rand.NewPCG(seed1, seed2)), 2 * time.Since(began)}
}

func (p *pace) wait() time.Duration { return time.Duration(p.Int64N(int64(p.most))) }

// ended takes in whether a run was killed.
func (p *pace) ended(killed bool) {
	if killed {
		p.most += p.most / 16
	} else {
		p.most -= p.most / 8
	}
}

// writer adds a board of that id.
func (s *ruinedShop) writer(id string) *exec.Cmd {
	return exec.Command("rackwright", "rack", "add", s.dir, id, "pine", "2x4", "70", "--date",
		"2027-03-02", "--defect", "5;6;knot", "--quiet")
}

// round runs two writers at once, one of which moves a board or adds one, and kills both.
func (s *ruinedShop) round(n int, p *pace) {
	ids := []string{fmt.Sprintf("N-%d", n), fmt.Sprintf("M-%d", n)}
	runs := []*exec.Cmd{s.writer(ids[0]), s.writer(ids[1])}
	switch p.IntN(3) {
	case 0:
		ids[1] = ""
		runs[1] = exec.Command("rackwright", "rack", "move", s.dir, "first", fmt.Sprint("bin ", n),
			"--date", "2027-03-02", "--quiet")
	case 1:
		ids[1] = "" // the board added a round before may be there or not
		runs[1] = exec.Command("rackwright", "rack", "scrap", s.dir, fmt.Sprintf("M-%d", n-1),
			"--date", "2027-03-02", "--quiet")
	}
	for i, done := range s.kill(p, runs...) {
		if done && ids[i] != "" {
			s.done = append(s.done, ids[i])
		}
	}
}

// kill runs writers at once and kills each after some time. It says which of them said that all was
// done.
func (s *ruinedShop) kill(p *pace, runs ...*exec.Cmd) (done []bool) {
	done = make([]bool, len(runs))
	ended := make(chan int, len(runs))
	for i, cmd := range runs {
		if err := cmd.Start(); err != nil {
			s.t.Fatal(err)
		}
		timer := time.AfterFunc(p.wait(), func() { cmd.Process.Kill() })
		go func() {
			cmd.Wait()
			timer.Stop()
			ended <- i
		}()
	}
	for range runs {
		i := <-ended
		switch state := runs[i].ProcessState; {
		case state.ExitCode() < 0:
			s.kills++
		case state.Success():
			done[i] = true
			s.other++
		default:
			s.other++
		}
		p.ended(runs[i].ProcessState.ExitCode() < 0)
	}
	return done
}

// Writers of a plan's life are killed like others, two at once: a plan is booked with its files or
// not at all, and whatever was acknowledged is there.
func TestPlansOutliveKills(t *testing.T) {
	rounds := killRounds(20)
	s := &ruinedShop{t: t, dir: newShopFolder(t, filepath.Join(t.TempDir(), "shop"))}
	out := planOfTwoBoards(t, s.dir)
	began := time.Now()
	if code, said := rackwright(t, "book", out, "--quiet"); code != exitDone {
		t.Fatal(said)
	}
	acknowledged, p := 1, paceOf(began, 11, 14)
	commands := [][]string{{"book", out}, {"receive", out}, {"rack", "undo", s.dir},
		{"receive", out, "march-buy-1"}, {"rack", "move", s.dir, "B-1", "C"},
		{"rack", "move", s.dir, "B-1", "D"}}
	for n := range rounds {
		var runs []*exec.Cmd
		for range 2 {
			c := commands[p.IntN(len(commands))]
			runs = append(runs, exec.Command("rackwright", slices.Concat(c, []string{"--quiet",
				"--date", "2027-03-02"})...))
		}
		for _, done := range s.kill(p, runs...) {
			if done {
				acknowledged++
			}
		}
		s.judge(n)
		b, err := book.Open(filepath.Join(s.dir, shopbook.BookFile))
		if err != nil {
			t.Fatal(err)
		}
		state, err := b.State()
		b.Close()
		if entered := int(state.Last) - 1; err != nil || entered < acknowledged ||
			entered > acknowledged+s.kills {
			t.Fatalf("round %d: %d events were acknowledged, %d runs killed, and %d are entered "+
				"(%v)", n, acknowledged, s.kills, entered, err)
		}
	}
	if s.kills < rounds/5 { // what is refused ends early
		t.Errorf("only %d runs were killed while they went on, %d ended before", s.kills, s.other)
	}
	t.Logf("%d runs were killed, %d ended before", s.kills, s.other)
}

// planOfTwoBoards is the out folder of a month of the shop folder of the tests, whose plan uses a
// board and buys another.
func planOfTwoBoards(t *testing.T, shop string) (out string) {
	t.Helper()
	lay(t, filepath.Join(shop, "march"), map[string]string{
		"parts.csv": "commission,part,qty,material,length,width,thickness\n" +
			"C-1,rail,2,pine,85,3,1\n"})
	lay(t, shop, map[string]string{"yard.csv": "material,section,length,price\npine,2x4,96,5\n"})
	if code, said := rackwright(t, "plan", filepath.Join(shop, "march"), "--quiet"); code !=
		exitDone {
		t.Fatal(said)
	}
	return filepath.Join(shop, "march", "out")
}

// judge looks at the book and the files as the writers left them, and once more after another run.
func (s *ruinedShop) judge(round int) {
	t := s.t
	t.Helper()
	b, err := book.Open(filepath.Join(s.dir, shopbook.BookFile))
	if err != nil {
		t.Fatalf("round %d: %v", round, err)
	}
	events, err := b.Events()
	if err != nil {
		t.Fatalf("round %d: %v", round, err)
	}
	state, err := b.State()
	if err != nil {
		t.Fatal(err)
	}
	if a := b.Audit(); len(a.Wrong) > 0 {
		t.Fatalf("round %d: %q", round, a.Wrong)
	}
	b.Close()
	came := map[string]bool{}
	for _, e := range events {
		for _, c := range e.Changes {
			came[c.ID()] = true
		}
	}
	for _, id := range s.done {
		if !came[id] {
			t.Fatalf("round %d: board %s was added, and the book has it not", round, id)
		}
	}
	s.whole(round, events, state)
	if code, said := rackwright(t, "rack", "take", s.dir, "--quiet"); code != exitDone {
		t.Fatalf("round %d: the files are not put right: %s", round, said)
	}
	if code, said := rackwright(t, "audit", s.dir, "--quiet"); code != exitDone {
		t.Fatalf("round %d: %s", round, said)
	}
}

// whole says that each file is the one written before the last event, or the one after it.
func (s *ruinedShop) whole(round int, events []book.Event, state book.State) {
	old, now := s.files(events[:state.Written]), s.files(events)
	for name := range now {
		is, err := fs.ReadFile(os.DirFS(s.dir), name)
		if err != nil || string(is) != string(old[name]) && string(is) != string(now[name]) {
			s.t.Fatalf("round %d: %s is neither old nor new (%v):\n%s", round, name, err, is)
		}
	}
}

func (s *ruinedShop) files(events []book.Event) map[string][]byte {
	rack, err := book.Rack(events)
	if err != nil {
		s.t.Fatal(err)
	}
	files, err := folder.EncodeRack(rack, model.Inch)
	if err != nil {
		s.t.Fatal(err)
	}
	return files
}

// A run that is killed while it makes the book leaves a whole book or none.
func TestBookIsMadeWhole(t *testing.T) {
	rounds := 12
	if testing.Short() {
		rounds = 4
	}
	var p *pace
	kills := 0
	for n := range rounds {
		s := &ruinedShop{t: t, dir: newShopFolder(t, filepath.Join(t.TempDir(), "shop"))}
		began := time.Now()
		cmd := s.writer("N-1")
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		if n > 0 {
			time.Sleep(p.wait())
			cmd.Process.Kill()
		}
		cmd.Wait()
		killed := cmd.ProcessState.ExitCode() < 0
		if n == 0 {
			p = paceOf(began, 8, 9)
			p.most /= 2
		} else {
			p.ended(killed)
		}
		if killed {
			kills++
		} else {
			s.done = []string{"N-1"}
		}
		// which makes the book where there is none
		if code, said := rackwright(t, "rack", "take", s.dir, "--quiet"); code != exitDone {
			t.Fatalf("round %d: %s", n, said)
		}
		s.judge(n)
		if is := names(t, s.dir); is != "book.db defects.csv rack.csv shop.toml" {
			t.Logf("round %d leaves %s", n, is)
		}
	}
	if kills < rounds/3 {
		t.Errorf("only %d of %d runs were killed while they went on", kills, rounds)
	}
}

// Writers that nobody kills do not hinder each other: all of them enter their events. Who reads a
// month meanwhile finds files that belong together and are as the book has them.
func TestManyWritersOfABook(t *testing.T) {
	s := &ruinedShop{t: t, dir: newShopFolder(t, filepath.Join(t.TempDir(), "shop"))}
	lay(t, filepath.Join(s.dir, "march"), map[string]string{
		"parts.csv": "commission,part,qty,material,length,width,thickness\n" +
			"C-1,rail,1,pine,40,3 1/2,1 1/2\n"})
	lay(t, s.dir, map[string]string{"yard.csv": "material,section,length,price\npine,2x4,96,5\n"})
	ended := make(chan error, 8)
	for n := range cap(ended) {
		go func() { ended <- s.writer(fmt.Sprint("N-", n)).Run() }()
	}
	for range 40 {
		if code, said := rackwright(t, "check", filepath.Join(s.dir, "march"), "--quiet"); code !=
			exitDone {
			t.Errorf("check, while others write, ends with %d and says:\n%s", code, said)
		}
		if code, said := rackwright(t, "rack", "list", s.dir, "--quiet"); code != exitDone ||
			said != "" {
			t.Errorf("list, while others write, ends with %d and says:\n%s", code, said)
		}
	}
	for range cap(ended) {
		if err := <-ended; err != nil {
			t.Error(err)
		}
	}
	for n := range cap(ended) {
		s.done = append(s.done, fmt.Sprint("N-", n))
	}
	s.judge(0)
}

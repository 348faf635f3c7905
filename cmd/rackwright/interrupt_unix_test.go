//go:build unix

package main

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"maps"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"rackwright/cmd/rackwright/place"
	"rackwright/io/folder"
	"rackwright/model"
)

// lid is a part that only one way of cutting gives, from one board alone: at the head of the parts
// list it is a group by itself that is planned first, and at once, whatever the others take.
const lid = "C-02 kitchen table,lid,1,cherry,4/4,90,7,3/4,show,,B-091,,"

// Interrupted once there is a plan, a run writes all of it, says so, and ends as if it had searched
// on to the end.
func TestInterrupted(t *testing.T) {
	for _, c := range []struct {
		signal os.Signal
		more   string // a row of parts.csv
		code   int
	}{
		{os.Interrupt, "", exitDone},
		{syscall.SIGTERM, "C-14 side tables pair,a part too long,1,white oak,6/4,400,2,1 " +
			"1/2,show,,,,\n",
			exitShort},
	} {
		shop := t.TempDir()
		job := filepath.Join(shop, "2027-03")
		if err := os.CopyFS(shop, os.DirFS("demo")); err != nil {
			t.Fatal(err)
		}
		parts := filepath.Join(job, "parts.csv")
		text, err := os.ReadFile(parts)
		if err != nil {
			t.Fatal(err)
		}
		header, rows, _ := strings.Cut(string(text), "\n")
		if err := os.WriteFile(parts, []byte(header+"\n"+lid+"\n"+rows+c.more), 0o666); err != nil {
			t.Fatal(err)
		}
		cmd := exec.Command("rackwright", "plan", job, "--work", "1000000000")
		stderr, err := cmd.StderrPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		hung := time.AfterFunc(5*time.Minute, func() { cmd.Process.Kill() })
		lines := bufio.NewScanner(stderr)
		var said []string
		for sent := false; lines.Scan(); {
			said = append(said, lines.Text())
			if !sent && strings.Contains(lines.Text(), ": net wood cost ") {
				sent = true
				if err := cmd.Process.Signal(c.signal); err != nil {
					t.Fatal(err)
				}
			}
		}
		cmd.Wait()
		hung.Stop()
		if got := cmd.ProcessState; got.ExitCode() != c.code ||
			!slices.Contains(said,
				"interrupted: this is the best plan that was ready by then; its bound is proven "+
					"all the same") {
			t.Errorf("%v: %v, and says:\n%s", c.signal, got, strings.Join(said, "\n"))
		}
		out := filepath.Join(job, "out")
		if got := slices.Sorted(maps.Keys(contents(t, out))); !slices.Equal(got,
			slices.Sorted(slices.Values(append(folder.PlanFiles(), folder.Page)))) ||
			strings.Contains(names(t, job), ".out") {
			t.Errorf("%v: out holds %v, and beside it is %s", c.signal, got, names(t, job))
		}
		if code, stderr := rackwright(t, "verify", out, "--job", job); code != exitDone {
			t.Errorf("%v: verify ends with %d and says:\n%s", c.signal, code, stderr)
		}
		_, plan, err := readPlan(out)
		if err != nil {
			t.Fatal(err)
		}
		if n := slices.IndexFunc(plan.Placements, func(p model.Placement) bool {
			return p.Board == "B-091"
		}); n < 0 || plan.Groups[0].Ended != model.Finished {
			t.Errorf("%v: the lid is not the first group", c.signal)
		}
		if !slices.ContainsFunc(plan.Groups, func(g model.Group) bool {
			return g.Ended == model.Interrupted
		}) {
			t.Errorf("%v: no group is said to be interrupted", c.signal)
		}
	}
}

// many is a job of many sizes on boards with many defects, all to be ripped, whose tables and
// searches take far longer than the tests wait; of each piece there are so many times as many.
func many(t *testing.T, times int) string {
	r := rand.New(rand.NewPCG(5, 7))
	var parts, rack, defects strings.Builder
	for n := range 300 {
		fmt.Fprintf(&parts, "C-%02d,p%d,%d,white pine,1x6,%d %d/16,%d %d/4,3/4,%s\n", r.IntN(9), n,
			(1+r.IntN(6))*times, 12+r.IntN(48), 1+r.IntN(15), 1+r.IntN(3), 1+r.IntN(3),
			[]string{"show", "sound", "hidden"}[r.IntN(3)])
	}
	for n := range 100 {
		long := 60 + r.IntN(130)
		fmt.Fprintf(&rack, "B-%03d,white pine,1x6,%d\n", n+1, long)
		for range 3 {
			from, left := r.IntN(long-4), r.IntN(4)
			fmt.Fprintf(&defects, "B-%03d,%d,%d,knot,%d,%d\n", n+1, from, from+1+r.IntN(2), left,
				left+1)
		}
	}
	dir := t.TempDir()
	lay(t, dir, map[string]string{
		"shop.toml": "units = \"in\"\nbatch = \"27\"\n[handling]\nboard = 0.40\n",
		"parts.csv": "commission,part,qty,material,section,length,width,thickness,face\n" +
			parts.String(),
		"rack.csv":    "board,material,section,length\n" + rack.String(),
		"defects.csv": "board,from,to,kind,left,right\n" + defects.String(),
		"yard.csv":    "material,section,length,price\nwhite pine,1x6,12',19.20\n"})
	return dir
}

// Whenever a large job is interrupted it ends soon, with a plan that verify accepts, or, where
// there was none yet, with nothing written; and by the clock it ends with a plan. How soon is not
// measured: the machine may have other work.
func TestLargeJobsEnd(t *testing.T) {
	for n, c := range []struct {
		times int
		after time.Duration
	}{{1, 20 * time.Millisecond}, {1, 300 * time.Millisecond}, {1, 900 * time.Millisecond},
		{1, 2500 * time.Millisecond}, {1, 0}, {9, 500 * time.Millisecond}, {9, 2 * time.Second},
		{9, 6 * time.Second}} {
		job, after := many(t, c.times), c.after
		out := filepath.Join(job, "out")
		cmd := exec.Command("rackwright", "plan", job)
		if after == 0 {
			cmd.Args = append(cmd.Args, "--time", "1s")
		}
		var said strings.Builder
		cmd.Stderr = &said
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		if after > 0 {
			time.Sleep(after)
			sent := []os.Signal{syscall.SIGTERM, os.Interrupt}[n%2]
			if err := cmd.Process.Signal(sent); err != nil {
				t.Fatal(err)
			}
		}
		hung := time.AfterFunc(time.Minute, func() { cmd.Process.Kill() })
		cmd.Wait()
		hung.Stop()
		code := cmd.ProcessState.ExitCode()
		// there may be no plan yet, nor any listening; of very many pieces none that is ready
		early := after > 0 && after < 2*time.Second || c.times > 1
		if early && (code == exitInterrupted || code < 0) {
			if _, err := os.Stat(out); err == nil {
				t.Errorf("after %v: no plan, yet something is written", after)
			}
			continue
		}
		if code != exitDone {
			t.Errorf("after %v: exit code %d, and says:\n%s", after, code, said.String())
			continue
		}
		if code, stderr := rackwright(t, "verify", out, "--job", job); code != exitDone {
			t.Errorf("after %v: verify ends with %d and says:\n%s", after, code, stderr)
		}
		_, plan, err := readPlan(out)
		if err != nil {
			t.Fatal(err)
		}
		want := model.Interrupted
		if after == 0 {
			want = model.Clock
		}
		if g := plan.Groups[0]; g.Ended != want {
			t.Errorf("after %v: the search is %s", after, g.Ended)
		}
	}
}

// A second signal ends the program at once, whatever it does: here it cannot go on, since nobody
// reads what it says.
func TestSecondSignal(t *testing.T) {
	full, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	defer full.Close()
	defer w.Close()
	all := bytes.Repeat([]byte("-"), 1<<24) // takes longer than one thinks on some machines
	w.SetWriteDeadline(time.Now().Add(time.Second))
	if n, err := w.Write(all); err == nil || n == 0 {
		t.Fatalf("the pipe is not full: %d bytes, %v", n, err)
	}
	dir := filepath.Join(t.TempDir(), "month")
	cmd := exec.Command("rackwright", "demo", dir)
	cmd.Stderr = w
	stdout, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	hung := time.AfterFunc(2*time.Minute, func() { cmd.Process.Kill() })
	defer hung.Stop()
	said := bufio.NewReader(stdout)
	// once it says something, it listens to signals
	if _, err := said.ReadString('\n'); err != nil {
		t.Fatal(err)
	}
	ended := make(chan struct{})
	go func() { io.Copy(io.Discard, said); cmd.Wait(); close(ended) }()
	for sent := 0; ; sent++ {
		cmd.Process.Signal(os.Interrupt)
		select {
		case <-ended:
			if s := cmd.ProcessState.Sys().(syscall.WaitStatus); !s.Signaled() ||
				s.Signal() != syscall.SIGINT || sent == 0 {
				t.Errorf("it ended by %v, after %d signals", cmd.ProcessState, sent+1)
			}
			if _, err := os.Stat(filepath.Join(dir, "2027-03", "out")); err == nil {
				t.Error("there is a plan")
			}
			return
		case <-time.After(50 * time.Millisecond):
		}
	}
}

// Through a link the folder it names is written, also when a killed run has left nothing there but
// the old plan beside it.
func TestLinkedOut(t *testing.T) {
	a, b := planned(t, jobA), planned(t, jobB)
	dir := t.TempDir()
	link, real := filepath.Join(dir, "job", "out"), filepath.Join(dir, "plans", "out")
	lay(t, filepath.Dir(link), nil)
	lay(t, place.OldOf(real), a)
	if err := os.Symlink(filepath.Join("..", "plans", "out"), link); err != nil {
		t.Fatal(err)
	}
	code, stderr := rackwright(t, "plan", jobB, "--out", link)
	if code != exitDone || !strings.Contains(stderr, "put back in "+real+"\n") ||
		!maps.Equal(contents(t, real), b) {
		t.Errorf("exit code %d, and says:\n%s", code, stderr)
	}
	if to, err := os.Readlink(link); err != nil || names(t, filepath.Dir(real)) != "out" {
		t.Errorf("the link is %q (%v), and in its folder are %s", to, err,
			names(t, filepath.Dir(real)))
	}
}

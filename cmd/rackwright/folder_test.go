package main

import (
	"bytes"
	"context"
	"errors"
	"io/fs"
	"maps"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"rackwright/cmd/rackwright/place"
	"rackwright/io/folder"
)

// Two jobs whose plans differ in every file but those that are empty in both.
const (
	jobA = "../../testdata/jobs/one-board"
	jobB = "../../testdata/jobs/mm-shop"
)

// rackwright runs the program in this process.
func rackwright(t *testing.T, args ...string) (code int, stderr string) {
	t.Helper()
	var out, err bytes.Buffer
	code = run(t.Context(), args, &out, &err)
	return code, err.String()
}

// contents are the files of a folder; nil when there is none.
func contents(t *testing.T, dir string) map[string]string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	files := map[string]string{}
	for _, f := range entries {
		data, err2 := os.ReadFile(filepath.Join(dir, f.Name()))
		err = errors.Join(err, err2)
		files[f.Name()] = string(data)
	}
	if err != nil {
		t.Fatal(err)
	}
	return files
}

func names(t *testing.T, dir string) string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for _, f := range entries {
		all = append(all, f.Name())
	}
	return strings.Join(all, " ")
}

// planned is what the plan of a job looks like on disk.
func planned(t *testing.T, job string) map[string]string {
	t.Helper()
	out := filepath.Join(t.TempDir(), "out")
	if code, stderr := rackwright(t, "plan", job, "--out", out, "--quiet"); code != exitDone {
		t.Fatalf("exit code %d: %s", code, stderr)
	}
	return contents(t, out)
}

func lay(t *testing.T, dir string, files map[string]string) {
	t.Helper()
	err := os.MkdirAll(dir, 0o777)
	for name, data := range files {
		err = errors.Join(err, os.WriteFile(filepath.Join(dir, name), []byte(data), 0o666))
	}
	if err != nil {
		t.Fatal(err)
	}
}

// Lines end with LF on every system.
func TestLineEnds(t *testing.T) {
	for name, text := range planned(t, jobB) {
		if strings.Contains(text, "\r") || !strings.HasSuffix(text, "\n") {
			t.Errorf("%s: its lines do not all end with LF:\n%q", name, text)
		}
	}
}

// Whatever a run that was killed between any two of its steps has left, the next one starts from a
// complete plan, names one that it puts back, and leaves nothing beside.
func TestLeftovers(t *testing.T) {
	a, b := planned(t, jobA), planned(t, jobB)
	half := map[string]string{"buy.csv": b["buy.csv"], "costs.csv": b["costs.csv"][:20]}
	for _, c := range []struct {
		state         string
		out, old, new map[string]string
		first         map[string]string // in out, once the next run has looked
		back          bool
	}{
		{"new begun, no plan before", nil, nil, half, nil, false},
		{"new begun", a, nil, half, a, false},
		{"new complete", a, nil, b, a, false},
		{"old moved away", nil, a, b, a, true},
		{"old moved away, the next run killed as it swept", nil, a, half, a, true},
		{"new in place", b, a, nil, b, false},
		{"new in place, old half removed", b, half, nil, b, false},
		{"an empty folder moved away", nil, map[string]string{}, b, nil, false},
	} {
		dir := t.TempDir()
		out := filepath.Join(dir, "out")
		for name, files := range map[string]map[string]string{"out": c.out, ".out.old": c.old,
			".out.new": c.new} {
			if files != nil {
				lay(t, filepath.Join(dir, name), files)
			}
		}
		lay(t, dir, map[string]string{".out.lock": ""}) // held by nobody
		code, stderr := rackwright(t, "plan", jobB, "--out", out, "--date", "no date")
		if code != exitBad || strings.Contains(stderr, "is put back in "+out+"\n") != c.back {
			t.Errorf("%s: exit code %d, and says:\n%s", c.state, code, stderr)
		}
		if got := contents(t, out); !maps.Equal(got, c.first) || (got == nil) != (c.first == nil) {
			t.Errorf("%s: the next run does not start from the plan that was complete, but from %v",
				c.state, slices.Sorted(maps.Keys(got)))
		}
		if code, stderr := rackwright(t, "plan", jobB, "--out", out, "--quiet"); code != exitDone ||
			!maps.Equal(contents(t, out), b) || names(t, dir) != "out" {
			t.Errorf("%s: after the next run, exit code %d, there is %s\n%s", c.state, code,
				names(t, dir), stderr)
		}
	}
}

// Files of the system's own are kept, wherever a killed run has left them.
func TestSystemFilesAreKept(t *testing.T) {
	a, b := planned(t, jobA), planned(t, jobB)
	own := map[string]string{".DS_Store": "view", "Thumbs.db": "pictures", "desktop.ini": "icon",
		".~lock.cuts.csv#": "maker", "~$buy.csv": "maker", "._rack.csv": "fork"}
	with := func(files map[string]string) map[string]string {
		all := maps.Clone(own)
		maps.Copy(all, files)
		return all
	}
	for _, c := range []struct {
		state         string
		out, old, new map[string]string
	}{
		{"a plan before", with(a), nil, nil},
		{"no plan before", own, nil, nil},
		{"killed: new begun", with(a), nil, b},
		{"killed: old moved away", nil, with(a), b},
		{"killed: old moved away, no plan before", nil, own, b},
		{"killed: new in place", b, with(a), nil},
		{"killed: new in place, old swept", b, own, nil},
	} {
		dir := t.TempDir()
		for name, files := range map[string]map[string]string{"out": c.out, ".out.old": c.old,
			".out.new": c.new} {
			if files != nil {
				lay(t, filepath.Join(dir, name), files)
			}
		}
		out := filepath.Join(dir, "out")
		if code, stderr := rackwright(t, "plan", jobB, "--out", out, "--quiet"); code != exitDone ||
			!maps.Equal(contents(t, out), with(b)) || names(t, dir) != "out" {
			t.Errorf("%s: exit code %d, there is %s with %s\n%s", c.state, code, names(t, dir),
				slices.Sorted(maps.Keys(contents(t, out))), stderr)
		}
	}
}

// A folder beside with one of our names but with files that are not ours is left alone, and said
// before any work.
func TestStrangerBeside(t *testing.T) {
	dir := t.TempDir()
	letter := map[string]string{"letter.txt": "Dear customer\n"}
	lay(t, filepath.Join(dir, ".out.new"), letter)
	code, stderr := rackwright(t, "plan", jobA, "--out", filepath.Join(dir, "out"))
	if code != exitBad || !strings.Contains(stderr, ".out.new") ||
		strings.Contains(stderr, "bound") {
		t.Errorf("exit code %d, and says:\n%s", code, stderr)
	}
	if got := contents(t, filepath.Join(dir, ".out.new")); !maps.Equal(got, letter) ||
		names(t, dir) != ".out.new" {
		t.Errorf("left are %s", names(t, dir))
	}
}

// While another run writes, a run waits, and says so when that takes too long.
func TestLocked(t *testing.T) {
	defer func(d time.Duration) { place.LockWait = d }(place.LockWait)
	place.LockWait = 100 * time.Millisecond
	dir := t.TempDir()
	out := filepath.Join(dir, "out")
	unlock, err := place.Lock(out)
	if err != nil {
		t.Fatal(err)
	}
	code, stderr := rackwright(t, "plan", jobA, "--out", out)
	if code != exitBad || !strings.Contains(stderr,
		out+": cannot be written (another run is writing there, or is halted while it does: ") ||
		strings.Contains(stderr, "bound") {
		t.Errorf("exit code %d, and says:\n%s", code, stderr)
	}
	place.LockWait = time.Minute
	time.AfterFunc(50*time.Millisecond, unlock)
	if code, stderr := rackwright(t, "plan", jobA, "--out", out, "--quiet"); code != exitDone ||
		names(t, dir) != "out" {
		t.Errorf("exit code %d, and there is %s\n%s", code, names(t, dir), stderr)
	}
}

// Interrupted before there is a plan, nothing is written and a plan from before stays.
func TestInterruptedBefore(t *testing.T) {
	a := planned(t, jobA)
	for _, args := range [][]string{{"plan", jobB, "--out", "OUT"}, {"compare", jobB}} {
		for _, before := range []map[string]string{nil, a} {
			dir := t.TempDir()
			out := filepath.Join(dir, "out")
			if before != nil {
				lay(t, out, before)
			}
			for i := range args {
				args[i] = strings.Replace(args[i], "OUT", out, 1)
			}
			ctx, cancel := context.WithCancel(t.Context())
			cancel()
			var stdout, stderr bytes.Buffer
			code := run(ctx, args, &stdout, &stderr)
			if code != exitInterrupted || stdout.Len() > 0 ||
				stderr.String() != "rackwright: interrupted before a plan was ready; nothing is "+
					"written\n" {
				t.Errorf("%v: exit code %d, and says:\n%s%s", args, code, &stdout, &stderr)
			}
			if got := contents(t, out); !maps.Equal(got, before) ||
				(before == nil && names(t, dir) != "") {
				t.Errorf("%v: there is %s", args, names(t, dir))
			}
		}
	}
}

// Killed at any moment, above all while it writes, a run leaves the old plan or the new one, byte
// for byte, or no folder and the old plan complete beside, which the next run puts back.
func TestKilled(t *testing.T) {
	jobs := []string{jobA, jobB}
	plans := []map[string]string{planned(t, jobA), planned(t, jobB)}
	dir := t.TempDir()
	out := filepath.Join(dir, "out")
	lay(t, out, plans[0])
	now := 0 // the plan that is there
	rng := rand.New(rand.NewPCG(1, 2))
	const runs = 200
	var seen struct{ old, fresh, missing, halfway, swapped int }
	writing := 20 * time.Millisecond
	for range runs {
		next := 1 - now
		freshBefore, _ := os.Lstat(place.NewOf(out))
		oldBefore, _ := os.Lstat(place.OldOf(out))
		cmd := exec.Command("rackwright", "plan", jobs[next], "--out", out, "--quiet")
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		ended := make(chan struct{})
		go func() { cmd.Wait(); close(ended) }()
		wait := time.Duration(rng.Int64N(int64(writing)))
		switch rng.IntN(8) {
		case 0: // anywhere
		case 1, 2: // about the renames
			await(place.NewOf(out), freshBefore, 50*time.Microsecond, ended)
			await(place.OldOf(out), oldBefore, 0, ended)
			cmd.Process.Kill()
		default: // anywhere in the writing
			await(place.NewOf(out), freshBefore, 50*time.Microsecond, ended)
		}
		began := time.Now()
		select {
		case <-time.After(wait):
			cmd.Process.Kill()
			<-ended
		case <-ended:
			// so that kills are spread over all of the writing
			writing = max(time.Since(began), 5*time.Millisecond)
		}
		if strings.Contains(names(t, dir), ".out.new") {
			seen.halfway++
		}
		if old, err := os.Lstat(place.OldOf(out)); err == nil &&
			(oldBefore == nil || !os.SameFile(old, oldBefore)) {
			seen.swapped++
		}
		got := contents(t, out)
		switch {
		case maps.Equal(got, plans[next]):
			now = next
			seen.fresh++
		case maps.Equal(got, plans[now]):
			seen.old++
		case got == nil && maps.Equal(contents(t, place.OldOf(out)), plans[now]):
			seen.missing++
			if _, stderr := rackwright(t, "plan", jobA, "--out", out, "--date",
				"no date"); !strings.Contains(stderr, "put back in "+out+"\n") ||
				!maps.Equal(contents(t, out), plans[now]) {
				t.Fatalf("the plan before is not put back: %s", stderr)
			}
		default:
			t.Fatalf("out is a mix: %v beside %s", slices.Sorted(maps.Keys(got)), names(t, dir))
		}
	}
	t.Logf("%d kills: %+v", runs, seen)
	if seen.halfway < runs/10 || seen.swapped == 0 || seen.fresh < runs/10 {
		t.Errorf("the kills do not fall into the writing: %+v", seen)
	}
	if code, stderr := rackwright(t, "plan", jobB, "--out", out, "--quiet"); code != exitDone ||
		names(t, dir) != "out" || !maps.Equal(contents(t, out), plans[1]) {
		t.Errorf("exit code %d, and there is %s\n%s", code, names(t, dir), stderr)
	}
}

// await waits until a folder is there that was not there before, or a run has ended.
func await(path string, before os.FileInfo, pause time.Duration, ended chan struct{}) {
	for {
		select {
		case <-ended:
			return
		default:
			now, err := os.Lstat(path)
			if err == nil && (before == nil || !os.SameFile(before, now)) {
				return
			}
			if err != nil {
				before = nil
			}
			time.Sleep(pause)
		}
	}
}

// Runs at once into one folder take turns: it holds the plan of one of them, and whoever reads
// meanwhile never finds a mix.
func TestAtOnce(t *testing.T) {
	a, b := planned(t, jobA), planned(t, jobB)
	dir := t.TempDir()
	out := filepath.Join(dir, "out")
	lay(t, out, a)
	readBack := func(files map[string]string) map[string]string {
		files = maps.Clone(files)
		maps.DeleteFunc(files, func(name, _ string) bool {
			return !slices.Contains(folder.PlanFiles(), name)
		})
		return files
	}
	planA, planB := readBack(a), readBack(b)
	done, read := make(chan struct{}), make(chan int)
	go func() {
		good := 0
		defer func() { read <- good }()
		for {
			select {
			case <-done:
				return
			default:
			}
			job, plan, err := readPlan(out)
			if err != nil {
				continue // the folder is being replaced
			}
			files, err := folder.Encode(job, plan)
			if err != nil {
				t.Error(err)
				return
			}
			got := map[string]string{}
			for name, data := range files {
				got[name] = string(data)
			}
			if !maps.Equal(got, planA) && !maps.Equal(got, planB) {
				t.Errorf("read is a mix: %v", got)
				return
			}
			good++
		}
	}()
	for range 6 {
		var all sync.WaitGroup
		for _, job := range []string{jobA, jobB, jobA, jobB} {
			all.Go(func() {
				if said, err := exec.Command("rackwright", "plan", job, "--out", out,
					"--quiet").CombinedOutput(); err != nil || len(said) > 0 {
					t.Errorf("%v: %s", err, said)
				}
			})
		}
		all.Wait()
		if got := contents(t, out); !maps.Equal(got, a) && !maps.Equal(got, b) ||
			names(t, dir) != "out" {
			t.Fatalf("there is %s; out holds %v", names(t, dir), got)
		}
	}
	close(done)
	if good := <-read; good == 0 {
		t.Error("no plan could be read while others were written")
	}
}

// A shop is written as a whole; what a killed run left of one, there or beside, is completed, and
// what is not the demo's stays as it is.
func TestHalfDemo(t *testing.T) {
	parts, err := demoFiles.ReadFile("demo/2027-03/parts.csv")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		in, file, text, refused string
	}{
		{"", "", "", ""},
		{".shop.new/2027-03", "parts.csv", string(parts[:len(parts)/2]), ""},
		{".shop.new", "note.txt", "Dear customer", "holds note.txt"},
		{"shop/2027-03", "parts.csv", string(parts[:len(parts)/2]), ""},
		{"shop/2027-03", "parts.csv", "", ""},
		{"shop/2027-03", "parts.csv", string(parts) + "\n", "2027-03/parts.csv is there already"},
		{"shop/2027-03", ".out.lock", "", ""},
		{"shop/designs", "stool.csv", "part,qty\n", "designs/stool.csv is there already"},
		{"shop/designs", "chair.csv", "", "holds designs/chair.csv"},
		{"shop/2027-03/parts.csv", "a.csv", "", "holds 2027-03/parts.csv"},
		{"shop", "book.db", "", "holds book.db"},
	} {
		above := t.TempDir()
		shop := filepath.Join(above, "shop")
		if c.in != "" {
			lay(t, filepath.Join(above, c.in), map[string]string{c.file: c.text})
		}
		err := writeDemo(shop)
		if c.refused != "" {
			if text, _ := os.ReadFile(filepath.Join(above, c.in, c.file)); err == nil ||
				!strings.Contains(err.Error(), c.refused) || string(text) != c.text {
				t.Errorf("%s/%s: %v, and it is %q", c.in, c.file, err, text)
			}
			continue
		}
		os.Remove(filepath.Join(shop, "2027-03", ".out.lock"))
		if err != nil || !maps.Equal(below(t, shop), below(t, "demo")) ||
			names(t, above) != "shop" {
			t.Errorf("%s/%s: %v; in the folder above are %s, in it %s", c.in, c.file, err,
				names(t, above), names(t, shop))
		}
	}
}

// below are the files of a folder and of those in it.
func below(t *testing.T, dir string) map[string]string {
	files := map[string]string{}
	err := fs.WalkDir(os.DirFS(dir), ".", func(name string, f fs.DirEntry, err error) error {
		if err == nil && !f.IsDir() {
			var data []byte
			data, err = os.ReadFile(filepath.Join(dir, name))
			files[name] = string(data)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

package main

import (
	"encoding/binary"
	"errors"
	"flag"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/rogpeppe/go-internal/testscript"
)

var update = flag.Bool("update", false,
	"write the outputs found into testdata/script; read the diff")

// TestMain lets the tests call the program as rackwright, in a process of its own.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"rackwright": main})
}

// The scripts run in a folder of their own, with the jobs of testdata/jobs copied to $JOBS.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "../../testdata/script",
		UpdateScripts:       *update,
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup: func(env *testscript.Env) error {
			jobs := filepath.Join(env.WorkDir, "jobs")
			env.Setenv("JOBS", jobs)
			env.Setenv("RLO", "\u202e") // turns the writing round
			return os.CopyFS(jobs, os.DirFS("../../testdata/jobs"))
		},
		Cmds: map[string]func(ts *testscript.TestScript, neg bool, args []string){
			"exits":  exits,
			"change": change,
			"list":   list,
			"fresh":  fresh,
			"says":   says,
			"write":  write,
			"recode": recode,
			"sparse": sparse,

			"session":  session,
			"pictured": pictured,
			"charted":  charted,
		},
	})
}

// exits CODE COMMAND...: the command ends with that code.
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits CODE COMMAND...")
	}
	code := 0
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		ended, ok := errors.AsType[*exec.ExitError](err)
		if !ok {
			ts.Fatalf("%v", err)
		}
		code = ended.ExitCode()
	}
	if want, err := strconv.Atoi(args[0]); err != nil || code != want {
		ts.Fatalf("exit code %d, not %s", code, args[0])
	}
}

// change FILE OLD NEW: the text, which stands there exactly once, is another; \n in them ends a
// line.
func change(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 3 {
		ts.Fatalf("usage: change FILE OLD NEW")
	}
	text, line := ts.ReadFile(args[0]), strings.NewReplacer(`\n`, "\n")
	before, after := line.Replace(args[1]), line.Replace(args[2])
	if n := strings.Count(text, before); n != 1 {
		ts.Fatalf("%s: %q stands there %d times", args[0], before, n)
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(strings.Replace(text, before, after, 1)),
		0o666))
}

// list DIR NAME...: the folder holds these names and no others, hidden ones included.
func list(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) == 0 {
		ts.Fatalf("usage: list DIR NAME...")
	}
	entries, err := fs.ReadDir(os.DirFS(ts.MkAbs(args[0])), ".")
	ts.Check(err)
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	if got, want := strings.Join(names, " "), strings.Join(args[1:], " "); got != want {
		ts.Fatalf("%s holds %s, not %s", args[0], got, want)
	}
}

// fresh DIR [JOB]: the folder is a copy of that job of testdata/jobs, two-commissions if none is
// named.
func fresh(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 1 || len(args) > 2 {
		ts.Fatalf("usage: fresh DIR [JOB]")
	}
	job := "two-commissions"
	if len(args) > 1 {
		job = args[1]
	}
	ts.Check(os.RemoveAll(ts.MkAbs(args[0])))
	ts.Check(os.CopyFS(ts.MkAbs(args[0]), os.DirFS("../../testdata/jobs/"+job)))
}

// says LINE...: the last command wrote exactly these lines to stderr.
func says(ts *testscript.TestScript, neg bool, args []string) {
	want := ""
	for _, a := range args {
		want += a + "\n"
	}
	if got := ts.ReadFile("stderr"); neg || got != want {
		ts.Fatalf("stderr is\n%snot\n%s", got, want)
	}
}

// write FILE [TIMES*]TEXT...: the file is these texts, each as often as said, with the escapes of
// Go such as \n and \xff in them.
func write(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) == 0 {
		ts.Fatalf("usage: write FILE [TIMES*]TEXT...")
	}
	var all strings.Builder
	for _, a := range args[1:] {
		times := 1
		if before, after, ok := strings.Cut(a, "*"); ok {
			if n, err := strconv.Atoi(before); err == nil {
				times, a = n, after
			}
		}
		text, err := strconv.Unquote(`"` + strings.ReplaceAll(a, `"`, `\"`) + `"`)
		ts.Check(err)
		all.WriteString(strings.Repeat(text, times))
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(all.String()), 0o666))
}

// recode FILE CODING: the file is in another coding of its text or of its line ends.
func recode(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: recode FILE bom|utf-16le|utf-16be|crlf|cr")
	}
	text := ts.ReadFile(args[0])
	var out []byte
	switch args[1] {
	case "bom":
		out = []byte("\ufeff" + text)
	case "crlf":
		out = []byte(strings.ReplaceAll(text, "\n", "\r\n"))
	case "cr":
		out = []byte(strings.ReplaceAll(text, "\n", "\r"))
	case "utf-16le", "utf-16be":
		var order binary.AppendByteOrder = binary.LittleEndian
		if args[1] == "utf-16be" {
			order = binary.BigEndian
		}
		for _, u := range utf16.Encode([]rune("\ufeff" + text)) {
			out = order.AppendUint16(out, u)
		}
	default:
		ts.Fatalf("no such coding")
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), out, 0o666))
}

// sparse FILE SIZE: the file has so many bytes, all 0, that take no room on the disk.
func sparse(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: sparse FILE SIZE")
	}
	size, err := strconv.ParseInt(args[1], 10, 64)
	ts.Check(err)
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), nil, 0o666))
	ts.Check(os.Truncate(ts.MkAbs(args[0]), size))
}

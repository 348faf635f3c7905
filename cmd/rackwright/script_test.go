package main

import (
	"context"
	"errors"
	"flag"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

var update = flag.Bool("update", false, "write the outputs found into testdata/script; read the diff")

// TestMain lets the scripts call the program as rackwright, in a process of its own.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"rackwright": func() { os.Exit(run(context.Background(), os.Args[1:], os.Stdout, os.Stderr)) },
	})
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
			return os.CopyFS(jobs, os.DirFS("../../testdata/jobs"))
		},
		Cmds: map[string]func(ts *testscript.TestScript, neg bool, args []string){
			"exits":  exits,
			"change": change,
			"list":   list,
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

// change FILE OLD NEW: the text, which stands there exactly once, is another; \n in them ends a line.
func change(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 3 {
		ts.Fatalf("usage: change FILE OLD NEW")
	}
	text, line := ts.ReadFile(args[0]), strings.NewReplacer(`\n`, "\n")
	before, after := line.Replace(args[1]), line.Replace(args[2])
	if n := strings.Count(text, before); n != 1 {
		ts.Fatalf("%s: %q stands there %d times", args[0], before, n)
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(strings.Replace(text, before, after, 1)), 0o666))
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

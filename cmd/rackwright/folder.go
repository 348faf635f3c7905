package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"rackwright/io/csvfile"
	"rackwright/io/planfile"
	"rackwright/model"
)

// The files of an out folder. It is written to a folder beside it first, which then takes its place: whoever looks finds the old
// one or the new one, never a mix; if the program is killed between the two renames, the old one stands beside and the next run puts it back.

// readJob reads a job folder and prints what is odd in it.
func (e *env) readJob(dir string) (*model.Job, error) {
	if info, err := os.Stat(dir); err != nil {
		return nil, refuse("%s: there is no such folder; name a job folder", dir)
	} else if !info.IsDir() {
		return nil, refuse("%s: is a file; name the job folder that it lies in", dir)
	}
	job, notes, err := csvfile.ReadJob(os.DirFS(dir))
	if err == nil && !e.quiet {
		for _, n := range notes {
			fmt.Fprintln(e.stderr, n)
		}
	}
	return job, err
}

// encode gives the bytes of every file of a plan.
func encode(job *model.Job, plan *model.Plan) (map[string][]byte, error) {
	u := job.Settings.Units
	files := map[string][]byte{}
	var errs []error
	file := func(name string, write func(w io.Writer) error) {
		var b bytes.Buffer
		errs = append(errs, write(&b))
		files[name] = b.Bytes()
	}
	file("cuts.csv", func(w io.Writer) error { return csvfile.WriteCuts(w, plan.Cuts, u) })
	file("buy.csv", func(w io.Writer) error { return csvfile.WriteBuy(w, plan.Buy, u) })
	file("rack.csv", func(w io.Writer) error { return csvfile.WriteRack(w, plan.Rack, u) })
	file("defects.csv", func(w io.Writer) error { return csvfile.WriteDefects(w, plan.Rack, u) })
	file("setups.csv", func(w io.Writer) error { return csvfile.WriteSetups(w, plan.Setups, u) })
	file("costs.csv", func(w io.Writer) error { return csvfile.WriteCosts(w, plan.Costs) })
	file("plan.json", func(w io.Writer) error { return planfile.Write(w, job, plan) })
	return files, errors.Join(errs...)
}

var planFiles = []string{"buy.csv", "costs.csv", "cuts.csv", "defects.csv", "plan.json", "rack.csv", "setups.csv"}

// readPlan reads an out folder back: the job it was made for, and the plan.
func readPlan(dir string) (*model.Job, *model.Plan, error) {
	f, err := os.Open(filepath.Join(dir, "plan.json"))
	if err != nil {
		return nil, nil, refuse("%s: no plan.json can be read there; name a folder that `rackwright plan` has written", dir)
	}
	defer f.Close()
	job, plan, err := planfile.Read(f)
	if err != nil {
		return nil, nil, err
	}
	rows, err := csvfile.ReadOut(os.DirFS(dir), job.Settings.Units)
	if err != nil {
		return nil, nil, err
	}
	plan.Cuts, plan.Buy, plan.Rack, plan.Setups, plan.Costs = rows.Cuts, rows.Buy, rows.Rack, rows.Setups, rows.Costs
	return job, plan, nil
}

// outFolder finds where a plan may be written, before any work is done, and puts back what a killed run left.
func (e *env) outFolder(out, jobDir string) (string, error) {
	if real, err := filepath.EvalSymlinks(out); err == nil {
		out = real
	}
	out, err := filepath.Abs(out)
	if err != nil {
		return "", refuse("%s: %v", out, err)
	}
	if _, err := os.Stat(out); errors.Is(err, fs.ErrNotExist) {
		if _, err := os.Stat(oldOf(out)); err == nil {
			if err := os.Rename(oldOf(out), out); err != nil {
				return "", refuse("%s: an earlier run was ended while it wrote, and what it left cannot be put back: %v", out, err)
			}
			fmt.Fprintf(e.stderr, "rackwright: an earlier run was ended while it wrote; the plan before it is put back in %s\n", out)
		}
	}
	info, err := os.Stat(out)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return out, nil
	case err != nil:
		return "", refuse("%s: cannot be reached (%v); name another folder with --out", out, reason(err))
	case !info.IsDir():
		return "", refuse("%s: is a file; name a folder for the plan with --out", out)
	}
	if job, err := os.Stat(jobDir); err == nil && os.SameFile(job, info) {
		return "", refuse("%s: is the job folder itself; the plan needs a folder of its own: leave --out away or name another", out)
	}
	entries, err := os.ReadDir(out)
	if err != nil {
		return "", refuse("%s: %v", out, err)
	}
	isPlan := len(entries) == 0
	for _, f := range entries {
		if !slices.Contains(planFiles, f.Name()) || !f.Type().IsRegular() {
			return "", refuse("%s: holds %s, which is no file of a plan; name another folder with --out, or an empty one", out, f.Name())
		}
		isPlan = isPlan || f.Name() == "plan.json"
	}
	if !isPlan {
		return "", refuse("%s: holds CSV files but no plan.json, so it is not a plan of this program; name another folder with --out", out)
	}
	return out, nil
}

// reason is what went wrong with a path, without the path.
func reason(err error) error {
	if p, ok := errors.AsType[*fs.PathError](err); ok {
		return p.Err
	}
	return err
}

func beside(out, what string) string {
	return filepath.Join(filepath.Dir(out), "."+filepath.Base(out)+"."+what)
}

func oldOf(out string) string { return beside(out, "old") }

// writeFolder puts files in place of a folder, all or nothing.
func writeFolder(out string, files map[string][]byte) (err error) {
	parent := filepath.Dir(out)
	if err := os.MkdirAll(parent, 0o777); err != nil {
		return err
	}
	fresh := beside(out, fmt.Sprint("new-", os.Getpid()))
	if err := os.Mkdir(fresh, 0o777); err != nil {
		return err
	}
	defer func() {
		if err != nil {
			os.RemoveAll(fresh)
		}
	}()
	for _, name := range sortedKeys(files) {
		if err := writeFile(filepath.Join(fresh, name), files[name]); err != nil {
			return err
		}
	}
	if err := syncFolder(fresh); err != nil {
		return err
	}
	old := oldOf(out)
	if err := os.RemoveAll(old); err != nil {
		return err
	}
	if err := os.Rename(out, old); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	if err := os.Rename(fresh, out); err != nil {
		return errors.Join(err, putBack(old, out))
	}
	if err := syncFolder(parent); err != nil {
		return err
	}
	return os.RemoveAll(old)
}

func putBack(old, out string) error {
	if err := os.Rename(old, out); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return nil
}

func writeFile(path string, data []byte) error {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	return errors.Join(err, f.Sync(), f.Close())
}

// syncFolder makes renames last; where folders cannot be synced it does nothing.
func syncFolder(dir string) error {
	f, err := os.Open(dir)
	if err != nil {
		return err
	}
	if err := f.Sync(); err != nil && !errors.Is(err, errors.ErrUnsupported) && !strings.Contains(err.Error(), "invalid") {
		f.Close()
		return err
	}
	return f.Close()
}

func sortedKeys(m map[string][]byte) []string {
	var keys []string
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"rackwright/cmd/rackwright/command"
	"rackwright/cmd/rackwright/place"
	"rackwright/cmd/rackwright/shopbook"
	"rackwright/io/folder"
	"rackwright/io/report"
	"rackwright/model"
)

// The files of a job folder and of an out folder; room place puts an out folder in place.

// readJob reads a job folder, with what it takes from its shop folder, and prints what is odd in
// it.
func (e *env) readJob(dir string) (*model.Job, error) {
	if info, err := os.Stat(dir); err != nil {
		if above := filepath.Dir(place.WholeOf(dir)); folder.WhyNoShop(os.DirFS(above)) == "" {
			return nil, command.Refuse(
				"%s: there is no such folder; `rackwright new %s` writes an "+
					"empty month, to be filled in", dir, report.ShellWord(dir))
		}
		return nil, command.Refuse("%s: there is no such folder; name a job folder", dir)
	} else if !info.IsDir() {
		return nil, command.Refuse("%s: is a file; name the job folder that it lies in", dir)
	}
	var job *model.Job
	var notes []model.Note
	err := e.UnlessInterrupted(func() (err error) {
		job, notes, err = shopbook.ReadMonth(&e.Env, dir)
		return err
	})
	if err == nil && job.Settings.Batch == "" {
		if job.Settings.Batch = model.BatchOf(place.NameOf(dir)); job.Settings.Batch == "" {
			notes = append(notes, model.Note{File: job.Source("shop.toml"), Column: "batch",
				Text: "the name of the job folder has no letter a to z and no digit for new ids; " +
					"write a batch that is another one each month"})
		}
	}
	if err == nil && !e.Quiet {
		for _, n := range notes {
			fmt.Fprintln(e.Stderr, n)
		}
	}
	return job, err
}

// readPlan reads an out folder back: the job it was made for, and the plan.
func readPlan(dir string) (*model.Job, *model.Plan, error) {
	none := command.Refuse(
		"%s: no plan.json can be read there; name a folder that `rackwright plan` "+
			"has written",
		dir)
	// held open, so that all files are of one plan though another be put in its place meanwhile
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, nil, none
	}
	defer root.Close()
	job, plan, err := folder.ReadPlan(root.FS())
	if errors.Is(err, folder.ErrNoPlan) {
		err = none
	}
	return job, plan, err
}

// outFolder finds where a plan may be written, before any work is done, and puts back what a killed
// run left.
func (e *env) outFolder(out, jobDir string) (string, error) {
	out, err := filepath.Abs(place.Follow(out))
	if err != nil {
		return "", command.Refuse("%s: %v", out, err)
	}
	unreached := func(err error) error {
		return command.Refuse("%s: cannot be reached (%v); name another folder with --out", out,
			command.Reason(err))
	}
	if _, err := os.Stat(out); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return "", unreached(err)
	}
	if back, err := place.Tidy(out); err != nil {
		return "", command.Refuse("%s: cannot be written (%v); put that right, or name another "+
			"folder with --out",
			out, err)
	} else if back {
		fmt.Fprintf(e.Stderr, "rackwright: an earlier run was ended while it wrote; the plan "+
			"before it is put back in %s\n",
			out)
	}
	info, err := os.Stat(out)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return out, nil
	case err != nil:
		return "", unreached(err)
	case !info.IsDir():
		return "", command.Refuse("%s: is a file; name a folder for the plan with --out", out)
	}
	if job, err := os.Stat(jobDir); err == nil && os.SameFile(job, info) {
		return "", command.Refuse(
			"%s: is the job folder itself; the plan needs a folder of its own: "+
				"leave out --out, or name another",
			out)
	}
	entries, err := os.ReadDir(out)
	if err != nil {
		return "", unreached(err)
	}
	entries = slices.DeleteFunc(entries, place.IsSystemFile)
	isPlan := len(entries) == 0
	for _, f := range entries {
		if !slices.Contains(folder.OutFiles(), f.Name()) || !f.Type().IsRegular() {
			return "", command.Refuse(
				"%s: holds %s, which is no file of a plan; name another folder with --out, or "+
					"an empty one",
				out, f.Name())
		}
		isPlan = isPlan || f.Name() == "plan.json"
	}
	if !isPlan {
		return "", command.Refuse(
			"%s: holds files of a plan but no plan.json, so it is not a plan of this "+
				"program; name another folder with --out",
			out)
	}
	if folder.FormFilled(os.DirFS(out)) {
		return "", command.Refuse(
			"%s: its %s is filled in, and would go with the old plan; enter it with `rackwright "+
				"done`, or move it out of the folder", out, folder.Form)
	}
	return out, nil
}

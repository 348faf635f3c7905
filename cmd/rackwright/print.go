package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"rackwright/cmd/rackwright/command"
	"rackwright/cmd/rackwright/place"
	"rackwright/io/papers"
	"rackwright/model"
	"rackwright/model/check"
)

type printCommand struct {
	Outdir string `arg:"" help:"Folder that a plan was written to."`
	Paper  string `help:"Size of the paper, a4 or letter. Left out, it is letter in an inch shop, a4 in a mm shop." enum:"a4,letter," default:"" placeholder:"SIZE"`
	To     string `help:"Folder for the papers; OUTDIR if left out, where a new plan replaces them." placeholder:"DIR"`
	From   int64  `help:"First label that is free on a sheet in use, counted row by row." default:"1" placeholder:"N"`
}

func (c *printCommand) Help() string {
	return `Example: rackwright print shop/2027-03/out --from 9

Writes what a maker carries: yard.pdf is what to buy, saw.pdf the order of work with a drawing
of each board, bench.pdf a sheet for each commission, labels.pdf a label for each bought board, blank
and offcut. See ` + "`rackwright help papers`."
}

func (c *printCommand) Run(e *env) error {
	const stamp = "plan.json"
	then, _ := os.ReadFile(filepath.Join(c.Outdir, stamp))
	job, plan, err := readPlan(c.Outdir)
	if err != nil {
		return err
	}
	if each := job.Settings.Labels.Columns * job.Settings.Labels.Rows; c.From < 1 || c.From > each {
		return command.Refuse(
			"--from %d: a sheet has %d labels; write a number from 1 to %d", c.From, each,
			each)
	}
	files, err := c.encode(e, job, plan)
	if err != nil {
		return err
	}
	to, isOut := c.To, c.To == "" || sameFolder(c.To, c.Outdir)
	if c.To == "" {
		to = c.Outdir
	}
	whole, err := filepath.Abs(place.Follow(to))
	if err != nil {
		return command.Refuse("%s: %v", to, err)
	}
	err = writePapers(whole, isOut, files, func() error {
		if now, err := os.ReadFile(filepath.Join(c.Outdir, stamp)); isOut &&
			(err != nil || !bytes.Equal(now, then)) {
			return errors.New("another plan was put there meanwhile")
		}
		return nil
	})
	if err != nil {
		return command.Refuse(
			"%s: the papers cannot be written (%v); the folder is as it was: put that "+
				"right, or name another with --to", to, err)
	}
	if !e.Quiet {
		fmt.Fprintln(e.Stdout, "Written, to be printed at full size:")
		for _, p := range papers.All() {
			fmt.Fprintf(e.Stdout, "  %s\n", filepath.Join(to, p.File))
		}
	}
	return nil
}

// encode gives the bytes of all papers of a plan that passes the checks.
func (c *printCommand) encode(e *env, job *model.Job, plan *model.Plan) (map[string][]byte, error) {
	var files map[string][]byte
	err := e.Interruptible(func() (err error) {
		if _, found := check.Check(job, plan); len(found) > 0 {
			return command.Refuse(
				"%s: the plan is rejected (%s: %s), and nobody should cut by it; see "+
					"`rackwright verify`, and plan the job anew", c.Outdir, found[0].Where,
				found[0].What)
		}
		files, err = encodePapers(job, plan, papers.Options{Paper: model.Paper(c.Paper),
			Job: jobName(c.Outdir, plan), From: c.From})
		return err
	}, "%s: no paper is written", c.Outdir)
	if err != nil {
		return nil, err // they may still be under way
	}
	return files, nil
}

// sameFolder says whether two paths lead to the same folder.
func sameFolder(a, b string) bool {
	x, errX := os.Stat(a)
	y, errY := os.Stat(b)
	return errX == nil && errY == nil && os.SameFile(x, y)
}

// jobName is the name of the job folder that an out folder lies in, or else its own.
func jobName(out string, plan *model.Plan) string {
	name, first := place.NameOf(out), place.NameOf(out)
	if r := plan.Revision; r != nil {
		first = strings.TrimSuffix(name, fmt.Sprintf("-%d", r.Number))
	}
	if whole, err := filepath.Abs(place.Follow(out)); err == nil && first == "out" {
		return filepath.Base(filepath.Dir(whole))
	}
	return name
}

func encodePapers(job *model.Job, plan *model.Plan, opt papers.Options) (map[string][]byte, error) {
	files := map[string][]byte{}
	for _, p := range papers.All() {
		var b bytes.Buffer
		if err := p.Write(&b, job, plan, opt); err != nil {
			return nil, fmt.Errorf("%s: %w", p.File, err)
		}
		files[p.File] = b.Bytes()
	}
	return files, nil
}

// writePapers puts papers into a folder, all or none: they are written to a stage first, each then
// takes the place of the one before. Just ahead of that, with nobody else writing there, ready may
// refuse. After an error the folder is as it was. After a run that was killed meanwhile each paper
// is whole, some of them perhaps still those before.
//
// The stage of an out folder lies beside it, as all that place writes. Any other folder has it
// inside: its own disk may be another one than that of the folder above.
func writePapers(dir string, isOut bool, files map[string][]byte, ready func() error) (err error) {
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return err
	}
	stage, locked := place.Beside(dir, "papers"), dir
	if !isOut {
		locked = filepath.Join(dir, "rackwright-papers")
		stage = place.Beside(locked, "new")
	}
	unlock, err := place.Lock(locked)
	if err != nil {
		return err
	}
	defer unlock()
	if err := ready(); err != nil {
		return err
	}
	if err := sweepPapers(stage); err != nil { // of a killed run
		return err
	}
	if err := os.Mkdir(stage, 0o777); err != nil {
		return err
	}
	defer func() { err = errors.Join(err, sweepPapers(stage)) }()
	for _, name := range paperNames() {
		if err := errors.Join(foreign(filepath.Join(dir, name)),
			place.WriteFile(filepath.Join(stage, name), files[name])); err != nil {
			return err
		}
	}
	err = errors.Join(place.SyncFolder(stage), swapFiles(dir, stage, paperNames()))
	if err != nil {
		return err
	}
	return place.SyncFolder(dir)
}

// before is the name on a stage of a paper that is there already.
func before(name string) string { return "before-" + name }

// sweepPapers removes a stage. Anything else in it is not ours and stays, which is an error.
func sweepPapers(stage string) error {
	for _, name := range paperNames() {
		for _, n := range []string{name, before(name)} {
			if err := os.Remove(filepath.Join(stage, n)); err != nil &&
				!errors.Is(err, fs.ErrNotExist) {
				return err
			}
		}
	}
	if err := os.Remove(stage); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return nil
}

// swapFiles moves files from one folder into another. After an error those that were there are
// there again.
func swapFiles(dir, from string, names []string) (err error) {
	var done []string
	defer func() {
		if err == nil {
			return
		}
		for _, name := range done {
			at, old := filepath.Join(dir, name), filepath.Join(from, before(name))
			back := place.Rename(old, at)
			if errors.Is(back, fs.ErrNotExist) {
				back = os.Remove(at)
			}
			if back != nil {
				err = fmt.Errorf("%w; nor can %s be put back: %w", err, name, back)
			}
		}
	}()
	for _, name := range names {
		at := filepath.Join(dir, name)
		if data, err := os.ReadFile(at); err == nil {
			if err := place.WriteFile(filepath.Join(from, before(name)), data); err != nil {
				return err
			}
		} else if !errors.Is(err, fs.ErrNotExist) {
			return err
		}
	}
	for _, name := range names {
		if err := place.Rename(filepath.Join(from, name), filepath.Join(dir, name)); err != nil {
			return err
		}
		done = append(done, name)
	}
	return nil
}

// foreign is an error where a file is there that is no paper of this program.
func foreign(path string) error {
	data, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err == nil && !papers.IsOurs(data) {
		err = fmt.Errorf("%s is there and is none of them", filepath.Base(path))
	}
	return err
}

// paperNames are the files of all papers.
func paperNames() (out []string) {
	for _, p := range papers.All() {
		out = append(out, p.File)
	}
	return out
}

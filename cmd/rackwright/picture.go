package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strconv"

	"rackwright/cmd/rackwright/command"
	"rackwright/cmd/rackwright/place"
	"rackwright/io/drawing"
	"rackwright/io/layout"
	"rackwright/io/report"
	"rackwright/model"
)

// pictureDots are the dots to an inch of a PNG.
const pictureDots = 200

// pictures writes the drawing of a board to the files asked for.
func (c *showCommand) pictures(e *env, job *model.Job, plan *model.Plan) error {
	all := layout.Boards(job, plan)
	l := all[slices.IndexFunc(all, func(l *layout.Board) bool { return l.ID == c.Board })]
	scene := drawing.Board(l, &job.Settings, around(job, plan, l))
	for _, form := range []struct {
		file string
		draw func(w io.Writer) error
	}{
		{c.SVG, scene.SVG},
		{c.PNG, func(w io.Writer) error { return scene.PNG(w, pictureDots) }},
	} {
		if form.file == "" {
			continue
		}
		var b bytes.Buffer
		if err := form.draw(&b); err != nil {
			return command.Refuse("%s: %v", form.file, err)
		}
		if err := e.put(form.file, b.Bytes(), c.Outdir); err != nil {
			return err
		}
	}
	return nil
}

// around is all that stands around a drawing in a file of its own: which board it is, its cuts in
// order, and the cautions.
func around(job *model.Job, plan *model.Plan, l *layout.Board) drawing.Options {
	opt := drawing.Options{Alone: true, Head: []string{report.BoardInWords(job, l)}}
	for _, text := range report.AboveCuts(job, l) {
		opt.Foot = append(opt.Foot, drawing.KeyLine{Text: text})
	}
	for n, text := range report.CutsInWords(job, l) {
		if text != "" {
			opt.Foot = append(opt.Foot, drawing.KeyLine{Letter: strconv.Itoa(n + 1), Text: text})
		}
	}
	for _, text := range report.Cautions(job, report.Only(plan, l)) {
		opt.Foot = append(opt.Foot, drawing.KeyLine{Text: text})
	}
	return opt
}

// put writes one file, all of it or none, and says so. The folder of a plan holds its plan only.
func (e *env) put(file string, data []byte, outdir string) error {
	path, err := filepath.Abs(place.Follow(file))
	if err != nil {
		return command.Refuse("%s: %v", file, err)
	}
	dir := filepath.Dir(path)
	in, here := os.Stat(dir)
	plan, there := os.Stat(outdir)
	if here == nil && there == nil && os.SameFile(in, plan) {
		return command.Refuse(
			"%s: would lie among the files of the plan; name a file elsewhere", file)
	}
	if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() {
		return command.Refuse(
			"%s: is there and is no file that can be written anew; name another", file)
	}
	if err := place.ReplaceFile(path, data); err != nil {
		return command.Refuse(
			"%s: cannot be written (%v); put that right, or name another file", file,
			command.Reason(err))
	}
	if !e.Quiet {
		fmt.Fprintf(e.Stderr, "rackwright: written to %s\n", file)
	}
	return nil
}

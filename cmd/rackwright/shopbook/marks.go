package shopbook

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"rackwright/cmd/rackwright/command"
	"rackwright/io/folder"
	"rackwright/model"
)

// The form in which a maker marks what was cut.

// readMarks reads the form.
func (s *sawn) readMarks(e *command.Env, path string, job *model.Job, plan *model.Plan) error {
	if _, err := os.Stat(path); err != nil {
		return command.Refuse("%s: cannot be read (%v); name the plan's %s or a copy of it, "+
			"filled in", path, command.Reason(err), folder.Form)
	}
	root, err := os.OpenRoot(filepath.Dir(path))
	if err != nil {
		return command.Refuse("%s: cannot be read (%v)", path, command.Reason(err))
	}
	defer root.Close()
	marks, notes, err := folder.ReadMarks(root.FS(), filepath.Base(path), job, plan)
	for _, n := range notes {
		if n.File = path; !e.Quiet {
			fmt.Fprintln(e.Stderr, n)
		}
	}
	if list, is := errors.AsType[model.InputErrors](err); is {
		for _, m := range list {
			m.File = path
		}
	}
	for i := range marks {
		marks[i].Where.File = path
	}
	s.marks = marks
	return err
}

// judgeMarks refuses marks of boards that cannot be cut, and says which are passed over: those of
// boards that are cut already, as a form may be filled in day by day, and of boards not named.
func (s *sawn) judgeMarks(e *command.Env, boards []string) error {
	var m model.Mistakes
	var cut, other []string
	to := func(list *[]string, id string) {
		if !slices.Contains(*list, id) {
			*list = append(*list, id)
		}
	}
	for i := range s.marks {
		k := &s.marks[i]
		switch {
		case k.State == "" && k.Measured == 0 && k.MeasuredWidth == 0 && len(k.Defects) == 0,
			slices.Contains(boards, k.Board):
		case slices.Contains(s.plan.Done, k.Board):
			to(&cut, k.Board)
		case slices.Contains(s.plan.Here, k.Board):
			to(&other, k.Board)
		default:
			m.Add(&model.InputError{Code: model.CodeUnknownBoard, File: k.Where.File,
				Line: k.Where.Line, Column: "board", Cause: "it is marked, and " +
					s.notHere(k.Board), Remedy: "take out what is marked of it, or enter that it " +
					"came"})
		}
	}
	if err := m.Err(); err != nil || e.Quiet {
		return err
	}
	if len(cut) > 0 {
		fmt.Fprintf(e.Stderr, "rackwright: passed over is what is marked of boards that are "+
			"entered as cut already: %s\n", few(cut))
	}
	if len(other) > 0 {
		fmt.Fprintf(e.Stderr, "rackwright: passed over is what is marked of boards that are not "+
			"named: %s\n", few(other))
	}
	return nil
}

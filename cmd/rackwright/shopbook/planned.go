package shopbook

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"rackwright/cmd/rackwright/command"
	"rackwright/cmd/rackwright/place"
	"rackwright/io/book"
	"rackwright/io/folder"
	"rackwright/io/report"
	"rackwright/model"
	"rackwright/model/check"
	"rackwright/model/proof"
)

// The plans of a shop's book, by the out folders that they were written to.

// outFolder is where a plan lies, or lay before its folder was removed.
type outFolder struct {
	dir  string // as it was named
	shop string // the shop folder
	plan string // what the book calls the plan: its folder from the shop folder on, by slashes
}

// outOf finds the shop folder of an out folder, which lies in a month folder of it. It need not be
// there any more.
func outOf(dir string) (*outFolder, error) {
	whole := place.WholeOf(dir)
	month := filepath.Dir(whole)
	shop := filepath.Dir(month)
	o := &outFolder{dir, command.FromHere(shop), filepath.Base(month) + "/" + filepath.Base(whole)}
	why := "it lies in no folder of a shop folder"
	if shop != month {
		if why = folder.WhyNoShop(os.DirFS(shop)); why == "" && !book.ValidPlan(o.plan) {
			why = "its name cannot stand in a book"
		} else if why != "" {
			why = fmt.Sprintf("%s %s", o.shop, why)
		}
	}
	if why != "" {
		return nil, command.Refuse("%s: its plan can be in no book, as %s; plan a month folder of "+
			"a shop folder without --out, and name the folder out in that", dir, why)
	}
	return o, nil
}

// month is the name of the month folder.
func (o *outFolder) month() string {
	name, _, _ := strings.Cut(o.plan, "/")
	return name
}

// path is the folder of another plan of the same shop, as it can be typed.
func (o *outFolder) path(plan string) string { return planPath(o.shop, plan) }

func planPath(shop, plan string) string { return filepath.Join(shop, filepath.FromSlash(plan)) }

// Written is a plan as it was written, and the job that it is for.
type Written struct {
	Job   *model.Job
	Plan  *model.Plan
	Files book.Files
}

// readWritten reads a plan out of its folder, all files once, so that what is judged is what is
// kept.
func readWritten(dir string) (*Written, error) {
	none := command.Refuse("%s: no plan.json can be read there; name a folder that "+
		"`rackwright plan` has written", dir)
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, none
	}
	defer root.Close()
	w := &Written{Files: book.Files{}}
	for _, name := range folder.PlanFiles() {
		text, err := root.ReadFile(name)
		if errors.Is(err, os.ErrNotExist) {
			continue // told when it is read back
		}
		if err != nil {
			return nil, command.Refuse("%s: cannot be read (%v); put that right",
				filepath.Join(dir, name), command.Reason(err))
		}
		w.Files[name] = text
	}
	w.Job, w.Plan, err = folder.ReadPlan(w.Files)
	if errors.Is(err, folder.ErrNoPlan) {
		err = none
	}
	return w, err
}

// judged reads a plan, and refuses one that `rackwright verify` would reject.
func judged(e *command.Env, dir string) (w *Written, err error) {
	var found []model.Finding
	err = e.Interruptible(func() (err error) {
		if w, err = readWritten(dir); err != nil {
			return err
		}
		if found = Judge(w.Job, w.Plan); len(found) > 0 {
			return nil
		}
		return folder.CheckForm(w.Files, w.Job, w.Plan)
	}, "%s: the plan is not judged, and nothing is entered", dir)
	if err != nil {
		return nil, err
	}
	for _, f := range found {
		fmt.Fprintf(e.Stderr, "%s: %s\n", f.Where, f.What)
	}
	if len(found) > 0 {
		return nil, command.Refuse("%s: the plan is rejected, and nothing is entered; plan the "+
			"month anew", dir)
	}
	return w, nil
}

// Judge says what is wrong with a plan: a cut, a count, a cost, or its bound.
func Judge(job *model.Job, plan *model.Plan) []model.Finding {
	reading, found := check.Check(job, plan)
	return append(found, proof.Bounds(reading)...)
}

// booked is a plan that is booked, and the other plans of the shop.
type booked struct {
	*book.Life
	lives []book.Life
}

// booked finds a plan that is booked and whose place no later revision has taken.
func (s *shopBook) booked(o *outFolder) (*booked, error) {
	lives, err := s.lives()
	if err != nil {
		return nil, err
	}
	l := book.Find(lives, o.plan)
	switch {
	case l == nil:
		return nil, o.unknown(lives)
	case l.Replaced:
		return nil, command.Refuse("%s: a later revision of this plan is booked; name that: %s",
			o.dir, o.path(revisionOf(lives, l.Plan)))
	}
	return &booked{l, lives}, nil
}

// revisionOf is the last revision of a plan.
func revisionOf(lives []book.Life, plan string) string {
	for i := range lives { // a revision is booked after the plan whose place it takes
		if lives[i].Of == plan {
			plan = lives[i].Plan
		}
	}
	return plan
}

// lives are the plans that are booked; none where there is no book.
func (s *shopBook) lives() ([]book.Life, error) {
	if s.book == nil {
		return nil, nil
	}
	lives, err := s.book.Lives()
	if err != nil {
		return nil, s.unsound(err)
	}
	return lives, nil
}

// InShop says whether the plan of an out folder can be booked where it lies.
func InShop(dir string) bool {
	_, err := outOf(dir)
	return err == nil
}

// NotBooked refuses a folder whose plan is booked, so that no other takes its place there.
func NotBooked(dir string) error {
	return WhileNotBooked(dir, func() error { return nil })
}

// WhileNotBooked does something with a folder, unless its plan is booked: that is refused. It is
// not booked meanwhile either.
func WhileNotBooked(dir string, do func() error) error {
	o, err := outOf(dir)
	if err != nil {
		return do() // in no shop folder, so in no book
	}
	s := &shopBook{dir: o.shop} // its files are not of interest, nor what may be wrong with them
	if !s.hasBook() {
		return do()
	}
	if err := s.still(); err != nil {
		return err
	}
	if s.unlock != nil {
		defer s.unlock()
	}
	if err := s.open(); err != nil {
		return err
	}
	defer s.book.Close()
	lives, err := s.lives()
	if err != nil {
		return err
	}
	if err := o.notBooked(lives, dir); err != nil {
		return err
	}
	return do()
}

func (o *outFolder) notBooked(lives []book.Life, dir string) error {
	l := book.Find(lives, o.plan)
	if l == nil {
		return o.notMoved(lives)
	}
	if l.Replaced {
		return command.Refuse("%s: its plan is booked, and stays; `rackwright replan %s` plans what "+
			"is left of its last revision; or name another folder with --out", dir,
			report.ShellWord(o.path(revisionOf(lives, l.Plan))))
	}
	return command.Refuse("%s: its plan is booked, and stays; `rackwright replan %s` plans what "+
		"is left of it, `rackwright rack undo %s --event %d` takes it back; or name another "+
		"folder with --out", dir, report.ShellWord(command.FromHere(dir)),
		report.ShellWord(o.shop), l.Event)
}

// ofMonth says whether a plan is one of the month folder of that name.
func ofMonth(plan, month string) bool {
	name, _, _ := strings.Cut(plan, "/")
	return name == month
}

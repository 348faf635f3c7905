package shopbook

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"rackwright/cmd/rackwright/command"
	"rackwright/io/book"
	"rackwright/io/folder"
	"rackwright/io/outcome"
	"rackwright/io/report"
	"rackwright/model"
)

// Done is the command that enters what became of boards of a booked plan that were cut.
type Done struct {
	Outdir string   `arg:"" help:"Folder of the booked plan."`
	Board  []string `arg:"" optional:"" help:"Boards that were cut; left out: all that are here and not cut yet."`
	Marks  string   `help:"The plan's form marks.csv, or a copy of it, filled in." placeholder:"FILE"`
	dated
}

// Help shows how it is typed.
func (c *Done) Help() string {
	return `Examples:
  rackwright done shop/2027-03/out
  rackwright done shop/2027-03/out B-062 2027-03-buy-1
  rackwright done shop/2027-03/out --marks shop/2027-03/out/marks.csv

Boards were cut as planned, unless the form says otherwise: a piece was spoiled or not cut, an
offcut has another length or a defect, a board is not cut to its end.`
}

// Run enters it.
func (c *Done) Run(e *command.Env) error {
	out, err := outOf(c.Outdir)
	if err != nil {
		return err
	}
	// one that is read is no danger: it is what it says
	if filled := folder.FormFilled(os.DirFS(c.Outdir)); filled && c.Marks == "" {
		form := filepath.Join(c.Outdir, folder.Form)
		return command.Refuse("%s: it is filled in; `rackwright done %s --marks %s` enters it, "+
			"or move it out of the folder if all was cut as planned", form,
			report.ShellWord(c.Outdir), report.ShellWord(form))
	}
	var s sawn
	err = enter(e, out.shop, &c.dated, false, func(b *shopBook, date string) (book.Event, error) {
		plan, err := b.booked(out)
		if err != nil {
			return book.Event{}, err
		}
		s = sawn{shop: b, plan: plan, dir: c.Outdir}
		if err := c.read(e, &s, date); err != nil {
			return book.Event{}, err
		}
		event, err := b.book.Enter(book.Event{Date: date, Kind: book.Cut, Plan: plan.Plan,
			Done: s.outcome.Done, Changes: s.outcome.Changes})
		if err == nil {
			s.now, err = b.lives()
		}
		if err == nil {
			s.rack, err = b.book.Rack()
		}
		return event, err
	})
	if err != nil || e.Quiet {
		return err
	}
	return s.tell(e)
}

// sawn is what became of boards of a plan.
type sawn struct {
	shop    *shopBook
	plan    *booked
	dir     string
	job     *model.Job // as the book keeps it, with its plan
	written *model.Plan
	marks   []model.Marked
	outcome *outcome.Outcome
	now     []book.Life // after it is entered, as the rack
	rack    []model.Board
}

// read finds what became of the boards, by the plan as the book keeps it, and by the form.
func (c *Done) read(e *command.Env, s *sawn, date string) error {
	boards, err := s.boards(c.Board)
	if err != nil {
		return err
	}
	files, err := s.shop.book.PlanFiles(s.plan.Files)
	if err != nil {
		return s.shop.unsound(err)
	}
	job, plan, err := folder.ReadPlan(files)
	if err != nil {
		return command.Refuse("%s: the plan that the book keeps cannot be read (%v)", c.Outdir, err)
	}
	if c.Marks != "" {
		if err := s.readMarks(e, c.Marks, job, plan); err != nil {
			return err
		}
		if err := s.judgeMarks(e, boards); err != nil {
			return err
		}
	}
	rack, err := s.shop.book.Rack()
	if err != nil {
		return s.shop.unsound(err)
	}
	s.job, s.written = job, plan
	s.outcome, err = (&outcome.Cutting{Job: job, Plan: plan, Shop: &s.shop.settings, Rack: rack,
		Boards: boards, Marks: s.marks, Date: date}).Outcome()
	if err != nil {
		return err
	}
	if len(s.outcome.Changes) == 0 {
		return command.Refuse("%s: nothing was cut, and nothing else is marked; nothing is entered",
			c.Outdir)
	}
	for _, n := range s.outcome.Notes {
		if !e.Quiet {
			fmt.Fprintln(e.Stderr, n)
		}
	}
	return nil
}

// boards are those named, or all that are here; each is one of the plan that is not cut yet.
func (s *sawn) boards(named []string) ([]string, error) {
	if len(named) == 0 {
		if len(s.plan.Here) == 0 {
			return nil, command.Refuse("%s: none of its boards is here and not cut yet%s; nothing "+
				"is entered", s.dir, s.waits())
		}
		return s.plan.Here, nil
	}
	for _, id := range named {
		if why := s.notHere(id); why != "" {
			return nil, command.Refuse("board %q %s; nothing is entered", id, why)
		}
	}
	return named, nil
}

// waits says which boards are yet to come.
func (s *sawn) waits() string {
	if ids := slices.Concat(s.plan.Expected, s.plan.Missing); len(ids) > 0 {
		return ", and these have not come, as far as the book knows (" + few(ids) +
			"): `rackwright receive " + report.ShellWord(s.dir) + "` enters that they did"
	}
	return ""
}

// notHere says why a board cannot be cut, or nothing.
func (s *sawn) notHere(id string) string {
	l := s.plan
	history := "`rackwright rack history " + s.shop.typed() + " " + report.ShellWord(id) + "`"
	switch has := func(ids []string) bool { return slices.Contains(ids, id) }; {
	case has(l.Here):
		return ""
	case has(l.Done):
		return "is entered as cut already: " + history + " tells when"
	case has(l.Expected), has(l.Missing):
		return "has not come, as far as the book knows: `rackwright receive " +
			report.ShellWord(s.dir) + " " + report.ShellWord(id) + "` enters that it did"
	case has(l.Gone):
		return "is off the rack: " + history + " tells why"
	}
	all := slices.Concat(l.Here, l.Done, l.Expected, l.Missing, l.Gone)
	if len(all) == 0 {
		return "is none of plan " + l.Plan
	}
	return "is none of plan " + l.Plan + "; the nearest is " + model.Nearest(id, all)
}

// tell says what to type next.
func (s *sawn) tell(e *command.Env) error {
	var next [][2]string
	l := book.Find(s.now, s.plan.Plan)
	if n := s.again(l); n > 0 {
		next = append(next, [2]string{"replan", fmt.Sprintf("as pieces were spoiled or not cut: %d",
			n)})
	} else if why := s.unlike(l); why != "" {
		next = append(next, [2]string{"replan", why})
	}
	if ids := slices.Concat(l.Expected, l.Missing); len(ids) > 0 {
		next = append(next, [2]string{"receive", "when these are here: " + few(ids)})
	}
	if len(l.Here) > 0 {
		next = append(next, [2]string{"done", "when these are cut: " + few(l.Here)})
	}
	if len(next) == 0 {
		_, err := fmt.Fprintf(e.Stdout, "\nAll boards of plan %s are cut.\n", l.Plan)
		return err
	}
	return report.Next(e.Stdout, s.dir, next)
}

// unlike says which boards of the plan are not there as the plan has them, if any are not.
func (s *sawn) unlike(l *book.Life) string {
	if len(l.Gone) > 0 {
		return "as these are gone: " + few(l.Gone)
	}
	had, is := asBooked(s.job, l), byID(s.rack)
	others := slices.DeleteFunc(slices.Clone(l.Here), func(id string) bool {
		return alike(had[id], is[id])
	})
	if len(others) > 0 {
		return "as these are not as the plan has them: " + few(others)
	}
	if len(l.Missing) > 0 {
		return "as these were not delivered: " + few(l.Missing)
	}
	return ""
}

// again is how many pieces of the boards that are cut are wanted again.
func (s *sawn) again(l *book.Life) (n int) {
	good := map[book.Piece]bool{}
	for _, p := range l.Cut {
		good[book.Piece{Commission: p.Commission, Part: p.Part, Copy: p.Copy}] = true
	}
	for i := range s.written.Cuts {
		c := &s.written.Cuts[i]
		if c.Kind == model.KindPart && slices.Contains(l.Done, c.Board) &&
			!good[book.Piece{Commission: c.Commission, Part: c.Part, Copy: c.Copy}] {
			n++
		}
	}
	return n
}

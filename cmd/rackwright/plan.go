package main

import (
	"context"
	"fmt"
	"path/filepath"
	"runtime/debug"
	"slices"
	"time"

	"rackwright/cmd/rackwright/command"
	"rackwright/cmd/rackwright/place"
	"rackwright/cmd/rackwright/shopbook"
	"rackwright/io/report"
	"rackwright/model"
	"rackwright/nest"
)

// search are the flags of every command that runs the solver.
type search struct {
	Work   int64         `help:"Work limit, in millions of basic steps: the same number gives the same plan on any machine. 0 is the default of ${default_work}." default:"0" placeholder:"N"`
	Memory int64         `help:"Memory for the tables of the search, in MiB. Where it is not enough, boards are looked at more roughly." default:"512" placeholder:"MIB"`
	Time   time.Duration `help:"Time after which the search ends (such as 20s or 2m). Plans may then differ from run to run." placeholder:"TIME"`
	Date   string        `help:"Date (YYYY-MM-DD) written as since of every offcut." placeholder:"DATE"`
}

// options are those that the flags ask for; the order of work is left open.
func (s *search) options(e *env) (nest.Options, error) {
	if s.Date != "" && !model.ValidDate(s.Date) {
		return nest.Options{}, command.Refuse(
			"--date %q: not a date; write it as YYYY-MM-DD", s.Date)
	}
	if s.Work < 0 || s.Work > 1e9 {
		return nest.Options{},
			command.Refuse("--work %d: write a whole number from 0 to 1000000000", s.Work)
	}
	if s.Time < 0 {
		return nest.Options{},
			command.Refuse("--time %v: write a time above 0, such as 20s or 2m", s.Time)
	}
	if s.Memory < 1 || s.Memory > 1<<20 {
		return nest.Options{},
			command.Refuse("--memory %d: write a whole number of MiB from 1 to %d", s.Memory, 1<<20)
	}
	// What is no longer used is collected before all of it is half as much again.
	debug.SetMemoryLimit(s.Memory << 20 / 2 * 3)
	return nest.Options{Work: s.Work * 1e6, Memory: s.Memory << 20, Clock: s.Time, Date: s.Date},
		nil
}

// ordering is the flag of the commands that write a plan.
type ordering struct {
	Order model.Way `help:"Order of work of order.csv: time takes the fewest minutes, clutter has the fewest commissions begun and not finished at once." enum:"time,clutter" default:"time"`
}

type planCommand struct {
	Jobdir string `arg:"" help:"Job folder: parts.csv or orders.csv, rack.csv, yard.csv, and what else there is."`
	Out    string `help:"Folder for the plan; JOBDIR/out if left out." placeholder:"DIR"`
	ordering
	search
}

func (c *planCommand) Help() string {
	return "Example: rackwright plan shop/2027-03 --work 1000 --date 2027-03-01"
}

func (c *planCommand) Run(e *env) error {
	show := newProgress(e, "reading "+c.Jobdir)
	defer show.end()
	out := c.Out
	if out == "" {
		out = filepath.Join(c.Jobdir, "out")
	}
	if err := shopbook.NotBooked(out); err != nil {
		return err
	}
	job, err := e.readJob(c.Jobdir)
	if err != nil {
		return err
	}
	if out, err = e.outFolder(out, c.Jobdir); err != nil {
		return err
	}
	p, err := e.plan(job, nil, &c.search, c.Order, show)
	if err != nil {
		return err
	}
	return e.deliver(p, out, show, nil)
}

// plan plans a job, or with a revision the rest of one, and shows how it goes on; besides, it has
// the job planned by the simple rules. The clock runs from the start of the program.
func (e *env) plan(job *model.Job, rev *model.Revision, s *search, order model.Way,
	show *progress) (*worded, error) {
	opt, err := s.options(e)
	if err != nil {
		return nil, err
	}
	var until time.Time
	if opt.Clock > 0 {
		writing := min(toWrite(job), opt.Clock/2)
		until = e.Started.Add(opt.Clock - writing)
		opt.Clock = max(1, time.Until(until))
	}
	show.enter("sorting parts and boards")
	opt.Observe, opt.Order = show.observe, order
	simple := e.rulesOf(job, opt.Date)
	defer simple.stop()
	many := cutCount(job) > manyPieces
	if !many {
		simple.begin()
	}
	ready := standby{word: func(plan *model.Plan) *worded {
		p := e.word(job, plan, simple.sofar())
		if !many || s.Time == 0 {
			simple.begin()
		}
		return p
	}}
	if cutCount(job) > manyPieces/2 || len(job.Rack) > manyBoards {
		opt.Ready = ready.make
	}
	var p *worded
	err = e.unlessLate(job, func() error {
		plan, err := (*model.Plan)(nil), error(nil)
		if rev == nil {
			plan, err = nest.Plan(e.Ctx, job, opt)
		} else {
			plan, err = nest.Replan(e.Ctx, job, rev, opt)
		}
		if err != nil {
			return err
		}
		if p = ready.of(plan); p != nil {
			return nil
		}
		show.enter("planning by simple rules, too")
		ways := e.wait(simple, until)
		show.enter("writing the plan")
		defer collectRarely()()
		p = e.word(job, plan, ways)
		return nil
	})
	if err != nil {
		return nil, err // what comes of it is not waited for, and may still change
	}
	return p, nil
}

// lateness is how long after the program is interrupted the first plan of a large job may come:
// with what is left to be done then, the program ends within a second.
const lateness = 700 * time.Millisecond

// unlessLate plans a job; where the program is interrupted before a large one has its first plan,
// that is waited for a moment only.
func (e *env) unlessLate(job *model.Job, do func() error) error {
	if cutCount(job) <= manyPieces {
		return do()
	}
	late, end := context.WithCancel(context.Background())
	defer end()
	defer context.AfterFunc(e.Ctx, func() { time.AfterFunc(lateness, end) })()
	waiting := e.Env
	waiting.Ctx = late
	return waiting.UnlessInterrupted(do)
}

// manyPieces take the simple rules seconds. They are followed once a first plan is ready then, or
// with a limit by the clock after the search, if there is time left: they take none of it from the
// search. Of half as many pieces, or of manyBoards, plans are made ready beside the search: smaller
// ones are laid out and written in a moment, so that the best of all is handed over.
const manyPieces, manyBoards = 2000, 1000

// cutCount is about how many pieces are cut, staves and layers too.
func cutCount(job *model.Job) (n int64) {
	for i := range job.Parts {
		n += job.Parts[i].PieceCount()
	}
	return n
}

// toWrite is about how long it takes to write a plan and to sum it up.
func toWrite(job *model.Job) time.Duration {
	return time.Duration(cutCount(job)) * 150 * time.Microsecond
}

// deliver writes a plan and prints its summary, with what is told before it, if anything is.
func (e *env) deliver(p *worded, out string, show *progress,
	before func(*model.Plan) error) error {
	show.enter("writing the plan")
	if p.err != nil {
		return p.err
	}
	if err := putInPlace(out, p.files); err != nil {
		return err
	}
	show.end()
	if !e.Quiet {
		if before != nil {
			if err := before(p.plan); err != nil {
				return err
			}
		}
		if _, err := e.Stdout.Write(p.summary); err != nil {
			return err
		}
		for _, r := range p.remarks {
			fmt.Fprintln(e.Stderr, r)
		}
		fmt.Fprintf(e.Stdout, "\nWritten to %s\n", command.FromHere(out))
		if err := report.Files(e.Stdout, p.job, command.FromHere(out), shopbook.InShop(out),
			e.Columns()); err != nil {
			return err
		}
	}
	if len(p.plan.Shortages) > 0 {
		return errShort
	}
	return nil
}

// putInPlace puts files in place of a folder.
func putInPlace(out string, files map[string]*place.Text) error {
	return shopbook.WhileNotBooked(out, func() error {
		if err := place.WriteFolder(out, files); err != nil {
			return command.Refuse("%s: the plan cannot be written (%v); the folder is as it was: "+
				"put that right, or name another", out, err)
		}
		return nil
	})
}

// remarksOn are what a maker should know before trusting the numbers.
func remarksOn(job *model.Job, plan *model.Plan) (out []string) {
	for _, r := range nest.Remarks(job) {
		out = append(out, fmt.Sprint(r))
	}
	if slices.ContainsFunc(plan.Groups, func(g model.Group) bool {
		return g.Ended == model.Interrupted
	}) {
		said := "interrupted: this is the best plan that was ready by then"
		if report.Useful(plan.Bound, plan.Value) {
			said += "; its bound is proven all the same"
		}
		out = append(out, said)
	}
	return out
}

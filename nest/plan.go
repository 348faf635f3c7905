package nest

import (
	"context"
	"errors"
	"fmt"
	"runtime"
	"time"

	"rackwright/model"
	"rackwright/model/beside"
	"rackwright/model/makeup"
)

// Options say how to plan. The zero value works.
type Options struct {
	// basic steps over all groups; the same number gives the same plan. Zero means DefaultWork
	Work int64
	// bytes for the tables of the search; zero means DefaultMemory. Where it is not enough, wood is
	// looked at more roughly
	Memory int64
	// after which a plan stands, its proof judged, and the same input may give another plan. Zero
	// means none
	Clock   time.Duration
	Threads int         // groups solved at a time. Zero means one for each core
	Order   model.Way   // that the cuts are put in. Zero means [model.LeastTime]
	Date    string      // YYYY-MM-DD, written as `since` of every offcut. Zero means none
	Observe func(Event) // called as groups go on, from several goroutines; nil means silent
	// called beside the search of a large job, now and then, with a plan that is ready: it is given
	// back where the context ends and a later one would take too long. Nil: each is laid out anew
	Ready func(*model.Plan)
}

// DefaultWork plans a month of 400 to 600 pieces in well under 20 seconds on two cores.
const DefaultWork = 16e9

// DefaultMemory is what the tables of the search may take.
const DefaultMemory = 512 << 20

// Event is what is known of one group at a moment of its search.
type Event struct {
	Group  int // from 0
	Groups int
	Name   string
	Phase  string // what the search is doing
	Value  model.Money
	Bound  model.Money
	Proven bool // a bound is known
	Done   bool
}

// Phases of an event.
const (
	// FirstRule is the phase before there is a plan of a group: its value says nothing yet.
	FirstRule = "first simple rule"
	// SimpleRules is the phase of the other rules.
	SimpleRules = "simple rules"
	// PlainBound tells that the checker did not accept the bound found for a group, so that a
	// plainer one stands in the plan.
	PlainBound = "plain bound"
	// Judging is the phase after the search: the checker judges the plan.
	Judging = "judging the plan"
)

// Plan makes a plan for a job and has it judged by the independent checker. Shortages are a result;
// an error is a fault of ours, or the context's when it ended before there was a plan.
//
// Once the first simple rule has begun there is a plan, whenever the context or the clock ends the
// rest. It stands soon then (search.go), with as much of its proof as is judged by then
// (proving.go).
func Plan(ctx context.Context, job *model.Job, opt Options) (*model.Plan, error) {
	return makePlan(ctx, job, nil, opt)
}

// makePlan makes the plan of a job; with a revision one that takes the place of another.
func makePlan(ctx context.Context, job *model.Job, rev *model.Revision, opt Options) (*model.Plan,
	error) {
	begun := time.Now()
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if opt.Work == 0 {
		opt.Work = DefaultWork
	}
	if opt.Memory == 0 {
		opt.Memory = DefaultMemory
	}
	if opt.Threads == 0 {
		opt.Threads = runtime.GOMAXPROCS(0)
	}
	p := &planning{job: makeup.Prepare(job), opt: opt, ctx: ctx}
	defer p.limit(begun)()
	if err := p.formulate(); err != nil {
		return nil, err
	}
	p.prior = standing(p.job, p.worth, p.groups, rev)
	v := newProving(p)
	defer v.close()
	p.reserve(min(toLay(p.job), opt.Clock/4)) // until a rehearsal tells
	p.byRules(v.rehearse)
	p.solve()
	return v.settle()
}

// toLay is about how long it takes to lay out a plan and to check it.
func toLay(job *model.Job) time.Duration {
	pieces := int64(0)
	for i := range job.Parts {
		pieces += job.Parts[i].PieceCount()
	}
	return time.Duration(pieces) * 60 * time.Microsecond
}

// formulate makes the programs of the job; an error is the context's, which is heeded at once.
func (p *planning) formulate() (err error) {
	made := beside.Aside(func() *planning {
		out := &planning{worth: p.job.Valuation()}
		out.groups, out.short, _ = formulate(p.ctx, p.job, out.worth)
		return out
	})
	select {
	case m := <-made:
		out := m.Get()
		p.worth, p.groups, p.short = out.worth, out.groups, out.short
	case <-p.ctx.Done():
	}
	return p.ctx.Err()
}

// rejected turns what the checker finds into an error: a plan of ours that it does not accept is a
// fault of ours.
func rejected(found []model.Finding) error {
	var errs []error
	for _, f := range found {
		errs = append(errs, fmt.Errorf("the plan fails its own check: %s: %s", f.Where, f.What))
	}
	return errors.Join(errs...)
}

package nest

import (
	"context"
	"errors"
	"fmt"
	"runtime"
	"time"

	"golang.org/x/sync/errgroup"

	"rackwright/model"
	"rackwright/model/check"
	"rackwright/model/proof"
	"rackwright/nest/cutstock"
	"rackwright/nest/cutting"
)

// Options say how to plan. The zero value works.
type Options struct {
	// basic steps over all groups; the same number gives the same plan. Zero means DefaultWork
	Work int64
	// after which the search of a plan ends, and the same input may give another plan. Zero means
	// none
	Clock   time.Duration
	Threads int         // groups solved at a time. Zero means one for each core
	Date    string      // YYYY-MM-DD, written as `since` of every offcut. Zero means none
	Observe func(Event) // called as groups go on, from several goroutines; nil means silent
}

// DefaultWork plans a month of 400 to 600 pieces in well under 20 seconds on two cores.
const DefaultWork = 16e9

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

// PlainBound is the phase of an event that tells that the checker did not accept the bound found
// for a group, so that a plainer one stands in the plan.
const PlainBound = "plain bound"

// Plan makes a plan for a job and has it judged by the independent checker. Shortages are a result;
// an error is a fault of ours, or the context's when it ended before there was a plan.
func Plan(ctx context.Context, job *model.Job, opt Options) (*model.Plan, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if opt.Work == 0 {
		opt.Work = DefaultWork
	}
	if opt.Clock > 0 {
		var stop context.CancelFunc
		ctx, stop = context.WithTimeout(ctx, opt.Clock)
		defer stop()
	}
	if opt.Threads == 0 {
		opt.Threads = runtime.GOMAXPROCS(0)
	}
	worth := job.Valuation()
	groups, short := formulate(job, worth)
	pieces := 0
	for _, g := range groups {
		pieces += len(g.list)
	}
	results := make([]cutstock.Result, len(groups))
	var all errgroup.Group
	all.SetLimit(opt.Threads)
	for n, g := range groups {
		all.Go(func() error {
			// A group has the share of the work that it has of the pieces.
			part := max(1, opt.Work/int64(pieces)*int64(len(g.list)))
			results[n] = g.solve(ctx, part, watch(opt.Observe, worth, n, len(groups), g.name))
			return nil
		})
	}
	all.Wait()
	return settle(newDecoder(job, worth), groups, results, short, opt)
}

// settle writes the plan and has it judged. Where the cuts are right and a bound is not, that is a
// fault of ours that shall not cost the maker a plan: the plain bounds, which are proven by less,
// stand in for it, and an event of phase [PlainBound] tells so of each group.
func settle(d *decoder, groups []*group, results []cutstock.Result, short []model.Shortage,
	opt Options) (*model.Plan, error) {
	found := assemble(d, groups, results, short, opt.Date)
	err := judge(d.job, found, true)
	if err == nil || judge(d.job, found, false) != nil {
		return found, err
	}
	for n := range results {
		results[n].Bound, results[n].Certificate = results[n].PlainBound, results[n].Plain
	}
	for n, g := range groups {
		if tell := watch(opt.Observe, d.worth, n, len(groups), g.name); tell != nil {
			tell(cutstock.Event{Phase: PlainBound, Value: results[n].Value,
				Bound: results[n].Bound, Proven: true, Done: true})
		}
	}
	if plain := assemble(d, groups, results, short, opt.Date); judge(d.job, plain, true) == nil {
		return plain, nil
	}
	return found, err
}

// assemble writes a plan from what was found for each group.
func assemble(d *decoder, groups []*group, results []cutstock.Result, short []model.Shortage,
	date string) *model.Plan {
	var uses [][]cutting.Use
	var proofs []model.Group
	for n, g := range groups {
		uses = append(uses, results[n].Uses)
		proofs = append(proofs, certify(d.job, d.worth, g, &results[n]))
	}
	out := d.write(groups, uses, short, date)
	out.Groups = proofs
	settleValues(out, d.worth, results)
	return out
}

// judge turns what the checker finds into an error: a plan of ours that it does not accept is a
// fault of ours.
func judge(job *model.Job, plan *model.Plan, bounds bool) error {
	reading, found := check.Check(job, plan)
	if bounds {
		found = append(found, proof.Bounds(reading)...)
	}
	var errs []error
	for _, f := range found {
		errs = append(errs, fmt.Errorf("the plan fails its own check: %s: %s", f.Where, f.What))
	}
	return errors.Join(errs...)
}

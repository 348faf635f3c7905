package main

import (
	"context"
	"errors"
	"fmt"
	"runtime/debug"
	"sync"
	"time"

	"rackwright/io/page"
	"rackwright/model"
	"rackwright/nest"
)

// rules are the plans of the simple rules, for the page to set a plan against. They are made while
// the search goes on: that takes less of its time than to make them afterwards.
type rules struct {
	plan func() ([]page.Way, error)
	once sync.Once
	made chan struct{} // closed once it is known what came of it
	ruled
	stop context.CancelFunc
}

// ruled is what came of it.
type ruled struct {
	ways []page.Way
	err  error
}

// rulesOf are those of a job, not begun with.
func (e *env) rulesOf(job *model.Job, date string) *rules {
	ctx, stop := context.WithCancel(e.Ctx)
	return &rules{made: make(chan struct{}), stop: stop, plan: func() ([]page.Way, error) {
		entries, err := nest.ByRules(ctx, job, date)
		return waysOf(entries), err
	}}
}

// begin begins with them, unless that is done.
func (r *rules) begin() {
	r.once.Do(func() {
		go func() {
			defer func() {
				if f := recover(); f != nil {
					r.err = fmt.Errorf("%v\n%s", f, debug.Stack())
				}
				close(r.made)
			}()
			r.ways, r.err = r.plan()
		}()
	})
}

// sofar gives the ways if they are made.
func (r *rules) sofar() []page.Way {
	select {
	case <-r.made:
		return r.ways
	default:
		return nil
	}
}

// waysOf measures the plans of ways of planning.
func waysOf(entries []nest.Entry) (ways []page.Way) {
	for _, x := range entries {
		ways = append(ways, page.Way{Name: x.Name, Measure: model.MeasureOf(x.Plans...)})
	}
	return ways
}

// wait begins with the ways, if there is time, and gives them once they are made; none where the
// program is interrupted before, or where the time is out. A time of zero is never out.
func (e *env) wait(r *rules, until time.Time) []page.Way {
	defer r.stop()
	var out <-chan time.Time
	if !until.IsZero() {
		out = time.After(time.Until(until))
	}
	if out == nil || time.Now().Before(until) {
		r.begin()
	}
	select {
	case <-r.made:
		return e.ways(r)
	default:
	}
	select {
	case <-r.made:
		return e.ways(r)
	case <-e.Ctx.Done():
	case <-out:
	}
	return nil
}

// ways says what went wrong, if anything did: the plan itself stands all the same.
func (e *env) ways(r *rules) []page.Way {
	if r.err != nil && !errors.Is(r.err, context.Canceled) {
		fmt.Fprintf(e.Stderr, "rackwright: a fault of the program, not of the input: the plan is "+
			"not set against simple rules: %v\n", r.err)
	}
	return r.ways
}

package main

import (
	"context"
	"errors"
	"fmt"
	"runtime/debug"
	"time"

	"rackwright/io/page"
	"rackwright/model"
	"rackwright/nest"
)

// rules are the plans of the simple rules, for the page to set a plan against. They are made while
// the search goes on: that takes less of its time than to make them afterwards.
type rules struct {
	made chan ruled
	stop context.CancelFunc
}

// ruled is what came of it.
type ruled struct {
	ways []page.Way
	err  error
}

func (e *env) beginRules(job *model.Job, date string) *rules {
	ctx, stop := context.WithCancel(e.Ctx)
	r := &rules{make(chan ruled, 1), stop}
	go func() {
		var out ruled
		defer func() {
			if f := recover(); f != nil {
				out.err = fmt.Errorf("%v\n%s", f, debug.Stack())
			}
			r.made <- out
		}()
		entries, err := nest.ByRules(ctx, job, date)
		out = ruled{waysOf(entries), err}
	}()
	return r
}

// waysOf measures the plans of ways of planning.
func waysOf(entries []nest.Entry) (ways []page.Way) {
	for _, x := range entries {
		ways = append(ways, page.Way{Name: x.Name, Measure: model.MeasureOf(x.Plans...)})
	}
	return ways
}

// wait gives the ways once they are made; none where the program is interrupted before, or where
// the time is out. A time of zero is never out.
func (e *env) wait(r *rules, until time.Time) []page.Way {
	defer r.stop()
	var out <-chan time.Time
	if !until.IsZero() {
		out = time.After(time.Until(until))
	}
	select {
	case made := <-r.made:
		return e.ways(made)
	default:
	}
	select {
	case made := <-r.made:
		return e.ways(made)
	case <-e.Ctx.Done():
	case <-out:
	}
	return nil
}

// ways says what went wrong, if anything did: the plan itself stands all the same.
func (e *env) ways(made ruled) []page.Way {
	if made.err != nil && !errors.Is(made.err, context.Canceled) {
		fmt.Fprintf(e.Stderr, "rackwright: a fault of the program, not of the input: the plan is "+
			"not set against simple rules: %v\n", made.err)
	}
	return made.ways
}

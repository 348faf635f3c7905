package main

import (
	"bytes"
	"context"
	"errors"
	"io"
	"slices"
	"strings"
	"testing"
	"time"

	"rackwright/cmd/rackwright/command"
	"rackwright/io/page"
)

// fakeRules are rules that have come to something, or are still at it.
func fakeRules(made ...ruled) (r *rules, stopped *bool) {
	stopped = new(bool)
	r = &rules{made: make(chan struct{}), stop: func() { *stopped = true }}
	r.once.Do(func() {}) // they are begun with
	for _, m := range made {
		r.ruled = m
		close(r.made)
	}
	return r, stopped
}

// The plans of the simple rules are waited for as long as there is time and nobody interrupts; then
// they are stopped, and the page does without.
func TestRulesAreWaitedFor(t *testing.T) {
	interrupted, interrupt := context.WithCancel(t.Context())
	interrupt()
	ways := []page.Way{{Name: "first fit"}}
	long, past := time.Now().Add(time.Hour), time.Now().Add(-time.Hour)
	for name, c := range map[string]struct {
		ctx   context.Context
		until time.Time
		made  []ruled
		want  int
		says  string
	}{
		"made":                    {t.Context(), time.Time{}, []ruled{{ways: ways}}, 1, ""},
		"made in time":            {t.Context(), long, []ruled{{ways: ways}}, 1, ""},
		"made as the time is out": {t.Context(), past, []ruled{{ways: ways}}, 1, ""},
		"made as interrupted":     {interrupted, time.Time{}, []ruled{{ways: ways}}, 1, ""},
		"out of time":             {t.Context(), past, nil, 0, ""},
		"interrupted":             {interrupted, time.Time{}, nil, 0, ""},
		"ended with the context": {t.Context(), time.Time{},
			[]ruled{{err: context.Canceled}}, 0, ""},
		"at fault": {t.Context(), time.Time{}, []ruled{{err: errors.New("oops")}}, 0, "oops"},
	} {
		var said bytes.Buffer
		r, stopped := fakeRules(c.made...)
		if len(r.sofar()) != c.want {
			t.Errorf("%s: so far there are %v", name, r.sofar())
		}
		got := (&env{command.Env{Ctx: c.ctx, Stdout: io.Discard, Stderr: &said}}).wait(r, c.until)
		if len(got) != c.want || !*stopped || strings.Contains(said.String(), "oops") != (c.says != "") {
			t.Errorf("%s: %v, stopped %v, and says %q", name, got, *stopped, said.String())
		}
	}
}

// The rules of a job are all there; a program that is interrupted makes none.
func TestRulesAreMade(t *testing.T) {
	var said bytes.Buffer
	e := &env{command.Env{Ctx: t.Context(), Stdout: io.Discard, Stderr: &said, Quiet: true}}
	job, err := e.readJob("../../testdata/jobs/two-commissions")
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, w := range e.wait(e.rulesOf(job, ""), time.Time{}) {
		names = append(names, w.Name)
		if w.Measure.Value == 0 {
			t.Errorf("%s costs nothing", w.Name)
		}
	}
	want := []string{"first fit", "first fit, longest first", "best fit, longest first"}
	if !slices.Equal(names, want) {
		t.Errorf("rules %q", names)
	}
	ctx, interrupt := context.WithCancel(t.Context())
	interrupt()
	e.Ctx = ctx
	if got := e.wait(e.rulesOf(job, ""), time.Time{}); got != nil {
		t.Errorf("interrupted, there are %v", got)
	}
	if said.Len() > 0 {
		t.Errorf("it says %s", said.String())
	}
}

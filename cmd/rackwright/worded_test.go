package main

import (
	"context"
	"errors"
	"io"
	"strings"
	"testing"
	"time"

	"rackwright/cmd/rackwright/command"
	"rackwright/model"
)

// A plan that was made ready is found in words, also while these are still being made; one that was
// not is not. A panic reaches who asks.
func TestStandbyIsWorded(t *testing.T) {
	first, second, third := new(model.Plan), new(model.Plan), new(model.Plan)
	begun, release := make(chan struct{}), make(chan struct{})
	s := &standby{word: func(p *model.Plan) *worded {
		switch p {
		case second:
			close(begun)
			<-release
		case third:
			panic("no words")
		}
		return &worded{plan: p}
	}}
	if s.of(first) != nil {
		t.Error("there are words before there is a plan")
	}
	s.make(first)
	if w := s.of(first); w == nil || w.plan != first {
		t.Errorf("the first is %v", w)
	}
	made := make(chan struct{})
	go func() { s.make(second); close(made) }()
	<-begun
	if w := s.of(first); w == nil || w.plan != first {
		t.Error("the first is lost before the second is ready")
	}
	time.AfterFunc(10*time.Millisecond, func() { close(release) })
	if w := s.of(second); w == nil || w.plan != second {
		t.Errorf("the second is %v", w)
	}
	<-made
	if s.of(first) != nil {
		t.Error("the first is kept after the second is ready")
	}
	s.make(third)
	defer func() {
		if r, _ := recover().(string); !strings.Contains(r, "no words") {
			t.Errorf("it panics with %q", r)
		}
	}()
	t.Errorf("the third is %v", s.of(third))
}

// Where the program is interrupted, the first plan of a large job is waited for a moment, that of
// another until it is there.
func TestFirstPlansAreWaitedFor(t *testing.T) {
	ctx, interrupt := context.WithCancel(t.Context())
	interrupt()
	e := &env{command.Env{Ctx: ctx, Stdout: io.Discard, Stderr: io.Discard}}
	large := &model.Job{Parts: []model.Part{{Qty: manyPieces + 1}}}
	small := &model.Job{Parts: []model.Part{{Qty: manyPieces}}}
	if err := e.unlessLate(large, func() error { return nil }); err != nil {
		t.Errorf("a plan that is there is lost: %v", err)
	}
	never := make(chan struct{})
	defer close(never)
	if err := e.unlessLate(large, func() error { <-never; return nil }); !errors.Is(err,
		context.Canceled) {
		t.Errorf("a plan that does not come: %v", err)
	}
	if err := e.unlessLate(small, func() error {
		time.Sleep(lateness + 50*time.Millisecond)
		return nil
	}); err != nil {
		t.Errorf("a small job: %v", err)
	}
	e.Ctx = t.Context()
	if err := e.unlessLate(large, func() error {
		time.Sleep(lateness + 50*time.Millisecond)
		return nil
	}); err != nil {
		t.Errorf("nobody interrupts: %v", err)
	}
}

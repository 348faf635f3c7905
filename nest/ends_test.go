package nest

import (
	"context"
	"fmt"
	"math/rand/v2"
	"sync/atomic"
	"testing"
	"time"

	"rackwright/model"
	"rackwright/model/check"
	"rackwright/model/proof"
)

// bothAccept says that both checkers accept a plan.
func bothAccept(t *testing.T, job *model.Job, plan *model.Plan) {
	t.Helper()
	reading, found := check.Check(job, plan)
	for _, f := range append(found, proof.Bounds(reading)...) {
		t.Errorf("%s: %s", f.Where, f.What)
	}
}

// searched is a job with its groups searched to the end, and how it is judged.
func searched(t *testing.T, job *model.Job, opt Options) *proving {
	p := &planning{job: job, opt: opt, ctx: t.Context()}
	t.Cleanup(p.limit(time.Now()))
	if err := p.formulate(); err != nil {
		t.Fatal(err)
	}
	v := newProving(p)
	t.Cleanup(v.close)
	p.byRules(func() {})
	p.solve()
	return v
}

// Where the time is out before a bound is derived again, the one that needs no search stands in for
// it; where judging was rehearsed, what has been derived does. Either plan is accepted.
func TestBoundsThatAreNotDerivedInTime(t *testing.T) {
	r := rand.New(rand.NewPCG(95, 96))
	lost, kept := 0, 0
	for n := range 30 {
		job := randomJob(r)
		if n%2 == 0 {
			withRips(r, job)
		}
		opt := Options{Work: 1e7, Threads: 1}
		whole, err := searched(t, job, opt).settle()
		if err != nil {
			t.Fatal(err)
		}
		v := searched(t, job, opt)
		v.close()
		late, err := v.settle()
		if err != nil {
			t.Fatalf("job %d: %v", n, err)
		}
		bothAccept(t, job, late)
		v = searched(t, job, opt)
		results, _ := v.sofar()
		d, err := v.lay(results, false, never)
		if err != nil {
			t.Fatal(err)
		}
		if _, done := v.bounds(d); !done {
			t.Fatalf("job %d: not done", n)
		}
		v.note(d, results)
		v.close()
		rehearsed, err := v.settle()
		if err != nil {
			t.Fatalf("job %d: %v", n, err)
		}
		bothAccept(t, job, rehearsed)
		if late.Value != whole.Value || late.Bound > whole.Bound ||
			rehearsed.Value != whole.Value || rehearsed.Bound != whole.Bound {
			t.Fatalf("job %d: %v to %v; late %v to %v, rehearsed %v to %v", n, whole.Bound,
				whole.Value, late.Bound, late.Value, rehearsed.Bound, rehearsed.Value)
		}
		for i := range late.Groups {
			if g := &late.Groups[i]; g.Bound == 0 && whole.Groups[i].Bound > 0 {
				lost++
			}
			if rehearsed.Groups[i].Bound > 0 {
				kept++
			}
		}
	}
	if lost < 20 || kept < 20 {
		t.Errorf("only %d bounds lost, %d kept", lost, kept)
	}
}

// manySizes is a job of so many unlike parts on boards with many defects, all to be ripped: its
// tables take long.
func manySizes(r *rand.Rand, rows, boards int) *model.Job {
	job := randomJob(r)
	withRips(r, job)
	wood := job.Rack[0].Wood
	wood.Width = 8 * in
	job.Parts, job.Rack, job.Settings.Handling = nil, nil, 1_0000
	wood.Length = 144 * in
	job.Yard = []model.Offer{{Wood: wood, Price: 20_0000,
		Where: model.Where{File: "yard.csv", Line: 2}}}
	for n := range rows {
		job.Parts = append(job.Parts, model.Part{Commission: "C1", Name: fmt.Sprint("p", n),
			Qty:      1 + r.Int64N(4),
			Material: wood.Material, Section: wood.Section, Thickness: wood.Thickness,
			Length: model.Length(160+r.Int64N(800)) * in / 16,
			Width:  model.Length(8+r.Int64N(24)) * in / 8,
			Where:  model.Where{File: "parts.csv", Line: n + 2}})
	}
	for n := range boards {
		b := model.Board{ID: fmt.Sprint("R", n+1), Wood: wood}
		b.Length = model.Length(48+r.Int64N(144)) * in
		for range 4 {
			from := model.Length(r.Int64N(int64(b.Length - 2*in)))
			left := model.Length(r.Int64N(int64(7 * in)))
			b.Defects = append(b.Defects, model.Defect{From: from, To: from + in, Left: left,
				Right: left + in, Kind: "knot"})
		}
		job.Rack = append(job.Rack, b)
	}
	return job
}

// Ended at any of its phases, in the middle of tables as well, a search of a large job gives a plan
// that is accepted, and nothing is told of it any more.
func TestLargeJobsEndAtAnyTime(t *testing.T) {
	r := rand.New(rand.NewPCG(97, 98))
	for _, c := range []struct {
		phase string
		clock time.Duration
		ended model.Ended
	}{
		{FirstRule, 0, model.Interrupted}, {SimpleRules, 0, model.Interrupted},
		{"tables", 0, model.Interrupted},
		{"waiting", 0, model.Interrupted}, {"", 1, model.Clock},
		{"", 300 * time.Millisecond, model.Clock},
	} {
		job := manySizes(r, 120, 60)
		ctx, cancel := context.WithCancel(t.Context())
		var over atomic.Bool
		plan, err := Plan(ctx, job, Options{Clock: c.clock, Observe: func(e Event) {
			if over.Load() {
				t.Errorf("%v: told of after the end: %+v", c, e)
			}
			if e.Phase == "" {
				t.Errorf("%v: told of without a phase: %+v", c, e)
			}
			if e.Phase == c.phase {
				cancel()
			}
		}})
		over.Store(true)
		cancel()
		if err != nil {
			t.Fatalf("%v: %v", c, err)
		}
		bothAccept(t, job, plan)
		for i := range plan.Groups {
			if g := &plan.Groups[i]; g.Ended != c.ended {
				t.Errorf("%v: %s is said to be %s", c, g.Name, g.Ended)
			}
		}
		if len(plan.Shortages) > 0 || len(plan.Groups) == 0 {
			t.Errorf("%v: %d groups, short %v", c, len(plan.Groups), plan.Shortages)
		}
	}
}

// Before the simple rules there is no plan.
func TestEndedBeforeTheRules(t *testing.T) {
	job := randomJob(rand.New(rand.NewPCG(99, 100)))
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	p := &planning{job: job, ctx: ctx}
	defer p.limit(time.Now())()
	if err := p.formulate(); err != context.Canceled {
		t.Errorf("%v", err)
	}
}

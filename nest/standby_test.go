package nest

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"rackwright/model"
	"rackwright/model/beside"
	"rackwright/nest/cutstock"
)

// A plan that is made ready is accepted, and says which searches were cut short. Where the search
// is ended from outside it is given back if nothing else was found since, or if another would take
// too long; else a new one is laid out. Then none is made ready any more.
func TestStandby(t *testing.T) {
	r := rand.New(rand.NewPCG(101, 102))
	cut := 0
	for n := range 20 {
		job := randomJob(r)
		var made []*model.Plan
		v := searched(t, job, Options{Work: 1e6, Threads: 1,
			Ready: func(p *model.Plan) { made = append(made, p) }})
		if len(v.groups) == 0 {
			continue
		}
		results, done := v.sofar()
		for g := range done {
			done[g] = false
		}
		d, err := v.lay(results, true, never)
		if err != nil {
			t.Fatal(err)
		}
		rehearsed := &rehearsal{results: results, done: done, draft: d}
		v.makeReady(rehearsed, time.Now())
		if len(made) != 1 || v.standing(results) != nil {
			t.Fatalf("job %d: %d plans are ready; none is to be given back yet", n, len(made))
		}
		bothAccept(t, job, made[0])
		for g := range results {
			open := results[g].Value-v.worth.Ticks(1) >= results[g].Bound
			if ended := made[0].Groups[g].Ended; open != (ended == model.Interrupted) {
				t.Errorf("job %d: group %d is %v", n, g, ended)
			} else if open {
				cut++
			}
		}
		v.standby.next = time.Time{}
		v.makeReady(rehearsed, time.Now().Add(-time.Hour)) // so it took an hour
		ended, end := context.WithCancel(t.Context())
		end()
		v.ctx = ended
		other := slices.Clone(results)
		other[0].Uses = slices.Clone(other[0].Uses)
		other[0].Unmet = append(slices.Clone(other[0].Unmet), 0)
		for _, c := range []struct {
			what    string
			results []cutstock.Result
			took    time.Duration
			want    bool
		}{{"the same", results, time.Millisecond, true},
			{"another, which would take long", other, time.Hour, true},
			{"another", other, time.Millisecond, false}} {
			v.standby.last.took = c.took
			if got := v.standing(c.results); (got != nil) != c.want ||
				got != nil && got.plan != made[1] {
				t.Errorf("job %d: of %s, %v is given back", n, c.what, got)
			}
		}
		plan, err := v.settle()
		if err != nil || plan != made[1] {
			t.Fatalf("job %d: %v is given back, %v", n, plan, err)
		}
		v.standby.next = time.Time{}
		if v.makeReady(rehearsed, time.Now()); len(made) != 2 {
			t.Errorf("job %d: a plan is made ready after the end", n)
		}
	}
	if cut < 5 {
		t.Errorf("only %d groups are cut short", cut)
	}
}

// A plan that is being made ready as the search ends is given back where there is no other.
func TestStandbyUnderWay(t *testing.T) {
	ctx, end := context.WithCancel(t.Context())
	v := &proving{planning: &planning{ctx: ctx}}
	under, last := &readied{}, &readied{took: time.Hour}
	v.standby.making = under
	if v.standing(nil) != nil {
		t.Error("it is given back before the end")
	}
	if end(); v.standing([]cutstock.Result{{}}) != under {
		t.Error("it is not given back")
	}
	if v.standby.last = last; v.standing([]cutstock.Result{{}}) != last {
		t.Error("one that is ready is not given back")
	}
}

// A search that goes on for long makes plans ready, the first by itself; and what comes out of a
// search that ends by itself has nothing of them: its copies are dealt with care.
func TestPlansAreMadeReady(t *testing.T) {
	job := manySizes(rand.New(rand.NewPCG(103, 104)), 200, 60)
	for i := range job.Parts {
		job.Parts[i].Qty *= 20 // it takes a while to lay them out
	}
	ctx, end := context.WithCancel(t.Context())
	defer end()
	defer time.AfterFunc(2*time.Minute, end).Stop()
	var ready *model.Plan
	plan, err := Plan(ctx, job, Options{Work: 1e15, Ready: func(p *model.Plan) {
		time.Sleep(soon) // so a later one would take too long
		ready = p
		end()
	}})
	if err != nil || ready == nil || plan != ready {
		t.Fatalf("%p is ready, %p is given back: %v", ready, plan, err)
	}
	bothAccept(t, job, plan)
	small := manySizes(rand.New(rand.NewPCG(105, 106)), 30, 10)
	want, err := Plan(t.Context(), small, Options{Work: 1e7})
	if err != nil {
		t.Fatal(err)
	}
	got, err := Plan(t.Context(), small, Options{Work: 1e7, Ready: func(*model.Plan) {}})
	if err != nil || !slices.EqualFunc(got.Cuts, want.Cuts, func(a, b model.Cut) bool {
		return a == b
	}) {
		t.Errorf("standing by changes the plan, %v", err)
	}
}

// Where laying out a plan panics, so does settling, which lays it out again: it does not wait for a
// rehearsal that came to nothing.
func TestRehearsalsPanic(t *testing.T) {
	v := searched(t, randomJob(rand.New(rand.NewPCG(107, 108))), Options{Work: 1e6, Threads: 1,
		Ready: func(*model.Plan) {}})
	for n := range v.known {
		v.known[n].Uses = slices.Clone(v.known[n].Uses)
		for i := range v.known[n].Uses {
			v.known[n].Uses[i].Pattern.Stock = 1 << 20 // there is none
		}
	}
	for _, c := range []struct {
		name string
		do   func()
	}{{"the rehearsal", v.rehearse}, {"settling", func() { v.settle() }}} {
		select {
		case out := <-beside.Aside(func() struct{} { c.do(); return struct{}{} }):
			func() {
				defer func() {
					if recover() == nil {
						t.Errorf("%s does not panic", c.name)
					}
				}()
				out.Get()
			}()
		case <-time.After(time.Minute):
			t.Fatalf("%s does not end", c.name)
		}
	}
}

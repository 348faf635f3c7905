package benchmarks_test

import (
	"context"
	"fmt"
	"runtime"
	"runtime/debug"
	"sync"
	"testing"
	"time"

	"rackwright/model"
	"rackwright/model/check"
	"rackwright/model/makeup"
	"rackwright/model/proof"
	"rackwright/nest"
)

const (
	extremeWork   = 2e7              // steps of the search of one job
	extremeTime   = 60 * time.Second // that no job needs, nor anything near it
	extremeMemory = 768 << 20        // bytes from the system, for two jobs at a time
)

// planned is what became of one job.
type planned struct {
	seed int64
	job  *model.Job
	plan *model.Plan
	err  error
}

// planExtremes plans jobs, two at a time, and gives each to use as it is done. A job that does not
// end when its time is up, and some more, fails the test.
func planExtremes(t *testing.T, jobs int64, use func(p planned)) {
	t.Helper()
	seeds := make(chan int64)
	var workers sync.WaitGroup
	for range 2 {
		workers.Go(func() {
			for seed := range seeds {
				done := make(chan planned, 1)
				ctx, stop := context.WithTimeout(t.Context(), extremeTime)
				go func() {
					p := planned{seed: seed}
					defer func() {
						if fault := recover(); fault != nil {
							p.err = fmt.Errorf("panic: %v", fault)
						}
						done <- p
					}()
					p.job, _ = readExtreme(t, seed)
					opt := nest.Options{Work: extremeWork, Threads: 1}
					p.plan, p.err = nest.Plan(ctx, p.job, opt)
				}()
				select {
				case p := <-done:
					if ctx.Err() != nil {
						t.Errorf("job %d: not planned in %v", seed, extremeTime)
					}
					use(p)
				case <-time.After(2 * extremeTime):
					t.Errorf("job %d: no end, also after its time is up", seed)
				}
				stop()
			}
		})
	}
	for seed := int64(1); seed <= jobs; seed++ {
		seeds <- seed
	}
	close(seeds)
	workers.Wait()
}

// Extreme jobs are planned without a panic, in little time and memory, and both parts of the
// checker accept cuts and bounds.
func TestExtremeJobsArePlanned(t *testing.T) {
	// as the program has it: what is no longer used is collected in time, on a busy machine too
	defer debug.SetMemoryLimit(debug.SetMemoryLimit(extremeMemory / 8 * 7))
	var mutex sync.Mutex
	boards, proven, useful := 0, 0, 0
	planExtremes(t, extremeJobs, func(p planned) {
		if p.err != nil {
			t.Errorf("job %d: %v", p.seed, p.err)
			return
		}
		reading, found := check.Check(makeup.AsMade(p.job, p.plan.Made), p.plan)
		for _, f := range append(found, proof.Bounds(reading)...) {
			t.Errorf("job %d: %s: %s", p.seed, f.Where, f.What)
		}
		if p.plan.Bound > p.plan.Value {
			t.Errorf("job %d: bound %v above value %v", p.seed, p.plan.Bound, p.plan.Value)
		}
		mutex.Lock()
		defer mutex.Unlock()
		if len(p.plan.Placements) > 0 {
			boards++
			if p.plan.Bound == p.plan.Value {
				proven++
			}
			if p.plan.Bound > 0 {
				useful++
			}
		}
	})
	var memory runtime.MemStats
	runtime.ReadMemStats(&memory)
	t.Logf("%d jobs, %d of them with boards; of these %d proven optimal, %d with a bound above 0;"+
		" %d MiB", extremeJobs, boards, proven, useful, memory.Sys>>20)
	if memory.Sys > extremeMemory {
		t.Errorf("%d MiB from the system, more than %d", memory.Sys>>20, extremeMemory>>20)
	}
	// Where nothing is planned, nothing is tested.
	if boards < extremeJobs/2 || proven < boards/4 {
		t.Errorf("%d jobs have boards, %d of them are proven optimal", boards, proven)
	}
}

package nest

import (
	"context"
	"slices"
	"sync"
	"time"

	"rackwright/model"
	"rackwright/nest/cutstock"
)

// Standing by. A search that is ended from outside is to end within a second. To lay out a plan of
// ten thousand pieces, to check it and to put it into words takes longer. So plans are made ready
// beside the search, of what it has come to: the first as soon as there is one, later ones now and
// then. Where a new one would take too long, the last of these stands.

const (
	atOnce = 100 * time.Millisecond // to lay a plan out: then there is time for it in the end
	soon   = 600 * time.Millisecond // to make it ready while the search goes on: likewise
)

// standby is the plan that stands if the search is ended from outside.
type standby struct {
	mu     sync.Mutex
	ended  bool // none is made ready any more
	last   *readied
	making *readied  // nil: none
	next   time.Time // when it is time for another
}

// readied is a plan that is ready to be given back, or is being made so.
type readied struct {
	results []cutstock.Result
	plan    *model.Plan
	took    time.Duration
}

// makeReady makes a plan ready that was rehearsed; it was begun with then.
func (v *proving) makeReady(r *rehearsal, begun time.Time) {
	s := &v.standby
	if time.Now().Before(s.next) {
		return
	}
	results, own := r.cutShort(v.planning), *r.draft
	own.certify(v, results)
	plan, err := v.inOrder(&own)
	if err != nil {
		return // the same comes out in the end, where it is told
	}
	made := &readied{results: results, plan: plan}
	s.mu.Lock()
	ended := s.ended
	if !ended {
		s.making = made
	}
	s.mu.Unlock()
	if ended {
		return
	}
	v.opt.Ready(plan)
	s.mu.Lock()
	defer s.mu.Unlock()
	made.took = time.Since(begun)
	s.last, s.making, s.next = made, nil, time.Now().Add(20*made.took)
}

// inOrder is the plan of a draft with its order of work. One that was laid out in haste has a plain
// order of least time already.
func (v *proving) inOrder(d *draft) (*model.Plan, error) {
	plan := *d.plan
	if !d.hasty || v.opt.Order == model.LeastClutter {
		ctx, end := context.WithTimeout(v.search, 4*moment)
		defer end()
		out := <-v.order(ctx, d)
		plan = out.Get()
	}
	return &plan, rejected(d.reading.Again(&plan))
}

// standing is the plan that stands by, where that is to be given back.
func (v *proving) standing(results []cutstock.Result) *readied {
	if v.ctx.Err() == nil {
		return nil
	}
	s := &v.standby
	s.mu.Lock()
	defer s.mu.Unlock()
	s.ended = true
	switch {
	case s.last == nil:
		return s.making // which will be there sooner than a new one
	case s.last.took > soon || sameFound(s.last.results, results):
		return s.last
	}
	return nil
}

// sameFound says whether results have the same boards cut alike, and meet the same.
func sameFound(a, b []cutstock.Result) bool {
	return slices.EqualFunc(a, b, func(a, b cutstock.Result) bool {
		return len(a.Uses) == len(b.Uses) && (len(a.Uses) == 0 || &a.Uses[0] == &b.Uses[0]) &&
			sameMet(&a, &b)
	})
}

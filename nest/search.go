package nest

import (
	"context"
	"slices"
	"sync"
	"time"

	"rackwright/model"
	"rackwright/model/beside"
	"rackwright/nest/cutstock"
	"rackwright/nest/cutting"
)

// Ends. A search may be ended by its work, which it counts itself, by the clock, or from outside.
// The clock and the outside end it at any moment, also in the middle of a table that takes minutes.
// So a search is not waited for. It hands over what it knows whenever that becomes better. Once it
// is to end it has a moment to end by itself; then the last that it handed over stands, and what it
// still finds is not taken in.

// moment is how long an ended search is waited for.
const moment = 50 * time.Millisecond

// planning is a plan under way.
type planning struct {
	job    *model.Job
	worth  *model.Valuation
	groups []*group
	short  []model.Shortage // parts that nothing holds
	opt    Options
	prior  *prior // nil: the plan takes the place of no other

	ctx    context.Context         // ends from outside
	search context.Context         // ends with it, or by the clock
	end    context.CancelCauseFunc // of the search
	clock  *time.Timer             // that ends it; nil: none
	ends   time.Time               // when a plan is to stand; zero: no matter when

	starts [][][]cutting.Use // by group, the plans of the simple rules
	mu     sync.Mutex
	over   bool              // nothing is taken in any more
	done   []bool            // by group
	known  []cutstock.Result // by group, the last that was handed over
}

// limit sets the ends; what it gives is to be called when all is done.
func (p *planning) limit(begun time.Time) func() {
	p.search, p.end = context.WithCancelCause(p.ctx)
	if p.opt.Clock == 0 {
		return func() { p.end(nil) }
	}
	p.ends = begun.Add(p.opt.Clock)
	if p.opt.Clock < time.Millisecond {
		p.end(context.DeadlineExceeded)
	}
	p.clock = time.AfterFunc(p.opt.Clock, func() { p.end(context.DeadlineExceeded) })
	return func() {
		p.clock.Stop()
		p.end(nil)
	}
}

// reserve ends the search so long before a plan is to stand.
func (p *planning) reserve(d time.Duration) {
	if p.clock != nil && p.search.Err() == nil {
		p.clock.Reset(max(0, time.Until(p.ends)-d))
	}
}

// each does something for each group, so many at a time as there are threads.
func (p *planning) each(do func(n int, g *group)) {
	beside.Each(len(p.groups), p.opt.Threads, func(n int) { do(n, p.groups[n]) })
}

// byRules plans each group by the simple rules, in a hurry once the search is to end. Once each has
// a plan by the first of them, something else is begun with beside the rest.
func (p *planning) byRules(meanwhile func()) {
	p.done = make([]bool, len(p.groups))
	p.known = make([]cutstock.Result, len(p.groups))
	p.starts = make([][][]cutting.Use, len(p.groups))
	plan := func(n int, g *group, plans [][]cutting.Use, phase string) {
		p.starts[n] = plans
		r := p.begin(n, g)
		p.take(n, r, false)
		p.tell(n, cutstock.Event{Phase: phase, Value: r.Value, Bound: r.Bound, Proven: true})
	}
	first := make([][]cutting.Use, len(p.groups))
	p.each(func(n int, g *group) {
		p.tell(n, cutstock.Event{Phase: FirstRule})
		first[n] = g.firstByRule(p.search)
		plan(n, g, [][]cutting.Use{first[n]}, SimpleRules)
	})
	beside.Aside(func() struct{} { // what it may panic at is done in the end as well
		meanwhile()
		return struct{}{}
	})
	p.each(func(n int, g *group) {
		if p.search.Err() != nil {
			return
		}
		plan(n, g, g.byRules(p.search, first[n]), "waiting")
	})
}

// solve searches all groups until they are done, or the search is ended.
func (p *planning) solve() {
	pieces, boards := 0, 0
	for _, g := range p.groups {
		pieces, boards = pieces+len(g.list), boards+len(g.program.Stocks)
	}
	finished := beside.Aside(func() struct{} {
		p.each(func(n int, g *group) {
			if p.search.Err() != nil {
				return // what the simple rules gave stands
			}
			// A group has the share of the work that it has of the pieces, and of the memory that
			// it has of the boards: with any number of threads the same.
			part := max(1, p.opt.Work/int64(pieces)*int64(len(g.list)))
			half := len(p.starts[n]) / 2
			r := p.solveGroup(n, g, cutstock.Options{Work: part,
				Memory: max(1, p.opt.Memory/int64(boards)*int64(len(g.program.Stocks))),
				Starts: p.starts[n][:half], Fallbacks: p.starts[n][half:],
				Observe: func(e cutstock.Event) { p.tell(n, e) },
				Found:   func(r cutstock.Result) { p.take(n, r, false) }})
			p.take(n, r, true)
		})
		return struct{}{}
	})
	select {
	case all := <-finished:
		all.Get()
	case <-p.search.Done():
		select {
		case all := <-finished:
			all.Get()
		case <-time.After(moment):
		}
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	p.over = true
	why := cutstock.Interrupted
	if context.Cause(p.search) == context.DeadlineExceeded {
		why = cutstock.Clock
	}
	p.cutShort(p.known, p.done, why)
}

// cutShort says of the groups that are not done, nor proven, that something ended their search.
func (p *planning) cutShort(results []cutstock.Result, done []bool, why cutstock.Ended) {
	for n := range results {
		if r := &results[n]; !done[n] && r.Value-p.worth.Ticks(1) >= r.Bound {
			r.Ended = why
		}
	}
}

// take takes in what a search hands over.
func (p *planning) take(n int, r cutstock.Result, done bool) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if !p.over {
		p.known[n], p.done[n] = r, done
	}
}

// sofar is what all groups have come to, and which of them are done.
func (p *planning) sofar() ([]cutstock.Result, []bool) {
	p.mu.Lock()
	defer p.mu.Unlock()
	return slices.Clone(p.known), slices.Clone(p.done)
}

// tell hands on what a search tells of a group, as long as the search is not over.
func (p *planning) tell(n int, e cutstock.Event) {
	p.mu.Lock()
	over := p.over
	p.mu.Unlock()
	if tell := watch(p.opt.Observe, p.worth, n, len(p.groups), p.groups[n].name); tell != nil &&
		!over {
		tell(e)
	}
}

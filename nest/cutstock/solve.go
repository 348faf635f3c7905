package cutstock

import (
	"cmp"
	"context"
	"math"
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/lp"
)

// Options say how much work a solution is worth. The zero value works.
type Options struct {
	// basic steps, about a nanosecond each; the same number gives the same plan. Zero means 4e9
	Work   int64
	Memory int64           // bytes for tables. Zero means 256 MiB
	Starts [][]cutting.Use // plans already known, each legal; zero means none
	// Patterns are columns that the search begins with, each legal; zero means none.
	Patterns []cutting.Pattern
	// Fallbacks are plans that count at the end only, so that they cannot change the way of the
	// search; zero means none.
	Fallbacks [][]cutting.Use
	// a cheap plan is looked for, and no bound that is near: it may take less of the work
	ForPlan bool
	// called as the search goes on, from the goroutine of Solve; nil means silent
	Observe func(Event)
	// Found is called with what Solve would give if it ended now, whenever that has become better,
	// from the goroutine of Solve; nil means that nobody asks. Nothing of it is changed afterwards.
	Found func(Result)

	// the program with kerfs rounded up; a good plan of it is among the starts. Nil: there is none
	up *cutting.Problem
	// many items are priced as few are: most of them are hardly wanted
	asFew bool
}

// Event is what is known at a moment of the search.
type Event struct {
	Phase  string // what the search is doing, in a word or two
	Value  int64  // of the incumbent
	Bound  int64  // where Proven
	Proven bool   // a bound is known
	Done   bool
}

// Ended says why a search ended.
type Ended int

// Endings.
const (
	Finished    Ended = iota // nothing left to try
	WorkLimit                // Options.Work was spent
	Interrupted              // the context was cancelled
	Clock                    // the context's deadline passed
)

// Result is the best plan found and what is proven of it.
type Result struct {
	Uses        []cutting.Use
	Unmet       []int64 // copies of each item that no stock can give
	Value       int64   // of Uses
	Bound       int64   // no plan that meets what Uses meets is cheaper
	Certificate *Proof
	Chosen      []cutting.Chosen // of a problem with wants; Unmet is of the items for themselves
	Steps       int64            // the work that it took
	Ended       Ended

	// What the relaxation proves without branching and lists: a bound to fall back on.
	PlainBound int64
	Plain      *Proof
}

// solver is the state of one search.
type solver struct {
	p   *cutting.Problem
	opt Options
	ctx context.Context
	*pricing
	costs  costs
	budget budget
	coin   int64 // of the problem
	pool   pool

	incumbent solution
	floor     Result  // known before the search; its plan counts while it is better
	missing   []int64 // copies of each item that no stock can give and that p does not ask for
	phase     string
	free      Result // the bound that needs no search
	bound     int64  // proven
	cert      *Proof
	tree      bool     // there is one whose leaves may be proven
	proving   int64    // steps that the proofs over lists take
	vouching  int64    // steps of exact pricing so far
	hasty     int64    // steps at which a relaxation under way is dived into
	turn      int      // of the items tried first
	long      bool     // a round of pricing takes long
	patient   bool     // all stocks are priced in each round though that takes long
	openers   int      // of many items, how many are tried first in a dive
	order     []int    // in which stocks are priced
	precise   bool     // gains count that are far smaller than as a rule
	refined   *refined // nil: nothing has been refined
	theta     float64  // by which the duals at hand are made smaller (within.go); 0: by none

	plainBound int64 // of the relaxation without branching
	plain      *Proof

	// The duals with the greatest estimated bound of the relaxation without branching.
	rootDuals    []int64
	rootEstimate float64
	listing      bool      // patterns keep to the demands, and are listed, with rips, too
	given        []given   // by stock
	begun        *tree     // nil: none yet
	listed       []*column // of the root's list
}

// solution is a set of patterns; short is the length that it leaves unmet.
type solution struct {
	uses  []cutting.Use
	unmet []int64
	short int64
	value int64
	tie   tie
}

// Solve finds a cheap plan for a problem and a bound on the cheapest. Where supply is short it
// first finds what can be met (least unmet length, as far as the search sees), and value and bound
// are those of plans that meet just that.
//
// Once the context has ended, Solve ends soon; what it has found until then it gives, or else the
// best of the plans already known, with a bound that needs no search.
func Solve(ctx context.Context, p *cutting.Problem, opt Options) Result {
	plans := slices.Concat(opt.Starts, opt.Fallbacks)
	floor := Known(ctx, p, plans)
	if opt.Observe != nil {
		opt.Observe(Event{Phase: "tables", Value: floor.Value, Bound: floor.Bound,
			Proven: floor.Certificate != nil})
	}
	if ctx.Err() != nil {
		return Known(ctx, p, plans) // ended by then
	}
	if up, ok := RoundedUp(p); ok {
		opt = coarsely(ctx, p, up, floor, opt)
	}
	k := newSolver(ctx, p, opt)
	k.floor = floor
	k.search()
	k.fallBack()
	var before int64
	if k.incumbent.short > 0 && ctx.Err() == nil {
		met := withDemandMet(p, k.incumbent.unmet)
		unmet := k.incumbent.unmet
		floor = k.result()
		opt.Starts = [][]cutting.Use{k.incumbent.uses}
		if opt.up != nil {
			opt.up, _ = RoundedUp(met)
		}
		before = k.meter.Steps
		k = newSolver(ctx, met, opt)
		k.floor, k.missing = floor, unmet
		k.search()
		k.fallBack()
	}
	k.observe("done")
	r := k.result()
	r.Steps = before + k.meter.Steps
	return r
}

// Known is the best of some plans, with the bound that needs no search.
func Known(ctx context.Context, p *cutting.Problem, plans [][]cutting.Use) Result {
	k := &solver{p: p, ctx: ctx, coin: max(1, p.Coin), bound: math.MinInt64}
	k.free.Bound, k.free.Certificate = Free(p)
	k.incumbent = k.meetsNothing()
	for _, uses := range plans {
		sol := k.trimmed(uses)
		if cmp.Or(cmp.Compare(sol.short, k.incumbent.short),
			cmp.Compare(sol.value, k.incumbent.value)) < 0 {
			k.incumbent = sol
		}
	}
	k.beginByArea()
	return k.result()
}

// beginByArea begins with the bound by area, where it says more than the one that needs no search.
func (k *solver) beginByArea() {
	if bound, cert := byArea(k.p); cert != nil && bound > k.free.Bound {
		k.bound, k.cert = bound, cert
		k.plainBound, k.plain = bound, cert
	}
}

func (k *solver) fallBack() {
	for _, uses := range k.opt.Fallbacks {
		k.offer(uses)
	}
}

// withDemandMet is the problem with less demand; what is not wanted at all no stock holds, as if it
// had never been asked for.
func withDemandMet(p *cutting.Problem, unmet []int64) *cutting.Problem {
	met := &cutting.Problem{Items: slices.Clone(p.Items), Stocks: slices.Clone(p.Stocks),
		Kerf: p.Kerf, Rip: p.Rip, RipCost: p.RipCost, Coin: p.Coin}
	for i, n := range unmet {
		met.Items[i].Demand -= n
	}
	for s := range met.Stocks {
		holds := &met.Stocks[s].Holds
		*holds = slices.DeleteFunc(slices.Clone(*holds), func(i int) bool {
			return met.Items[i].Demand == 0
		})
	}
	return met
}

// newSolver makes one that knows no plan and no bound yet; its pricers are ready to be asked.
func newSolver(ctx context.Context, p *cutting.Problem, opt Options) *solver {
	if opt.Work == 0 {
		opt.Work = 4e9
	}
	if opt.Memory == 0 {
		opt.Memory = 1 << 28
	}
	k := &solver{p: p, opt: opt, ctx: ctx, pricing: newPricing(p, opt),
		pool: pool{seen: map[string]*column{}}, coin: max(1, p.Coin), bound: math.MinInt64,
		rootEstimate: math.Inf(-1), given: make([]given, len(p.Stocks))}
	k.costs, k.budget = costsOf(p), budgetOf(opt.Work, k.lists, opt.up != nil)
	k.free.Bound, k.free.Certificate = Free(p)
	k.beginByArea()
	k.hasty = opt.Work / 2
	k.openers, k.long = 2, k.thin
	k.incumbent = k.meetsNothing()
	return k
}

// solve solves a linear program, unless the context ends.
func (k *solver) solve(m *lp.Problem) lp.Status {
	m.Stop = func() bool { return k.ctx.Err() != nil }
	return m.Solve()
}

// over says that the search must end.
func (k *solver) over() bool {
	return k.meter.Steps >= k.opt.Work || k.ctx.Err() != nil
}

func (k *solver) search() {
	if root := k.plans(); !k.over() {
		k.observe("ties")
		k.ties(root, k.budget.ties)
	}
}

// plans looks for the cheapest plan and proves what it can; it gives the master without branching.
func (k *solver) plans() *master {
	k.observe("plans at hand")
	for _, uses := range k.opt.Starts {
		k.offer(uses)
		for i := range uses {
			k.pool.add(newColumn(k.p, uses[i].Pattern))
		}
	}
	for _, t := range k.opt.Patterns {
		k.pool.add(newColumn(k.p, t))
	}
	if k.many {
		k.observe("stocks in turn")
		k.completeInTurn(nil, k.steepDuals(), k.opt.Work/turnShare)
	}
	k.observe("relaxation")
	root := newMaster(k.p, k.costs, &k.pool)
	plain := root
	k.relax(root)
	k.certify(root)
	if k.closed() || k.over() {
		return root
	}
	for _, step := range []struct {
		phase string
		plans bool // it proves nothing
		run   func()
	}{
		{"dives", true, func() {
			if k.manyLong() {
				k.manyDives(root)
				return
			}
			if !k.lists { // a dive takes long there
				k.quickDive(root)
			}
			k.dives(root)
		}},
		{"columns", true, func() { k.combine(root, k.budget.columns) }},
		{"reopening", false, func() { k.reopen(k.budget.reopeningFirst) }},
		{"within demands", false, func() {
			if m := k.keepWithin(); m != nil {
				root = m
			}
		}},
		{"lists", false, func() {
			if k.listing || k.lists {
				k.branch(root, 1)
			}
			if k.begun == nil && k.listing {
				root, k.listing = plain, false
			}
		}},
		{"reopening", false, func() { k.reopen(k.budget.reopeningNext) }},
		{"branching", false, func() {
			if !k.manyLong() { // a node takes as long as all there was before
				k.branch(root, -1)
			}
		}},
		{"columns again", true, func() { k.combine(root, k.budget.columnsAgain) }},
		{"reopening", false, func() { k.reopen(k.lastReopening()) }},
		{"branching", false, func() { k.branchOn(root) }},
	} {
		if step.plans && k.opt.up != nil {
			continue
		}
		k.observe(step.phase)
		step.run()
		if k.closed() || k.over() {
			return root
		}
	}
	return root
}

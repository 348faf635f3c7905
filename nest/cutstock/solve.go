package cutstock

import (
	"context"
	"math"
	"slices"

	"rackwright/nest/cutting"
)

// Options say how much work a solution is worth. The zero value works.
type Options struct {
	// basic steps, about a nanosecond each; the same number gives the same plan. Zero means 4e9
	Work   int64
	Starts [][]cutting.Use // plans already known, each legal; zero means none
	// Fallbacks are plans that count at the end only, so that they cannot change the way of the
	// search; zero means none.
	Fallbacks [][]cutting.Use
	// called as the search goes on, from the goroutine of Solve; nil means silent
	Observe func(Event)
}

// Event is what is known at a moment of the search.
type Event struct {
	Phase  string // what the search has just done, in a word or two
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
	bound     int64 // proven
	cert      *Proof

	plainBound int64 // of the relaxation without branching
	plain      *Proof

	// The prices with the greatest estimated bound of the relaxation without branching.
	rootPrices   prices
	rootEstimate float64
	quotas       []quota
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
func Solve(ctx context.Context, p *cutting.Problem, opt Options) Result {
	k := newSolver(ctx, p, opt)
	k.search()
	k.fallBack()
	if k.incumbent.short > 0 {
		met := withDemandMet(p, k.incumbent.unmet)
		unmet := k.incumbent.unmet
		opt.Starts = [][]cutting.Use{k.incumbent.uses}
		k = newSolver(ctx, met, opt)
		k.search()
		k.fallBack()
		k.incumbent.unmet = unmet
	}
	k.observe("done")
	return k.result()
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
	k := &solver{p: p, opt: opt, ctx: ctx, pricing: newPricing(p),
		pool: pool{seen: map[string]*column{}}, coin: max(1, p.Coin), bound: math.MinInt64,
		rootEstimate: math.Inf(-1)}
	k.costs, k.budget = costsOf(p), budgetOf(opt.Work, k.lists)
	k.incumbent = k.meetsNothing()
	return k
}

// over says that the search must end.
func (k *solver) over() bool { return k.meter.Steps >= k.opt.Work || k.ctx.Err() != nil }

func (k *solver) observe(phase string) {
	if k.opt.Observe != nil {
		k.opt.Observe(Event{Phase: phase, Value: k.incumbent.value, Bound: k.bound,
			Proven: k.cert != nil, Done: phase == "done"})
	}
}

// closed says that the incumbent is proven: no plan is cheaper by a coin.
func (k *solver) closed() bool { return k.incumbent.short == 0 && k.goal() <= k.bound }

// goal is the least bound that leaves no plan cheaper than the incumbent by a coin.
func (k *solver) goal() int64 { return k.incumbent.value - k.coin + 1 }

func (k *solver) search() {
	if root := k.plans(); !k.over() {
		k.ties(root, k.budget.ties)
		k.observe("ties")
	}
}

// plans looks for the cheapest plan and proves what it can; it gives the master without branching.
func (k *solver) plans() *master {
	for _, uses := range k.opt.Starts {
		k.offer(uses)
		for i := range uses {
			k.pool.add(newColumn(k.p, uses[i].Pattern))
		}
	}
	k.observe("start")
	root := newMaster(k.p, k.costs, &k.pool, nil)
	k.generate(root)
	root = k.limitCopies(root)
	k.certify(root)
	k.observe("relaxation")
	if k.closed() || k.over() {
		return root
	}
	for _, step := range []struct {
		phase string
		run   func()
	}{
		{"dives", func() { k.dives(root) }},
		{"columns", func() { k.combine(root, k.budget.columns) }},
		{"reopening", func() { k.reopen(k.budget.reopeningFirst) }},
		{"branching", func() { k.branch(root) }},
		{"columns again", func() { k.combine(root, k.budget.columnsAgain) }},
		{"reopening", func() { k.reopen(k.budget.reopening) }},
	} {
		step.run()
		k.observe(step.phase)
		if k.closed() || k.over() {
			return root
		}
	}
	return root
}

// noteDuals keeps the duals that give the best bound so far.
func (k *solver) noteDuals(m *master, at prices, best []int64) {
	b, theta := k.estimate(m, at.duals, best)
	if b <= k.rootEstimate {
		return
	}
	k.rootEstimate = b
	k.rootPrices = at.clone()
	if theta < 1<<30 {
		k.rootPrices.lower(float64(theta) / (1 << 30))
	}
}

// certify proves the bound of the root.
func (k *solver) certify(root *master) {
	if k.rootPrices.duals == nil {
		k.rootPrices.duals = make([]int64, len(k.p.Items))
	}
	b, at, _ := k.prove(root.least, root.most, k.rootPrices)
	if b < 0 { // no plan costs less than nothing, and duals of 0 prove it
		b, at, _ = k.prove(root.least, root.most, prices{duals: make([]int64, len(k.p.Items))})
	}
	if b > k.bound {
		k.bound, k.cert = b, &Proof{Leaf: &Leaf{Duals: at.duals, Quotas: k.leafQuotas(at)}}
		k.plainBound, k.plain = k.bound, k.cert
	}
}

func (k *solver) result() Result {
	r := Result{Uses: k.incumbent.uses, Unmet: k.incumbent.unmet, Value: k.incumbent.value,
		Bound: k.bound, Certificate: k.cert, PlainBound: k.plainBound, Plain: k.plain}
	switch {
	case k.closed():
	case k.ctx.Err() == context.DeadlineExceeded:
		r.Ended = Clock
	case k.ctx.Err() != nil:
		r.Ended = Interrupted
	case k.meter.Steps >= k.opt.Work:
		r.Ended = WorkLimit
	}
	return r
}

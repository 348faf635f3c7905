package choosing

import (
	"cmp"
	"context"
	"math"
	"slices"

	"rackwright/nest/cutstock"
	"rackwright/nest/cutstock/cuts"
	"rackwright/nest/cutting"
)

// Shares of the work: one part of so many.
const (
	roundShare   = 12 // planning a choice that the relaxation gives
	lastShare    = 5  // planning the best of these
	tryShare     = 32 // trying a choice that differs from the best in one want
	improveShare = 4  // all that is tried so
	tiesShare    = 16 // choices that cost the same
)

// mostPatterns is how many patterns of the relaxation planning a choice begins with. planMemory is
// which part of the memory that may take, as the relaxation keeps its tables meanwhile.
const mostPatterns, planMemory = 1024, 4

// Phases that are told.
const (
	relaxing  = "ways to make up parts"
	trying    = "trying ways to make up parts"
	planning  = "planning the pieces"
	branching = "branching on ways"
)

// search is one under way.
type search struct {
	ctx   context.Context
	p     *cutting.Problem
	opt   cutstock.Options
	relax *cutstock.Choosing
	spent int64 // of the work, but for the relaxations
	best  cutstock.Result
	// bound and proof of what is minimised, and the same without branching
	bound, plainBound int64
	proof, plain      *cutstock.Proof
	root              cutstock.Relaxed
	tried             map[string]bool // choices, by their key
	unmet             []int64         // of the items for themselves, which p does not want
	noSpares          bool            // supply is short, so that no spare copies are made
	rule              []cutting.Chosen
}

// Solve finds a cheap plan for a problem with wants, and a bound. It begins with a choice, and
// plans for it among the starts. Where supply is short for that choice, wants are cut down first:
// what is not made, and what of the items is unmet, the result says of the whole problem.
func Solve(ctx context.Context, p *cutting.Problem, rule []cutting.Chosen,
	opt cutstock.Options) cutstock.Result {
	s := newSearch(ctx, p, rule, opt)
	if up, ok := cutstock.RoundedUp(p); !ok || !s.coarsely(up) {
		s.byRule()
	}
	s.search()
	for _, uses := range opt.Fallbacks {
		s.take(cutstock.Known(ctx, s.p.Fixed(s.rule), [][]cutting.Use{uses}), s.rule)
	}
	return s.result()
}

// byRule begins with the rule's choice; where supply is short for it with another, or with less.
func (s *search) byRule() {
	s.tell(planning)
	first := s.plan(s.best.Chosen, s.part(roundShare), s.opt.Starts)
	switch {
	case !short(first.Unmet):
		s.take(first, s.best.Chosen)
	case !s.otherwise():
		s.cutDown(slices.Concat([][]cutting.Use{first.Uses}, s.opt.Starts, s.opt.Fallbacks)...)
	}
}

// coarsely begins with a choice and its plan that are found with kerfs rounded up, in half the work
// beside; false where these leave something unmet.
func (s *search) coarsely(up *cutting.Problem) bool {
	opt := cutstock.Options{Work: s.part(2), Memory: s.opt.Memory}
	if s.opt.Observe != nil {
		opt.Observe = func(e cutstock.Event) { s.tell(e.Phase) }
	}
	took := func(r *cutstock.Result) bool {
		return !short(r.Unmet) && s.takeAsItIs(cutstock.LaidOut(s.p, up, r.Uses), r.Chosen)
	}
	if s.opt.Found != nil {
		opt.Found = func(r cutstock.Result) { took(&r) }
	}
	r := Solve(s.ctx, up, s.rule, opt)
	took(&r)
	return !short(s.best.Unmet)
}

// otherwise looks for a plan that meets all by another choice than the rule's, where supply is
// short for that one.
func (s *search) otherwise() bool {
	if !s.begin() {
		return false
	}
	chosen := s.withoutVain(s.nearest(&s.root))
	return s.take(s.plan(chosen, s.part(roundShare), nil), chosen)
}

// Known is what is known of a choice by plans alone, with the bound that needs no search.
func Known(ctx context.Context, p *cutting.Problem, rule []cutting.Chosen,
	plans [][]cutting.Use) cutstock.Result {
	s := newSearch(ctx, p, rule, cutstock.Options{Starts: plans})
	if short(s.best.Unmet) {
		s.cutDown(plans...)
	}
	return s.result()
}

func newSearch(ctx context.Context, p *cutting.Problem, rule []cutting.Chosen,
	opt cutstock.Options) *search {
	s := &search{ctx: ctx, p: p, opt: opt, rule: rule, tried: map[string]bool{},
		unmet: make([]int64, len(p.Items))}
	s.bound, s.proof = cutstock.Free(p)
	s.plainBound, s.plain = s.bound, s.proof
	s.best = cutstock.Known(ctx, p.Fixed(rule), opt.Starts)
	s.best.Chosen = rule
	return s
}

func short(unmet []int64) bool {
	return slices.ContainsFunc(unmet, func(n int64) bool { return n > 0 })
}

// part is a part of all work.
func (s *search) part(share int64) int64 { return max(1, s.opt.Work/share) }

// over says that the search must end.
func (s *search) over() bool { return s.ctx.Err() != nil || s.rest() <= 0 }

// rest is the work that is left.
func (s *search) rest() int64 {
	rest := s.opt.Work - s.spent
	if s.relax != nil {
		rest -= s.relax.Steps()
	}
	return rest
}

// hasty says that no more is left than planning the best choice for long is to have.
func (s *search) hasty() bool { return s.over() || s.rest() <= s.part(lastShare) }

// cost is what is minimised.
func (s *search) cost(r *cutstock.Result, chosen []cutting.Chosen) int64 {
	return r.Value + s.p.Forgone(chosen)
}

// goal is the least bound that leaves no plan cheaper by a coin.
func (s *search) goal() int64 {
	return s.cost(&s.best, s.best.Chosen) - max(1, s.p.Coin) + 1
}

func (s *search) closed() bool { return s.bound >= s.goal() }

// plan plans the pieces of a choice.
func (s *search) plan(chosen []cutting.Chosen, work int64,
	starts [][]cutting.Use) cutstock.Result {
	s.tried[key(chosen)] = true
	opt := s.opt
	opt.Work, opt.Memory, opt.Starts, opt.Fallbacks = work, opt.Memory/planMemory, nil, nil
	opt.Observe, opt.Found = nil, nil
	opt.ForPlan = true
	fixed := s.p.Fixed(chosen)
	p, at := fixed.Compact()
	index := make([]int, len(fixed.Items))
	for n, i := range at {
		index[i] = n
	}
	for _, uses := range starts {
		opt.Starts = append(opt.Starts,
			among(wanted(uses, fixed), func(i int) int { return index[i] }))
	}
	if s.root.Duals != nil {
		opt.Patterns = s.relax.Likely(fixed, mostPatterns)
		for n := range opt.Patterns {
			t := &opt.Patterns[n]
			t.Places = placesAmong(t.Places, func(i int) int { return index[i] })
		}
	}
	r := cutstock.Solve(s.ctx, p, opt)
	s.spent += r.Steps
	n := len(fixed.Items)
	r.Uses = among(r.Uses, func(i int) int { return at[i] })
	r.Unmet = cuts.Spread(r.Unmet, at, n)
	r.Certificate, r.Plain = r.Certificate.Among(at, n), r.Plain.Among(at, n)
	if s.relax != nil {
		s.relax.Know(r.Uses)
	}
	return r
}

// among are uses in which the items have other indices.
func among(uses []cutting.Use, index func(i int) int) []cutting.Use {
	out := slices.Clone(uses)
	for n := range out {
		out[n].Pattern.Places = placesAmong(out[n].Pattern.Places, index)
	}
	return out
}

// placesAmong are places so.
func placesAmong(places []cutting.Place, index func(i int) int) []cutting.Place {
	out := slices.Clone(places)
	for k := range out {
		out[k].Item = index(out[k].Item)
	}
	return out
}

// wanted are uses without the pieces that a program does not want.
func wanted(uses []cutting.Use, p *cutting.Problem) (out []cutting.Use) {
	for _, u := range uses {
		t := u.Pattern
		for n := 0; n < len(t.Places); {
			if p.Items[t.Places[n].Item].Demand > 0 {
				n++
				continue
			}
			t = p.Drop(&t, n)
			n = 0
		}
		if len(t.Places) > 0 {
			out = append(out, cutting.Use{Pattern: t, Times: u.Times})
		}
	}
	return out
}

// take takes a plan of a choice, where it is better than the best; it says whether it is. Of those
// that cost the same the one with more spare copies is, then that of fewer pieces to glue.
func (s *search) take(r cutstock.Result, chosen []cutting.Chosen) bool {
	if short(r.Unmet) || !short(s.best.Unmet) && cmp.Or(
		cmp.Compare(s.cost(&r, chosen), s.cost(&s.best, s.best.Chosen)),
		cmp.Compare(s.spares(s.best.Chosen), s.spares(chosen)),
		cmp.Compare(s.pieces(chosen), s.pieces(s.best.Chosen))) >= 0 {
		return false
	}
	r.Chosen = chosen
	s.best = r
	s.found()
	return true
}

// prove takes a bound, where it is higher.
func (s *search) prove(bound int64, proof *cutstock.Proof) {
	if bound > s.bound {
		s.bound, s.proof = bound, proof
		s.found()
	}
}

func (s *search) found() {
	if s.opt.Found != nil {
		s.opt.Found(s.result())
	}
}

func (s *search) tell(phase string) {
	if s.opt.Observe != nil {
		r := s.result()
		s.opt.Observe(cutstock.Event{Phase: phase, Value: r.Value, Bound: r.Bound, Proven: true})
	}
}

// begin solves the relaxation, and proves its bound; false where the search is over before.
func (s *search) begin() bool {
	if s.relax != nil {
		return true
	}
	s.relax = cutstock.NewChoosing(s.ctx, s.p, s.best.Chosen, cutstock.Options{Work: s.part(2),
		Memory: s.opt.Memory, Starts: [][]cutting.Use{s.best.Uses}})
	s.tell(relaxing)
	root, ok := s.relax.Relax(cutstock.NoLimits(s.p), s.relax.AllBoards(false), s.goal())
	if !ok {
		return false
	}
	s.root = root
	s.plainBound, s.plain = max(s.bound, root.Bound), root.Proof
	if root.Bound < s.bound {
		s.plain = s.proof
	}
	s.prove(root.Bound, root.Proof)
	return true
}

// search looks for plans and bounds from a first plan on that meets all.
func (s *search) search() {
	if !s.begin() {
		s.last()
		return
	}
	for _, step := range []struct {
		phase string
		run   func()
	}{
		{trying, s.round}, {planning, s.last}, {trying, s.improve}, {branching, s.branch},
		{trying, s.reopenLast},
	} {
		if s.closed() || s.over() {
			break
		}
		s.tell(step.phase)
		s.relax.Until(s.opt.Work - s.spent)
		step.run()
	}
	s.ties()
}

// last plans the best choice for long.
func (s *search) last() {
	chosen := s.best.Chosen
	s.take(s.plan(chosen, s.part(lastShare), [][]cutting.Use{s.best.Uses}), chosen)
}

// result is what is known now.
func (s *search) result() cutstock.Result {
	r := s.best
	forgone := s.p.Forgone(r.Chosen)
	less := func(bound int64) int64 {
		if bound == math.MinInt64 {
			return bound
		}
		return bound - forgone
	}
	r.Bound, r.Certificate = less(s.bound), s.proof
	r.PlainBound, r.Plain = less(s.plainBound), s.plain
	r.Unmet = slices.Clone(s.unmet)
	for i, n := range s.best.Unmet { // only before a search
		r.Unmet[i] += n
	}
	r.Ended = cutstock.Finished
	switch {
	case s.closed():
	case context.Cause(s.ctx) == context.DeadlineExceeded:
		r.Ended = cutstock.Clock
	case s.ctx.Err() != nil:
		r.Ended = cutstock.Interrupted
	case s.over():
		r.Ended = cutstock.WorkLimit
	}
	return r
}

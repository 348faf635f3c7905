package nest

import (
	"context"
	"slices"
	"sync"
	"sync/atomic"
	"time"

	"rackwright/model"
	"rackwright/model/beside"
	"rackwright/model/check"
	"rackwright/model/proof"
	"rackwright/nest/cutlist"
	"rackwright/nest/cutstock"
	"rackwright/nest/sawing"
)

// Judging a plan takes its time, too: the checker derives each bound again, by code of its own. It
// may take as long as the search did to find it. So that no bound is lost when a search is ended:
//
//   - Judging is rehearsed while the search goes on, with what it has come to. A certificate that
//     the checker has worked out then need not be worked out again in the end.
//   - What that took is kept in reserve before the clock runs out.
//   - Once the time is out, judging has half a second more. A group whose certificate is not worked
//     out by then has the last one that is; else the one that needs no search.

// grace is how long bounds are derived after a plan is to stand.
const grace = 500 * time.Millisecond

// proving is how the plan under way is judged.
type proving struct {
	*planning
	prover  func() *proof.Prover
	lasting context.Context // ends after the grace
	close   func()          // to be called when all is done

	superseded atomic.Bool // the last rehearsal is of no more use
	standby    standby

	mine      sync.Mutex
	judged    []cutstock.Result // by group the last whose bound is derived; no certificate: none
	last      *rehearsal        // nil: there was none
	rehearsed bool              // the first is over
}

// rehearsal is a plan of what a search had come to.
type rehearsal struct {
	results []cutstock.Result
	done    []bool        // by group
	laid    chan struct{} // closed once the rest is known
	*draft
	err  error
	took time.Duration // to lay it out
}

// cutShort are its results, if that is all that a search comes to.
func (r *rehearsal) cutShort(p *planning) []cutstock.Result {
	results := slices.Clone(r.results)
	p.cutShort(results, r.done, cutstock.Interrupted)
	return results
}

func newProving(p *planning) *proving {
	v := &proving{planning: p, judged: make([]cutstock.Result, len(p.groups)),
		prover: sync.OnceValue(func() *proof.Prover { return proof.NewProver(p.job) })}
	lasting, end := context.WithCancel(context.WithoutCancel(p.ctx))
	v.lasting = lasting
	stop := context.AfterFunc(p.ctx, func() { time.AfterFunc(grace, end) })
	v.close = func() {
		stop()
		end()
	}
	if !p.ends.IsZero() {
		time.AfterFunc(time.Until(p.ends)+grace, end)
	}
	if len(p.job.Parts)*(len(p.job.Rack)+len(p.job.Yard)) > 1e5 {
		go v.prover() // it takes a while to find out which wood holds which part
	}
	return v
}

// draft is a plan that is laid out and checked, its proof apart.
type draft struct {
	job     *model.Job // as it is made
	hasty   bool       // its copies are dealt in haste
	plan    *model.Plan
	units   []cutlist.Unit
	reading *check.Reading
}

// lay writes down a plan of what was found for each group, and has its cuts checked: in haste where
// that is asked for, or who ended the search waits. It gives up between its steps once that is of
// no more use; then there is no draft.
func (v *proving) lay(results []cutstock.Result, haste bool, useless func() bool) (*draft, error) {
	cut := asMade(v.job, v.groups, results, v.short)
	d := &draft{job: cut.job, hasty: haste || v.ctx.Err() != nil}
	decoder := newDecoder(cut.job, v.worth)
	decoder.prior = v.prior
	if d.hasty {
		decoder.swaps = hastyDeal
	}
	if useless() {
		return nil, nil
	}
	d.plan, d.units = decoder.write(cut.groups, usesOf(results), cut.short, v.opt.Date)
	d.plan.Made = cut.made
	d.certify(v, results)
	if useless() {
		return nil, nil
	}
	var found []model.Finding
	d.reading, found = check.Check(cut.job, d.plan)
	return d, rejected(found)
}

func never() bool { return false }

// certify writes down what is proven of each group, in a plan that shares all else with the one
// before.
func (d *draft) certify(v *proving, results []cutstock.Result) {
	plan := *d.plan
	plan.Groups, plan.Bound = v.certificates(results), 0
	settleValues(&plan, v.worth, results)
	d.plan = &plan
	if d.reading != nil {
		reading := *d.reading
		reading.Plan = d.plan
		d.reading = &reading
	}
}

// certificates are the groups of a plan with what is proven of each, values in money apart.
func (v *proving) certificates(results []cutstock.Result) (out []model.Group) {
	for n, g := range v.groups {
		out = append(out, certify(v.job, v.worth, g, &results[n]))
	}
	return out
}

// bounds has the bounds of a plan derived again, unless the grace is over before.
func (v *proving) bounds(d *draft) (found []model.Finding, done bool) {
	type judgement struct {
		found []model.Finding
		done  bool
	}
	reading := d.reading
	judged := beside.Aside(func() judgement {
		found, done := v.prover().Bounds(v.lasting, reading)
		return judgement{found, done}
	})
	select {
	case out := <-judged:
		j := out.Get()
		return j.found, j.done
	case <-v.lasting.Done():
	}
	select {
	case out := <-judged:
		j := out.Get()
		return j.found, j.done
	case <-time.After(moment):
		return nil, false
	}
}

// rehearse judges what the search has come to, again and again, as long as it goes on: soon where a
// clock will end it, else once it takes its time, and at once where a plan is to stand by. It takes
// a small part of the time only.
func (v *proving) rehearse() {
	wait, share := time.Second, time.Duration(20)
	if v.clock != nil {
		wait, share = min(wait, max(v.opt.Clock/20, 100*time.Millisecond)), 5
	}
	if v.opt.Ready != nil {
		wait = 0
	}
	for known := []cutstock.Result(nil); ; {
		select {
		case <-v.search.Done():
			return
		case <-time.After(wait):
		}
		results, done := v.sofar()
		if slices.EqualFunc(known, results, func(a, b cutstock.Result) bool {
			return a.Certificate == b.Certificate
		}) {
			wait = 200 * time.Millisecond
			continue
		}
		known = results
		begun := time.Now()
		r := &rehearsal{results: results, done: done, laid: make(chan struct{})}
		v.mine.Lock()
		v.last = r
		v.mine.Unlock()
		// the first is to stand soon, where one is to stand by
		first := v.opt.Ready != nil && !v.rehearsed
		v.layFor(r, first)
		if r.draft == nil || r.err != nil { // of no use, or the same comes out in the end
			return
		}
		d, laid := r.draft, r.took
		v.reserve(laid * 3 / 2)
		found, judged := v.bounds(d)
		if judged {
			v.note(d, results)
		}
		took := time.Since(begun)
		v.reserve(laid*3/2 + min((took-laid)*3/2, v.opt.Clock/4))
		if judged && len(found) == 0 && laid > atOnce && v.opt.Ready != nil {
			v.makeReady(r, begun)
		}
		wait = max(200*time.Millisecond, share*took)
		v.mine.Lock()
		v.rehearsed = true
		v.mine.Unlock()
	}
}

// layFor lays out the plan of a rehearsal. Where that panics there is none.
func (v *proving) layFor(r *rehearsal, haste bool) {
	begun := time.Now()
	defer close(r.laid)
	r.draft, r.err = v.lay(r.results, haste, v.superseded.Load)
	r.took = time.Since(begun)
}

// note keeps those bounds that have been derived.
func (v *proving) note(d *draft, results []cutstock.Result) {
	v.mine.Lock()
	defer v.mine.Unlock()
	for n := range results {
		if v.prover().Knows(&d.plan.Groups[n].Certificate) {
			v.judged[n] = results[n]
		}
	}
}

// settle writes the plan, has it judged, and puts its cuts in order meanwhile; or it gives the one
// that stands by.
func (v *proving) settle() (*model.Plan, error) {
	results, _ := v.sofar()
	if made := v.standing(results); made != nil {
		v.superseded.Store(true)
		v.tellRest(made.results)
		return made.plan, nil
	}
	if r := v.first(); r != nil {
		results = r.cutShort(v.planning)
	}
	v.tellAll(results, Judging)
	v.deriveAhead(results)
	d, err := v.laidOut(results)
	if err != nil {
		return d.plan, err
	}
	sawn, hurry := context.WithCancel(v.lasting)
	defer hurry()
	begun, ordered := time.Now(), v.order(sawn, d)
	plan, err := v.prove(d, results)
	if err != nil {
		return plan, err
	}
	var late <-chan time.Time
	if v.search.Err() != nil { // someone waits; the plan has a plain order of least time already
		rest := moment - time.Since(begun)
		if v.ctx.Err() == nil { // by the clock, which may leave more time
			rest = max(rest, time.Until(v.ends))
		}
		time.AfterFunc(rest, hurry)
		if v.opt.Order != model.LeastClutter {
			late = time.After(rest)
		}
	}
	select {
	case out := <-ordered:
		better := out.Get()
		plan.Order, plan.Work = better.Order, better.Work
	case <-late:
	}
	return plan, rejected(d.reading.Again(plan))
}

// first is the first rehearsal, where the search was ended from outside while it was under way: the
// plan of that will be there sooner than a new one, but for one that is laid out quickly.
func (v *proving) first() *rehearsal {
	v.mine.Lock()
	defer v.mine.Unlock()
	if v.ctx.Err() == nil || v.opt.Ready == nil || v.last == nil || v.rehearsed {
		return nil
	}
	select {
	case <-v.last.laid:
		if v.last.took <= atOnce {
			return nil
		}
	default:
	}
	return v.last
}

// deriveAhead begins with the bounds of a plan that is not laid out yet, as those of the boards of
// the last rehearsal: what they hang on are certificates alone, and what is derived is remembered.
func (v *proving) deriveAhead(results []cutstock.Result) {
	v.mine.Lock()
	r := v.last
	v.mine.Unlock()
	if r == nil {
		return
	}
	select {
	case <-r.laid:
	default:
		return
	}
	if r.draft == nil || r.err != nil {
		return
	}
	plan, reading := *r.draft.plan, *r.draft.reading
	plan.Groups = v.certificates(results)
	reading.Plan = &plan
	beside.Aside(func() struct{} {
		v.prover().Bounds(v.lasting, &reading)
		return struct{}{}
	})
}

// order works out the order of work of a plan, beside whatever else is done.
func (v *proving) order(ctx context.Context, d *draft) <-chan beside.Outcome[model.Plan] {
	plan := *d.plan
	return beside.Aside(func() model.Plan {
		sawing.Write(ctx, d.job, &plan, d.units, v.opt.Order)
		return plan
	})
}

// prove has the bounds of a plan judged. Where the cuts are right and a bound is not, that is a
// fault of ours that shall not cost the maker a plan: the plain bounds, which are proven by less,
// stand in for it, and an event of phase [PlainBound] tells so of each group.
func (v *proving) prove(d *draft, results []cutstock.Result) (*model.Plan, error) {
	found, done := v.bounds(d)
	if !done {
		v.inTime(d, results)
		found, _ = v.prover().Bounds(context.Background(), d.reading)
	}
	if len(found) == 0 {
		v.tellRest(results)
		return d.plan, nil
	}
	whole := d.plan
	for n := range results {
		results[n].Bound, results[n].Certificate = results[n].PlainBound, results[n].Plain
	}
	v.tellAll(results, PlainBound)
	d.certify(v, results)
	if again, done := v.bounds(d); done && len(again) == 0 {
		return d.plan, nil
	}
	return whole, rejected(found)
}

// laidOut is the plan of what was found, laid out and checked: that of the last rehearsal, where
// the search has found no other since.
func (v *proving) laidOut(results []cutstock.Result) (*draft, error) {
	v.mine.Lock()
	r := v.last
	v.mine.Unlock()
	if r == nil || !sameFound(r.results, results) {
		v.superseded.Store(true)
		return v.lay(results, false, never)
	}
	if <-r.laid; r.err != nil {
		return r.draft, r.err
	}
	if r.draft == nil || r.draft.hasty && v.ctx.Err() == nil {
		return v.lay(results, false, never)
	}
	d := *r.draft
	d.certify(v, results)
	return &d, nil
}

// inTime leaves those bounds that have been derived in time. In place of others it puts the last
// that has been, if it is of a plan that meets the same, or else the one that needs no search.
func (v *proving) inTime(d *draft, results []cutstock.Result) {
	v.mine.Lock()
	defer v.mine.Unlock()
	for n := range results {
		r, known := &results[n], &v.judged[n]
		if v.prover().Knows(&d.plan.Groups[n].Certificate) {
			continue
		}
		if known.Certificate != nil && sameMet(known, r) {
			r.Bound, r.Certificate = known.Bound, known.Certificate
		} else {
			r.Bound, r.Certificate = v.groups[n].free(r)
		}
	}
	d.certify(v, results)
}

// tellAll tells of all groups that they are in a phase.
func (v *proving) tellAll(results []cutstock.Result, phase string) {
	for n := range results {
		v.tellOf(n, &results[n], phase, phase == PlainBound || v.done[n])
	}
}

// tellRest tells of the groups that have not told so themselves that they are done.
func (v *proving) tellRest(results []cutstock.Result) {
	for n := range results {
		if !v.done[n] {
			v.tellOf(n, &results[n], "done", true)
		}
	}
}

func (v *proving) tellOf(n int, r *cutstock.Result, phase string, done bool) {
	if tell := watch(v.opt.Observe, v.worth, n, len(v.groups), v.groups[n].name); tell != nil {
		tell(cutstock.Event{Phase: phase, Value: r.Value, Bound: r.Bound, Proven: true,
			Done: done})
	}
}

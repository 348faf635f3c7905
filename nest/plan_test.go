package nest

import (
	"context"
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"
	"time"

	"rackwright/model"
)

const in = model.UnitsPerInch

// randomJob makes a small job of two materials and three sections, some boards with defects, some
// scarce.
func randomJob(r *rand.Rand) *model.Job {
	inches := func(lo, hi int) model.Length {
		return model.Length(lo*8+r.IntN((hi-lo)*8+1)) * in / 8
	}
	job := &model.Job{Settings: model.DefaultSettings()}
	s := &job.Settings
	s.YardEnd, s.RackEnd = inches(0, 1), inches(0, 1)/2
	s.CrosscutKerf = model.Length(r.IntN(4)) * in / 16
	s.Offcut.KeepLength = inches(0, 16)
	s.Offcut.Value = reduced(model.Fraction{Num: 1 + r.Int64N(9), Den: 10})
	s.Handling = model.Money(r.Int64N(3) * 2500)
	woods := []model.Wood{
		{Material: "fir", Section: "2x4"}, {Material: "fir", Section: "2x6"},
		{Material: "oak", Section: "4/4", Width: 6 * in, Surface: model.S2S},
	}
	for i := range woods {
		t, w := woods[i].Section.Actual(model.Condition{})
		woods[i].Thickness = t
		if w > 0 {
			woods[i].Width = w
		}
	}
	kinds := []string{"sound knot", "loose knot", "check", "split", "stain"}
	for n := range 4 + r.IntN(12) {
		w := woods[r.IntN(len(woods))]
		w.Length = inches(10, 120)
		b := model.Board{ID: fmt.Sprintf("R%d", n), Wood: w, Bin: fmt.Sprintf("bin %d", r.IntN(3)),
			Where: model.Where{File: "rack.csv", Line: n + 2}}
		for range r.IntN(4) {
			from := model.Length(r.Int64N(int64(w.Length)/in)) * in
			to := min(w.Length, from+inches(0, 4)+in/8)
			b.Defects = append(b.Defects,
				model.Defect{From: from, To: to, Right: w.Width, Kind: kinds[r.IntN(len(kinds))]})
		}
		if r.IntN(6) == 0 {
			v := model.Money(r.Int64N(40000))
			b.Value = &v
		}
		job.Rack = append(job.Rack, b)
	}
	for n, w := range append(woods, woods...) {
		if w.Length = inches(60, 120); r.IntN(8) == 0 {
			continue
		}
		o := model.Offer{Wood: w, Price: model.Money(int64(w.Length) / in * (400 + r.Int64N(400))),
			Where: model.Where{File: "yard.csv", Line: n + 2}}
		if r.IntN(3) == 0 {
			few := r.Int64N(4)
			o.Available = &few
		}
		job.Yard = append(job.Yard, o)
	}
	for n := range 3 + r.IntN(6) {
		w := woods[r.IntN(len(woods))]
		p := model.Part{Commission: fmt.Sprintf("C%d", r.IntN(3)), Name: fmt.Sprintf("part %d", n),
			Qty: 1 + r.Int64N(4), Material: w.Material,
			Length: inches(6, 50), Width: w.Width, Thickness: w.Thickness,
			Face:  model.Face(r.IntN(model.Faces)),
			Where: model.Where{File: "parts.csv", Line: n + 2}}
		if r.IntN(2) == 0 {
			p.Section = w.Section
		}
		if r.IntN(3) == 0 {
			p.Width -= in
		} else if w.Surface != "" { // the board's width is the blank's
			p.Width -= 2 * s.Allowance.Edge
		}
		job.Parts = append(job.Parts, p)
	}
	for c, due := range []string{"2027-03-05", "", "2027-03-01"} {
		job.Commissions = append(job.Commissions,
			model.Commission{Name: fmt.Sprintf("C%d", c), Due: due})
	}
	return job
}

// ownBound plans a job, and the checker must not refuse the bound that was found.
func ownBound(t *testing.T, job *model.Job, opt Options) *model.Plan {
	t.Helper()
	opt.Observe = onlyOwnBounds(t, opt.Observe)
	plan, err := Plan(context.Background(), job, opt)
	if err != nil {
		t.Fatal(err)
	}
	return plan
}

// onlyOwnBounds fails the test where a plan falls back on a plain bound, and hands events on.
func onlyOwnBounds(t *testing.T, observe func(Event)) func(Event) {
	return func(e Event) {
		if e.Phase == PlainBound {
			t.Errorf("%s: the checker does not accept the bound that was found", e.Name)
		}
		if observe != nil {
			observe(e)
		}
	}
}

// compareOwnBounds is [Compare], and the checker must not refuse any bound that was found.
func compareOwnBounds(t *testing.T, job *model.Job, opt Options) []Entry {
	t.Helper()
	entries, err := compare(t.Context(), []*model.Job{job}, opt,
		func(job *model.Job, opt Options) (*model.Plan, error) {
			return ownBound(t, job, opt), nil
		})
	if err != nil {
		t.Fatal(err)
	}
	return entries
}

// Every plan passes both checkers (the planner judges it itself), is no worse than any simple rule
// that meets the same pieces, and is the same with one thread and with eight.
func TestPlansOfRandomJobs(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	short, optimal, groups := 0, 0, 0
	for n := range 400 {
		job := randomJob(r)
		opt := Options{Work: 5e8, Threads: 1, Date: "2027-03-01"}
		entries := compareOwnBounds(t, job, opt)
		plan := entries[len(entries)-1].Plans[0]
		opt.Threads = 8
		if again := ownBound(t, job, opt); !reflect.DeepEqual(plan, again) {
			t.Fatalf("job %d: eight threads give another plan than one", n)
		}
		for _, e := range entries[:len(entries)-2] {
			noBetter(t, job, fmt.Sprintf("job %d: %s", n, e.Name), e.Plans[0], plan)
		}
		if len(plan.Shortages) > 0 {
			short++
		}
		for _, g := range plan.Groups {
			groups++
			if g.Proof == model.Optimal {
				optimal++
			}
		}
	}
	t.Logf("400 jobs, %d of them short of something; %d of %d groups proven optimal", short,
		optimal, groups)
	if short < 20 || optimal < groups/2 {
		t.Errorf("too few of a kind: short %d, optimal %d of %d", short, optimal, groups)
	}
}

// noBetter compares the plan of a simple rule with ours.
func noBetter(t *testing.T, job *model.Job, rule string, simple, plan *model.Plan) {
	t.Helper()
	if a, b := missing(job, simple), missing(job, plan); a < b {
		t.Errorf("%s leaves %d short, the plan %d", rule, a, b)
	}
	if reflect.DeepEqual(simple.Shortages, plan.Shortages) && simple.Value < plan.Value {
		t.Errorf("%s costs %v, the plan %v", rule, simple.Value, plan.Value)
	}
}

// missing is the length of the blanks that a plan leaves short.
func missing(job *model.Job, plan *model.Plan) (sum model.Length) {
	for _, s := range plan.Shortages {
		for i := range job.Parts {
			if p := &job.Parts[i]; p.Commission == s.Commission && p.Name == s.Part {
				sum += job.BlankLength(p) * model.Length(len(s.Copies))
			}
		}
	}
	return sum
}

// The order of the input's rows changes neither value nor bound.
func TestOrderDoesNotMatter(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 2))
	for n := range 60 {
		job, opt := randomJob(r), Options{Work: 5e8}
		if n%3 == 2 {
			withRips(r, job)
			opt.Work = 2e8
		}
		before, err := Plan(context.Background(), job, opt)
		if err != nil {
			t.Fatal(err)
		}
		other := *job
		other.Parts, other.Rack, other.Yard = slices.Clone(job.Parts), slices.Clone(job.Rack),
			slices.Clone(job.Yard)
		r.Shuffle(len(other.Parts), func(a, b int) {
			other.Parts[a], other.Parts[b] = other.Parts[b], other.Parts[a]
		})
		r.Shuffle(len(other.Rack), func(a, b int) {
			other.Rack[a], other.Rack[b] = other.Rack[b], other.Rack[a]
		})
		r.Shuffle(len(other.Yard), func(a, b int) {
			other.Yard[a], other.Yard[b] = other.Yard[b], other.Yard[a]
		})
		after, err := Plan(context.Background(), &other, opt)
		if err != nil {
			t.Fatal(err)
		}
		if before.Value != after.Value || before.Bound != after.Bound {
			t.Fatalf("job %d: value %v bound %v; in another order %v and %v", n, before.Value,
				before.Bound, after.Value, after.Bound)
		}
	}
}

// Interrupted after the first plan is known, the search hands over a plan that both checkers accept
// and that says how it ended; interrupted before, there is no plan. A clock that runs out is said
// as well.
func TestInterrupted(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	interrupted := 0
	for n := range 40 {
		job := randomJob(r)
		ctx, cancel := context.WithCancel(context.Background())
		plan, err := Plan(ctx, job, Options{Threads: 1, Observe: func(Event) { cancel() }})
		if err != nil {
			t.Fatalf("job %d: %v", n, err)
		}
		for _, g := range plan.Groups {
			if g.Ended == model.Interrupted {
				interrupted++
			}
		}
		if plan, err := Plan(ctx, job, Options{}); plan != nil || err != context.Canceled {
			t.Fatalf("job %d: a plan from a search that never began (%v)", n, err)
		}
	}
	clock := 0
	for range 20 {
		plan, err := Plan(context.Background(), randomJob(r), Options{Clock: 1})
		if err != nil {
			t.Fatal(err)
		}
		for _, g := range plan.Groups {
			if g.Ended == model.Clock {
				clock++
			}
		}
	}
	if clock < 10 {
		t.Errorf("only %d groups say that the clock ended them", clock)
	}
	if interrupted < 20 {
		t.Errorf("only %d groups say that they were interrupted", interrupted)
	}
}

// The rules alone give what they give beside the other ways.
func TestRulesAloneAreThoseCompared(t *testing.T) {
	r := rand.New(rand.NewPCG(14, 14))
	for n := range 10 {
		job := randomJob(r)
		withRips(r, job)
		all, err := Compare(t.Context(), []*model.Job{job}, Options{Work: 1, Date: "2027-03-01"})
		if err != nil {
			t.Fatal(err)
		}
		alone, err := ByRules(t.Context(), job, "2027-03-01")
		if err != nil || len(alone) != len(all)-2 || !reflect.DeepEqual(alone, all[:len(alone)]) {
			t.Errorf("job %d: %d rules alone, %d ways, or other plans; %v", n, len(alone),
				len(all), err)
		}
	}
}

// Months in sequence: each stands on the rack that the one before left, in every way of planning;
// wood is neither made nor lost.
func TestMonthsFollowEachOther(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	for n := range 20 {
		job, opt := randomJob(r), Options{Work: 2e8}
		if n%3 == 2 {
			withRips(r, job)
			opt.Work = 1e7
		}
		second := *job
		second.Rack = nil
		entries, err := Compare(context.Background(), []*model.Job{job, &second}, opt)
		if err != nil {
			t.Fatalf("job %d: %v", n, err)
		}
		for _, e := range entries {
			var before, after, bought, used model.Length
			for _, b := range job.Rack {
				before += b.Length * b.Width
			}
			for _, b := range e.Plans[len(e.Plans)-1].Rack {
				after += b.Length * b.Width
			}
			for _, p := range e.Plans {
				for _, b := range p.Buy {
					bought += b.Length * b.Width * model.Length(b.Qty)
				}
				for _, c := range p.Cuts {
					if c.Kind != model.KindOffcut {
						used += (c.To - c.From) * (c.Right - c.Left)
					}
				}
			}
			if before+bought != after+used {
				t.Errorf("job %d, %s: rack %d and bought %d make %d left and %d cut", n, e.Name,
					before, bought, after, used)
			}
		}
	}
}

// Of alike boards the one that has lain longest is used first, whatever its place in the rack.
func TestOlderOfAlikeBoardsFirst(t *testing.T) {
	w := model.Wood{Material: "fir", Section: "2x4", Length: 60 * in}
	w.Thickness, w.Width = w.Section.Actual(model.Condition{})
	job := &model.Job{Settings: model.DefaultSettings(),
		Commissions: []model.Commission{{Name: "C"}}}
	for n, since := range []string{"", "2027-02-01", "2026-05-01"} {
		job.Rack = append(job.Rack,
			model.Board{ID: fmt.Sprint("R", n), Wood: w, Since: since,
				Where: model.Where{File: "rack.csv", Line: n + 2}})
	}
	job.Parts = []model.Part{{Commission: "C", Name: "rail", Qty: 2, Material: "fir",
		Length: 40 * in, Width: w.Width, Thickness: w.Thickness}}
	plan, err := Plan(context.Background(), job, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(plan.Rack) < 1 || plan.Rack[0].ID != "R0" || len(plan.Placements) != 2 {
		t.Errorf("used %v", plan.Placements)
	}
}

// A plan whose bound the checker does not accept is still given, with the plain bound of the
// relaxation, and it is told that it fell back.
func TestDoubtfulBoundFallsBack(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 8))
	for range 20 {
		job := randomJob(r)
		worth, told := job.Valuation(), 0
		groups, short, _ := formulate(t.Context(), job, worth)
		if len(groups) == 0 {
			continue
		}
		p := &planning{job: job, worth: worth, groups: groups, short: short, ctx: t.Context(),
			opt: Options{Work: 1e7, Threads: 1, Observe: func(e Event) {
				if e.Phase == PlainBound && e.Group == told {
					told++
				}
			}}}
		defer p.limit(time.Now())()
		v := newProving(p)
		defer v.close()
		p.byRules(func() {})
		p.solve()
		results := p.known
		want := results[0].Value
		results[0].Bound -= 2 * worth.Ticks(1) // not what is proven
		plan, err := v.settle()
		if err != nil || told != len(groups) {
			t.Fatalf("%v; told of %d of %d groups", err, told, len(groups))
		}
		bound := model.Money(results[0].PlainBound >> worth.Bits)
		if want-results[0].PlainBound < worth.Ticks(1) {
			bound = plan.Groups[0].Value
		}
		if d := plan.Groups[0].Value - worth.ShownTicks(want); d < -1 || d > 1 ||
			plan.Groups[0].Bound != bound {
			t.Fatalf("value %v, bound %v; found %v, plain bound %v", plan.Groups[0].Value,
				plan.Groups[0].Bound, worth.ShownTicks(want), bound)
		}
	}
}

package nest

import (
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"pgregory.net/rapid"

	"rackwright/model"
	"rackwright/nest/rest"
)

// planBefore is a plan of which the rest is planned in these tests. Of each part up to so many more
// are wanted.
func planBefore(t *testing.T, r *rand.Rand, rips bool, more int64) (*model.Job, *model.Plan) {
	t.Helper()
	job := randomJob(r)
	if rips {
		withRips(r, job)
	}
	for i := range job.Parts {
		job.Parts[i].Qty += r.Int64N(1 + more)
	}
	job.Settings.Batch = "mar"
	plan, err := Plan(t.Context(), job, Options{Work: 1e7, Threads: 1, Date: "2027-03-01"})
	if err != nil {
		t.Fatal(err)
	}
	return job, plan
}

// asPlanned is a shop in which nothing has happened.
func asPlanned(job *model.Job, plan *model.Plan) *rest.Shop {
	shop := &rest.Shop{Rack: slices.Clone(job.Rack)}
	for _, p := range plan.Placements {
		if p.Offer != 0 {
			shop.Expected = append(shop.Expected, p.Board)
		}
	}
	return shop
}

// replanned is the plan of a rest, judged.
func replanned(t *testing.T, of *rest.Rest, opt Options) *model.Plan {
	t.Helper()
	var m model.Mistakes
	if of.Job.Validate(&m); m.Err() != nil {
		t.Fatal(m.Err())
	}
	rev := *of.Revision
	rev.Number, rev.Of = 2, strings.Repeat("0a", 32)
	plan, err := Replan(t.Context(), of.Job, &rev, opt)
	if err != nil {
		t.Fatal(err)
	}
	return plan
}

var quick = Options{Work: 1e7, Threads: 1, Date: "2027-03-01"}

// Where nothing happened the rest is the same plan, cut for cut, also with all bought boards there.
func TestNothingMarkedIsTheSamePlan(t *testing.T) {
	r := rand.New(rand.NewPCG(51, 1))
	for n := range 60 {
		job, plan := planBefore(t, r, n%2 == 1, 0)
		shop := asPlanned(job, plan)
		again := replanned(t, rest.Of(job, plan, shop, 5000), quick)
		if d := cmp.Diff(plan.Cuts, again.Cuts) + cmp.Diff(plan.Buy, again.Buy) +
			cmp.Diff(plan.Rack, again.Rack, cmpopts.EquateEmpty()); d != "" {
			t.Fatalf("job %d: %s", n, d)
		}
		if again.Revision.Changed != 0 || again.Value != plan.Value || again.Bound > plan.Value {
			t.Fatalf("job %d: %+v, value %v, was %v", n, again.Revision, again.Value, plan.Value)
		}
		accepted(t, files(t, rest.Of(job, plan, shop, 5000).Job, again))

		shop = allHere(job, plan)
		here := replanned(t, rest.Of(job, plan, shop, 5000), quick)
		for i := range here.Cuts {
			here.Cuts[i].Origin = plan.Cuts[i].Origin
		}
		if d := cmp.Diff(plan.Cuts, here.Cuts); d != "" || here.Revision.Changed != 0 ||
			len(here.Buy) > 0 {
			t.Fatalf("job %d, all boards there: %d changed, %s", n, here.Revision.Changed, d)
		}
	}
}

// allHere is a shop in which all bought boards have come.
func allHere(job *model.Job, plan *model.Plan) *rest.Shop {
	shop := &rest.Shop{Rack: slices.Clone(job.Rack)}
	for _, p := range plan.Placements {
		if p.Offer != 0 {
			shop.Rack = append(shop.Rack, came(job, &p))
		}
	}
	return shop
}

// came is a bought board that has come.
func came(job *model.Job, p *model.Placement) model.Board {
	for i := range job.Yard {
		if job.Yard[i].Where.Line == p.Offer {
			return model.Board{ID: p.Board, Wood: job.Yard[i].Wood, Since: "2027-03-02"}
		}
	}
	panic("no such line of the yard")
}

// happen marks some boards as cut, some pieces as spoiled, some boards as missing, and defects that
// were found.
func happen(r dice, job *model.Job, plan *model.Plan) *rest.Shop {
	shop := &rest.Shop{}
	gone := map[string]bool{}
	offcuts := map[string]bool{}
	var came1 []model.Board
	for _, p := range plan.Placements {
		switch what := r.IntN(10); {
		case what < 3: // cut
			gone[p.Board] = true
			shop.Begun = append(shop.Begun, p.Board)
			for _, c := range p.Pieces {
				if r.IntN(5) > 0 {
					shop.Cut = append(shop.Cut, c)
				}
			}
			for i := range plan.Cuts {
				if c := &plan.Cuts[i]; c.Board == p.Board && c.Offcut != "" {
					offcuts[c.Offcut] = true
				}
			}
		case what < 4 && p.Offer != 0: // not delivered
		case what < 7 && p.Offer != 0:
			came1 = append(came1, came(job, &p))
		case p.Offer != 0:
			shop.Expected = append(shop.Expected, p.Board)
		case what == 9:
			gone[p.Board] = r.IntN(3) == 0 // lost
		}
	}
	for i := range job.Rack {
		if b := job.Rack[i]; !gone[b.ID] {
			shop.Rack = append(shop.Rack, b)
		}
	}
	for i := range plan.Rack {
		if b := plan.Rack[i]; offcuts[b.ID] {
			shop.Rack = append(shop.Rack, b)
		}
	}
	shop.Rack = append(shop.Rack, came1...)
	for i := range shop.Rack {
		b := &shop.Rack[i]
		if r.IntN(6) == 0 {
			from := model.Length(r.Int64N(int64(b.Length)/in+1)) * in
			if to := min(b.Length, from+model.Length(1+r.IntN(6))*in); from < to {
				b.Defects = append(slices.Clone(b.Defects),
					model.Defect{From: from, To: to, Right: b.Width,
						Kind: pick(r, "split", "loose knot", "check")})
			}
		}
		if r.IntN(8) == 0 && b.Length > 30*in && len(b.Defects) == 0 {
			b.Length -= model.Length(1+r.IntN(40)) * in / 8
			b.Longest = min(b.Longest, b.Length)
		}
	}
	return shop
}

// Whatever happened, the rest is planned, the plan is accepted, the same with eight threads, and
// counts no more than one that is planned without regard to what was before.
func TestRestOfWhateverHappened(t *testing.T) {
	r := rand.New(rand.NewPCG(52, 1))
	met := map[string]int{}
	for n := range 100 {
		job, plan := planBefore(t, r, n%2 == 1, 0)
		shop := happen(r, job, plan)
		change := pick[model.Money](r, 0, 1000, 5000, 50_000)
		of := rest.Of(job, plan, shop, change)
		if len(of.Job.Parts) == 0 {
			met["nothing left"]++
			continue
		}
		now := replanned(t, of, quick)
		eight := quick
		eight.Threads = 8
		if again := replanned(t, of, eight); !reflect.DeepEqual(now, again) {
			t.Fatalf("job %d: eight threads give another plan", n)
		}
		accepted(t, files(t, of.Job, now))
		free, err := Plan(t.Context(), of.Job, quick)
		if err != nil {
			t.Fatal(err)
		}
		changed := int64(0)
		for i := range of.Revision.Before {
			b := &of.Revision.Before[i]
			if !slices.ContainsFunc(free.Placements, func(p model.Placement) bool {
				return p.Board == b.Board && p.Offer == b.Offer && p.Same(&b.Placement)
			}) {
				changed++
			}
		}
		sum, least := now.Value+now.Revision.Counts, free.Value+model.Money(changed)*change
		if missing(of.Job, now) == missing(of.Job, free) && sum > least {
			met["worse than free"]++
			t.Logf("job %d: %v + %v, freely planned %v + %d x %v", n, now.Value,
				now.Revision.Counts, free.Value, changed, change)
		}
		if missing(of.Job, now) > missing(of.Job, free) {
			t.Errorf("job %d: more is short than where it is planned freely", n)
		}
		switch {
		case now.Revision.Changed == 0:
			met["all kept"]++
		case int(now.Revision.Changed) == len(of.Revision.Before):
			met["none kept"]++
		default:
			met["some kept"]++
		}
		if sum < least {
			met["better than free"]++
		}
		third := rest.Of(of.Job, now, happen(r, of.Job, now), change)
		if len(third.Job.Parts) > 0 {
			accepted(t, files(t, third.Job, replanned(t, third, quick)))
			met["once more"]++
		}
	}
	t.Log(met)
	for _, what := range []string{"all kept", "some kept", "better than free", "once more"} {
		if met[what] < 20 {
			t.Errorf("%s: met %d times only", what, met[what])
		}
	}
	if met["worse than free"] > 6 { // by the share of the work that keeping takes
		t.Errorf("worse than free: %d times", met["worse than free"])
	}
}

// drawn is dice that rapid throws, so that it finds the fewest marks that go wrong.
type drawn struct{ *rapid.T }

func (d drawn) IntN(n int) int       { return rapid.IntRange(0, n-1).Draw(d.T, "mark") }
func (d drawn) Int64N(n int64) int64 { return rapid.Int64Range(0, n-1).Draw(d.T, "mark") }

// Whatever is marked on a small month: the rest is accepted, keeps each layout that it says it
// keeps, wants just what is not cut, and marked on with nothing it is the same plan again. Where
// wood is short the search goes on, and may find one that counts less.
func TestRestOfRandomMarks(t *testing.T) {
	r := rand.New(rand.NewPCG(54, 1))
	type month struct {
		job  *model.Job
		plan *model.Plan
	}
	var months []month
	for n := range 12 {
		job, plan := planBefore(t, r, n%2 == 1, 3)
		months = append(months, month{job, plan})
	}
	rapid.Check(t, func(rt *rapid.T) {
		m := months[rapid.IntRange(0, len(months)-1).Draw(rt, "month")]
		shop := happen(drawn{rt}, m.job, m.plan)
		of := rest.Of(m.job, m.plan, shop, 5000)
		wanted := int64(0)
		for i := range of.Job.Parts {
			wanted += of.Job.Parts[i].Qty
		}
		if all := int64(len(shop.Cut)); wanted+all != copiesOf(m.job) {
			rt.Fatalf("%d are wanted, %d cut, of %d", wanted, all, copiesOf(m.job))
		}
		if wanted == 0 {
			return
		}
		plan := replanned(t, of, quick)
		accepted(t, files(t, of.Job, plan))
		same := rest.Of(of.Job, plan, asPlanned(of.Job, plan), 5000)
		again := replanned(t, same, quick)
		d := cmp.Diff(plan.Cuts, again.Cuts)
		if short := missing(of.Job, plan); short > 0 {
			if now := missing(same.Job, again); now > short || now == short &&
				again.Value+again.Revision.Counts > plan.Value {
				rt.Fatalf("with nothing marked on it counts more: %s", d)
			}
		} else if d != "" || again.Revision.Changed != 0 {
			rt.Fatalf("with nothing marked on it is another plan: %s", d)
		}
	})
}

func copiesOf(job *model.Job) (n int64) {
	for i := range job.Parts {
		n += job.Parts[i].Qty
	}
	return n
}

// A search for the rest that is ended by the clock, at any moment, gives a plan that is accepted.
func TestRestInAHurry(t *testing.T) {
	r := rand.New(rand.NewPCG(53, 1))
	for n := range 12 {
		job, plan := planBefore(t, r, n%2 == 1, 40)
		of := rest.Of(job, plan, happen(r, job, plan), 5000)
		if len(of.Job.Parts) == 0 {
			continue
		}
		for _, clock := range []time.Duration{1, 5 * time.Millisecond, 60 * time.Millisecond} {
			hurry := Options{Clock: clock, Date: "2027-03-01"}
			accepted(t, files(t, of.Job, replanned(t, of, hurry)))
		}
	}
}

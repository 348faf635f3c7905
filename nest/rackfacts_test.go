package nest

import (
	"context"
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"rackwright/model"
)

// may says in the words whether a part may come from a board of the rack, as far as the
// maker's facts go.
func may(p *model.Part, b *model.Board, blank model.Length) bool {
	row, _, _ := strings.Cut(b.ID, ".")
	return !b.Untouched && (b.For == "" || b.For == p.Commission) &&
		(b.Longest == 0 || blank <= b.Longest) &&
		(p.Board == "" || p.Board == b.ID || p.Board == row)
}

// dice are a [rand.Rand], or the bytes of the fuzzer.
type dice interface {
	IntN(n int) int
	Int64N(n int64) int64
}

// withFacts adds facts to a job, of those that Validate lets pass where it is true.
func withFacts(r dice, job *model.Job) {
	for i := range job.Rack {
		b := &job.Rack[i]
		if r.IntN(4) == 0 {
			b.For = job.Commissions[r.IntN(len(job.Commissions))].Name
		}
		b.Untouched = r.IntN(8) == 0
		if r.IntN(3) == 0 {
			b.Longest = 1 + model.Length(r.Int64N(int64(b.Length)))
		}
	}
	for i := range job.Parts {
		if p := &job.Parts[i]; len(job.Rack) > 0 && r.IntN(3) == 0 {
			p.Board, _, _ = strings.Cut(job.Rack[r.IntN(len(job.Rack))].ID,
				pick(r, ".", "no such sign"))
			var m model.Mistakes
			if job.Validate(&m); m.Err() != nil && r.IntN(4) > 0 {
				p.Board = ""
			}
		}
	}
}

func pick[T any](r dice, from ...T) T { return from[r.IntN(len(from))] }

// factJob is a job so small that all plans can be tried: clear boards, lengths of a few units, some
// alike ones, two or three commissions.
func factJob(r *rand.Rand) *model.Job {
	wood := func(l model.Length) model.Wood {
		return model.Wood{Material: "oak", Section: "4/4", Length: l, Width: 9, Thickness: 9}
	}
	job := &model.Job{Settings: model.DefaultSettings(),
		Commissions: []model.Commission{{Name: "A"}, {Name: "B"}}}
	s := &job.Settings
	s.CrosscutKerf, s.YardEnd, s.RackEnd = model.Length(r.IntN(3)), 0, 0
	s.Offcut.KeepLength, s.Handling = model.Length(1+r.IntN(5)), model.Money(r.IntN(4))
	s.Allowance = model.Allowance{}
	for n := range 2 + r.IntN(2) {
		b := model.Board{ID: fmt.Sprintf("R%d", n), Wood: wood(10 + model.Length(r.IntN(14))),
			Where: model.Where{File: "rack.csv", Line: n + 2}}
		if r.IntN(3) == 0 {
			b.ID += ".1"
			two := b
			two.ID = fmt.Sprintf("R%d.2", n)
			job.Rack = append(job.Rack, two)
		}
		job.Rack = append(job.Rack, b)
	}
	few := 1 + r.Int64N(2)
	job.Yard = []model.Offer{
		{Wood: wood(14 + model.Length(r.IntN(6))), Price: 10 + model.Money(r.IntN(40)),
			Available: &few, Where: model.Where{File: "yard.csv", Line: 2}},
		{Wood: wood(10), Price: 12 + model.Money(r.IntN(20)), Available: &few,
			Where: model.Where{File: "yard.csv", Line: 3}},
	}
	for n := range 3 {
		job.Parts = append(job.Parts,
			model.Part{Commission: pick(r, "A", "B"), Name: fmt.Sprint("part ", n),
				Qty: 1 + r.Int64N(2), Material: "oak",
				Length: pick(r, model.Length(4), 6, 7, 9), Width: 9, Thickness: 9,
				Where: model.Where{File: "parts.csv", Line: n + 2}})
	}
	return job
}

// cheapest is the value of the cheapest of all plans that cut every piece, rounded as a plan's is;
// false where none does.
// Boards are clear, so the pieces of a board lie best side by side at one end, and what is left is
// one offcut.
func cheapest(job *model.Job) (model.Money, bool) {
	type open struct {
		board *model.Board
		cost  int64 // in ticks
		slope model.Slope
		left  model.Length // -1: not begun
	}
	worth, s := job.Valuation(), &job.Settings
	var boards []open
	for i := range job.Rack {
		b := &job.Rack[i]
		boards = append(boards, open{b, worth.WorthOfBoard(b), worth.SlopeOfBoard(b), -1})
	}
	for i := range job.Yard {
		o := &job.Yard[i]
		for range *o.Available {
			boards = append(boards,
				open{&model.Board{Wood: o.Wood}, worth.Ticks(o.Price), worth.SlopeOfOffer(o),
					-1})
		}
	}
	var pieces []*model.Part
	for i := range job.Parts {
		for range job.Parts[i].Qty {
			pieces = append(pieces, &job.Parts[i])
		}
	}
	best, some := int64(0), false
	var rest func(n int)
	rest = func(n int) {
		if n == len(pieces) {
			var sum int64
			for _, b := range boards {
				if b.left >= 0 {
					rest := model.Rect{To: b.left, Right: b.board.Width}
					sum += b.cost + worth.Ticks(s.Handling) -
						worth.WorthOfRect(b.slope, &b.board.Wood, rest, nil)
				}
			}
			if !some || sum < best {
				best, some = sum, true
			}
			return
		}
		for i := range boards {
			b, before := &boards[i], boards[i].left
			left := before
			if before < 0 {
				left = b.board.Length
			}
			if p := pieces[n]; p.Length <= left &&
				(b.board.ID == "" && p.Board == "" || b.board.ID != "" &&
					may(p, b.board, p.Length)) {
				b.left = max(0, left-p.Length-s.CrosscutKerf)
				rest(n + 1)
				b.left = before
			}
		}
	}
	rest(0)
	return worth.ShownTicks(best), some
}

// Under reservations, longest blanks and boards that parts must come from, a plan that is proven
// optimal costs what the cheapest of all plans costs, and no bound is above it.
func TestFactsAgainstAllPlans(t *testing.T) {
	r := rand.New(rand.NewPCG(29, 30))
	met, optimal, bound := 0, 0, 0
	for n := range 500 {
		job := factJob(r)
		withFacts(r, job)
		want, some := cheapest(job)
		plan, err := Plan(context.Background(), job, Options{Work: 5e7, Threads: 1})
		if err != nil {
			t.Fatalf("job %d: %v", n, err)
		}
		if some != (len(plan.Shortages) == 0) {
			t.Fatalf("job %d: all pieces can be cut: %t; short are %v", n, some, plan.Shortages)
		}
		if !some {
			continue
		}
		met++
		// a plan that is optimal may be dearer by less than a unit
		if plan.Bound > want+1 || plan.Value < want {
			t.Fatalf("job %d: value %v, bound %v, the cheapest plan is %v", n, plan.Value,
				plan.Bound, want)
		}
		if plan.Value <= want+1 {
			optimal++
		}
		if plan.Bound >= want {
			bound++
		}
		free := *job // the same without facts
		free.Rack, free.Parts = slices.Clone(job.Rack), slices.Clone(job.Parts)
		for i := range free.Rack {
			free.Rack[i].For, free.Rack[i].Untouched, free.Rack[i].Longest = "", false, 0
		}
		for i := range free.Parts {
			free.Parts[i].Board = ""
		}
		if v, _ := cheapest(&free); v > want {
			t.Fatalf("job %d: with facts %v, without %v", n, want, v)
		}
	}
	t.Logf("of 500 jobs %d can be met; of these %d plans are the cheapest, %d proven so", met,
		optimal, bound)
	if met < 150 || optimal < met*95/100 || bound < met*9/10 {
		t.Errorf("too few of a kind: met %d, cheapest %d, proven %d", met, optimal, bound)
	}
}

// Every plan of a job with facts passes both checkers and keeps to the facts; boards that it leaves
// carry theirs, and offcuts carry whom they are for and how long a blank they may give where that
// is less than they are. The order of the input changes neither value nor bound.
func TestPlansKeepToTheFacts(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 32))
	reserved, crooked, named, offcuts := 0, 0, 0, 0
	for n := range 150 {
		job, work := randomJob(r), int64(2e8)
		if n%5 == 4 {
			withRips(r, job)
			work = 1e7
		}
		withFacts(r, job)
		plan, err := Plan(context.Background(), job, Options{Work: work, Date: "2027-03-01"})
		if err != nil {
			t.Fatalf("job %d: %v", n, err)
		}
		boards := map[string]*model.Board{}
		for i := range job.Rack {
			boards[job.Rack[i].ID] = &job.Rack[i]
		}
		parts := map[string]*model.Part{}
		for i := range job.Parts {
			parts[job.Parts[i].Name] = &job.Parts[i]
		}
		for _, c := range plan.Cuts {
			b, p := boards[c.Board], parts[c.Part]
			if c.Kind != model.KindPart {
				continue
			}
			if b == nil && p.Board != "" || b != nil && !may(p, b, c.To-c.From) {
				t.Fatalf("job %d: %+v from %+v", n, p, b)
			}
			named += btoi(p.Board != "")
			if b != nil {
				reserved, crooked = reserved+btoi(b.For != ""), crooked+btoi(b.Longest > 0)
			}
		}
		from := map[string]*model.Board{}
		for _, c := range plan.Cuts {
			from[c.Offcut] = boards[c.Board]
		}
		for i := range plan.Rack {
			b := &plan.Rack[i]
			if old := boards[b.ID]; old != nil && !reflect.DeepEqual(old, b) {
				t.Fatalf("job %d: %+v is left as %+v", n, old, b)
			} else if old := from[b.ID]; old != nil {
				offcuts += btoi(old.For != "" && old.Longest > 0)
				if b.For != old.For || b.Untouched || b.Longest != old.Longest && b.Longest != 0 ||
					(b.Longest == 0) != (old.Longest == 0 || old.Longest >= b.Length) {
					t.Fatalf("job %d: %+v is an offcut of %+v", n, b, old)
				}
			}
		}
		// A search that its work ended may be no better than a rule that goes by the list.
		limited := work < 2e8 &&
			slices.ContainsFunc(plan.Groups, func(g model.Group) bool {
				return g.Ended == model.WorkLimit
			})
		other := *job
		other.Parts, other.Rack = slices.Clone(job.Parts), slices.Clone(job.Rack)
		slices.Reverse(other.Parts)
		slices.Reverse(other.Rack)
		if again, err := Plan(context.Background(), &other, Options{Work: work}); err != nil ||
			again.Value != plan.Value && !limited || again.Bound != plan.Bound {
			t.Fatalf("job %d: %v %v, in another order %v %v (%v)", n, plan.Value, plan.Bound,
				again.Value, again.Bound, err)
		}
		if _, err := oneByOne(job, Options{Work: work}, solver(context.Background())); err != nil {
			t.Fatalf("job %d: %v", n, err)
		}
	}
	if min(reserved, crooked, named, offcuts) < 10 {
		t.Errorf("too few of a kind: from reserved boards %d, crooked %d, named %d, "+
			"offcuts of both %d", reserved, crooked, named, offcuts)
	}
}

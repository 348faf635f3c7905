package nest

import (
	"math/rand/v2"
	"testing"
	"time"

	"rackwright/model"
	"rackwright/model/check"
	"rackwright/model/makeup"
	"rackwright/model/proof"
)

// madeUp makes some parts of a job wide or thick, to be made up, and lets others have spare copies.
func madeUp(r dice, job *model.Job) {
	job.Settings.SpareAtMost = pick(r, 0, model.DearestBoard, 1_0000, 0)
	if r.IntN(2) == 0 {
		job.Settings.GlueUp.Narrowest = 2 * in
	}
	for i := range job.Parts {
		p := &job.Parts[i]
		numbers := []model.Pieces{model.Auto, model.Auto, model.Auto, 2, 3}
		switch r.IntN(5) {
		case 0:
			p.Width = model.Length(12+r.IntN(80)) * in / 4
			p.Staves = numbers[r.IntN(len(numbers))]
		case 1:
			p.Thickness *= model.Length(2 + r.IntN(2))
			p.Layers = numbers[r.IntN(len(numbers))]
		case 2:
			p.Width = model.Length(12+r.IntN(40)) * in / 4
			p.Thickness *= 2
			p.Staves, p.Layers = model.Auto, model.Auto
		}
		if r.IntN(4) == 0 {
			p.Spare = 1 + r.Int64N(2)
		}
	}
}

// Whatever parts are made up, the checker accepts the plan and its bound, and each copy that is not
// short comes about just once.
func TestMadeUpJobs(t *testing.T) {
	r := rand.New(rand.NewPCG(171, 172))
	glued, spare, short, optimal, groups := 0, 0, 0, 0, 0
	for n := range 60 {
		job := randomJob(r)
		if n%2 == 0 {
			withRips(r, job)
		}
		madeUp(r, job)
		plan, err := Plan(t.Context(), job, Options{Work: 4e7, Threads: 1})
		if err != nil {
			t.Errorf("job %d: %v", n, err)
			continue
		}
		cut := makeup.AsMade(job, plan.Made)
		reading, found := check.Check(cut, plan)
		if found = append(found, proof.Bounds(reading)...); len(found) > 0 {
			t.Errorf("job %d: %v", n, found)
		}
		made := map[[2]string]map[int64]bool{}
		for _, m := range plan.Made {
			key := [2]string{m.Commission, m.Part}
			if made[key] == nil {
				made[key] = map[int64]bool{}
			}
			for _, c := range m.Copies {
				if made[key][c] {
					t.Errorf("job %d: copy %d of %v comes about twice", n, c, key)
				}
				made[key][c] = true
			}
		}
		for i := range job.Parts {
			p := &job.Parts[i]
			key := [2]string{p.Commission, p.Name}
			for c := int64(1); c <= p.Qty+p.Spare; c++ {
				switch {
				case made[key][c] && c > p.Qty:
					spare++
				case made[key][c]:
					glued++
				}
			}
		}
		short += len(plan.Shortages)
		for _, g := range plan.Groups {
			if groups++; g.Proof == model.Optimal {
				optimal++
			}
		}
	}
	t.Logf("%d copies made up, %d spare ones, %d short parts, %d of %d groups proven", glued, spare,
		short, optimal, groups)
	if glued < 100 || spare < 10 {
		t.Errorf("only %d copies made up, %d spare", glued, spare)
	}
}

// Ended at any time, a search of such a job gives a plan that is accepted.
func TestMadeUpJobsEndAtAnyTime(t *testing.T) {
	r := rand.New(rand.NewPCG(173, 174))
	for n, clock := range []time.Duration{1, time.Millisecond, 5 * time.Millisecond,
		20 * time.Millisecond, 60 * time.Millisecond, 150 * time.Millisecond,
		400 * time.Millisecond, time.Second} {
		for range 2 {
			job := randomJob(r)
			withRips(r, job)
			madeUp(r, job)
			plan, err := Plan(t.Context(), job, Options{Clock: clock})
			if err != nil {
				t.Errorf("%d, %v: %v", n, clock, err)
				continue
			}
			bothAccept(t, makeup.AsMade(job, plan.Made), plan)
		}
	}
}

// A spare copy is made where it costs no more than it may, and not where it does.
func TestSpareCopies(t *testing.T) {
	job := randomJob(rand.New(rand.NewPCG(1, 1)))
	wood := model.Wood{Material: "fir", Section: "2x4", Length: 100 * in, Width: 7 * in / 2,
		Thickness: 3 * in / 2}
	job.Settings = model.DefaultSettings()
	job.Settings.CrosscutKerf, job.Settings.YardEnd, job.Settings.Handling = in/8, 0, 0
	job.Settings.Offcut.KeepLength = 30 * in
	job.Rack, job.Commissions = nil, []model.Commission{{Name: "C"}}
	job.Yard = []model.Offer{{Wood: wood, Price: 10_0000, Where: model.Where{Line: 2}}}
	for _, c := range []struct {
		length model.Length
		atMost model.Money
		made   int
	}{
		{24, 0, 1},       // 3 x 24 1/8 leave 27 5/8, which is not kept
		{20, 4800, 0},    // a copy takes 9 5/8 in that are kept, at 0.05 each: 0.48125
		{20, 4900, 1},    //
		{33, 8_1500, 0},  // a board of 10, of which 36 7/8 in are kept: 8.15625
		{33, 8_1600, 1},  //
		{96, 9_9999, 0},  // a board
		{96, 10_0000, 1}, //
	} {
		job.Parts = []model.Part{{Commission: "C", Name: "leg", Qty: 3, Material: "fir",
			Length: c.length * in, Width: wood.Width, Thickness: wood.Thickness, Spare: 1,
			Where: model.Where{Line: 2}}}
		if a := job.Settings.AllowanceFor("fir").Length; a != 0 {
			job.Parts[0].Length -= a
		}
		job.Settings.SpareAtMost = c.atMost
		plan, err := Plan(t.Context(), job, Options{Work: 1e8})
		if err != nil {
			t.Fatal(err)
		}
		if len(plan.Made) != c.made || plan.Groups[0].Proof != model.Optimal {
			t.Errorf("%d in, at most %v: %+v, %v; want %d made", c.length, c.atMost, plan.Made,
				plan.Groups[0].Proof, c.made)
		}
	}
}

// A panel is made of the wood that is cheaper for it in the whole month: of a board that is bought
// anyway what is left, not the section that is cheapest by area.
func TestTheWholeMonthDecides(t *testing.T) {
	job := &model.Job{Settings: model.DefaultSettings(),
		Commissions: []model.Commission{{Name: "C"}}}
	s := &job.Settings
	s.YardEnd, s.CrosscutKerf, s.Handling, s.GlueUp.Panel = 0, 0, 0, 0
	s.Allowance.Length, s.Offcut.Value = 0, model.Fraction{Num: 0, Den: 1}
	offer := func(section model.Section, width model.Length, price model.Money) model.Offer {
		return model.Offer{Wood: model.Wood{Material: "fir", Section: section, Length: 96 * in,
			Width: width, Thickness: 3 * in / 2}, Price: price,
			Where: model.Where{Line: 2 + len(job.Yard)}}
	}
	job.Yard = append(job.Yard, offer("2x6", 11*in/2, 8_0000))
	job.Yard = append(job.Yard, offer("2x8", 29*in/4, 10_0000))
	panel := model.Part{Commission: "C", Name: "shelf", Qty: 1, Material: "fir", Length: 32 * in,
		Width: 10 * in, Thickness: 3 * in / 2, Staves: model.Auto, Where: model.Where{Line: 2}}
	rail := model.Part{Commission: "C", Name: "rail", Qty: 1, Material: "fir", Length: 32 * in,
		Width: 29 * in / 4, Thickness: 3 * in / 2, Section: "2x8", Where: model.Where{Line: 3}}
	for n, c := range []struct {
		parts []model.Part
		from  model.Section
	}{
		{[]model.Part{panel}, "2x6"},       // a 2x6 costs 8, and 2 x 32 come from it
		{[]model.Part{panel, rail}, "2x8"}, // the 2x8 for the rail has 64 in left
	} {
		job.Parts = c.parts
		plan, err := Plan(t.Context(), job, Options{Work: 1e8})
		if err != nil {
			t.Fatal(err)
		}
		if len(plan.Made) != 1 || plan.Made[0].Section != c.from || plan.Made[0].Staves != 2 ||
			plan.Groups[0].Proof != model.Optimal {
			t.Errorf("%d: %+v, %v", n, plan.Made, plan.Groups[0].Proof)
		}
	}
}

package check

import (
	"slices"
	"testing"

	"rackwright/model"
	"rackwright/model/internal/handmade"
)

// Each thing that an order of work may be wrong in is named, also where a plan is judged again that
// was right in another order.
func TestOrder(t *testing.T) {
	twice := func(job *model.Job, plan *model.Plan) []model.Finding {
		found := checked(job, plan)
		job, right := handmade.Tiny()
		reading, none := Check(job, right)
		again := *right
		again.Order, again.Work = plan.Order, plan.Work
		if got := reading.Again(&again); len(none) > 0 || !slices.Equal(got, found) {
			t.Errorf("judged again: %v\nat once: %v", got, found)
		}
		return found
	}
	handmade.TryAll(t, twice, []handmade.Spoilt{
		{What: "saw", Spoil: func(j *model.Job, p *model.Plan) {
			p.Order[0].Saw = model.Rip
		}, Want: `order.csv: line 2: saw is "rip", it should be "crosscut"`},
		{What: "pass", Spoil: func(j *model.Job, p *model.Plan) {
			p.Order[0].Pass = 3
		}, Want: "order.csv: line 2: pass is 3, it should be 1"},
		{What: "sequence", Spoil: func(j *model.Job, p *model.Plan) {
			p.Order[1].Sequence = 3
		}, Want: "order.csv: line 3: sequence is 3, it should be 2"},
		{What: "stop", Spoil: func(j *model.Job, p *model.Plan) {
			p.Order[0].Setting++
		}, Want: "order.csv: line 2: setting is"},
		{What: "stop for a cut at its mark", Spoil: func(j *model.Job, p *model.Plan) {
			p.Order[1].Setting = 2
		}, Want: "order.csv: line 3: setting is"},
		{What: "piece", Spoil: func(j *model.Job, p *model.Plan) {
			p.Order[3].Piece = "Table, rail, 1"
		}, Want: `line 5: piece is "Table, rail, 1", it should be "N1; Table, rail, 1"`},
		{What: "board that is not cut", Spoil: func(j *model.Job, p *model.Plan) {
			p.Order[0].Board = "R3"
		}, Want: "line 2: there is no step 1 of board R3 in cuts.csv"},
		{What: "step that there is not", Spoil: func(j *model.Job, p *model.Plan) {
			p.Order[2].Step = 4
		}, Want: "line 4: there is no step 4 of board R1 in cuts.csv"},
		{What: "cut twice", Spoil: func(j *model.Job, p *model.Plan) {
			p.Order[2] = p.Order[1]
		}, Want: "line 4: step 2 of board R1 stands there once more"},
		{What: "cut left away", Spoil: func(j *model.Job, p *model.Plan) {
			p.Order = p.Order[:12]
		}, Want: "order.csv: 1 of the 13 cuts of cuts.csv are missing"},
		{What: "cut too early", Spoil: func(j *model.Job, p *model.Plan) {
			swapRows(p.Order, 0, 1)
		}, Want: "line 2: step 2 of board R1 comes before step 1, which it needs"},
		{What: "board between the cuts of another", Spoil: func(j *model.Job, p *model.Plan) {
			swapRows(p.Order, 2, 3)
			p.Work.Order = model.LeastClutter
		}, Want: "line 5: board R1 comes up again"},
		{What: "board lifted once more", Spoil: func(j *model.Job, p *model.Plan) {
			swapRows(p.Order, 2, 3)
		}, Want: "plan.json: work: lifts is 4, it should be 5"},
		{What: "unknown way", Spoil: func(j *model.Job, p *model.Plan) {
			p.Work.Order = "mess"
		}, Want: `the order "mess" is neither "time" nor "clutter"`},
		{What: "way left away", Spoil: func(j *model.Job, p *model.Plan) {
			p.Work.Ways = p.Work.Ways[:1]
		}, Want: `it does not tell of the ways "time" and "clutter"`},
		{What: "settings", Spoil: func(j *model.Job, p *model.Plan) {
			p.Work.Ways[0].Settings, p.Work.Ways[0].Minutes = 3, 6500
		}, Want: "plan.json: work: settings is 3, it should be 4"},
		{What: "minutes", Spoil: func(j *model.Job, p *model.Plan) {
			p.Work.Ways[1].Minutes = 7000
		}, Want: "4 settings and 4 lifts take 8 minutes, not 7"},
		{What: "open", Spoil: func(j *model.Job, p *model.Plan) {
			p.Work.Ways[0].Open = 3
		}, Want: "plan.json: work: open is 3, it should be 2"},
		{What: "more open than in the other way", Spoil: func(j *model.Job, p *model.Plan) {
			p.Work.Ways[1].Open = 3
		}, Want: "the order of least clutter has 3 commissions open, that of least time 2"},
		{What: "fewer open than on one board", Spoil: func(j *model.Job, p *model.Plan) {
			p.Work.Ways[1].Open = 1
		}, Want: "one board has blanks of 2 commissions, and no more than 1 are open"},
		{What: "least time said to be proven", Spoil: func(j *model.Job, p *model.Plan) {
			p.Work.Ways[0].Exact = true
		}, Want: "of the order of least time nothing is said to be proven"},
	})
}

// A plan that shares not all rows with the one that was read is judged as a whole, and so is one
// where that was not right.
func TestAgainJudgesAllThatDiffers(t *testing.T) {
	job, right := handmade.Tiny()
	reading, _ := Check(job, right)
	_, other := handmade.Tiny()
	if found := reading.Again(other); len(found) > 0 {
		t.Errorf("a plan of the same rows: %v", found)
	}
	for n, spoil := range []func(p *model.Plan){
		func(p *model.Plan) { p.Value++ },
		func(p *model.Plan) { p.Date = "2027-13-01" },
		func(p *model.Plan) { p.Cuts = p.Cuts[1:] },
		func(p *model.Plan) { p.Buy = nil },
		func(p *model.Plan) { p.Rack = p.Rack[1:] },
		func(p *model.Plan) { p.Costs = p.Costs[1:] },
		func(p *model.Plan) { p.Placements = p.Placements[1:] },
		func(p *model.Plan) { p.Shortages = []model.Shortage{{}} },
		func(p *model.Plan) { p.Made = []model.Made{{}} },
		func(p *model.Plan) { p.Revision = &model.Revision{Changed: 7} },
		func(p *model.Plan) {
			p.Groups = slices.Clone(p.Groups)
			p.Groups[0].Name = "another"
		},
	} {
		wrong := *right
		spoil(&wrong)
		want := checked(job, &wrong)
		if got := reading.Again(&wrong); len(want) == 0 || !slices.Equal(got, want) {
			t.Errorf("%d: judged again %v, at once %v", n, got, want)
		}
		amiss, _ := Check(job, &wrong)
		if got := amiss.Again(&wrong); !slices.Equal(got, want) {
			t.Errorf("%d: after a wrong plan %v, at once %v", n, got, want)
		}
	}
}

func swapRows(order []model.Sawing, i, k int) {
	order[i], order[k] = order[k], order[i]
	order[i].Sequence, order[k].Sequence = i+1, k+1
}

// A fence at another width, a strip cut before its rip, and passes out of turn are named.
func TestOrderOfARippedPlan(t *testing.T) {
	for _, c := range []handmade.Spoilt{
		{What: "fence", Spoil: func(j *model.Job, p *model.Plan) {
			p.Order[6].Setting = 32 * handmade.Sixteenth
		}, Want: "order.csv: line 8: setting is 2\", it should be 1\u00a07/8\""},
		{What: "length ripped before it is cut", Spoil: func(j *model.Job, p *model.Plan) {
			swapRows(p.Order, 0, 6)
		}, Want: "line 2: step 5 of board R1 comes before step 1, which it needs"},
		{What: "strip cut before it is ripped", Spoil: func(j *model.Job, p *model.Plan) {
			swapRows(p.Order, 10, 13)
		}, Want: "line 12: step 5 of board B1 comes before step 3, which it needs"},
		{What: "blank trimmed before it is cut", Spoil: func(j *model.Job, p *model.Plan) {
			swapRows(p.Order, 14, 18)
		}, Want: "line 16: step 10 of board B1 comes before step 6, which it needs"},
		{What: "passes out of turn", Spoil: func(j *model.Job, p *model.Plan) {
			swapRows(p.Order, 11, 12)
		}, Want: "line 14: pass 2 comes after pass 3"},
	} {
		t.Run(c.What, func(t *testing.T) {
			job, plan := handmade.Ripped()
			c.Spoil(job, plan)
			handmade.Want(t, checked(job, plan), c.Want)
		})
	}
}

// The way of least clutter is judged by the same counts: the plan made by hand goes that way too,
// once its cuts are in that order.
func TestOrderBoardByBoard(t *testing.T) {
	job, plan := handmade.Ripped()
	var byBoard []model.Sawing
	for _, id := range []string{"R1", "B1"} {
		for _, s := range plan.Order {
			if s.Board == id {
				s.Sequence = len(byBoard) + 1
				byBoard = append(byBoard, s)
			}
		}
	}
	plan.Order, plan.Work.Order = byBoard, model.LeastClutter
	for _, f := range checked(job, plan) {
		t.Errorf("%s: %s", f.Where, f.What)
	}
	plan.Work.Ways[1].Lifts++
	plan.Work.Ways[1].Minutes += job.Settings.Work.Lift
	handmade.Want(t, checked(job, plan), "plan.json: work: lifts is 10, it should be 9")
}

package nest

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"rackwright/model"
)

// monthOf is a month of pine 1x6 from one shop folder, a commission for each length. A piece is as
// wide as its board and as long as its blank.
func monthOf(rack []model.Board, lengths ...model.Length) *model.Job {
	s := model.DefaultSettings()
	s.CrosscutKerf, s.YardEnd, s.RackEnd, s.Margin = in/8, 0, 0, 0
	s.Allowance = model.Allowance{PlaneLimit: in}
	s.Offcut.KeepLength, s.Handling = 12*in, 5000
	w := pine(96 * in)
	one := int64(1)
	job := &model.Job{Settings: s, Rack: rack, Inputs: []model.Input{{Name: "../rack.csv"}},
		Yard: []model.Offer{
			{Wood: w, Price: 96000, Where: model.Where{File: "../yard.csv", Line: 2}},
			{Wood: pine(48 * in), Price: 30000, Available: &one,
				Where: model.Where{File: "../yard.csv", Line: 3}},
		}}
	for n, l := range lengths {
		c := fmt.Sprint("C", n)
		job.Commissions = append(job.Commissions,
			model.Commission{Name: c, Due: fmt.Sprintf("2027-03-%02d", n+1)})
		job.Parts = append(job.Parts, model.Part{Commission: c, Name: "shelf", Qty: 1,
			Material: "pine", Length: l, Width: w.Width, Thickness: w.Thickness})
	}
	return job
}

func pine(l model.Length) model.Wood {
	w := model.Wood{Material: "pine", Section: "1x6", Length: l}
	w.Thickness, w.Width = w.Section.Actual(model.Condition{})
	return w
}

// Four months by hand. A 96 is 9.60, and there is one 48 at 3.00, which sets the rate: 0.0625 an
// inch, half of it 0.03125, for what is longer than 12. Handling 0.50 a board, kerf 1/8. On the
// rack are 100 in that are kept for later, with a value of 40.00.
//
//	month 1: 50, then 40. Together from one 96: 9.60 + 0.50, 5 3/4 left, which is waste.
//	    One by one: 50 from a 96, 45 7/8 kept, worth 33 7/8 x 0.03125 = 1.05859375; 40 from it:
//	    9.60 + 2 x 0.50. Nothing cheaper: the 48 is no saving, as 40 from it leaves nothing kept,
//	    and 50 needs a 96 all the same (3.00 + 9.60 + 2 x 0.50 - 1.05859375).
//	month 2: 60 from a 96, 35 7/8 kept, worth 23 7/8 x 0.03125 = 0.74609375.
//	month 3: 30 from these 35 7/8: 0.74609375 + 0.50. Where nothing is kept: from the 48, 3.50.
//	month 4: 30 again: from the 48, 3.00 + 0.50; 17 7/8 left, worth 5 7/8 x 0.03125 = 0.18359375.
//	    Where nothing is kept the 48 is gone: a 96, 10.10.
func TestMonthsByHand(t *testing.T) {
	value := model.Money(400000)
	rack := []model.Board{{ID: "R", Wood: pine(100 * in), Value: &value, Untouched: true}}
	jobs := []*model.Job{monthOf(rack, 50*in, 40*in), monthOf(rack, 60*in), monthOf(rack, 30*in),
		monthOf(rack, 30*in)}
	got, err := Months(t.Context(), jobs, Options{Work: 1e8}, func(int, Way) {})
	if err != nil || len(got) != len(jobs) {
		t.Fatal(len(got), err)
	}
	type row struct{ paid, handling, after, net model.Money }
	for way, want := range [Ways][]row{
		Carried: {{96000, 5000, 400000, 101000}, {96000, 5000, 407461, 93539},
			{0, 5000, 400000, 12461}, {30000, 5000, 401836, 33164}},
		Discarded: {{96000, 5000, 400000, 101000}, {96000, 5000, 400000, 101000},
			{30000, 5000, 400000, 35000}, {96000, 5000, 400000, 101000}},
		OneByOne: {{96000, 10000, 400000, 106000}, {96000, 5000, 407461, 93539},
			{0, 5000, 400000, 12461}, {30000, 5000, 401836, 33164}},
		FirstFit: {{96000, 5000, 400000, 101000}, {96000, 5000, 407461, 93539},
			{0, 5000, 400000, 12461}, {30000, 5000, 401836, 33164}},
		Ruled: {{96000, 5000, 400000, 101000}, {96000, 5000, 407461, 93539},
			{0, 5000, 400000, 12461}, {30000, 5000, 401836, 33164}},
	} {
		for n, w := range want {
			m := got[n][way]
			if is := (row{m.Cash, m.Handling, m.After, m.Value}); is != w {
				t.Errorf("%v, month %d: %v, want %v", Way(way), n+1, is, w)
			}
		}
	}
	if w := got[0][Carried]; w.Waste() != 6*in || got[1][Discarded].Waste() != 36*in {
		t.Errorf("waste of %v and %v", w.Waste(), got[1][Discarded].Waste())
	}
}

// A month with a rack of its own is planned on that, in every way; and those after it on what it
// left.
func TestMonthWithARackOfItsOwn(t *testing.T) {
	own := []model.Board{{ID: "A", Wood: pine(31 * in)}, {ID: "B", Wood: pine(33 * in)}}
	second := monthOf(own, 30*in)
	second.Inputs = []model.Input{{Name: "rack.csv"}}
	jobs := []*model.Job{monthOf(nil, 60*in), second, monthOf(nil, 30*in)}
	jobs[2].Parts[0].Board = "O-9" // which was never there
	got, err := Months(t.Context(), jobs, Options{Work: 1e8}, func(int, Way) {})
	if err != nil {
		t.Fatal(err)
	}
	for way := range Way(Ways) {
		if a, b := got[1][way], got[2][way]; a.Before != 12500 || a.Bought+b.Bought != 0 ||
			a.After != b.Before || b.Short != 0 {
			t.Errorf("%v: %+v, then %+v", way, a, b)
		}
	}
}

// What is reckoned here is what the plans reckon; where offcuts are thrown away, none comes back.
// The months end in the middle of any with those that are done.
func TestMonthsAddUp(t *testing.T) {
	r := rand.New(rand.NewPCG(27, 3))
	for n := range 12 {
		first, opt := randomJob(r), Options{Work: 5e7}
		if n%3 == 2 {
			withRips(r, first)
			opt.Work = 1e7
		}
		first.Settings.Margin = 0 // an offcut is clear of a defect beside it, and of its margin
		first.Inputs = []model.Input{{Name: "../rack.csv"}}
		second := *first
		jobs := []*model.Job{first, &second, first}
		var plans []*model.Plan
		keep := func(job *model.Job, o Options) (*model.Plan, error) {
			p, err := Plan(t.Context(), job, o)
			plans = append(plans, p)
			return p, err
		}
		var begun []string
		got, err := months(t.Context(), jobs, opt, keep, func(month int, way Way) {
			begun = append(begun, fmt.Sprint(month, way))
		})
		if err != nil || len(begun) != len(jobs)*Ways {
			t.Fatalf("job %d: %d begun, %v", n, len(begun), err)
		}
		// strips go back at their value in whole units of money: each is half a unit off at most
		off := model.Money(len(plans[0].Rack)/2 + 3)
		if d := got[0][Carried].Value - plans[0].Value; d > off || d < -off {
			t.Errorf("job %d: net wood cost %d, the plan has %d", n, got[0][Carried].Value,
				plans[0].Value)
		}
		for way := range Way(Ways) {
			for k, m := range got {
				if k > 0 && got[k-1][way].After != m[way].Before {
					t.Errorf("job %d, %v, month %d: begins with %d, the one before left %d", n, way,
						k+1, m[way].Before, got[k-1][way].After)
				}
				if m[Discarded].Offcuts > 0 || m[Discarded].RackReturned != 0 {
					t.Errorf("job %d, month %d: offcuts come back", n, k+1)
				}
			}
		}
		interrupted(t, jobs, opt, got)
	}
}

// interrupted ends the months in the second one: the first stands, as it was.
func interrupted(t *testing.T, jobs []*model.Job, opt Options, all [][Ways]Month) {
	t.Helper()
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	got, err := Months(ctx, jobs, opt, func(month int, way Way) {
		if month == 1 && way == Discarded {
			stop()
		}
	})
	if !errors.Is(err, context.Canceled) || !slices.EqualFunc(got, all[:1],
		func(a, b [Ways]Month) bool { return reflect.DeepEqual(a, b) }) {
		t.Errorf("interrupted: %d months, %v", len(got), err)
	}
}

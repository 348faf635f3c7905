package proof

import (
	"math/rand/v2"
	"strings"
	"testing"

	"rackwright/model"
	"rackwright/model/internal/handmade"
)

// What a board gives within the demands is what its best layout gives that gives no part more often
// than it is wanted; a tick less is refused. A leaf that says so proves no more than the cheapest
// of all plans that it allows, and often more than without.
func TestWhatBoardsGiveWithinTheDemands(t *testing.T) {
	r := rand.New(rand.NewPCG(73, 74))
	judged, raised, lower, ripped := 0, 0, 0, 0
	for n := range 1500 {
		p := anyProgram(r)
		leaf := &model.CertNode{Duals: p.randomDuals(r)}
		alone := p.leaf(leaf, beside(p.limits, anyBought), "leaf")
		for s := range p.stocks {
			if most, some := valueOf(p.waysOf(s), leaf.Duals); some {
				leaf.Within = append(leaf.Within, model.CertWithin{Stock: s, Gives: most})
			}
		}
		got := p.leaf(leaf, beside(p.limits, anyBought), "leaf")
		if got == nil || !got.IsInt64() || alone == nil || got.Cmp(alone) < 0 {
			t.Fatalf("job %d: the leaf proves %v, without what boards give %v: %v", n, got, alone,
				p.found)
		}
		if got.Cmp(alone) > 0 {
			raised++
		}
		if want, some := p.optimum(p.limits); some {
			if judged++; got.Int64() > want {
				t.Fatalf("job %d: the leaf proves %v, yet a plan costs %d: %+v, leaf %+v", n, got,
					want, p.job, leaf)
			}
		}
		l := p.byDuals(leaf, p.cert, beside(p.limits, anyBought), "leaf")
		for k := range leaf.Within {
			w := &leaf.Within[k]
			if p.limits[w.Stock].most == 0 || l.best[w.Stock] == 0 {
				continue // it is not reckoned with
			}
			w.Gives--
			if p.leaf(leaf, beside(p.limits, anyBought), "leaf") != nil || len(p.found) != 1 ||
				!strings.Contains(p.found[0].What, "within the demands, not") {
				t.Fatalf("job %d: stock %d is said to give a tick less than it does: %v", n,
					w.Stock, p.found)
			}
			w.Gives++
			if lower++; p.stocks[w.Stock].across != nil {
				ripped++
			}
			p.found = nil
		}
	}
	if judged < 500 || raised < 100 || lower < 1000 || ripped < 300 {
		t.Errorf("%d leaves with a plan, %d prove more, %d stocks a tick lower, %d of them "+
			"ripped: too few to trust", judged, raised, lower, ripped)
	}
}

// within15 is the job of slats with a board for sale that is 15 wide, and could give four slats
// where two are wanted. Half of 1400 for 20 x 15 is 7/3 a cell, 1.4 of a strip. At 600 each the
// leaf says what two slats give: 1200 and 15 - 2 x (3 + 1) = 7 lines of 20 - 4 beside them, 156.8.
// That is less than 1400, so 2 x 600 is proven. The plan keeps those 7 lines, and comes to 1243.2.
func within15() (*model.Job, *model.Plan) {
	job, plan := handmade.Slats()
	job.Yard[0].Width = 15
	offcut := plan.Cuts[2]
	offcut.Kind, offcut.Commission, offcut.Part, offcut.Copy, offcut.Left, offcut.Right,
		offcut.Offcut = model.KindOffcut, "", "", 0, 8, 15, "off-1"
	plan.Cuts = append(plan.Cuts, offcut)
	g := &plan.Groups[0]
	g.Value, g.Bound, g.Proof = 1243, 1200, model.Feasible
	plan.Value, plan.Bound = g.Value, g.Bound
	strip := job.Valuation().SlopeOfOffer(&job.Yard[0]).Strip
	dual := handmade.SlatsTicks(600)
	g.Certificate.Root = model.CertNode{Duals: []int64{dual},
		Within: []model.CertWithin{{Stock: 1, Gives: 2*dual + 7*16*strip}}}
	return job, plan
}

func TestBoundsJudgeWhatBoardsGive(t *testing.T) {
	leaf := func(p *model.Plan) *model.CertNode { return &p.Groups[0].Certificate.Root }
	within := func(p *model.Plan) *model.CertWithin { return &leaf(p).Within[0] }
	for _, f := range bounds(within15()) {
		t.Errorf("%s: %s", f.Where, f.What)
	}
	for _, s := range []handmade.Spoilt{
		// four slats: 1200 - 3 x (2400 - 1400)
		{What: "none", Spoil: func(j *model.Job, p *model.Plan) {
			leaf(p).Within = nil
		}, Want: "the certificate proves -0.18"},
		{What: "a tick less", Spoil: func(j *model.Job, p *model.Plan) {
			within(p).Gives--
		}, Want: "within the demands, not"},
		{What: "far less", Spoil: func(j *model.Job, p *model.Plan) {
			within(p).Gives = -1 << 60
		}, Want: "within the demands, not"},
		// three boards, each for 1400
		{What: "more than it costs", Spoil: func(j *model.Job, p *model.Plan) {
			within(p).Gives = handmade.SlatsTicks(1500)
		}, Want: "the certificate proves 0.09"},
		{What: "twice", Spoil: func(j *model.Job, p *model.Plan) {
			leaf(p).Within = append(leaf(p).Within, *within(p))
		}, Want: "says twice what stock 1 gives"},
		{What: "of another stock", Spoil: func(j *model.Job, p *model.Plan) {
			within(p).Stock = 0
		}, Want: "the certificate proves -0.18"},
		{What: "no such stock", Spoil: func(j *model.Job, p *model.Plan) {
			within(p).Stock = 2
		}, Want: "which is not there"},
		{What: "no such stock either", Spoil: func(j *model.Job, p *model.Plan) {
			within(p).Stock = -1
		}, Want: "which is not there"},
		{What: "of a board bounded by its area", Spoil: func(j *model.Job, p *model.Plan) {
			p.Groups[0].Certificate.Stocks[1].Rough = true
		}, Want: "whose patterns cannot be listed"},
		{What: "of a board on a coarser grid", Spoil: func(j *model.Job, p *model.Plan) {
			p.Groups[0].Certificate.Stocks[1].Grid = 2
		}, Want: "whose patterns cannot be listed"},
	} {
		t.Run(s.What, func(t *testing.T) {
			job, plan := within15()
			s.Spoil(job, plan)
			handmade.Want(t, bounds(job, plan), s.Want)
		})
	}
}

// listedSlats is the job of slats, proven by a list. At 650 each the board gives 1300, so the leaf
// proves that. Plans below 1500 may use a board that gives 1200 or more: two slats, as one with the
// rest of the width gives 794. No board of the rack gives as much for what it costs. At 700 each
// two slats give what their board costs, and the list proves 1400.
func listedSlats() (*model.Job, *model.Plan) {
	job, plan := handmade.Slats()
	leaf := &plan.Groups[0].Certificate.Root
	leaf.Duals = []int64{handmade.SlatsTicks(650)}
	leaf.Within = []model.CertWithin{{Stock: 1, Gives: handmade.SlatsTicks(1300)}}
	leaf.List = &model.CertList{Target: handmade.SlatsTicks(1500),
		CertListNode: model.CertListNode{Duals: []int64{handmade.SlatsTicks(700)}}}
	return job, plan
}

func TestBoundsJudgeListsOfRippedBoards(t *testing.T) {
	for _, f := range bounds(listedSlats()) {
		t.Errorf("%s: %s", f.Where, f.What)
	}
	leaf := func(p *model.Plan) *model.CertNode { return &p.Groups[0].Certificate.Root }
	list := func(p *model.Plan) *model.CertList { return leaf(p).List }
	ticks := handmade.SlatsTicks
	for _, s := range []handmade.Spoilt{
		{What: "no list", Spoil: func(j *model.Job, p *model.Plan) {
			leaf(p).List = nil
		}, Want: "the certificate proves 0.13"},
		{What: "a dual higher", Spoil: func(j *model.Job, p *model.Plan) {
			list(p).Duals[0] += ticks(1) // 1402 - 3 x 2
		}, Want: "the certificate proves 0.1396"},
		{What: "a dual lower", Spoil: func(j *model.Job, p *model.Plan) {
			list(p).Duals[0] -= ticks(1)
		}, Want: "the certificate proves 0.1398"},
		{What: "the target below the value", Spoil: func(j *model.Job, p *model.Plan) {
			list(p).Target = ticks(1399)
		}, Want: "the certificate proves 0.1399"},
		{What: "the target below what the leaf proves", Spoil: func(j *model.Job, p *model.Plan) {
			list(p).Target = ticks(1290)
		}, Want: "the certificate proves 0.129"},
		// single slats are listed, too: 844 each for 1400, at duals of 700
		{What: "duals of the leaf for which more is listed", Spoil: func(j *model.Job,
			p *model.Plan) {
			leaf(p).Duals[0], leaf(p).Within = 0, nil
			list(p).Duals[0] = ticks(1000) // 2000 - 3 x 600
		}, Want: "the certificate proves 0.02"},
		{What: "what a board gives a tick lower", Spoil: func(j *model.Job, p *model.Plan) {
			leaf(p).Within[0].Gives--
		}, Want: "within the demands, not"},
		{What: "a tick lower, and the target out of reach", Spoil: func(j *model.Job,
			p *model.Plan) {
			leaf(p).Within[0].Gives--
			list(p).Target = ticks(1290)
		}, Want: "within the demands, not"},
		{What: "what a board of the rack gives too low", Spoil: func(j *model.Job, p *model.Plan) {
			leaf(p).Within[0] = model.CertWithin{Stock: 0, Gives: -1}
		}, Want: "within the demands, not"},
		{What: "a board on a coarser grid", Spoil: func(j *model.Job, p *model.Plan) {
			leaf(p).Within, p.Groups[0].Certificate.Stocks[1].GridAcross = nil, 2
		}, Want: "is worked out on a coarser grid; lists are for groups without"},
		{What: "a dual too large", Spoil: func(j *model.Job, p *model.Plan) {
			list(p).Duals[0] = 1 << 60
		}, Want: "the duals of the list are too large to reckon with on stock 1"},
		{What: "a rip that costs", Spoil: func(j *model.Job, p *model.Plan) {
			j.Settings.Ripping = 100 / 20 * 12 * model.UnitsPerInch
		}, Want: "group oak 4/4"},
	} {
		t.Run(s.What, func(t *testing.T) {
			job, plan := listedSlats()
			s.Spoil(job, plan)
			handmade.Want(t, bounds(job, plan), s.Want)
		})
	}
}

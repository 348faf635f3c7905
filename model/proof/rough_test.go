package proof

import (
	"math/rand/v2"
	"slices"
	"testing"

	"rackwright/model"
	"rackwright/model/internal/handmade"
)

// The slats take all of the board by area, so it proves by area what it proves exactly. A board of
// the rack has room for 21 x 8 = 168. It keeps 98 cells, so that each is worth 3000/98, and by area
// two of them give 2 x (3000 x 168/98 - 3000) = 4285.71 more than they cost. On a board of 15 the
// room is 21 x 16 = 336. At 75 each, slats come to 75 x 4 by area, what is left to 336 x 7/3 = 784.
func TestBoundsOfRoughStocks(t *testing.T) {
	rough := func(job *model.Job, plan *model.Plan, s int) (*model.Job, *model.Plan) {
		plan.Groups[0].Certificate.Stocks[s].Rough = true
		return job, plan
	}
	job, plan := handmade.Slats()
	for _, f := range bounds(rough(job, plan, 1)) {
		t.Errorf("%s: %s", f.Where, f.What)
	}
	// 1400 - 4285.71
	job, plan = handmade.Slats()
	handmade.Want(t, bounds(rough(job, plan, 0)), "the certificate proves -0.2886")
	// Plans that buy none cost 1200 or more, those that buy one 150 + 1400 - 784.
	job, plan = within15()
	plan.Groups[0].Certificate.Root = model.CertNode{Split: &model.CertSplit{Stock: 1,
		Low:  model.CertNode{Duals: []int64{handmade.SlatsTicks(600)}},
		High: model.CertNode{Duals: []int64{handmade.SlatsTicks(75)}}}}
	handmade.Want(t, bounds(rough(job, plan, 1)), "the certificate proves 0.0766")
	// Of 102 with its kerf a blank of 70 takes 72, so two boards give 2 x (920 x 102/72 - 1005) =
	// 596.67 more than they cost: 2760 - 596.67.
	job, plan = handmade.Tiny()
	handmade.Want(t, bounds(rough(job, plan, 4)), "the certificate proves 0.2163")
	// Of 202, 920 x 202/72 = 2581.11, above the cost of 2105, and there is any number of them.
	job, plan = handmade.Tiny()
	handmade.Want(t, bounds(rough(job, plan, 5)), "proves nothing: stock 5")
	job, plan = handmade.Threes()
	handmade.Want(t, bounds(rough(job, plan, 1)),
		"has a list, but line 3 of yard.csv, of stock 1, is bounded by its length alone")
	job, plan = handmade.Tiny()
	plan.Groups[0].Certificate.Root.Duals[2] = 1<<62 - 1
	handmade.Want(t, bounds(rough(job, plan, 4)), "too large to reckon with on stock 4")
}

// Whichever stocks are called rough, a leaf proves no more than without.
func TestRoughProvesNoMoreThanExact(t *testing.T) {
	r := rand.New(rand.NewPCG(85, 86))
	less, same := 0, 0
	rounds := 1200
	if testing.Short() {
		rounds = 200
	}
	for n := range rounds {
		p := randomProgram(r)
		if r.IntN(2) == 0 {
			p, _ = randomRipProgram(r)
		}
		leaf := &model.CertNode{Duals: p.randomDuals(r)}
		for range 3 {
			leaf = p.randomlyOther(r, leaf)
		}
		exact := p.byDuals(leaf, p.cert, beside(p.limits, anyBought), "leaf")
		p.stocks = slices.Clone(p.stocks)
		for s := range p.stocks {
			p.stocks[s].rough = r.IntN(3) > 0
		}
		rough := p.byDuals(leaf, p.cert, beside(p.limits, anyBought), "leaf")
		if exact == nil || rough == nil {
			t.Fatalf("job %d: no bound: %v", n, p.found)
		}
		switch exact.sum.Cmp(rough.sum) {
		case -1:
			t.Fatalf("job %d: rough stocks prove %v, exact ones %v: %+v, leaf %+v", n, rough.sum,
				exact.sum, p.job, leaf)
		case 0:
			same++
		default:
			less++
		}
	}
	if less < rounds/4 || same < rounds/50 {
		t.Errorf("%d leaves prove less, %d the same: too few to trust", less, same)
	}
}

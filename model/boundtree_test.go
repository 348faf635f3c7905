package model

import (
	"math"
	"slices"
	"testing"
)

// threes is a job where boards alone cannot close the gap, and its plan. Parts of 4, 5 and 6, one each; boards of 11, at 100,
// hold any two, boards of 6, at 60, any one; no offcut is worth anything, as keep is 100. Half of each pair would do by
// the duals: 50 for each part prove 150. The cheapest is a pair and a board of 6: 160. The plan takes two boards of 11.
//
// Its tree, by hand. No board of 11 with the 4: duals 60, 50, 50 with -10 for boards with the 4; a board of 6 and all
// pairs come to their cost, so 160. Else with 4 and 5 together on one: 40, 40, 60 and 20 for that, again at cost, so
// 160; or on none: 60, 60, 40 and -20 for that, so 160.
func threes() (*Job, *Plan) {
	part := func(name string, l Length) Part {
		return Part{Commission: "Box", Name: name, Qty: 1, Material: "oak", Section: "4/4", Length: l, Width: 9, Thickness: 9}
	}
	wood := func(l Length) Wood { return Wood{Material: "oak", Section: "4/4", Length: l, Width: 9, Thickness: 9} }
	supply, claim := [2]int64{3, 4}, [2]int64{3, 4}
	job := &Job{
		Settings:    Settings{Currency: "USD", Offcut: OffcutRule{KeepLength: 100, Value: Fraction{1, 2}}},
		Commissions: []Commission{{Name: "Box"}},
		Parts:       []Part{part("a", 4), part("b", 5), part("c", 6)},
		Yard: []Offer{
			{Wood: wood(11), Price: 100, Available: &supply[0], Where: Where{"yard.csv", 2}},
			{Wood: wood(6), Price: 60, Available: &supply[1], Where: Where{"yard.csv", 3}},
		},
	}
	row := func(board string, kind Kind, from, to Length, part string) Cut {
		c := Cut{Board: board, Origin: FromYard, Material: "oak", Section: "4/4", Step: 1, Kind: kind, From: from, To: to, Right: 9, Part: part}
		if c.Part != "" {
			c.Commission, c.Copy = "Box", 1
		}
		return c
	}
	held := []int{0, 1}
	plan := &Plan{
		Value: 200, Bound: 160,
		Cuts: []Cut{
			row("B1", KindPart, 0, 4, "a"), row("B1", KindPart, 4, 9, "b"), row("B1", KindWaste, 9, 11, ""),
			row("B2", KindPart, 0, 6, "c"), row("B2", KindWaste, 6, 11, ""),
		},
		Placements: []Placement{{"B1", 2, []Piece{{"Box", "a", 1, 0, 4}, {"Box", "b", 1, 4, 9}}}, {"B2", 2, []Piece{{"Box", "c", 1, 0, 6}}}},
		Groups: []Group{{Name: "oak", Value: 200, Bound: 160, Proof: Feasible, Ended: Finished, Certificate: Certificate{
			Scale:  1,
			Items:  []CertItem{{4, Show, 1, held}, {5, Show, 1, held}, {6, Show, 1, held}},
			Stocks: []CertStock{{Yard: 2, Cost: 100, Supply: &claim[0]}, {Yard: 3, Cost: 60, Supply: &claim[1]}},
			Leaves: []CertLeaf{{Duals: []int64{50, 50, 50}, Tree: &CertNode{
				Pieces: map[int]int64{0: 1}, Least: 1,
				Below: &CertNode{Duals: []int64{60, 50, 50}, Extra: []int64{-10}},
				From: &CertNode{
					Pieces: map[int]int64{0: 1, 1: 1}, Least: 1,
					Below: &CertNode{Duals: []int64{60, 60, 40}, Extra: []int64{0, -20}},
					From:  &CertNode{Duals: []int64{40, 40, 60}, Extra: []int64{0, 20}},
				},
			}}},
		}}},
	}
	return job, plan
}

func TestCheckBoundsAcceptsATreeMadeByHand(t *testing.T) {
	for _, f := range CheckBounds(threes()) {
		t.Errorf("%s: %s", f.Where, f.What)
	}
}

// With a board of 6 for the last part the plan is the cheapest, at 160. At duals of 50 the leaf proves 150, and a board of 6
// adds its net of 10: no plan below 160 can take one. So all parts come from two boards of 11. A unit less in one dual, and
// the room is 160 - 1 - 149 = 10: boards of 6 may be used, for the 4 or the 5.
func TestListsLeaveOutWhatCostsTooMuch(t *testing.T) {
	job, plan := threes()
	for i := 3; i < 5; i++ {
		plan.Cuts[i].To = min(plan.Cuts[i].To, 6)
	}
	plan.Cuts, plan.Placements[1].Offer = plan.Cuts[:4], 3
	g := &plan.Groups[0]
	plan.Value, g.Value, g.Proof = 160, 160, Optimal
	g.Certificate.Leaves[0].Tree = &CertNode{
		Least: 2,
		Below: &CertNode{Duals: []int64{100, 100, 100}, Extra: []int64{-100}},
		From:  &CertNode{Duals: []int64{0, 0, 0}, Extra: []int64{100}},
	}
	for _, f := range CheckBounds(job, plan) {
		t.Errorf("%s: %s", f.Where, f.What)
	}
	g.Certificate.Leaves[0].Duals[2] = 49
	wantFinding(t, CheckBounds(job, plan), "the certificate proves 0.004") // 300 - 100 - 4 x 40
}

// deep is a tree of so many splits, one below the other.
func deep(n *CertNode, depth int) *CertNode {
	for range depth {
		leaf := *n
		leaf.Extra = append(slices.Clone(n.Extra), 0)
		n = &CertNode{Least: 1, Below: &leaf, From: n}
	}
	return n
}

func TestCheckBoundsRefusesTrees(t *testing.T) {
	tree := func(p *Plan) *CertNode { return p.Groups[0].Certificate.Leaves[0].Tree }
	twin := func(p *Plan, bound Money) { p.Groups[0].Bound, p.Bound = bound, bound }
	for _, s := range []spoilt{
		{"no tree", func(j *Job, p *Plan) { p.Groups[0].Certificate.Leaves[0].Tree = nil }, "the certificate proves 0.015"},
		{"one leaf only", func(j *Job, p *Plan) {
			p.Groups[0].Certificate.Leaves[0].Tree = &CertNode{Duals: tree(p).Below.Duals, Extra: []int64{}}
		}, "the certificate proves 0.013"}, // pairs with the 4 give 110, and three boards may be used
		{"bound a unit higher", func(j *Job, p *Plan) { twin(p, 161) }, "the certificate proves 0.016"},
		{"bound a unit lower", func(j *Job, p *Plan) { twin(p, 159) }, "the certificate proves 0.016"},
		{"sigma below 0 from", func(j *Job, p *Plan) { tree(p).From.From.Extra[1] = -20 }, "the dual -20 for a split that allows it no such sign"},
		{"sigma above 0 below", func(j *Job, p *Plan) { tree(p).Below.Extra[0] = 10 }, "the dual 10 for a split that allows it no such sign"},
		{"sigma of the root below 0 from", func(j *Job, p *Plan) { tree(p).From.Below.Extra[0] = -1 }, "the dual -1 for a split that allows it no such sign"},
		{"sigma higher", func(j *Job, p *Plan) { tree(p).From.From.Extra[1]++ }, "the certificate proves 0.0158"}, // 161 - 3
		{"sigma lower", func(j *Job, p *Plan) { tree(p).From.From.Extra[1]-- }, "the certificate proves 0.0159"},  // a unit less for the split
		{"sigma nearer 0", func(j *Job, p *Plan) { tree(p).Below.Extra[0]++ }, "the certificate proves 0.0157"},   // 160 - 3
		{"least 2 from", func(j *Job, p *Plan) { tree(p).From.Least = 2 }, "the certificate proves 0.014"},        // below 160 - 20
		{"least 0", func(j *Job, p *Plan) { tree(p).From.Least = 0 }, "splits at 0 boards"},                       //
		{"least below 0", func(j *Job, p *Plan) { tree(p).Least = math.MinInt64 }, "splits at -9223372036854775808"},
		{"branches swapped", func(j *Job, p *Plan) { n := tree(p).From; n.Below, n.From = n.From, n.Below }, "allows it no such sign"},
		{"another item", func(j *Job, p *Plan) { tree(p).Pieces = map[int]int64{1: 1} }, "the certificate proves 0.013"},     // 4 and 6 give 110
		{"an item less", func(j *Job, p *Plan) { tree(p).From.Pieces = map[int]int64{0: 1} }, "the certificate proves 0.01"}, // 4 and 6 give 120: 160 - 3 x 20
		{"two copies", func(j *Job, p *Plan) { tree(p).Pieces[0] = 2 }, "the certificate proves 0.013"},
		{"no copy", func(j *Job, p *Plan) { tree(p).Pieces[0] = 0 }, "splits by 0 copies of item 0"},
		{"no such item", func(j *Job, p *Plan) { tree(p).Pieces[3] = 1 }, "splits by item 3, which stock 0 does not hold"},
		{"a negative item", func(j *Job, p *Plan) { tree(p).Pieces[-1] = 1 }, "splits by item -1, which stock 0 does not hold"},
		{"another stock", func(j *Job, p *Plan) { tree(p).Stock = 1 }, "the certificate proves 0.013"},
		{"no such stock", func(j *Job, p *Plan) { tree(p).Stock = 2 }, "splits stock 2, which is not there"},
		{"a negative stock", func(j *Job, p *Plan) { tree(p).From.Stock = -1 }, "splits stock -1, which is not there"},
		{"dual missing", func(j *Job, p *Plan) { tree(p).Below.Duals = []int64{60, 50} }, "a leaf has 2 duals and 1 more for 3 items and 1 splits"},
		{"sigma missing", func(j *Job, p *Plan) { tree(p).Below.Extra = nil }, "a leaf has 3 duals and 0 more"},
		{"sigma too many", func(j *Job, p *Plan) { tree(p).Below.Extra = []int64{-10, 0} }, "a leaf has 3 duals and 2 more"},
		{"dual below 0", func(j *Job, p *Plan) { tree(p).Below.Duals[1] = -1 }, "has a dual below 0: -1"},
		{"dual higher", func(j *Job, p *Plan) { tree(p).Below.Duals[1]++ }, "the certificate proves 0.0158"},
		{"dual lower", func(j *Job, p *Plan) { tree(p).Below.Duals[1]-- }, "the certificate proves 0.0159"},
		{"dual too large", func(j *Job, p *Plan) { tree(p).Below.Duals[1] = math.MaxInt64 / 2 }, "too large to reckon with"},
		{"sigma too large", func(j *Job, p *Plan) {
			tree(p).From.From.Extra[0], tree(p).From.From.Extra[1] = math.MaxInt64, math.MaxInt64
		}, "too large to reckon with"},
		{"sigma too small", func(j *Job, p *Plan) { tree(p).Below.Extra[0] = math.MinInt64 }, "too large to reckon with"},
		{"branch missing", func(j *Job, p *Plan) { tree(p).Below = nil }, "a split has two branches"},
		{"other branch missing", func(j *Job, p *Plan) { tree(p).From.From = nil }, "a split has two branches"},
		{"split with duals", func(j *Job, p *Plan) { tree(p).Duals = []int64{50, 50, 50} }, "a split has two branches and no duals"},
		{"leaf with a stock", func(j *Job, p *Plan) { tree(p).Below.Stock = 1 }, "a leaf splits nothing"},
		{"leaf with pieces", func(j *Job, p *Plan) { tree(p).Below.Pieces = map[int]int64{0: 1} }, "a leaf splits nothing"},
		{"any number of boards", func(j *Job, p *Plan) {
			j.Yard[0].Available, p.Groups[0].Certificate.Stocks[0].Supply = nil, nil
			tree(p).Below.Duals[1]++
		}, "a leaf of the tree proves nothing: stock 0, of which there is any number"},
		{"too deep", func(j *Job, p *Plan) { *tree(p) = *deep(tree(p).Below, maxDepth+1) }, "is more than 200 splits deep"},
		{"endless", func(j *Job, p *Plan) { tree(p).From.From = tree(p) }, "is more than 200 splits deep"},
		{"too many leaves", func(j *Job, p *Plan) {
			for range 16 {
				n := *tree(p)
				*tree(p) = CertNode{Least: 1, Below: &n, From: &n}
			}
		}, "have more than 65536 leaves"},
		{"value too low", func(j *Job, p *Plan) { p.Groups[0].Value, p.Value = 159, 159 }, "the value is 0.0159"},
	} {
		t.Run(s.what, func(t *testing.T) {
			job, plan := threes()
			s.spoil(job, plan)
			wantFinding(t, CheckBounds(job, plan), s.want)
		})
	}
}

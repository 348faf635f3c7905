package proof

import (
	"math"
	"math/big"
	"math/rand/v2"
	"slices"
	"testing"

	"rackwright/model"
	"rackwright/model/internal/handmade"
)

func TestBoundsAcceptsAProofMadeByHand(t *testing.T) {
	for _, f := range bounds(handmade.Tiny()) {
		t.Errorf("%s: %s", f.Where, f.What)
	}
}

func TestBoundsAcceptsBranching(t *testing.T) {
	for _, f := range bounds(handmade.Branched()) {
		t.Errorf("%s: %s", f.Where, f.What)
	}
}

// A bound between two amounts is stated as the lower one: at 920.5 the board of line 2 lies 920.5 +
// 84.906 - 1005 = 0.406 below its cost, twice, so 2761.5 - 0.811 = 2760.69 is proven.
func TestBoundsAreStatedRoundedDown(t *testing.T) {
	job, plan := handmade.Tiny()
	plan.Groups[0].Certificate.Root.Duals[2] += handmade.TinyTicks(1) / 2
	for _, f := range bounds(job, plan) {
		t.Errorf("%s: %s", f.Where, f.What)
	}
}

// A plan is proven optimal where its exact bound is less than 1/10000 below its exact value. Of the
// slats, at 1400, two duals of 700 less a half each prove 1399: that is feasible, and a tick more
// is optimal.
func TestOptimalIsLessThanAUnitApart(t *testing.T) {
	for _, c := range []struct {
		more  int64 // in the dual, in ticks
		proof model.Proof
		bound model.Money
	}{{-1, model.Feasible, 1398}, {0, model.Feasible, 1399}, {1, model.Optimal, 1400}} {
		job, plan := handmade.Slats()
		g := &plan.Groups[0]
		g.Certificate.Root.Duals[0] += c.more - handmade.SlatsTicks(1)/2
		g.Proof, g.Bound, plan.Bound = c.proof, c.bound, c.bound
		for _, f := range bounds(job, plan) {
			t.Errorf("%d ticks more: %s: %s", c.more, f.Where, f.What)
		}
		word := string(c.proof)
		if g.Proof = model.Optimal; c.proof == model.Optimal {
			g.Proof = model.Feasible
		}
		handmade.Want(t, bounds(job, plan), `the certificate makes it "`+word+`"`)
	}
}

func TestBoundsRefuses(t *testing.T) {
	cert := func(p *model.Plan) *model.Certificate { return &p.Groups[0].Certificate }
	big := int64(9)
	handmade.TryAll(t, bounds, []handmade.Spoilt{
		{What: "item length", Spoil: func(j *model.Job, p *model.Plan) {
			cert(p).Items[0].Length++
		}, Want: "no blank of"},
		{What: "item face", Spoil: func(j *model.Job, p *model.Plan) {
			cert(p).Items[0].Face = model.Hidden
		}, Want: "no blank of"},
		{What: "item with no face", Spoil: func(j *model.Job, p *model.Plan) {
			cert(p).Items[0].Face = -7
		}, Want: "no face"},
		{What: "demand too high", Spoil: func(j *model.Job, p *model.Plan) {
			cert(p).Items[2].Demand++
		}, Want: "4 blanks of"},
		{What: "demand of a short copy", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[19].Part = "gone"
		}, Want: "3 blanks of"},
		{What: "item forgets a stock", Spoil: func(j *model.Job, p *model.Plan) {
			cert(p).Items[1].Stocks = []int{0, 2, 4, 5}
		}, Want: "board R2 is not among its stocks but holds"},
		{What: "item names a stock too many", Spoil: func(j *model.Job, p *model.Plan) {
			cert(p).Items[2].Stocks = []int{3, 4, 5}
		}, Want: "board R4.1 does not hold"},
		{What: "item names no such stock", Spoil: func(j *model.Job, p *model.Plan) {
			cert(p).Items[2].Stocks = []int{4, 5, 6}
		}, Want: "stock 6 is not there"},
		{What: "item names a negative stock", Spoil: func(j *model.Job, p *model.Plan) {
			cert(p).Items[2].Stocks = []int{4, 5, -1}
		}, Want: "stock -1 is not there"},
		{What: "item names a stock twice", Spoil: func(j *model.Job, p *model.Plan) {
			cert(p).Items[2].Stocks = []int{4, 5, 5}
		}, Want: "named twice"},
		{What: "item twice", Spoil: func(j *model.Job, p *model.Plan) {
			cert(p).Items = append(cert(p).Items, cert(p).Items[0])
		}, Want: "counted already"},
		{What: "item missing", Spoil: func(j *model.Job, p *model.Plan) {
			cert(p).Items = cert(p).Items[:2]
		}, Want: "3 copies of top of Table"},
		{What: "group missing", Spoil: func(j *model.Job, p *model.Plan) {
			p.Groups = nil
		}, Want: "counted in no group"},
		{What: "stock of an unknown board", Spoil: func(j *model.Job, p *model.Plan) {
			cert(p).Stocks[0].Boards[0] = "R9"
		}, Want: `no board "R9"`},
		{What: "stock of both", Spoil: func(j *model.Job, p *model.Plan) {
			cert(p).Stocks[0].Yard = 2
		}, Want: "is to be either"},
		{What: "stock of neither", Spoil: func(j *model.Job, p *model.Plan) {
			cert(p).Stocks[0].Boards = nil
		}, Want: "is to be either"},
		{What: "stock of an unknown line", Spoil: func(j *model.Job, p *model.Plan) {
			cert(p).Stocks[4].Yard = 7
		}, Want: "line 7 of yard.csv sells no board"},
		{What: "stock of a negative line", Spoil: func(j *model.Job, p *model.Plan) {
			cert(p).Stocks[4].Yard = -2
		}, Want: "line -2 of yard.csv sells no board"},
		{What: "board in two stocks", Spoil: func(j *model.Job, p *model.Plan) {
			cert(p).Stocks[2].Boards = []string{"R3", "R1"}
		}, Want: "board R1 stands in the stocks twice"},
		{What: "board twice in a stock", Spoil: func(j *model.Job, p *model.Plan) {
			cert(p).Stocks[3].Boards[1] = "R4.1"
		}, Want: "board R4.1 stands in the stocks twice"},
		{What: "boards in two groups", Spoil: func(j *model.Job, p *model.Plan) {
			p.Groups = append(p.Groups, p.Groups[0])
		}, Want: "stands in the stocks twice"},
		{What: "boards not alike in length", Spoil: func(j *model.Job, p *model.Plan) {
			j.Rack[4].Length++
		}, Want: "not alike"},
		{What: "boards not alike in defects", Spoil: func(j *model.Job, p *model.Plan) {
			j.Rack[4].Defects = []model.Defect{{From: 0, To: 1, Left: 0, Right: 1, Kind: "stain"}}
		}, Want: "not alike"},
		{What: "boards not alike in worth", Spoil: func(j *model.Job, p *model.Plan) {
			j.Rack[4].Value = new(model.Money(47))
		}, Want: "not alike"},
		{What: "boards not alike in what they hold", Spoil: func(j *model.Job, p *model.Plan) {
			j.Rack[4].Thickness--
		}, Want: "board R4.2 does not hold"},
		{What: "cost", Spoil: func(j *model.Job, p *model.Plan) {
			cert(p).Stocks[0].Cost++
		}, Want: "stock 0: board R1 costs 0.0095 (1625604300032 ticks) with handling"},
		{What: "cost of an offer", Spoil: func(j *model.Job, p *model.Plan) {
			cert(p).Stocks[4].Cost++
		}, Want: "stock 4: line 2 of yard.csv costs"},
		{What: "supply", Spoil: func(j *model.Job, p *model.Plan) {
			*cert(p).Stocks[3].Supply = 3
		}, Want: "the supply of board R4.1"},
		{What: "supply of a line", Spoil: func(j *model.Job, p *model.Plan) {
			*cert(p).Stocks[4].Supply = 1
		}, Want: "the supply of line 2"},
		{What: "any number of a rack board", Spoil: func(j *model.Job, p *model.Plan) {
			cert(p).Stocks[0].Supply = nil
		}, Want: "the supply of board R1"},
		{What: "a number where there is any", Spoil: func(j *model.Job, p *model.Plan) {
			cert(p).Stocks[5].Supply = &big
		}, Want: "the supply of line 3"},
		{What: "a number that stands for any", Spoil: func(j *model.Job, p *model.Plan) {
			n := int64(math.MaxInt64)
			cert(p).Stocks[5].Supply = &n
		}, Want: "the supply of line 3"},
		{What: "bits of no money", Spoil: func(j *model.Job, p *model.Plan) {
			cert(p).Bits = 0
		}, Want: "its certificate reckons in 2^-0 of money; this job does so in 2^-34"},
		{What: "one bit more", Spoil: func(j *model.Job, p *model.Plan) {
			cert(p).Bits++
		}, Want: "its certificate reckons in 2^-35 of money; this job does so in 2^-34"},
		{What: "bits beyond all", Spoil: func(j *model.Job, p *model.Plan) {
			cert(p).Bits = math.MaxUint
		}, Want: "its certificate reckons in 2^-18446744073709551615 of money"},
		{What: "no leaf", Spoil: func(j *model.Job, p *model.Plan) {
			cert(p).Root = model.CertNode{}
		}, Want: "leaf 0: has 0 duals for 3 items"},
		{What: "dual missing", Spoil: func(j *model.Job, p *model.Plan) {
			cert(p).Root.Duals = []int64{0, 0}
		}, Want: "2 duals for 3 items"},
		{What: "dual below 0", Spoil: func(j *model.Job, p *model.Plan) {
			cert(p).Root.Duals[0] = -1
		}, Want: "a dual below 0"},
		{What: "dual too large", Spoil: func(j *model.Job, p *model.Plan) {
			cert(p).Root.Duals[0] = math.MaxInt64 / 2
		}, Want: "too large to reckon with"},
		{What: "dual too high for line 3", Spoil: func(j *model.Job, p *model.Plan) {
			cert(p).Root.Duals[2] = handmade.TinyTicks(945)
		}, Want: "would give more than it costs"},
		{What: "dual a little higher", Spoil: func(j *model.Job, p *model.Plan) {
			cert(p).Root.Duals[2] = handmade.TinyTicks(921)
			// 2763 - 2 x (921 + 84.906 - 1005)
		}, Want: "the certificate proves 0.2761"},
		{What: "bound too high", Spoil: func(j *model.Job, p *model.Plan) {
			p.Groups[0].Bound++
		}, Want: "the bound is stated as 0.2761; the certificate proves 0.276"},
		{What: "bound too low", Spoil: func(j *model.Job, p *model.Plan) {
			p.Groups[0].Bound--
		}, Want: "the bound is stated as 0.2759; the certificate proves 0.276"},
		{What: "bound stated above the value", Spoil: func(j *model.Job, p *model.Plan) {
			p.Groups[0].Bound = 3614
		}, Want: "the bound is stated as 0.3614; the certificate proves 0.276"},
		// R2 is credited with its own value, and 190 of B2: 3613 - 900 + 279 - 190 x 250/53 + 217
		{What: "bound above the value", Spoil: func(j *model.Job, p *model.Plan) {
			p.Cuts[7].To, p.Cuts[23].From = 60, 3
		}, Want: "the certificate proves a bound above the value"},
		{What: "bound of the plan", Spoil: func(j *model.Job, p *model.Plan) {
			p.Bound++
		}, Want: "the bounds of the groups do not add up"},
		{What: "value", Spoil: func(j *model.Job, p *model.Plan) {
			p.Groups[0].Value++
			p.Value++
		}, Want: "the value is 0.3614, its boards, with handling and rips, " +
			"less their offcuts, cost 0.3613"},
		{What: "proof", Spoil: func(j *model.Job, p *model.Plan) {
			p.Groups[0].Proof = model.Optimal
		}, Want: `the proof is "optimal"`},
		{What: "no proof word", Spoil: func(j *model.Job, p *model.Plan) {
			p.Groups[0].Proof = "sure"
		}, Want: `the proof is "sure"`},
		{What: "ended", Spoil: func(j *model.Job, p *model.Plan) {
			p.Groups[0].Ended = "tired"
		}, Want: `"tired" is no way`},
		{What: "groups that overflow", Spoil: func(j *model.Job, p *model.Plan) {
			p.Groups = append(p.Groups, model.Group{Value: math.MaxInt64, Bound: math.MaxInt64},
				model.Group{Value: math.MaxInt64, Bound: math.MaxInt64},
				model.Group{Value: 2, Bound: 2})
		}, Want: "the bounds of the groups do not add up"},
		{What: "a group of no boards with a value", Spoil: func(j *model.Job, p *model.Plan) {
			p.Groups = append(p.Groups, model.Group{Name: "none", Value: 1})
		}, Want: "group none: the value is 0.0001, its boards, with handling and rips, less " +
			"their offcuts, cost 0"},
	})
}

// The plan's value is dealt out by largest remainder: it is judged with that of the groups.
func TestThePlansValueIsThatOfItsGroups(t *testing.T) {
	job, plan := handmade.Tiny()
	plan.Value++
	handmade.Want(t, judgeAll(job, plan), "plan.json: value: is 0.3614")
}

// A tree of splits is judged while it is walked.
func TestBoundsRefusesTrees(t *testing.T) {
	root := func(p *model.Plan) *model.CertNode { return &p.Groups[0].Certificate.Root }
	split := func(p *model.Plan) *model.CertSplit { return root(p).Split }
	leaf := func(dual int64) model.CertNode {
		return model.CertNode{Duals: []int64{0, 0, handmade.TinyTicks(dual)}}
	}
	// at parts a node again, by so many boards of a stock
	at := func(n *model.CertNode, stock int, most int64) {
		*n = model.CertNode{Split: &model.CertSplit{Stock: stock, AtMost: most, Low: *n, High: *n}}
	}
	const nothing = " leaves one side nothing"
	for _, s := range []handmade.Spoilt{
		{What: "no such stock", Spoil: func(j *model.Job, p *model.Plan) {
			split(p).Stock = 6
		}, Want: "a split is about stock 6, which is not there"},
		{What: "a negative stock", Spoil: func(j *model.Job, p *model.Plan) {
			split(p).Stock = -2
		}, Want: "a split is about stock -2, which is not there"},
		{What: "below 0", Spoil: func(j *model.Job, p *model.Plan) {
			split(p).AtMost = -1
		}, Want: "a split at -1 boards of stock 5" + nothing},
		{What: "at the supply", Spoil: func(j *model.Job, p *model.Plan) {
			at(&split(p).High, 4, 2)
		}, Want: "a split at 2 boards of stock 4" + nothing},
		{What: "above the supply", Spoil: func(j *model.Job, p *model.Plan) {
			at(&split(p).Low, 3, 1<<40)
		}, Want: "a split at 1099511627776 boards of stock 3" + nothing},
		{What: "at any number", Spoil: func(j *model.Job, p *model.Plan) {
			split(p).AtMost = math.MaxInt64
		}, Want: "a split at 9223372036854775807 boards of stock 5" + nothing},
		{What: "below what the split above leaves", Spoil: func(j *model.Job, p *model.Plan) {
			at(&split(p).High, 5, 0)
		}, Want: "a split at 0 boards of stock 5" + nothing},
		{What: "above what the split above leaves", Spoil: func(j *model.Job, p *model.Plan) {
			split(p).AtMost = 3
			at(&split(p).Low, 5, 3)
		}, Want: "a split at 3 boards of stock 5" + nothing},
		{What: "a stock that is used up", Spoil: func(j *model.Job, p *model.Plan) {
			at(&split(p).Low, 5, 0)
		}, Want: "a split at 0 boards of stock 5" + nothing},
		{What: "a split with duals", Spoil: func(j *model.Job, p *model.Plan) {
			root(p).Duals = []int64{0, 0, 0}
		}, Want: "a split has what only a leaf may have"},
		{What: "a split with what boards give", Spoil: func(j *model.Job, p *model.Plan) {
			root(p).Within = []model.CertWithin{{Stock: 4, Gives: 1}}
		}, Want: "a split has what only a leaf may have"},
		{What: "a split with a list", Spoil: func(j *model.Job, p *model.Plan) {
			at(root(p), 4, 1)
			root(p).Split.High.List = &model.CertList{}
		}, Want: "a split has what only a leaf may have"},
		{What: "the low side missing", Spoil: func(j *model.Job, p *model.Plan) {
			split(p).Low = model.CertNode{}
		}, Want: "leaf 0: has 0 duals for 3 items"},
		{What: "the high side missing", Spoil: func(j *model.Job, p *model.Plan) {
			split(p).High = model.CertNode{}
		}, Want: "leaf 1: has 0 duals for 3 items"},
		{What: "sides exchanged", Spoil: func(j *model.Job, p *model.Plan) {
			split(p).Low, split(p).High = split(p).High, split(p).Low
		}, Want: "leaf 1: proves nothing: stock 5, of which there is any number, would give more"},
		{What: "the low side for all", Spoil: func(j *model.Job, p *model.Plan) {
			*root(p) = split(p).Low
		}, Want: "leaf 0: proves nothing: stock 5, of which there is any number, would give more"},
		{What: "the high side for all", Spoil: func(j *model.Job, p *model.Plan) {
			*root(p) = split(p).High
		}, Want: "the bound is stated as 0.2808; the certificate proves 0.276"},
		// Now the low side may have a board of line 3: 6840.19 + 2105 - 2 x 5000 - 216.98 =
		// -1271.79
		{What: "one board more on the low side", Spoil: func(j *model.Job, p *model.Plan) {
			split(p).AtMost = 1
		}, Want: "the bound is stated as 0.2808; the certificate proves -0.1272"},
		{What: "too deep", Spoil: func(j *model.Job, p *model.Plan) {
			n := root(p)
			for k := range int64(MaxDepth + 1) {
				*n = model.CertNode{Split: &model.CertSplit{Stock: 5, AtMost: k, Low: leaf(920)}}
				n = &n.Split.High
			}
			*n = leaf(920)
		}, Want: "its splits lie more than 1024 deep"},
		{What: "as deep as may be", Spoil: func(j *model.Job, p *model.Plan) {
			n := root(p)
			for k := range int64(MaxDepth) {
				*n = model.CertNode{Split: &model.CertSplit{Stock: 5, AtMost: k, Low: leaf(920)}}
				n = &n.Split.High
			}
			*n = leaf(920)
		}, Want: "the bound is stated as 0.2808; the certificate proves 0.276"},
	} {
		t.Run(s.What, func(t *testing.T) {
			job, plan := handmade.Branched()
			s.Spoil(job, plan)
			handmade.Want(t, bounds(job, plan), s.Want)
		})
	}
}

// A proof has so many leaves and no more. Here they part how many boards of line 3 are used, and
// each of them proves what one leaf does.
func TestBoundsRefusesTooManyLeaves(t *testing.T) {
	var parted func(from, leaves int64) model.CertNode
	parted = func(from, leaves int64) model.CertNode {
		if leaves == 1 {
			return model.CertNode{Duals: []int64{0, 0, handmade.TinyTicks(920)}}
		}
		half := leaves / 2
		return model.CertNode{Split: &model.CertSplit{Stock: 5, AtMost: from + half - 1,
			Low: parted(from, half), High: parted(from+half, leaves-half)}}
	}
	job, plan := handmade.Tiny()
	root := &plan.Groups[0].Certificate.Root
	*root = parted(0, 1<<10)
	for _, f := range bounds(job, plan) {
		t.Errorf("1024 leaves: %s: %s", f.Where, f.What)
	}
	*root = parted(0, maxLeaves+1)
	handmade.Want(t, bounds(job, plan), "leaf 65536: is one too many; a proof has at most 65536")
}

// The plan's value is dealt out to the groups: each has its own rounded down, then one unit more
// each where it lacks most, of equals the first.
func TestTheValueIsDealtOutToTheGroups(t *testing.T) {
	job, _ := handmade.Tiny()
	worth := job.Valuation()
	dealt := func(quarters ...int64) (out []model.Money) {
		p := &proof{worth: worth}
		for _, q := range quarters {
			p.exact = append(p.exact, big.NewInt(q<<(handmade.TinyBits-2)))
		}
		return p.dealt()
	}
	for _, c := range []struct {
		quarters []int64
		want     []model.Money
	}{
		{nil, []model.Money{}},
		{[]int64{6}, []model.Money{2}},                   // 1.5 is shown as 2
		{[]int64{-6}, []model.Money{-1}},                 // -1.5 as -1
		{[]int64{5, 5}, []model.Money{2, 1}},             // 2.5 as 3, of equals the first
		{[]int64{5, 6, 7}, []model.Money{1, 2, 2}},       // 4.5 as 5: 1 + 1 + 1 and two more
		{[]int64{5, 6, 4, 6}, []model.Money{1, 2, 1, 1}}, // 5.25 as 5
		{[]int64{5, 5, 4, 5}, []model.Money{2, 1, 1, 1}}, // 4.75 as 5
		{[]int64{-1, 9}, []model.Money{0, 2}},            // -1 + 2 and one more
		{[]int64{1, 0, 0}, []model.Money{0, 0, 0}},
	} {
		if got := dealt(c.quarters...); !slices.Equal(got, c.want) {
			t.Errorf("%d quarters: %v, want %v", c.quarters, got, c.want)
		}
	}
	r := rand.New(rand.NewPCG(29, 30))
	for range 2000 {
		p, sum := &proof{worth: worth}, new(big.Int)
		for range 1 + r.IntN(6) {
			v := big.NewInt(r.Int64N(1<<40) - 1<<38)
			p.exact, sum = append(p.exact, v), sum.Add(sum, v)
		}
		all := model.Money(0)
		for i, m := range p.dealt() {
			all += m
			apart := new(big.Int).Sub(p.exact[i], big.NewInt(int64(m)<<handmade.TinyBits))
			if apart.CmpAbs(big.NewInt(1<<handmade.TinyBits)) >= 0 {
				t.Fatalf("%v: group %d has %d", p.exact, i, m)
			}
		}
		if all != worth.Shown(sum) {
			t.Fatalf("%v: the groups have %d in all", p.exact, all)
		}
	}
}

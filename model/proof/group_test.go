package proof

import (
	"math"
	"math/rand/v2"
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

func TestBoundsRoundsUp(t *testing.T) {
	// A thousandth more: 921.001 leaves the board of line 2 a thousandth below its cost twice:
	// 2763.003 - 0.002.
	job, plan := handmade.Tiny()
	g := &plan.Groups[0]
	g.Certificate.Scale, g.Certificate.Leaves[0].Duals = 1000, []int64{0, 0, 921001}
	g.Bound, plan.Bound = 2764, 2764
	for _, f := range bounds(job, plan) {
		t.Errorf("%s: %s", f.Where, f.What)
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
		}, Want: "stock 0: board R1 costs 0.0094 with handling"},
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
		{What: "scale 0", Spoil: func(j *model.Job, p *model.Plan) {
			cert(p).Scale = 0
		}, Want: "the scale is 0"},
		{What: "scale too large", Spoil: func(j *model.Job, p *model.Plan) {
			cert(p).Scale = maxScale + 1
		}, Want: "the scale is"},
		{What: "no leaf", Spoil: func(j *model.Job, p *model.Plan) {
			cert(p).Leaves = nil
		}, Want: "has 0 leaves"},
		{What: "too many leaves", Spoil: func(j *model.Job, p *model.Plan) {
			cert(p).Leaves = make([]model.CertLeaf, maxLeaves+1)
		}, Want: "has 65537 leaves"},
		{What: "dual missing", Spoil: func(j *model.Job, p *model.Plan) {
			cert(p).Leaves[0].Duals = []int64{0, 0}
		}, Want: "2 duals for 3 items"},
		{What: "dual below 0", Spoil: func(j *model.Job, p *model.Plan) {
			cert(p).Leaves[0].Duals[0] = -1
		}, Want: "a dual below 0"},
		{What: "dual too large", Spoil: func(j *model.Job, p *model.Plan) {
			cert(p).Leaves[0].Duals[0] = math.MaxInt64 / 2
		}, Want: "too large to reckon with"},
		{What: "dual too high for line 3", Spoil: func(j *model.Job, p *model.Plan) {
			cert(p).Leaves[0].Duals[2] = 945
		}, Want: "would give more than it costs"},
		{What: "dual a little higher", Spoil: func(j *model.Job, p *model.Plan) {
			cert(p).Leaves[0].Duals[2] = 922
		}, Want: "the certificate proves 0.2764"},
		{What: "bound too high", Spoil: func(j *model.Job, p *model.Plan) {
			p.Groups[0].Bound++
		}, Want: "the bound is stated as 0.2764; the certificate proves 0.2763"},
		{What: "bound too low", Spoil: func(j *model.Job, p *model.Plan) {
			p.Groups[0].Bound--
		}, Want: "the bound is stated as 0.2762; the certificate proves 0.2763"},
		{What: "bound above the value", Spoil: func(j *model.Job, p *model.Plan) {
			p.Groups[0].Bound = 3615
		}, Want: "is above the value"},
		{What: "bound of the plan", Spoil: func(j *model.Job, p *model.Plan) {
			p.Bound++
		}, Want: "the bounds of the groups do not add up"},
		{What: "value of the plan", Spoil: func(j *model.Job, p *model.Plan) {
			p.Value++
		}, Want: "the values of the groups do not add up"},
		{What: "value", Spoil: func(j *model.Job, p *model.Plan) {
			p.Groups[0].Value++
			p.Value++
		}, Want: "the value is 0.3615, its boards, less their offcuts, cost 0.3614"},
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
		}, Want: "the values of the groups do not add up"},
	})
}

func TestBoundsRefusesLeaves(t *testing.T) {
	leaf := func(p *model.Plan, n int) *model.CertLeaf { return &p.Groups[0].Certificate.Leaves[n] }
	one, two, three := int64(1), int64(2), int64(3)
	all := []handmade.Spoilt{
		{What: "no such stock", Spoil: func(j *model.Job, p *model.Plan) {
			leaf(p, 0).Bounds[6] = model.UseBound{}
		}, Want: "bounds stock 6, which is not there"},
		{What: "a negative stock", Spoil: func(j *model.Job, p *model.Plan) {
			leaf(p, 0).Bounds[-1] = model.UseBound{}
		}, Want: "bounds stock -1, which is not there"},
		{What: "least below 0", Spoil: func(j *model.Job, p *model.Plan) {
			leaf(p, 0).Bounds[4] = model.UseBound{Least: -1, Most: &two}
		}, Want: "allows from -1 to 2 boards of stock 4"},
		{What: "least above most", Spoil: func(j *model.Job, p *model.Plan) {
			leaf(p, 0).Bounds[4] = model.UseBound{Least: 2, Most: &one}
		}, Want: "allows from 2 to 1 boards of stock 4"},
		{What: "most above supply", Spoil: func(j *model.Job, p *model.Plan) {
			leaf(p, 0).Bounds[4] = model.UseBound{Least: 0, Most: &three}
		}, Want: "allows from 0 to 3 boards of stock 4"},
		{What: "least above supply", Spoil: func(j *model.Job, p *model.Plan) {
			leaf(p, 0).Bounds[4] = model.UseBound{Least: 3, Most: nil}
		}, Want: "allows from 3 to 2 boards of stock 4"},
		{What: "one leaf missing", Spoil: func(j *model.Job, p *model.Plan) {
			p.Groups[0].Certificate.Leaves = p.Groups[0].Certificate.Leaves[:1]
		}, Want: "do not cover"},
		{What: "a number between", Spoil: func(j *model.Job, p *model.Plan) {
			leaf(p, 1).Bounds[5] = model.UseBound{Least: 2, Most: nil}
		}, Want: "do not cover"},
		{What: "the end missing", Spoil: func(j *model.Job, p *model.Plan) {
			n := int64(1 << 40)
			leaf(p, 1).Bounds[5] = model.UseBound{Least: 1, Most: &n}
		}, Want: "do not cover"},
		{What: "another stock cut short", Spoil: func(j *model.Job, p *model.Plan) {
			leaf(p, 1).Bounds[0] = model.UseBound{Least: 1, Most: nil}
		}, Want: "do not cover"},
		{What: "the most of a leaf left out", Spoil: func(j *model.Job, p *model.Plan) {
			leaf(p, 0).Bounds = nil
		}, Want: "would give more than it costs"},
		{What: "the least of a leaf left out", Spoil: func(j *model.Job, p *model.Plan) {
			leaf(p, 1).Bounds = nil
		}, Want: "the certificate proves 0.2763"},
	}
	for _, s := range all {
		t.Run(s.What, func(t *testing.T) {
			job, plan := handmade.Branched()
			s.Spoil(job, plan)
			handmade.Want(t, bounds(job, plan), s.Want)
		})
	}
}

// Leaves of a random branching tree cover the root; with any one of them left out they do not.
func TestCovered(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	for range 300 {
		root := make([]useRange, 1+r.IntN(12))
		for s := range root {
			root[s] = useRange{s, 0, handmade.Pick(r, int64(1), 1, 2, 5, unlimited)}
		}
		leaves := [][]useRange{{}}
		for range r.IntN(60) {
			n, s := r.IntN(len(leaves)), r.IntN(len(root))
			low, high := split(leaves[n], root[s], r)
			if low != nil {
				leaves[n] = low
				leaves = append(leaves, high)
			}
		}
		r.Shuffle(len(leaves), func(i, j int) { leaves[i], leaves[j] = leaves[j], leaves[i] })
		work := coverWork
		if !covered(root, leaves, &work) {
			t.Fatalf("the leaves of a tree are said not to cover it: %v of %v", leaves, root)
		}
		if work < coverWork-1_000_000 {
			t.Errorf("%d leaves took %d steps", len(leaves), coverWork-work)
		}
		work = coverWork
		if covered(root, leaves[1:], &work) {
			t.Fatalf("without the leaf %v the others are said to cover %v: %v", leaves[0], root,
				leaves[1:])
		}
	}
}

// split cuts a leaf in two at some number of boards of one stock; nil where it cannot be cut.
func split(leaf []useRange, of useRange, r *rand.Rand) (low, high []useRange) {
	for _, b := range leaf {
		if b.stock == of.stock {
			of = b
		} else {
			low, high = append(low, b), append(high, b)
		}
	}
	if of.least == of.most {
		return nil, nil
	}
	after := of.least + r.Int64N(min(of.most-of.least, 4))
	return append(low, useRange{of.stock, of.least, after}),
		append(high, useRange{of.stock, after + 1, of.most})
}

// Leaves that overlap without a tree behind them end the test in time, whatever it says.
func TestCoveredEnds(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	for range 20 {
		root := make([]useRange, 40)
		for s := range root {
			root[s] = useRange{s, 0, 1}
		}
		var leaves [][]useRange
		for range 400 {
			var l []useRange
			for s := range root {
				if r.IntN(8) == 0 {
					b := r.Int64N(2)
					l = append(l, useRange{s, b, b})
				}
			}
			leaves = append(leaves, l)
		}
		work := 1_000_000
		covered(root, leaves, &work)
		if work < -1_000_000 {
			t.Errorf("the limit of work was passed by %d", -work)
		}
	}
}

package model

import (
	"math"
	"math/rand/v2"
	"testing"
)

func TestCheckBoundsAcceptsAProofMadeByHand(t *testing.T) {
	for _, f := range bounds(tiny()) {
		t.Errorf("%s: %s", f.Where, f.What)
	}
}

func TestCheckBoundsAcceptsBranching(t *testing.T) {
	for _, f := range bounds(branched()) {
		t.Errorf("%s: %s", f.Where, f.What)
	}
}

func TestCheckBoundsRoundsUp(t *testing.T) {
	// A thousandth more: 921.001 leaves the board of line 2 a thousandth below its cost twice:
	// 2763.003 - 0.002.
	job, plan := tiny()
	g := &plan.Groups[0]
	g.Certificate.Scale, g.Certificate.Leaves[0].Duals = 1000, []int64{0, 0, 921001}
	g.Bound, plan.Bound = 2764, 2764
	for _, f := range bounds(job, plan) {
		t.Errorf("%s: %s", f.Where, f.What)
	}
}

func TestCheckBoundsRefuses(t *testing.T) {
	cert := func(p *Plan) *Certificate { return &p.Groups[0].Certificate }
	big := int64(9)
	tryAll(t, bounds, []spoilt{
		{"item length", func(j *Job, p *Plan) { cert(p).Items[0].Length++ }, "no blank of"},
		{"item face", func(j *Job, p *Plan) { cert(p).Items[0].Face = Hidden }, "no blank of"},
		{"item with no face", func(j *Job, p *Plan) { cert(p).Items[0].Face = -7 }, "no face"},
		{"demand too high", func(j *Job, p *Plan) { cert(p).Items[2].Demand++ }, "4 blanks of"},
		{"demand of a short copy", func(j *Job, p *Plan) {
			p.Cuts[19].Part = "gone"
		}, "3 blanks of"},
		{"item forgets a stock", func(j *Job, p *Plan) {
			cert(p).Items[1].Stocks = []int{0, 2, 4, 5}
		}, "board R2 is not among its stocks but holds"},
		{"item names a stock too many", func(j *Job, p *Plan) {
			cert(p).Items[2].Stocks = []int{3, 4, 5}
		}, "board R4.1 does not hold"},
		{"item names no such stock", func(j *Job, p *Plan) {
			cert(p).Items[2].Stocks = []int{4, 5, 6}
		}, "stock 6 is not there"},
		{"item names a negative stock", func(j *Job, p *Plan) {
			cert(p).Items[2].Stocks = []int{4, 5, -1}
		}, "stock -1 is not there"},
		{"item names a stock twice", func(j *Job, p *Plan) {
			cert(p).Items[2].Stocks = []int{4, 5, 5}
		}, "named twice"},
		{"item twice", func(j *Job, p *Plan) {
			cert(p).Items = append(cert(p).Items, cert(p).Items[0])
		}, "counted already"},
		{"item missing", func(j *Job, p *Plan) {
			cert(p).Items = cert(p).Items[:2]
		}, "3 copies of top of Table"},
		{"group missing", func(j *Job, p *Plan) { p.Groups = nil }, "counted in no group"},
		{"stock of an unknown board", func(j *Job, p *Plan) {
			cert(p).Stocks[0].Boards[0] = "R9"
		}, `no board "R9"`},
		{"stock of both", func(j *Job, p *Plan) { cert(p).Stocks[0].Yard = 2 }, "is to be either"},
		{"stock of neither", func(j *Job, p *Plan) {
			cert(p).Stocks[0].Boards = nil
		}, "is to be either"},
		{"stock of an unknown line", func(j *Job, p *Plan) {
			cert(p).Stocks[4].Yard = 7
		}, "line 7 of yard.csv sells no board"},
		{"stock of a negative line", func(j *Job, p *Plan) {
			cert(p).Stocks[4].Yard = -2
		}, "line -2 of yard.csv sells no board"},
		{"board in two stocks", func(j *Job, p *Plan) {
			cert(p).Stocks[2].Boards = []string{"R3", "R1"}
		}, "board R1 stands in the stocks twice"},
		{"board twice in a stock", func(j *Job, p *Plan) {
			cert(p).Stocks[3].Boards[1] = "R4.1"
		}, "board R4.1 stands in the stocks twice"},
		{"boards in two groups", func(j *Job, p *Plan) {
			p.Groups = append(p.Groups, p.Groups[0])
		}, "stands in the stocks twice"},
		{"boards not alike in length", func(j *Job, p *Plan) { j.Rack[4].Length++ }, "not alike"},
		{"boards not alike in defects", func(j *Job, p *Plan) {
			j.Rack[4].Defects = []Defect{{0, 1, 0, 1, "stain"}}
		}, "not alike"},
		{"boards not alike in worth", func(j *Job, p *Plan) {
			j.Rack[4].Value = new(Money(47))
		}, "not alike"},
		{"boards not alike in what they hold", func(j *Job, p *Plan) {
			j.Rack[4].Thickness--
		}, "board R4.2 does not hold"},
		{"cost", func(j *Job, p *Plan) {
			cert(p).Stocks[0].Cost++
		}, "stock 0: board R1 costs 0.0094 with handling"},
		{"cost of an offer", func(j *Job, p *Plan) {
			cert(p).Stocks[4].Cost++
		}, "stock 4: line 2 of yard.csv costs"},
		{"supply", func(j *Job, p *Plan) {
			*cert(p).Stocks[3].Supply = 3
		}, "the supply of board R4.1"},
		{"supply of a line", func(j *Job, p *Plan) {
			*cert(p).Stocks[4].Supply = 1
		}, "the supply of line 2"},
		{"any number of a rack board", func(j *Job, p *Plan) {
			cert(p).Stocks[0].Supply = nil
		}, "the supply of board R1"},
		{"a number where there is any", func(j *Job, p *Plan) {
			cert(p).Stocks[5].Supply = &big
		}, "the supply of line 3"},
		{"a number that stands for any", func(j *Job, p *Plan) {
			n := int64(math.MaxInt64)
			cert(p).Stocks[5].Supply = &n
		}, "the supply of line 3"},
		{"scale 0", func(j *Job, p *Plan) { cert(p).Scale = 0 }, "the scale is 0"},
		{"scale too large", func(j *Job, p *Plan) { cert(p).Scale = maxScale + 1 }, "the scale is"},
		{"no leaf", func(j *Job, p *Plan) { cert(p).Leaves = nil }, "has 0 leaves"},
		{"too many leaves", func(j *Job, p *Plan) {
			cert(p).Leaves = make([]CertLeaf, maxLeaves+1)
		}, "has 65537 leaves"},
		{"dual missing", func(j *Job, p *Plan) {
			cert(p).Leaves[0].Duals = []int64{0, 0}
		}, "2 duals for 3 items"},
		{"dual below 0", func(j *Job, p *Plan) {
			cert(p).Leaves[0].Duals[0] = -1
		}, "a dual below 0"},
		{"dual too large", func(j *Job, p *Plan) {
			cert(p).Leaves[0].Duals[0] = math.MaxInt64 / 2
		}, "too large to reckon with"},
		{"dual too high for line 3", func(j *Job, p *Plan) {
			cert(p).Leaves[0].Duals[2] = 945
		}, "would give more than it costs"},
		{"dual a little higher", func(j *Job, p *Plan) {
			cert(p).Leaves[0].Duals[2] = 922
		}, "the certificate proves 0.2764"},
		{"bound too high", func(j *Job, p *Plan) {
			p.Groups[0].Bound++
		}, "the bound is stated as 0.2764; the certificate proves 0.2763"},
		{"bound too low", func(j *Job, p *Plan) {
			p.Groups[0].Bound--
		}, "the bound is stated as 0.2762; the certificate proves 0.2763"},
		{"bound above the value", func(j *Job, p *Plan) {
			p.Groups[0].Bound = 3615
		}, "is above the value"},
		{"bound of the plan", func(j *Job, p *Plan) {
			p.Bound++
		}, "the bounds of the groups do not add up"},
		{"value of the plan", func(j *Job, p *Plan) {
			p.Value++
		}, "the values of the groups do not add up"},
		{"value", func(j *Job, p *Plan) {
			p.Groups[0].Value++
			p.Value++
		}, "the value is 0.3615, its boards, less their offcuts, cost 0.3614"},
		{"proof", func(j *Job, p *Plan) { p.Groups[0].Proof = Optimal }, `the proof is "optimal"`},
		{"no proof word", func(j *Job, p *Plan) {
			p.Groups[0].Proof = "sure"
		}, `the proof is "sure"`},
		{"ended", func(j *Job, p *Plan) { p.Groups[0].Ended = "tired" }, `"tired" is no way`},
		{"groups that overflow", func(j *Job, p *Plan) {
			p.Groups = append(p.Groups, Group{Value: math.MaxInt64, Bound: math.MaxInt64},
				Group{Value: math.MaxInt64, Bound: math.MaxInt64}, Group{Value: 2, Bound: 2})
		}, "the values of the groups do not add up"},
	})
}

func TestCheckBoundsRefusesLeaves(t *testing.T) {
	leaf := func(p *Plan, n int) *CertLeaf { return &p.Groups[0].Certificate.Leaves[n] }
	one, two, three := int64(1), int64(2), int64(3)
	all := []spoilt{
		{"no such stock", func(j *Job, p *Plan) {
			leaf(p, 0).Bounds[6] = UseBound{}
		}, "bounds stock 6, which is not there"},
		{"a negative stock", func(j *Job, p *Plan) {
			leaf(p, 0).Bounds[-1] = UseBound{}
		}, "bounds stock -1, which is not there"},
		{"least below 0", func(j *Job, p *Plan) {
			leaf(p, 0).Bounds[4] = UseBound{-1, &two}
		}, "allows from -1 to 2 boards of stock 4"},
		{"least above most", func(j *Job, p *Plan) {
			leaf(p, 0).Bounds[4] = UseBound{2, &one}
		}, "allows from 2 to 1 boards of stock 4"},
		{"most above supply", func(j *Job, p *Plan) {
			leaf(p, 0).Bounds[4] = UseBound{0, &three}
		}, "allows from 0 to 3 boards of stock 4"},
		{"least above supply", func(j *Job, p *Plan) {
			leaf(p, 0).Bounds[4] = UseBound{3, nil}
		}, "allows from 3 to 2 boards of stock 4"},
		{"one leaf missing", func(j *Job, p *Plan) {
			p.Groups[0].Certificate.Leaves = p.Groups[0].Certificate.Leaves[:1]
		}, "do not cover"},
		{"a number between", func(j *Job, p *Plan) {
			leaf(p, 1).Bounds[5] = UseBound{2, nil}
		}, "do not cover"},
		{"the end missing", func(j *Job, p *Plan) {
			n := int64(1 << 40)
			leaf(p, 1).Bounds[5] = UseBound{1, &n}
		}, "do not cover"},
		{"another stock cut short", func(j *Job, p *Plan) {
			leaf(p, 1).Bounds[0] = UseBound{1, nil}
		}, "do not cover"},
		{"the most of a leaf left out", func(j *Job, p *Plan) {
			leaf(p, 0).Bounds = nil
		}, "would give more than it costs"},
		{"the least of a leaf left out", func(j *Job, p *Plan) {
			leaf(p, 1).Bounds = nil
		}, "the certificate proves 0.2763"},
	}
	for _, s := range all {
		t.Run(s.what, func(t *testing.T) {
			job, plan := branched()
			s.spoil(job, plan)
			wantFinding(t, bounds(job, plan), s.want)
		})
	}
}

// Leaves of a random branching tree cover the root; with any one of them left out they do not.
func TestCovered(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	for range 300 {
		root := make([]within, 1+r.IntN(12))
		for s := range root {
			root[s] = within{s, 0, pick(r, int64(1), 1, 2, 5, unlimited)}
		}
		leaves := [][]within{{}}
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
func split(leaf []within, of within, r *rand.Rand) (low, high []within) {
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
	return append(low, within{of.stock, of.least, after}),
		append(high, within{of.stock, after + 1, of.most})
}

// Leaves that overlap without a tree behind them end the test in time, whatever it says.
func TestCoveredEnds(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	for range 20 {
		root := make([]within, 40)
		for s := range root {
			root[s] = within{s, 0, 1}
		}
		var leaves [][]within
		for range 400 {
			var l []within
			for s := range root {
				if r.IntN(8) == 0 {
					b := r.Int64N(2)
					l = append(l, within{s, b, b})
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

// The longest board and the widest kerf have no more positions in the smallest unit than the bound
// is derived for.
func TestLongestBoardHasABound(t *testing.T) {
	if WidestBoard > maxAcross || LongestBoard > maxAlong {
		t.Errorf("the widest or longest board has more positions than the bound of a ripped one can be derived over")
	}
	if LongestBoard+WidestKerf > maxPositions {
		t.Errorf("%d units are more than %d", LongestBoard+WidestKerf, maxPositions)
	}
}

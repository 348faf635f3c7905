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

// anyBought says nothing of how many boards are bought.
var anyBought = useRange{0, unlimited}

// beside are limits with that of the boards bought.
func beside(limits []useRange, bought useRange) []useRange {
	return append(slices.Clone(limits), bought)
}

// boughtProgram is a random program in which there is any number of the last two stocks, with
// limits of them, and of both together. Each board that is used gives a piece, so that no plan has
// more than mostPieces.
func boughtProgram(r *rand.Rand) (p *tinyProgram, bought useRange) {
	for p = anyProgram(r); len(p.stocks) < 3; p = anyProgram(r) {
	}
	for s := len(p.stocks) - 2; s < len(p.stocks); s++ {
		p.stocks[s].supply = unlimited
		p.limits[s] = useRange{r.Int64N(3) / 2, unlimited}
		if r.IntN(3) == 0 {
			p.limits[s].most = p.limits[s].least + r.Int64N(3)
		}
	}
	bought = useRange{r.Int64N(4), unlimited}
	if r.IntN(2) == 0 {
		bought.most = bought.least + r.Int64N(3)
	}
	return p, bought
}

const mostPieces = 8

// cheapestBought is the least of all plans that keep to the limits of such a program.
func (p *tinyProgram) cheapestBought(bought useRange) (least int64, some bool) {
	var numbers func(s int, limits []useRange, n int64)
	numbers = func(s int, limits []useRange, n int64) {
		if s == len(p.stocks) {
			if n < bought.least || n > bought.most {
				return
			}
			if v, ok := p.optimum(limits); ok && (!some || v < least) {
				least, some = v, true
			}
			return
		}
		if p.stocks[s].supply != unlimited {
			numbers(s+1, append(limits, p.limits[s]), n)
			return
		}
		for z := p.limits[s].least; z <= min(p.limits[s].most, mostPieces); z++ {
			numbers(s+1, append(slices.Clone(limits), useRange{z, z}), n+z)
		}
	}
	numbers(0, nil, 0)
	return least, some
}

// No leaf proves more than the cheapest plan costs within its limits, that of the boards bought
// among them: neither by its duals nor by its list, whatever cuts it has, by the boards bought too.
func TestLeafOfBoardsBoughtIsNeverAboveTheOptimum(t *testing.T) {
	r := rand.New(rand.NewPCG(131, 132))
	judged, tight, lists, raised, asked, ended := 0, 0, 0, 0, 0, 0
	for n := range 1500 {
		p, bought := boughtProgram(r)
		want, some := p.cheapestBought(bought)
		if !some {
			continue
		}
		for range 4 {
			duals := p.randomDuals(r)
			l := p.byDuals(&model.CertNode{Duals: duals}, p.cert, beside(p.limits, bought), "leaf")
			if l == nil { // of a stock without an end a board gives more than it costs
				p.found = nil
				continue
			}
			judged++
			got := l.sum.Int64()
			if got > want {
				t.Fatalf("job %d: the leaf proves %d, yet a plan costs %d: %+v, limits %v, "+
					"bought %v, duals %v", n, got, want, p.job, p.limits, bought, duals)
			}
			if got > want-p.worth.Ticks(3) {
				tight++
			}
			value := want + p.worth.Ticks(model.Money(r.Int64N(4)*r.Int64N(8)))
			c := p.closing(t, l, value)
			if c == nil {
				continue
			}
			if rows := rowsBought(beside(nil, bought)); len(c.cuts) != rows || c.above != rows {
				t.Fatalf("job %d: %d rows of boards bought, not %d", n, len(c.cuts), rows)
			}
			list := p.randomBoughtList(r, c)
			p.judgeListNode("leaf", p.cert, &list.CertListNode, rowsBought(beside(nil, bought)), 0)
			proves := func() int64 {
				v := l.byList(list)
				if v == nil { // struck off or too large
					p.found = nil
					return math.MinInt64
				}
				if v.Cmp(big.NewInt(want)) > 0 {
					t.Fatalf("job %d: the list proves %v, yet a plan costs %d: %+v, limits %v, "+
						"bought %v, duals %v, list %+v", n, v, want, p.job, p.limits, bought, duals,
						list)
				}
				if !v.IsInt64() {
					return math.MinInt64
				}
				return v.Int64()
			}
			p.tuned(r, &list.CertListNode, proves)
			if lists++; proves() > got {
				raised++
			}
			if bought.least > 0 && list.CutDuals[0] > 0 {
				asked++
			}
			if bought.most != unlimited && list.CutDuals[rowsBought(beside(nil, bought))-1] > 0 {
				ended++
			}
		}
	}
	t.Logf("%d leaves, %d tight, %d lists, %d raised, %d by at least, %d by at most", judged, tight,
		lists, raised, asked, ended)
	if judged < 1500 || tight < 100 || lists < 1000 || raised < 300 || asked < 100 || ended < 100 {
		t.Error("too few to trust")
	}
}

// randomBoughtList is a list with cuts over random duals, of the rows of boards bought too.
func (p *tinyProgram) randomBoughtList(r *rand.Rand, c *listProof) *model.CertList {
	rows := c.above
	list := &model.CertList{Target: c.target.Int64(),
		CertListNode: model.CertListNode{Duals: p.randomDuals(r)}}
	for range rows {
		list.CutDuals = append(list.CutDuals, r.Int64N(p.worth.Ticks(15))*r.Int64N(2))
	}
	for range r.IntN(4) {
		if cut := randomCut(r, len(c.least)); c.makeCut(&cut) == "" {
			list.Cuts = append(list.Cuts, cut)
			list.CutDuals = append(list.CutDuals, 0)
		}
	}
	return list
}

// What boards come to is the least over all numbers of them, and a list needs what is left of that
// beside one board more.
func TestLeastNetsIsTheLeast(t *testing.T) {
	r := rand.New(rand.NewPCG(133, 134))
	tried, negative, without := 0, 0, 0
	for range 4000 {
		p, bought := boughtProgram(r)
		l := p.byDuals(&model.CertNode{Duals: p.randomDuals(r)}, p.cert, beside(p.limits, bought),
			"leaf")
		if l == nil {
			p.found = nil
			continue
		}
		const most = 6 // more are of no use, as no net without an end is below 0
		for with := -1; with < len(p.stocks); with++ {
			least, some := new(big.Int), false
			var all func(s int, sum *big.Int, n int64)
			all = func(s int, sum *big.Int, n int64) {
				if s == len(p.stocks) {
					if n >= bought.least && n <= bought.most && (!some || sum.Cmp(least) < 0) {
						least, some = sum, true
					}
					return
				}
				from := p.limits[s].least
				if s == with {
					from = max(1, from)
				}
				for z := from; z <= min(p.limits[s].most, most); z++ {
					v := new(big.Int).Mul(p.stocks[s].net(l.gives[s]), big.NewInt(z))
					if p.isBought(s) {
						all(s+1, v.Add(v, sum), n+z)
					} else {
						all(s+1, v.Add(v, sum), n)
					}
				}
			}
			all(0, new(big.Int), 0)
			switch got := l.leastNets(with); {
			case !some:
				without++
			case with >= 0 && !l.mayUse(with):
				t.Fatalf("stock %d may be used: %v, %v", with, p.limits, bought)
			case got.Cmp(least) != 0:
				t.Fatalf("boards come to %v at least, not %v: %v, %v, with %d", least, got, p.limits,
					bought, with)
			default:
				if tried++; least.Sign() < 0 {
					negative++
				}
			}
		}
	}
	if tried < 4000 || negative < 100 || without < 100 {
		t.Errorf("%d tried, %d below 0, %d without: too few to trust", tried, negative, without)
	}
}

// boughtByHand is the tree made by hand, split once more: by how many boards are bought.
func boughtByHand() (*model.Job, *model.Plan) {
	job, plan := handmade.Branched()
	root := &plan.Groups[0].Certificate.Root
	was := *root
	*root = model.CertNode{Split: &model.CertSplit{Stock: model.AllBought, AtMost: 40, Low: was,
		High: was}}
	return job, plan
}

func TestBoundsAcceptsASplitByBoardsBought(t *testing.T) {
	for _, f := range bounds(boughtByHand()) {
		t.Errorf("%s: %s", f.Where, f.What)
	}
}

func TestBoundsRefusesSplitsByBoardsBought(t *testing.T) {
	split := func(p *model.Plan) *model.CertSplit { return p.Groups[0].Certificate.Root.Split }
	for _, s := range []handmade.Spoilt{
		{What: "below 0", Spoil: func(j *model.Job, p *model.Plan) { split(p).AtMost = -1 },
			Want: "a split at -1 boards bought leaves one side nothing"},
		{What: "again at no fewer", Spoil: func(j *model.Job, p *model.Plan) {
			low := split(p).Low
			split(p).Low = model.CertNode{Split: &model.CertSplit{Stock: model.AllBought,
				AtMost: 40, Low: low, High: low}}
		}, Want: "a split at 40 boards bought leaves one side nothing"},
		{What: "no such stock", Spoil: func(j *model.Job, p *model.Plan) { split(p).Stock = -2 },
			Want: "a split is about stock -2, which is not there"},
		{What: "duals beside it", Spoil: func(j *model.Job, p *model.Plan) {
			p.Groups[0].Certificate.Root.Duals = []int64{0, 0, 0}
		}, Want: "a split has what only a leaf may have"},
	} {
		t.Run(s.What, func(t *testing.T) {
			job, plan := boughtByHand()
			s.Spoil(job, plan)
			handmade.Want(t, bounds(job, plan), s.Want)
		})
	}
}

// Numbers of boards near the end of whole numbers do not wrap round: a certificate may ask for any.
func TestLeastNetsOfHugeNumbers(t *testing.T) {
	r := rand.New(rand.NewPCG(137, 138))
	tried := 0
	for range 2000 {
		p, bought := boughtProgram(r)
		huge := func(v *int64) {
			if r.IntN(2) == 0 {
				*v = unlimited - 2 - r.Int64N(9)
			}
		}
		for s := len(p.stocks) - 2; s < len(p.stocks); s++ {
			p.limits[s].most = unlimited - 1
			huge(&p.limits[s].least)
		}
		huge(&bought.most)
		huge(&bought.least)
		bought.most = max(bought.most, bought.least)
		l := p.byDuals(&model.CertNode{Duals: p.randomDuals(r)}, p.cert, beside(p.limits, bought),
			"leaf")
		// what any numbers of boards within the ranges come to, that is an upper limit
		sum, left := new(big.Int), new(big.Int).SetInt64(bought.least)
		for s, at := range p.limits {
			times := at.least
			if p.isBought(s) {
				rest := new(big.Int).Sub(left, big.NewInt(times))
				if rest.Sign() > 0 {
					more := min(at.most-at.least, rest.Int64())
					times += more
				}
				left.Sub(left, big.NewInt(times))
			}
			v := p.stocks[s].net(l.gives[s])
			sum.Add(sum, v.Mul(v, big.NewInt(times)))
		}
		used := new(big.Int).Sub(big.NewInt(bought.least), left)
		if left.Sign() > 0 ||
			bought.most != unlimited && used.Cmp(big.NewInt(bought.most)) > 0 {
			continue // there are no such plans
		}
		if tried++; l.leastNets(-1).Cmp(sum) > 0 {
			t.Fatalf("boards come to %v at least, and %v do: %v, %v", l.leastNets(-1), sum, p.limits,
				bought)
		}
	}
	if tried < 500 {
		t.Errorf("%d tried: too few to trust", tried)
	}
}

// boughtThrees is the list made by hand, of boards of which there is any number. Up to 40 boards
// are bought, with a row more in the list; or over 40, for 60 each at least.
func boughtThrees() (*model.Job, *model.Plan) {
	job, plan := handmade.Threes()
	cert := &plan.Groups[0].Certificate
	for s := range cert.Stocks {
		job.Yard[s].Available, cert.Stocks[s].Supply = nil, nil
	}
	low := cert.Root
	low.List.Cuts[1].Rows[0][0]++ // cut 0, with the row before it
	low.List.CutDuals = append([]int64{0}, low.List.CutDuals...)
	cert.Root = model.CertNode{Split: &model.CertSplit{Stock: model.AllBought, AtMost: 40, Low: low,
		High: model.CertNode{Duals: []int64{0, 0, 0}}}}
	return job, plan
}

func TestListsOfBoardsBought(t *testing.T) {
	for _, f := range bounds(boughtThrees()) {
		t.Errorf("%s: %s", f.Where, f.What)
	}
	ticks := handmade.ThreesTicks
	split := func(p *model.Plan) *model.CertSplit { return p.Groups[0].Certificate.Root.Split }
	list := func(p *model.Plan) *model.CertList { return split(p).Low.List }
	for _, s := range []handmade.Spoilt{
		{What: "no dual of the row", Spoil: func(j *model.Job, p *model.Plan) {
			list(p).CutDuals = list(p).CutDuals[1:]
		}, Want: "has 3 duals for 3 items, and 2 for 3 cuts"},
		{What: "a cut by the row", Spoil: func(j *model.Job, p *model.Plan) {
			list(p).Cuts[1].Rows[0][0]-- // 40 boards at most: a third of it says nothing
		}, Want: "the certificate proves"},
		// 160 - 40 x 1, and each board of a plan gives 1 less
		{What: "dual of the row", Spoil: func(j *model.Job, p *model.Plan) {
			list(p).CutDuals[0] = ticks(1)
		}, Want: "the certificate proves 0.012"},
		{What: "fewer on the high side", Spoil: func(j *model.Job, p *model.Plan) {
			split(p).AtMost = 1
		}, Want: "the certificate proves 0.012"}, // 2 x 60
		{What: "bound a unit higher", Spoil: func(j *model.Job, p *model.Plan) {
			p.Groups[0].Bound, p.Bound = 161, 161
		}, Want: "the certificate proves 0.016"},
	} {
		t.Run(s.What, func(t *testing.T) {
			job, plan := boughtThrees()
			s.Spoil(job, plan)
			handmade.Want(t, bounds(job, plan), s.Want)
		})
	}
}

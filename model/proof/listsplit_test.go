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

// wordSplit is what a split proves by the head of listsplit.go, word by word.
func (p *tinyProgram) wordSplit(s *model.CertListSplit, columns []wordColumn, rows []*wordRow,
	l *leafProof, value int64) (*big.Int, string) {
	var least *big.Int
	for side, node := range []*model.CertListNode{&s.Low, &s.High} {
		var mine []*wordRow // striking off changes rows
		for _, row := range rows {
			if row != nil {
				row = &wordRow{coefs: slices.Clone(row.coefs), least: row.least}
			}
			mine = append(mine, row)
		}
		row := &wordRow{least: big.NewInt(-s.AtMost)}
		if side == 1 {
			row.least = big.NewInt(s.AtMost + 1)
		}
		for _, a := range columns {
			v := int64(0)
			if slices.Contains(s.Stocks, a.stock) && !slices.ContainsFunc(s.Having,
				func(h model.CertHaving) bool { return a.takes[h.Item] < h.Copies }) {
				if v = 1; s.Item != nil {
					v = a.takes[*s.Item]
				}
			}
			row.coefs = append(row.coefs, big.NewInt(v*int64(2*side-1)))
		}
		got, why := p.wordNode(node, columns, append(mine, row), l, value)
		if got == nil {
			return nil, why
		}
		if least == nil || got.Cmp(least) < 0 {
			least = got
		}
	}
	return least, "split"
}

// randomSplit is a split whose sides carry nothing yet.
func (p *tinyProgram) randomSplit(r *rand.Rand) *model.CertListSplit {
	s := &model.CertListSplit{AtMost: r.Int64N(3)}
	for n := range p.stocks {
		if r.IntN(2) == 0 {
			s.Stocks = append(s.Stocks, n)
		}
	}
	if len(s.Stocks) == 0 {
		s.Stocks = []int{r.IntN(len(p.stocks))}
	}
	for i := range p.cert.Items {
		if r.IntN(3) == 0 {
			s.Having = append(s.Having, model.CertHaving{Item: i, Copies: 1 + r.Int64N(2)})
		}
	}
	if r.IntN(2) == 0 {
		s.Item = new(r.IntN(len(p.cert.Items)))
	}
	return s
}

// splitAtRandom splits a list or a part of it, with any cuts and duals on its sides.
func (p *tinyProgram) splitAtRandom(r *rand.Rand, list *model.CertListNode, above int) {
	list.Split = p.randomSplit(r)
	above += len(list.Cuts) + 1
	for _, side := range []*model.CertListNode{&list.Split.Low, &list.Split.High} {
		for range above {
			side.CutDuals = append(side.CutDuals, r.Int64N(2)*r.Int64N(p.worth.Ticks(10)))
		}
		side.Duals = p.randomDuals(r)
		if r.IntN(2) == 0 {
			side.Struck = append(side.Struck, model.CertStruck{Duals: list.Duals,
				CutDuals: slices.Clone(side.CutDuals)})
		}
		if r.IntN(2) == 0 {
			rows := len(p.cert.Items) + 2*len(p.stocks) + above
			side.Cuts = append(side.Cuts, randomCut(r, rows))
			side.CutDuals = append(side.CutDuals, r.Int64N(p.worth.Ticks(10)))
		}
		if r.IntN(3) == 0 {
			p.splitAtRandom(r, side, above)
		}
	}
	list.Duals, list.CutDuals = nil, nil
}

// leavesOfList gives the parts of a list that are not split.
func leavesOfList(n *model.CertListNode) []*model.CertListNode {
	if n.Split == nil {
		return []*model.CertListNode{n}
	}
	return slices.Concat(leavesOfList(&n.Split.Low), leavesOfList(&n.Split.High))
}

// However a list is split, it proves no more than the cheapest plan that its leaf allows. Often a
// split proves what duals alone do not, and closes the leaf.
func TestSplitListIsNeverAboveTheOptimum(t *testing.T) {
	r := rand.New(rand.NewPCG(61, 62))
	judged, raised, closed := 0, 0, 0
	for n := range 400 {
		p := anyProgram(r)
		want, some := p.optimum(p.limits)
		if !some {
			continue
		}
		duals := p.randomDuals(r)
		l := p.within(r, duals)
		value := want + p.worth.Ticks(model.Money(r.Int64N(4)*r.Int64N(8)))
		c := p.closing(t, l, value)
		if c == nil {
			continue
		}
		list := p.randomList(r, c)
		proves := func() int64 {
			got := l.byList(list)
			if got == nil { // its duals may be too large to reckon with
				p.found = nil
				return math.MinInt64
			}
			if got.Cmp(big.NewInt(want)) > 0 {
				t.Fatalf("job %d: the list proves %v, yet a plan costs %d: %+v, leaf %v, "+
					"duals %v, value %v, list %+v", n, got, want, p.job, p.limits, duals, value,
					list)
			}
			return got.Int64()
		}
		p.tuned(r, &list.CertListNode, proves)
		alone := proves()
		for range 1 + r.IntN(3) { // splits of any part
			leaves := leavesOfList(&list.CertListNode)
			part := leaves[r.IntN(len(leaves))]
			part.Split = p.randomSplit(r)
			for _, side := range []*model.CertListNode{&part.Split.Low, &part.Split.High} {
				side.Duals, side.CutDuals = slices.Clone(part.Duals),
					append(slices.Clone(part.CutDuals), 0)
			}
			part.Duals, part.CutDuals = nil, nil
			for range 2 {
				for _, side := range leavesOfList(&list.CertListNode) {
					p.tuned(r, side, proves)
				}
			}
		}
		p.judgeListNode("leaf", p.cert, &list.CertListNode, 0, 0)
		if len(p.found) > 0 {
			t.Fatalf("job %d: %v", n, p.found)
		}
		judged++
		if got := proves(); got > alone {
			if raised++; got == want {
				closed++
			}
		}
	}
	t.Logf("of %d lists %d raised the bound by a split, %d closed it", judged, raised, closed)
	if judged < 200 || raised < 100 || closed < 20 {
		t.Errorf("of %d lists %d raised the bound by a split, %d closed it: too few to trust",
			judged, raised, closed)
	}
}

// splitThrees splits the list that was made by hand. At most one board of 11 is used, or more; each
// side proves what the list proved.
func splitThrees(p *model.Plan) *model.CertListSplit {
	list := p.Groups[0].Certificate.Root.List
	side := model.CertListNode{Duals: slices.Clone(list.Duals),
		CutDuals: append(slices.Clone(list.CutDuals), 0)}
	list.Split = &model.CertListSplit{Stocks: []int{0}, AtMost: 1, Low: side, High: side}
	list.Split.High.Duals, list.Split.High.CutDuals = slices.Clone(side.Duals),
		slices.Clone(side.CutDuals)
	list.Duals, list.CutDuals = nil, nil
	return list.Split
}

func TestBoundsAcceptsASplitList(t *testing.T) {
	job, plan := handmade.Threes()
	splitThrees(plan)
	for _, f := range bounds(job, plan) {
		t.Errorf("%s: %s", f.Where, f.What)
	}
}

func TestBoundsRefusesSplitLists(t *testing.T) {
	list := func(p *model.Plan) *model.CertList { return p.Groups[0].Certificate.Root.List }
	ticks := handmade.ThreesTicks
	for _, s := range []struct {
		what  string
		spoil func(p *model.Plan, s *model.CertListSplit)
		want  string
	}{
		{"bound a unit higher", func(p *model.Plan, s *model.CertListSplit) {
			p.Groups[0].Bound, p.Bound = 161, 161
		}, "the certificate proves 0.016"},
		// 161 - 3 - 4
		{"dual higher, low", func(p *model.Plan, s *model.CertListSplit) {
			s.Low.Duals[0] += ticks(1)
		}, "the certificate proves 0.0154"},
		{"dual higher, high", func(p *model.Plan, s *model.CertListSplit) {
			s.High.Duals[0] += ticks(1)
		}, "the certificate proves 0.0154"},
		// at most one board: 160 - 1, and each of up to 3 boards gives no less than before
		{"dual of the side, low", func(p *model.Plan, s *model.CertListSplit) {
			s.Low.CutDuals[2] = ticks(1)
		}, "the certificate proves 0.0159"},
		{"dual of a side below 0", func(p *model.Plan, s *model.CertListSplit) {
			s.Low.CutDuals[2] = -1
		}, "list, low: has a dual below 0: -1"},
		{"dual of a side too large", func(p *model.Plan, s *model.CertListSplit) {
			s.High.CutDuals[2] = math.MaxInt64
		}, "the duals of the cuts are too large to reckon with"},
		{"dual of the side missing", func(p *model.Plan, s *model.CertListSplit) {
			s.High.CutDuals = s.High.CutDuals[:2]
		}, "list, high: has 3 duals for 3 items, and 2 for 3 cuts"},
		{"dual of an item missing", func(p *model.Plan, s *model.CertListSplit) {
			s.Low.Duals = s.Low.Duals[1:]
		}, "list, low: has 2 duals for 3 items, and 3 for 3 cuts"},
		{"a side with nothing", func(p *model.Plan, s *model.CertListSplit) {
			s.High = model.CertListNode{}
		}, "list, high: has 0 duals for 3 items, and 0 for 3 cuts"},
		{"duals beside the split", func(p *model.Plan, s *model.CertListSplit) {
			list(p).Duals = make([]int64, 3)
		}, "list: is split, and has duals all the same"},
		{"duals of cuts beside the split", func(p *model.Plan, s *model.CertListSplit) {
			list(p).CutDuals = make([]int64, 2)
		}, "list: is split, and has duals all the same"},
		{"no stock", func(p *model.Plan, s *model.CertListSplit) {
			s.Stocks = nil
		}, "list: its split names no stock"},
		{"stock that is not there", func(p *model.Plan, s *model.CertListSplit) {
			s.Stocks = []int{0, 2}
		}, "list: is split by stock 2, which is not there"},
		{"stock below 0", func(p *model.Plan, s *model.CertListSplit) {
			s.Stocks = []int{-1}
		}, "list: is split by stock -1, which is not there"},
		{"stock twice", func(p *model.Plan, s *model.CertListSplit) {
			s.Stocks = []int{0, 0}
		}, "list: is split by stock 0 after stock 0; stocks are to rise"},
		{"item that is not there", func(p *model.Plan, s *model.CertListSplit) {
			s.Item = new(3)
		}, "list: is split by item 3, which is not there"},
		{"item below 0", func(p *model.Plan, s *model.CertListSplit) {
			s.Item = new(-1)
		}, "list: is split by item -1, which is not there"},
		{"having an item that is not there", func(p *model.Plan, s *model.CertListSplit) {
			s.Having = []model.CertHaving{{Item: 1, Copies: 1}, {Item: 3, Copies: 1}}
		}, "list: is split by boards having item 3, which is not there"},
		{"having an item below 0", func(p *model.Plan, s *model.CertListSplit) {
			s.Having = []model.CertHaving{{Item: -1, Copies: 1}}
		}, "list: is split by boards having item -1, which is not there"},
		{"having an item twice", func(p *model.Plan, s *model.CertListSplit) {
			s.Having = []model.CertHaving{{Item: 1, Copies: 1}, {Item: 1, Copies: 2}}
		}, "list: is split by boards having item 1 after item 1; items are to rise"},
		{"having none of an item", func(p *model.Plan, s *model.CertListSplit) {
			s.Having = []model.CertHaving{{Item: 1}}
		}, "list: is split by boards having 0 of item 1; it is to be at least 1"},
		{"at most below 0", func(p *model.Plan, s *model.CertListSplit) {
			s.AtMost = -1
		}, "list: is split at -1; it is to be from 0 to 1048575"},
		{"at most too large", func(p *model.Plan, s *model.CertListSplit) {
			s.AtMost = MostCoef
		}, "list: is split at 1048576"},
		{"too deep", func(p *model.Plan, s *model.CertListSplit) {
			for range MaxListDepth {
				s.Low = model.CertListNode{Split: &model.CertListSplit{Stocks: []int{0}, Low: s.Low,
					High: s.High}}
				s = s.Low.Split
			}
		}, "its splits lie more than 256 deep"},
		{"struck before the side", func(p *model.Plan, s *model.CertListSplit) {
			s.Low.Struck = []model.CertStruck{{Duals: make([]int64, 3),
				CutDuals: make([]int64, 2)}}
		}, "list, low, struck 0: goes by 2 cuts, and the one before by 3"},
		{"struck by cuts that are not there", func(p *model.Plan, s *model.CertListSplit) {
			s.Low.Struck = []model.CertStruck{{Duals: make([]int64, 3),
				CutDuals: make([]int64, 4)}}
		}, "list, low, struck 0: has 3 duals for 3 items, and 4 for 3 cuts"},
		// the rows: 3 items, 2 x 2 of stocks, 2 cuts, the side
		{"cut made from itself", func(p *model.Plan, s *model.CertListSplit) {
			s.Low.Cuts = []model.CertCut{{Den: 2, Rows: [][2]int64{{10, 1}}}}
			s.Low.CutDuals = append(s.Low.CutDuals, 0)
		}, "list, low, cut 0: names row 10; the rows before it are 0 to 9"},
		// boards of stock 0 are at most 1: the half of it says nothing
		{"cut of the side, low", func(p *model.Plan, s *model.CertListSplit) {
			s.Low.Cuts = []model.CertCut{{Den: 2, Rows: [][2]int64{{9, 1}}}}
			s.Low.CutDuals = append(s.Low.CutDuals, 0)
		}, "list, low, cut 0: is 0 throughout"},
		// they are at least 2
		{"cut of the side, high", func(p *model.Plan, s *model.CertListSplit) {
			s.High.Cuts = []model.CertCut{{Den: 2, Rows: [][2]int64{{9, 1}}}}
			s.High.CutDuals = append(s.High.CutDuals, 0)
		}, "list, high, cut 0: comes to a multiple of its denominator"},
		{"too many cuts on the way", func(p *model.Plan, s *model.CertListSplit) {
			s.Low.Cuts = make([]model.CertCut, maxCuts-2)
		}, "list, low: has 2001 cuts; there may be 2000"},
	} {
		t.Run(s.what, func(t *testing.T) {
			job, plan := handmade.Threes()
			s.spoil(plan, splitThrees(plan))
			handmade.Want(t, bounds(job, plan), s.want)
		})
	}
}

package proof

import (
	"context"
	"maps"
	"math"
	"math/big"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"rackwright/model"
	"rackwright/model/check"
	"rackwright/model/internal/handmade"
	"rackwright/model/proof/along"
	"rackwright/model/proof/internal/brute"
)

// randomJob is a job of two parts, a board or two on the rack and one for sale, in units so small
// that all plans can be tried. All its lengths are multiples of some unit.
func randomJob(r *rand.Rand) *model.Job {
	unit := handmade.Pick(r, model.Length(1), 1, 3)
	n := func(least, ways int) model.Length { return model.Length(least+r.IntN(ways)) * unit }
	wide := handmade.Pick(r, model.Length(1), 4, 9) * unit
	wood := func(l model.Length) model.Wood {
		return model.Wood{Material: "oak", Section: "4/4", Length: l, Width: wide, Thickness: 9}
	}
	job := &model.Job{Settings: model.Settings{
		CrosscutKerf: n(0, 3), YardEnd: n(0, 3), RackEnd: n(0, 2),
		Handling: model.Money(r.IntN(4)), Margin: n(0, 2),
		Offcut: model.OffcutRule{KeepLength: n(0, 5),
			Value: handmade.Pick(r, model.Fraction{Num: 1, Den: 2}, model.Fraction{Num: 1, Den: 1},
				model.Fraction{Num: 2, Den: 7})},
		Sound: []string{"knot"}, Hidden: []string{"knot", "check"},
	}}
	for _, name := range []string{"a", "b"} {
		job.Parts = append(job.Parts,
			model.Part{Name: name, Qty: 1 + r.Int64N(2), Material: "oak", Length: n(3, 7),
				Width: wide, Thickness: 9, Face: model.Face(r.IntN(model.Faces))})
	}
	for i := range 1 + r.IntN(2) {
		b := model.Board{ID: string(rune('A' + i)), Wood: wood(n(8, 14))}
		if r.IntN(2) == 0 {
			b.Value = new(model.Money(r.IntN(40)))
		}
		for range r.IntN(3) {
			from := model.Length(r.IntN(int(b.Length/unit))) * unit
			b.Defects = append(b.Defects,
				model.Defect{From: from, To: min(b.Length, from+n(1, 3)), Right: b.Width,
					Kind: handmade.Pick(r, "knot", "check", "hole")})
		}
		job.Rack = append(job.Rack, b)
	}
	some := 1 + r.Int64N(2)
	job.Yard = []model.Offer{{Wood: wood(n(14, 8)),
		Price:     10 + model.Money(r.IntN(40)),
		Available: &some, Where: model.Where{File: "yard.csv", Line: 2}}}
	return job
}

// tinyProgram is a job as one group with one leaf, its certificate without duals.
type tinyProgram struct {
	*treeProof
	limits []useRange
	words  []wordBoard              // the stocks as the words have them
	ways   []map[brute.Counts]int64 // of boards that can be ripped, by stock; else nil
}

// wordBoard is one board of a stock by the words of package model: what it costs in ticks, and its
// lengths in units of the valuation.
type wordBoard struct {
	along.Board
	cost int64
}

// boardByWords finds one board of a wood in the job.
func boardByWords(job *model.Job, worth *model.Valuation, w int) *wordBoard {
	u, set, out := worth.Unit, &job.Settings, &wordBoard{}
	var wood model.Wood
	var defects []model.Defect
	trim, slope := set.YardEnd, int64(0)
	if w < len(job.Rack) {
		b := &job.Rack[w]
		wood, defects, trim, slope = b.Wood, b.Defects, set.RackEnd, worth.SlopeOfBoard(b).Whole
		out.cost = worth.WorthOfBoard(b)
	} else {
		o := &job.Yard[w-len(job.Rack)]
		wood, slope, out.cost = o.Wood, worth.SlopeOfOffer(o).Whole, worth.Ticks(o.Price)
	}
	out.cost += worth.Ticks(set.Handling)
	if trim > 0 {
		trim = max(trim, set.CrosscutKerf)
	}
	out.Board = along.Board{From: trim / u, To: (wood.Length - trim) / u,
		Keep: set.Offcut.KeepLength / u, Slope: slope * int64(wood.Width/u)}
	for _, d := range defects {
		s := along.Spot{Span: model.Span{From: max(trim, d.From-set.Margin) / u,
			To: min(wood.Length-trim, d.To+set.Margin) / u}}
		s.Tolerated[model.Sound] = d.Kind == "knot"
		s.Tolerated[model.Hidden] = d.Kind == "knot" || d.Kind == "check"
		if s.From < s.To {
			out.Spots = append(out.Spots, s)
		}
	}
	return out
}

func randomProgram(r *rand.Rand) *tinyProgram {
	job := randomJob(r)
	p := &tinyProgram{treeProof: &treeProof{proof: newProof(
		context.Background(), NewProver(job),
		&check.Reading{Job: job, Plan: &model.Plan{}, Worth: job.Valuation()}), steps: listWork}}
	p.cert = &model.Certificate{Bits: p.worth.Bits}
	for w := range p.owner {
		s := stock{oneBoard: p.look(w), supply: 1, woods: []int{w}}
		if w == len(job.Rack) {
			s.supply = *job.Yard[0].Available
		}
		p.stocks = append(p.stocks, s)
		p.words = append(p.words, *boardByWords(job, p.worth, w))
		limit := useRange{0, s.supply}
		if r.IntN(2) == 0 {
			limit.least = r.Int64N(s.supply + 1)
			limit.most = limit.least + r.Int64N(s.supply-limit.least+1)
		}
		p.limits = append(p.limits, limit)
	}
	p.items, p.cert.Stocks = make([][]int, len(p.stocks)), make([]model.CertStock, len(p.stocks))
	for i := range job.Parts {
		part := &job.Parts[i]
		p.cert.Items = append(p.cert.Items,
			model.CertItem{Length: job.BlankLength(part), Face: part.Face, Demand: part.Qty})
		for w := range p.owner {
			if p.heldBy(part)[w/8]>>(w%8)&1 == 1 {
				p.items[w] = append(p.items[w], i)
			}
		}
	}
	return p
}

// randomDuals are some amounts up to 20, in ticks.
func (p *tinyProgram) randomDuals(r *rand.Rand) []int64 {
	return []int64{r.Int64N(p.worth.Ticks(20)), r.Int64N(p.worth.Ticks(20))}
}

// dualsOf is what a leaf proves by its duals; nil where that is nothing.
func (p *tinyProgram) dualsOf(duals []int64) *leafProof {
	return p.byDuals(&model.CertNode{Duals: duals}, p.cert, beside(p.limits, anyBought), "leaf")
}

// within is what a leaf proves that says of some of its stocks what they give within the demands,
// or a little more; nil where that is nothing.
func (p *tinyProgram) within(r *rand.Rand, duals []int64) *leafProof {
	leaf := &model.CertNode{Duals: duals}
	for s := range p.stocks {
		if most, some := valueOf(p.waysOf(s), duals); some && r.IntN(2) == 0 {
			leaf.Within = append(leaf.Within, model.CertWithin{Stock: s,
				Gives: most + r.Int64N(handmade.Pick(r, 1, 1, p.worth.Ticks(2)))})
		}
	}
	return p.byDuals(leaf, p.cert, beside(p.limits, anyBought), "leaf")
}

// anyProgram is a program with boards that can be ripped, or without.
func anyProgram(r *rand.Rand) *tinyProgram {
	if r.IntN(2) == 0 {
		return randomProgram(r)
	}
	p, _ := randomRipProgram(r)
	for s := range p.limits {
		if l := &p.limits[s]; r.IntN(2) == 0 {
			l.least = r.Int64N(l.most + 1)
			l.most = l.least + r.Int64N(l.most-l.least+1)
		}
	}
	return p
}

// In no leaf is the bound above the cheapest of all plans that use as many boards as the leaf
// allows.
func TestLeafBoundIsNeverAboveTheOptimum(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 14))
	judged, tight, units := 0, 0, 0
	for n := range 1500 {
		p := randomProgram(r)
		duals := p.randomDuals(r)
		want, some := p.optimum(p.limits)
		if !some {
			continue
		}
		if judged++; p.worth.Unit > 1 {
			units++
		}
		leaf := p.dualsOf(duals)
		if leaf == nil || !leaf.sum.IsInt64() {
			t.Fatalf("job %d: no bound: %v", n, p.found)
		}
		got := leaf.sum.Int64()
		if got > want {
			t.Fatalf("job %d: the bound is %d parts, yet a plan costs %d: %+v, leaf %v, duals %v",
				n,
				got, want, p.job, p.limits, duals)
		}
		if got > want-p.worth.Ticks(3) {
			tight++
		}
	}
	if judged < 300 || tight < 30 || units < 100 {
		t.Errorf("of %d jobs with a plan, %d of units above 1, only %d bounds came near: too few "+
			"to trust", judged, units, tight)
	}
}

// randomTree is a node of so many splits at most, each of which parts what the splits above leave.
func (p *tinyProgram) randomTree(r *rand.Rand, limits []useRange, splits int) model.CertNode {
	s := r.IntN(len(limits))
	l := limits[s]
	if splits == 0 || l.least == l.most {
		return model.CertNode{Duals: p.randomDuals(r)}
	}
	at := l.least + r.Int64N(min(l.most-l.least, 4))
	low, high := slices.Clone(limits), slices.Clone(limits)
	low[s].most, high[s].least = at, at+1
	return model.CertNode{Split: &model.CertSplit{Stock: s, AtMost: at,
		Low: p.randomTree(r, low, splits-1), High: p.randomTree(r, high, splits-1)}}
}

// leavesOf gives the leaves of a tree and the numbers of boards that each allows.
func leavesOf(n *model.CertNode, limits []useRange, each func(*model.CertNode, []useRange)) {
	if n.Split == nil {
		each(n, limits)
		return
	}
	s, low, high := n.Split.Stock, slices.Clone(limits), slices.Clone(limits)
	low[s].most = min(low[s].most, n.Split.AtMost)
	high[s].least = max(high[s].least, n.Split.AtMost+1)
	leavesOf(&n.Split.Low, low, each)
	leavesOf(&n.Split.High, high, each)
}

// A tree proves the least that its leaves prove, exactly. So it is never above the cheapest of all
// plans, since each number of boards lies in one leaf.
func TestATreeProvesTheLeastOfItsLeaves(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	split, judged := 0, 0
	for n := range 1000 {
		p := randomProgram(r)
		for s := range p.limits {
			p.limits[s] = useRange{0, p.stocks[s].supply}
		}
		tree := p.randomTree(r, p.limits, 1+r.IntN(4))
		got := p.bound(&tree, beside(p.limits, anyBought), "group", 0)
		if got == nil || !got.IsInt64() {
			t.Fatalf("job %d: no bound: %v", n, p.found)
		}
		least, count, all := int64(math.MaxInt64), 0, p.limits
		leavesOf(&tree, all, func(leaf *model.CertNode, limits []useRange) {
			count++
			p.limits = limits
			least = min(least, p.dualsOf(leaf.Duals).sum.Int64())
		})
		if got.Int64() != least {
			t.Fatalf("job %d: the tree proves %v, the least of %d leaves is %d", n, got, count,
				least)
		}
		if count > 1 {
			split++
		}
		if want, some := p.optimum(all); some {
			if judged++; got.Int64() > want {
				t.Fatalf("job %d: the tree proves %v, yet a plan costs %d", n, got, want)
			}
		}
	}
	if split < 500 || judged < 300 {
		t.Errorf("%d trees, %d jobs with a plan: too few to trust", split, judged)
	}
}

// randomCut is a cut of any of so many rows, the last ones more likely.
func randomCut(r *rand.Rand, rows int) model.CertCut {
	cut := model.CertCut{Den: 2 + r.Int64N(handmade.Pick(r, int64(1), 2, 5, MostDen-1, MostDen-1))}
	for k := range rows {
		if r.IntN(3) == 0 || k == rows-1 && r.IntN(3) > 0 {
			cut.Rows = append(cut.Rows, [2]int64{int64(k), 1 + r.Int64N(cut.Den-1)})
		}
	}
	return cut
}

// closing is the lists of a leaf where the group's plan has some value, without cuts; nil where
// there are none.
func (p *tinyProgram) closing(t *testing.T, l *leafProof, value int64) *listProof {
	c := &listProof{leafProof: l, target: big.NewInt(value)}
	slack := big.NewInt(value - 1 - l.sum.Int64())
	if slack.Sign() < 0 {
		return nil
	}
	if c.listed = l.lists(l.needs(slack)); c.listed == nil {
		t.Fatal(p.found)
	}
	c.begin()
	return c
}

// randomList is a list with cuts that are cuts, over random duals.
func (p *tinyProgram) randomList(r *rand.Rand, c *listProof) *model.CertList {
	list := &model.CertList{Target: c.target.Int64(),
		CertListNode: model.CertListNode{Duals: p.randomDuals(r)}}
	for range r.IntN(5) {
		if cut := randomCut(r, len(c.least)); c.makeCut(&cut) == "" {
			largest := int64(1)
			for _, a := range c.cuts[len(c.cuts)-1] {
				largest = max(largest, int64(a)/16, int64(-a)/16)
			}
			list.Cuts, list.CutDuals = append(list.Cuts, cut),
				append(list.CutDuals, r.Int64N(p.worth.Ticks(15))/largest*r.Int64N(2))
		}
	}
	return list
}

// strikeAtRandom adds duals that strike patterns off a list: its own, or random ones, by the first
// cuts.
func (p *tinyProgram) strikeAtRandom(r *rand.Rand, list *model.CertList) {
	by := 0
	for range r.IntN(3) {
		by += r.IntN(len(list.Cuts) - by + 1)
		duals := list.Duals
		if r.IntN(3) == 0 {
			duals = p.randomDuals(r)
		}
		list.Struck = append(list.Struck, model.CertStruck{Duals: slices.Clone(duals),
			CutDuals: slices.Clone(list.CutDuals[:by])})
	}
}

// tuned changes one dual of a list after the other, and keeps what proves more.
func (p *tinyProgram) tuned(r *rand.Rand, list *model.CertListNode, proves func() int64) {
	most := proves()
	for range 25 {
		k := r.IntN(len(list.Duals) + len(list.CutDuals))
		duals := list.Duals
		if k >= len(duals) {
			k, duals = k-len(duals), list.CutDuals
		}
		v, old := &duals[k], duals[k]
		*v = max(0, old+(r.Int64N(5)-2)*p.worth.Ticks(handmade.Pick(r, model.Money(1), 3, 6))/2)
		if then := proves(); then < most {
			*v = old
		} else {
			most = then
		}
	}
}

// Whatever cuts and duals the list of a leaf carries, it proves no more than the cheapest plan that
// the leaf allows, for any value of a plan that the group may have.
func TestListBoundIsNeverAboveTheOptimum(t *testing.T) {
	r := rand.New(rand.NewPCG(19, 20))
	judged, raised, closed, struck := 0, 0, 0, 0
	for n := range 1000 {
		p := anyProgram(r)
		want, some := p.optimum(p.limits)
		if !some {
			continue
		}
		for range 6 {
			duals := p.randomDuals(r)
			l := p.within(r, duals)
			value := want + p.worth.Ticks(model.Money(r.Int64N(4)*r.Int64N(8)))
			c := p.closing(t, l, value)
			if c == nil {
				continue
			}
			list := p.randomList(r, c)
			p.judgeListNode("leaf", p.cert, &list.CertListNode, 0, 0)
			proves := func() int64 {
				got := l.byList(list)
				// struck off other patterns, a cut may be none
				if got == nil && len(p.found) == 1 && (len(list.Struck) > 0 ||
					strings.Contains(p.found[0].What, "too large to reckon with")) {
					p.found = nil
					return math.MinInt64
				}
				if got != nil && got.Cmp(big.NewInt(math.MinInt64)) < 0 {
					return math.MinInt64
				}
				if got == nil || !got.IsInt64() || len(p.found) > 0 {
					t.Fatalf("job %d: no bound: %v", n, p.found)
				}
				if got.Int64() > want {
					t.Fatalf("job %d: the list proves %v, yet a plan costs %d: %+v, leaf %v, "+
						"duals %v, value %v, list %+v",
						n, got, want, p.job, p.limits, duals, value, list)
				}
				return got.Int64()
			}
			p.tuned(r, &list.CertListNode, proves)
			if before := proves(); r.IntN(2) == 0 {
				// what the best duals strike off, others may then gain by
				p.strikeAtRandom(r, list)
				if p.tuned(r, &list.CertListNode, proves); proves() > before {
					struck++
				}
			}
			judged++
			got := proves()
			if got > l.sum.Int64() {
				raised++
			}
			if full := list.CutDuals; len(full) > 0 {
				list.CutDuals = make([]int64, len(full))
				if got == want && proves() < want {
					closed++
				}
			}
		}
	}
	if judged < 3000 || raised < 1000 || closed < 60 || struck < 30 {
		t.Errorf("of %d lists %d raised the bound, %d closed it by a cut, and %d gained by "+
			"striking off: too few to trust", judged, raised, closed, struck)
	}
}

// Every plan over the patterns of a list that gives enough of each item, with as many boards as the
// leaf allows, meets every cut. Some plans meet a cut with nothing to spare.
func TestNoCutCutsOffAPlan(t *testing.T) {
	r := rand.New(rand.NewPCG(25, 26))
	plans, tight, rounded := 0, 0, 0
	for n := range 1500 {
		p := anyProgram(r)
		l := p.within(r, p.randomDuals(r))
		c := p.closing(t, l, l.sum.Int64()+r.Int64N(p.worth.Ticks(60)))
		if c == nil {
			continue
		}
		list := p.randomList(r, c)
		for k := range list.Cuts {
			if list.Cuts[k].Den > 1<<10 && len(list.Cuts[k].Rows) > 1 {
				rounded++
			}
		}
		all := make([]int64, len(c.least)) // what the plan so far has of each row
		var use func(s, k, j int, boards int64)
		use = func(s, k, j int, boards int64) {
			if s == len(c.listed) {
				for row := range all {
					if fixed := len(c.least) - len(c.cuts); row < fixed && all[row] < c.least[row] {
						return
					}
				}
				plans++
				for row, b := range c.least {
					if all[row] < b {
						t.Fatalf(
							"job %d: a plan has %d of row %d, which asks for %d: %+v, leaf "+
								"%v, list %+v",
							n, all[row], row, b, p.job, p.limits, list)
					}
					if row >= len(c.least)-len(c.cuts) && all[row] == b {
						tight++
					}
				}
				return
			}
			if k == len(c.listed[s]) {
				use(s+1, 0, j, 0)
				return
			}
			add := func(times int64) {
				for _, g := range c.listed[s][k].Takes {
					all[g.Item] += times * g.Copies
				}
				all[len(p.cert.Items)+s] -= times
				all[len(p.cert.Items)+len(p.stocks)+s] += times
				for m, cut := range c.cuts {
					all[len(c.least)-len(c.cuts)+m] += times * int64(cut[j])
				}
			}
			x := int64(0)
			for ; boards+x <= l.limits[s].most; x++ {
				use(s, k+1, j+1, boards+x)
				add(1)
			}
			add(-x)
		}
		use(0, 0, 0, 0)
	}
	if plans < 10000 || tight < 1000 || rounded < 100 {
		t.Errorf("%d plans, %d at a cut, %d cuts of large denominators: too few to trust", plans,
			tight, rounded)
	}
}

// optimum is the least cost in ticks of boards that give exactly the copies wanted, within the
// limits; false where none do.
func (p *tinyProgram) optimum(limits []useRange) (int64, bool) {
	return p.cheapest(limits, p.waysOf)
}

// waysOf gives by the copies of its items what all else is worth that a board of a stock gives.
func (p *tinyProgram) waysOf(s int) map[brute.Counts]int64 {
	if p.ways == nil {
		return brute.Ways(&p.words[s].Board, p.heldByWords(s),
			p.job.Settings.CrosscutKerf/p.worth.Unit)
	}
	out := maps.Clone(p.ways[s])
	maps.DeleteFunc(out, func(c brute.Counts, _ int64) bool {
		return c[0] > 0 && !slices.Contains(p.items[s], 0) ||
			c[1] > 0 && !slices.Contains(p.items[s], 1)
	})
	return out
}

// cheapest is the optimum where a board of a stock can be used in some ways; each says what it
// gives in ticks besides its pieces.
func (p *tinyProgram) cheapest(limits []useRange,
	ways func(stock int) map[brute.Counts]int64) (int64, bool) {
	wants := p.cert.Items
	v, some := p.costs(limits, ways)[brute.Counts{wants[0].Demand, wants[1].Demand}]
	return v, some
}

// costs are the least by the copies of both items, as far as they are wanted.
func (p *tinyProgram) costs(limits []useRange,
	ways func(stock int) map[brute.Counts]int64) map[brute.Counts]int64 {
	wants := p.cert.Items
	least := map[brute.Counts]int64{{}: 0}
	for s := range p.words {
		by := ways(s)
		next := map[brute.Counts]int64{}
		for z, now := int64(0), least; z <= limits[s].most; z++ {
			if z >= limits[s].least {
				for n, cost := range now {
					if most, known := next[n]; !known || cost < most {
						next[n] = cost
					}
				}
			}
			more := map[brute.Counts]int64{}
			for n, cost := range now {
				for a, credit := range by {
					sum := brute.Counts{n[0] + a[0], n[1] + a[1]}
					v := cost + p.words[s].cost - credit
					if most, known := more[sum]; sum[0] <= wants[0].Demand &&
						sum[1] <= wants[1].Demand && (!known || v < most) {
						more[sum] = v
					}
				}
			}
			now = more
		}
		least = next
	}
	return least
}

// heldByWords gives both items at lengths in units of the valuation; of one that a stock does not
// hold no copy is wanted.
func (p *tinyProgram) heldByWords(s int) []along.Item {
	var held []along.Item
	for i, item := range p.cert.Items {
		if !slices.Contains(p.items[s], i) {
			item.Demand = 0
		}
		held = append(held, along.Item{Length: item.Length / p.worth.Unit, Face: item.Face,
			Demand: item.Demand})
	}
	return held
}

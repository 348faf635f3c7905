package proof

import (
	"math/big"
	"math/rand/v2"
	"testing"

	"rackwright/model"
	"rackwright/model/check"
	"rackwright/model/internal/handmade"
	"rackwright/model/proof/along"
	"rackwright/model/proof/internal/brute"
	"rackwright/model/proof/internal/integer"
)

// randomJob is a job of two parts, a board or two on the rack and one for sale, in units so small
// that all plans can be tried.
func randomJob(r *rand.Rand) *model.Job {
	wood := func(l model.Length) model.Wood {
		return model.Wood{Material: "oak", Section: "4/4", Length: l, Width: 9, Thickness: 9}
	}
	job := &model.Job{Settings: model.Settings{
		CrosscutKerf: model.Length(r.IntN(3)), YardEnd: model.Length(r.IntN(3)),
		RackEnd:  model.Length(r.IntN(2)),
		Handling: model.Money(r.IntN(4)), Margin: model.Length(r.IntN(2)),
		Offcut: model.OffcutRule{KeepLength: model.Length(r.IntN(5)),
			Value: handmade.Pick(r, model.Fraction{Num: 1, Den: 2}, model.Fraction{Num: 1, Den: 1},
				model.Fraction{Num: 2, Den: 7})},
		Sound: []string{"knot"}, Hidden: []string{"knot", "check"},
	}}
	for _, name := range []string{"a", "b"} {
		job.Parts = append(job.Parts,
			model.Part{Name: name, Qty: 1 + r.Int64N(2), Material: "oak",
				Length: 3 + model.Length(r.IntN(7)),
				Width:  9, Thickness: 9, Face: model.Face(r.IntN(model.Faces))})
	}
	for i := range 1 + r.IntN(2) {
		b := model.Board{ID: string(rune('A' + i)), Wood: wood(8 + model.Length(r.IntN(14)))}
		if r.IntN(2) == 0 {
			b.Value = new(model.Money(r.IntN(40)))
		}
		for range r.IntN(3) {
			from := model.Length(r.IntN(int(b.Length)))
			b.Defects = append(b.Defects,
				model.Defect{From: from, To: min(b.Length, from+1+model.Length(r.IntN(3))),
					Right: b.Width,
					Kind:  handmade.Pick(r, "knot", "check", "hole")})
		}
		job.Rack = append(job.Rack, b)
	}
	some := 1 + r.Int64N(2)
	job.Yard = []model.Offer{{Wood: wood(14 + model.Length(r.IntN(8))),
		Price:     10 + model.Money(r.IntN(40)),
		Available: &some, Where: model.Where{File: "yard.csv", Line: 2}}}
	return job
}

// tinyProgram is a job as one group with one leaf, its certificate without duals.
type tinyProgram struct {
	*proof
	cert   *model.Certificate
	stocks []stock
	items  [][]int
	bounds []useRange
}

func randomProgram(r *rand.Rand) *tinyProgram {
	job := randomJob(r)
	p := &tinyProgram{proof: newProof(
		&check.Reading{Job: job, Plan: &model.Plan{}, Worth: job.Valuation()}),
		cert: &model.Certificate{Scale: handmade.Pick(r, int64(1), 7, 100),
			Leaves: []model.CertLeaf{{}}}}
	for w := range p.owner {
		s := stock{oneBoard: p.look(w), supply: 1, woods: []int{w}}
		if w == len(job.Rack) {
			s.supply = *job.Yard[0].Available
		}
		p.stocks = append(p.stocks, s)
		if r.IntN(2) == 0 {
			least := r.Int64N(s.supply + 1)
			p.bounds = append(p.bounds, useRange{w, least, least + r.Int64N(s.supply-least+1)})
		}
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

func (p *tinyProgram) randomDuals(r *rand.Rand) []int64 {
	return []int64{r.Int64N(p.cert.Scale * 20), r.Int64N(p.cert.Scale * 20)}
}

// In no leaf is the bound above the cheapest of all plans that use as many boards as the leaf
// allows.
func TestLeafBoundIsNeverAboveTheOptimum(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 14))
	judged, tight := 0, 0
	for n := range 1500 {
		p := randomProgram(r)
		scale, duals := p.cert.Scale, p.randomDuals(r)
		p.cert.Leaves[0].Duals = duals
		want, some := optimum(p.job, p.stocks, p.items, p.bounds, p.cert.Items)
		if !some {
			continue
		}
		judged++
		leaf := p.leafBound("leaf", p.cert, 0, p.stocks, p.items, p.bounds)
		if leaf == nil || !leaf.sum.IsInt64() {
			t.Fatalf("job %d: no bound: %v", n, p.found)
		}
		got := leaf.sum.Int64()
		if got > want*scale {
			t.Fatalf("job %d: the bound is %v / %d, yet a plan costs %d: %+v, leaf %v, duals %v", n,
				got, scale, want, p.job, p.bounds, duals)
		}
		if got > (want-3)*scale {
			tight++
		}
	}
	if judged < 300 || tight < 30 {
		t.Errorf("of %d jobs with a plan only %d bounds came near: too few to trust", judged, tight)
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
	work := int64(listWork)
	c := &listProof{proof: p.proof, cert: p.cert, list: &model.CertList{Target: model.Money(value)},
		stocks: p.stocks, items: p.items, leaf: l, work: &work}
	slack := big.NewInt((value-1)*p.cert.Scale - l.sum.Int64())
	if slack.Sign() < 0 {
		return nil
	}
	if !c.makeLists(slack) || !c.makeCuts() {
		t.Fatal(p.found)
	}
	return c
}

// randomList is a list with cuts that are cuts, over random duals.
func (p *tinyProgram) randomList(r *rand.Rand, c *listProof) *model.CertList {
	list := &model.CertList{Target: c.list.Target, Duals: p.randomDuals(r)}
	for range r.IntN(5) {
		if cut := randomCut(r, len(c.least)); c.makeCut(&cut) == "" {
			list.Cuts, list.CutDuals = append(list.Cuts, cut),
				append(list.CutDuals, r.Int64N(p.cert.Scale*15)*r.Int64N(2))
		}
	}
	return list
}

// tuned changes one dual of a list after the other, and keeps what proves more.
func (p *tinyProgram) tuned(r *rand.Rand, list *model.CertList, proves func() int64) {
	most := proves()
	for range 25 {
		k := r.IntN(len(list.Duals) + len(list.CutDuals))
		duals := list.Duals
		if k >= len(duals) {
			k, duals = k-len(duals), list.CutDuals
		}
		v, old := &duals[k], duals[k]
		*v = max(0, old+(r.Int64N(5)-2)*max(1, p.cert.Scale*handmade.Pick(r, int64(1), 3, 6)/2))
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
	judged, raised, closed := 0, 0, 0
	for n := range 1000 {
		p := randomProgram(r)
		want, some := optimum(p.job, p.stocks, p.items, p.bounds, p.cert.Items)
		if !some {
			continue
		}
		scale, leaf := p.cert.Scale, &p.cert.Leaves[0]
		for range 6 {
			leaf.Duals = p.randomDuals(r)
			l := p.leafBound("leaf", p.cert, 0, p.stocks, p.items, p.bounds)
			value, work := want+r.Int64N(4)*r.Int64N(8), int64(listWork)
			c := p.closing(t, l, value)
			if c == nil {
				continue
			}
			list := p.randomList(r, c)
			p.judgeList("leaf", p.cert, list)
			proves := func() int64 {
				got := p.listBound("leaf", p.cert, list, p.stocks, p.items, l, &work)
				if got == nil || !got.IsInt64() || len(p.found) > 0 {
					t.Fatalf("job %d: no bound: %v", n, p.found)
				}
				if got.Int64() > want {
					t.Fatalf("job %d: the list proves %v, yet a plan costs %d: %+v, leaf %v, "+
						"duals %v, value %v, scale %d, list %+v",
						n, got, want, p.job, p.bounds, leaf.Duals, value, scale, list)
				}
				return got.Int64()
			}
			p.tuned(r, list, proves)
			judged++
			got := proves()
			if got > integer.Ceil(l.sum, big.NewInt(scale)).Int64() {
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
	if judged < 3000 || raised < 1000 || closed < 60 {
		t.Errorf("of %d lists %d raised the bound and %d closed it by a cut: too few to trust",
			judged, raised, closed)
	}
}

// Every plan over the patterns of a list that gives enough of each item, with as many boards as the
// leaf allows, meets every cut. Some plans meet a cut with nothing to spare.
func TestNoCutCutsOffAPlan(t *testing.T) {
	r := rand.New(rand.NewPCG(25, 26))
	plans, tight, rounded := 0, 0, 0
	for n := range 1500 {
		p := randomProgram(r)
		p.cert.Leaves[0].Duals = p.randomDuals(r)
		l := p.leafBound("leaf", p.cert, 0, p.stocks, p.items, p.bounds)
		c := p.closing(t, l, integer.Ceil(l.sum, big.NewInt(p.cert.Scale)).Int64()+r.Int64N(60))
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
							n, all[row], row, b, p.job, p.bounds, list)
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
			for ; boards+x <= l.most[s]; x++ {
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

// optimum is the least cost of boards that give exactly the copies wanted, within the bounds; false
// where none do.
func optimum(job *model.Job, stocks []stock, items [][]int, bounds []useRange,
	wants []model.CertItem) (int64,
	bool) {
	least := map[[2]int64]int64{{}: 0}
	for s := range stocks {
		var held []along.Item
		for i, item := range wants {
			demand := int64(0)
			for _, k := range items[s] {
				if k == i {
					demand = item.Demand
				}
			}
			held = append(held,
				along.Item{Length: item.Length, Face: item.Face, Dual: 0, Demand: demand})
		}
		by := brute.Ways(stocks[s].along, held, job.Settings.CrosscutKerf)
		from, to := int64(0), stocks[s].supply
		for _, b := range bounds {
			if b.stock == s {
				from, to = b.least, b.most
			}
		}
		next := map[[2]int64]int64{}
		for z, now := int64(0), least; z <= to; z++ {
			if z >= from {
				for n, cost := range now {
					if most, known := next[n]; !known || cost < most {
						next[n] = cost
					}
				}
			}
			more := map[[2]int64]int64{}
			for n, cost := range now {
				for a, credit := range by {
					sum := [2]int64{n[0] + a[0], n[1] + a[1]}
					v := cost + int64(stocks[s].cost) - credit
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
	v, some := least[[2]int64{wants[0].Demand, wants[1].Demand}]
	return v, some
}

package proof

import (
	"math"
	"math/big"
	"math/rand/v2"
	"slices"
	"testing"

	"rackwright/model"
	"rackwright/model/internal/handmade"
	"rackwright/model/proof/internal/brute"
)

// Brute forces: what wants cost is tried out, use by use and stave by stave.

// wantingProgram is a tiny program of which some is made of pieces. Its certificate has the direct
// demands; the ways to cut its boards go up to mostEach copies of an item.
type wantingProgram struct {
	*tinyProgram
	chosen [][]chosen // by want, all there is to choose
}

const mostEach = 4

// chosen is one way to have a want met.
type chosen struct {
	uses  []int64 // of ways, then of covers
	takes brute.Counts
	cost  int64 // of what is forgone, in ticks
	vain  bool  // without a use of some way there would be enough all the same
}

// randomWanting is a random program with one want or two.
func randomWanting(r *rand.Rand) *wantingProgram {
	p := &wantingProgram{tinyProgram: randomProgram(r)}
	if r.IntN(4) == 0 {
		p.tinyProgram, _ = randomRipProgram(r)
	}
	for s := range p.stocks {
		p.stocks[s].supply += r.Int64N(3)
		p.limits[s] = useRange{0, p.stocks[s].supply}
	}
	for i := range p.cert.Items {
		p.cert.Items[i].Demand = r.Int64N(3)
	}
	for range 1 + r.IntN(2) {
		w := randomWant(r, p.worth.Ticks)
		p.cert.Wants = append(p.cert.Wants, w)
		p.chosen = append(p.chosen, allChosen(&w))
		for range len(w.Ways) + len(w.Covers) {
			p.limits = append(p.limits, useRange{0, unlimited})
		}
	}
	return p
}

// randomWant is wanted once or twice, by up to three ways and a cover.
func randomWant(r *rand.Rand, ticks func(model.Money) int64) model.CertWant {
	w := model.CertWant{Demand: 1 + r.Int64N(2)}
	for range 1 + r.IntN(3) {
		w.Ways = append(w.Ways, model.CertWay{Item: r.IntN(2), Pieces: 1 + r.Int64N(2),
			Copies: handmade.Pick[int64](r, 1, 1, 1, 2)})
	}
	if r.IntN(3) == 0 {
		v := model.CertCover{Need: 1 + r.Int64N(4), Layers: handmade.Pick[int64](r, 1, 1, 2)}
		for item := range 2 {
			if r.IntN(3) > 0 || item == 1 && len(v.Staves) == 0 {
				v.Staves = append(v.Staves, model.CertStave{Item: item, Steps: 1 + r.Int64N(3)})
			}
		}
		w.Covers = []model.CertCover{v}
	}
	if r.IntN(3) == 0 {
		w.Forgo = new(ticks(model.Money(r.IntN(20))))
	}
	return w
}

// allChosen tries all numbers of uses of each way, each of which gives at least a copy, and all
// sets of staves for each cover. No way has more than one use that could be left out.
func allChosen(w *model.CertWant) (out []chosen) {
	var from func(n int, c chosen, uses, copies int64)
	from = func(n int, c chosen, uses, copies int64) {
		if n == len(w.Ways)+len(w.Covers) {
			if copies = min(copies, w.Demand); copies == w.Demand || w.Forgo != nil {
				if w.Forgo != nil {
					c.cost = (w.Demand - copies) * *w.Forgo
				}
				c.uses = slices.Clone(c.uses)
				c.vain = isVain(w, c.uses)
				out = append(out, c)
			}
			return
		}
		from(n+1, chosen{append(c.uses, 0), c.takes, 0, false}, uses, copies)
		if n < len(w.Ways) {
			v := w.Ways[n]
			for k := int64(1); uses+k <= w.Demand && (k-1)*v.Copies < w.Demand; k++ {
				takes := c.takes
				takes[v.Item] += k * v.Pieces
				from(n+1, chosen{append(c.uses, k), takes, 0, false}, uses+k, copies+k*v.Copies)
			}
			return
		}
		var cover func(k int64, takes brute.Counts)
		v := &w.Covers[n-len(w.Ways)]
		cover = func(k int64, takes brute.Counts) {
			if k > 0 {
				from(n+1, chosen{append(c.uses, k), takes, 0, false}, uses+k, copies+k)
			}
			if uses+k < w.Demand {
				for _, set := range coversOf(v) {
					cover(k+1, brute.Counts{takes[0] + set[0]*v.Layers, takes[1] + set[1]*v.Layers})
				}
			}
		}
		cover(0, c.takes)
	}
	from(0, chosen{}, 0, 0)
	return out
}

// isVain says whether the uses of a want could be fewer by one.
func isVain(w *model.CertWant, uses []int64) bool {
	gives, copies := int64(0), slices.Repeat([]int64{1}, len(uses))
	for n, v := range w.Ways {
		copies[n] = v.Copies
	}
	for n, k := range uses {
		gives += k * copies[n]
	}
	for n, k := range uses {
		if k > 0 && gives-copies[n] >= w.Demand {
			return true
		}
	}
	return false
}

// coversOf are the numbers of both items by which a need is met, none with more than suffice alone.
func coversOf(v *model.CertCover) (out []brute.Counts) {
	var from func(n int, takes brute.Counts, steps int64)
	from = func(n int, takes brute.Counts, steps int64) {
		if n == len(v.Staves) {
			if steps >= v.Need {
				out = append(out, takes)
			}
			return
		}
		s := v.Staves[n]
		for k := int64(0); (k-1)*s.Steps < v.Need; k++ {
			more := takes
			more[s.Item] += k
			from(n+1, more, steps+k*s.Steps)
		}
	}
	from(0, brute.Counts{}, 0)
	return out
}

// among are the ways to have all wants met with uses in their ranges, as copies of the items and
// what is forgone; with uses in vain, or without.
func (p *wantingProgram) among(limits []useRange, inVain bool) map[brute.Counts]int64 {
	now := map[brute.Counts]int64{{}: 0}
	for j, ranges := range p.rangesOf(limits) {
		next := map[brute.Counts]int64{}
		for _, c := range p.chosen[j] {
			if c.vain && !inVain || !slices.EqualFunc(c.uses, ranges, func(n int64, r useRange) bool {
				return r.least <= n && n <= r.most
			}) {
				continue
			}
			for takes, cost := range now {
				sum := brute.Counts{takes[0] + c.takes[0], takes[1] + c.takes[1]}
				if old, known := next[sum]; !known || cost+c.cost < old {
					next[sum] = cost + c.cost
				}
			}
		}
		now = next
	}
	return now
}

// optimum is the least of all plans within the limits, with what is forgone; false where there is
// none. any says whether there is some choice, whatever boards there are.
func (p *wantingProgram) optimum(limits []useRange, inVain bool) (least int64, some, any bool) {
	direct := slices.Clone(p.cert.Items)
	for i := range p.cert.Items {
		p.cert.Items[i].Demand = mostEach
	}
	costs := p.costs(limits[:len(p.stocks)], p.waysOf)
	copy(p.cert.Items, direct)
	for takes, forgone := range p.among(limits, inVain) {
		any = true
		c, known := costs[brute.Counts{takes[0] + direct[0].Demand, takes[1] + direct[1].Demand}]
		if known && (!some || c+forgone < least) {
			least, some = c+forgone, true
		}
	}
	return least, some, any
}

// randomLimits narrows some limits.
func (p *wantingProgram) randomLimits(r *rand.Rand) []useRange {
	out := slices.Clone(p.limits)
	for n := range out {
		l := &out[n]
		if n < len(p.stocks) && r.IntN(3) == 0 {
			l.least = r.Int64N(l.most + 1)
			l.most = l.least + r.Int64N(l.most-l.least+1)
		}
		if n >= len(p.stocks) && r.IntN(2) == 0 {
			l.least = r.Int64N(3)
			if r.IntN(3) > 0 {
				l.most = l.least + r.Int64N(2)
			}
		}
	}
	if r.IntN(2) == 0 { // settled
		for j, ranges := range p.rangesOf(out) {
			c := p.chosen[j][r.IntN(len(p.chosen[j]))]
			for n := range ranges {
				ranges[n] = useRange{c.uses[n], c.uses[n]}
				if n >= len(p.cert.Wants[j].Ways) {
					ranges[n] = useRange{}
				}
			}
		}
	}
	return out
}

// withinSettled says of some stocks what they give within the demands of a settled leaf, or a
// little more.
func (p *wantingProgram) claims(r *rand.Rand, limits []useRange,
	duals []int64) (out []model.CertWithin) {
	direct := p.cert.Items
	p.cert.Items = p.asWanted(limits).Items
	for s := range p.stocks {
		if most, some := valueOf(p.waysOf(s), duals); some && r.IntN(2) == 0 {
			out = append(out, model.CertWithin{Stock: s,
				Gives: most + r.Int64N(handmade.Pick(r, 1, 1, p.worth.Ticks(2)))})
		}
	}
	p.cert.Items = direct
	return out
}

// No leaf proves more than the cheapest of all plans within its limits costs, with what is forgone,
// whatever its duals and claims, and whatever list it has where it is settled. Where it proves that
// there are no plans nothing meets what is wanted. So it is with uses in vain, and without them in
// tight limits.
func TestLeafBoundWithWantsIsNeverAboveTheOptimum(t *testing.T) {
	r := rand.New(rand.NewPCG(81, 82))
	judged, tight, settled, lists, claims, none := 0, 0, 0, 0, 0, 0
	rounds := 1500
	if testing.Short() {
		rounds = 200
	}
	for n := range rounds {
		p := randomWanting(r)
		limits := p.randomLimits(r)
		want, some, any := p.optimum(limits, n%2 == 0)
		if n%2 == 1 {
			limits = p.tight(limits)
		}
		most := big.NewInt(math.MinInt64)
		duals := p.randomDuals(r)
		for range 25 {
			leaf := &model.CertNode{Duals: slices.Clone(duals)}
			leaf.Duals[r.IntN(2)] = r.Int64N(p.worth.Ticks(25))
			if p.settled(limits) && r.IntN(3) == 0 {
				leaf.List = &model.CertList{Target: want + r.Int64N(p.worth.Ticks(9)),
					CertListNode: model.CertListNode{Duals: leaf.Duals}}
			}
			if r.IntN(4) == 0 {
				leaf.Within = p.claims(r, limits, leaf.Duals)
			}
			p.found = nil
			got := p.leaf(leaf, beside(limits, anyBought), "leaf")
			if got == nil || got == noPlans {
				if got == noPlans && any {
					t.Fatalf("job %d: has no plans, and a choice: %+v, %v", n, p.cert, limits)
				}
				if got == noPlans {
					none++
				}
				continue
			}
			if some && got.Cmp(big.NewInt(want)) > 0 {
				t.Fatalf("job %d: the leaf proves %v, yet a plan costs %d: %+v, wants %+v, limits "+
					"%v, leaf %+v", n, got, want, p.job, p.cert.Wants, limits, leaf)
			}
			if got.Cmp(most) > 0 {
				most, duals = got, leaf.Duals
			}
			if leaf.List != nil {
				lists++
			}
			if len(leaf.Within) > 0 {
				claims++
			}
		}
		empty := p.leaf(&model.CertNode{}, beside(limits, anyBought), "leaf")
		if empty == noPlans && some {
			t.Fatalf("job %d: may be left empty, and has a plan: %+v, %v", n, p.cert.Wants, limits)
		}
		if !some {
			continue
		}
		if judged++; most.Cmp(big.NewInt(want-p.worth.Ticks(3))) > 0 {
			tight++
		}
		if p.settled(limits) {
			settled++
		}
	}
	if rounds == 1500 && (judged < 400 || tight < 100 || settled < 100 || lists < 300 ||
		claims < 300 || none < 300) {
		t.Errorf("%d leaves with plans, %d tight, %d settled, %d lists, %d with claims, %d "+
			"without plans: too few to trust", judged, tight, settled, lists, claims, none)
	}
}

// randomTree is a node of so many splits and choices at most.
func (p *wantingProgram) randomTree(r *rand.Rand, limits []useRange, depth int) model.CertNode {
	limits = p.tight(limits)
	if p.hasNone(limits, tooFew, tooMany) {
		return model.CertNode{}
	}
	n := r.IntN(len(limits))
	l := limits[n]
	if depth == 0 || l.least >= min(l.most, 2) {
		return model.CertNode{Duals: p.randomDuals(r)}
	}
	at := l.least + r.Int64N(min(l.most-l.least, 2))
	low, high := slices.Clone(limits), slices.Clone(limits)
	low[n].most, high[n].least = at, at+1
	if all := n == len(limits)-1; all || n < len(p.stocks) {
		s := &model.CertSplit{Stock: n, AtMost: at, Low: p.randomTree(r, low, depth-1),
			High: p.randomTree(r, high, depth-1)}
		if all {
			s.Stock = model.AllBought
		}
		return model.CertNode{Split: s}
	}
	c := &model.CertChoice{Way: n - len(p.stocks), AtMost: at}
	for c.Way >= len(p.chosen[c.Want][0].uses) {
		c.Want, c.Way = c.Want+1, c.Way-len(p.chosen[c.Want][0].uses)
	}
	if at > p.cert.Wants[c.Want].Demand {
		return model.CertNode{Duals: p.randomDuals(r)}
	}
	c.Low, c.High = p.randomTree(r, low, depth-1), p.randomTree(r, high, depth-1)
	return model.CertNode{Choice: c}
}

// leaves gives the leaves of a tree with their limits.
func (p *wantingProgram) leaves(n *model.CertNode, limits []useRange,
	each func(*model.CertNode, []useRange)) {
	limits = p.tight(limits)
	at, most, a, b := 0, int64(0), (*model.CertNode)(nil), (*model.CertNode)(nil)
	switch {
	case n.Split != nil:
		at, most, a, b = n.Split.Stock, n.Split.AtMost, &n.Split.Low, &n.Split.High
		if at == model.AllBought {
			at = len(limits) - 1
		}
	case n.Choice != nil:
		at, most, a, b = len(p.stocks)+n.Choice.Way, n.Choice.AtMost, &n.Choice.Low, &n.Choice.High
		for j := range n.Choice.Want {
			at += len(p.chosen[j][0].uses)
		}
	default:
		each(n, limits)
		return
	}
	low, high := slices.Clone(limits), slices.Clone(limits)
	low[at].most, high[at].least = min(low[at].most, most), max(high[at].least, most+1)
	p.leaves(a, low, each)
	p.leaves(b, high, each)
}

// A tree of splits and choices proves the least that its leaves prove, but for those without plans.
// So it is never above the cheapest of all plans.
func TestATreeOfChoicesProvesTheLeastOfItsLeaves(t *testing.T) {
	r := rand.New(rand.NewPCG(83, 84))
	judged, chose, without, limited := 0, 0, 0, 0
	for n := range 1000 {
		p := randomWanting(r)
		limits := beside(p.limits, anyBought)
		tree := p.randomTree(r, limits, 1+r.IntN(5))
		got := p.bound(&tree, limits, "group", 0)
		if got == nil {
			t.Fatalf("job %d: no bound: %v", n, p.found)
		}
		least, plans := big.NewInt(math.MaxInt64), false
		p.leaves(&tree, limits, func(leaf *model.CertNode, limits []useRange) {
			one := p.leaf(leaf, limits, "leaf")
			if bought := limits[len(limits)-1]; bought != anyBought {
				limited++
			}
			if one == noPlans {
				without++
			} else if plans = true; one.Cmp(least) < 0 {
				least = one
			}
		})
		if plans != (got != noPlans) || plans && got.Cmp(least) != 0 {
			t.Fatalf("job %d: the tree proves %v, the least of its leaves is %v", n, got, least)
		}
		if tree.Choice != nil {
			chose++
		}
		want, some, any := p.optimum(p.limits, true)
		if got == noPlans && any {
			t.Fatalf("job %d: has no plans, and a choice: %+v", n, p.cert.Wants)
		}
		if some {
			if judged++; got.Cmp(big.NewInt(want)) > 0 {
				t.Fatalf("job %d: the tree proves %v, yet a plan costs %d", n, got, want)
			}
		}
	}
	if judged < 400 || chose < 300 || without < 300 || limited < 300 {
		t.Errorf("%d jobs with a plan, %d choices, %d leaves without plans, %d with limits of all "+
			"boards bought: too few to trust", judged, chose, without, limited)
	}
}

// W is the least of the relaxation, rounded up. At a vertex of it at most one way is used in part,
// as one row ties them: so all of the others are tried at either end of their ranges. And it is no
// more than any numbers of uses cost.
func TestLeastCostOfAWant(t *testing.T) {
	r := rand.New(rand.NewPCG(85, 86))
	parts, met := 0, 0
	for range 3000 {
		w := randomWant(r, func(m model.Money) int64 { return int64(m) })
		w.Demand = 1 + r.Int64N(9)
		var ranges []useRange
		var kappas []*big.Int
		for range len(w.Ways) + len(w.Covers) {
			l := useRange{r.Int64N(3), unlimited}
			if r.IntN(2) == 0 {
				l.most = l.least + r.Int64N(4)
			}
			ranges, kappas = append(ranges, l), append(kappas, big.NewInt(r.Int64N(50)))
		}
		if tooFew(&w, ranges) {
			continue
		}
		got := leastCost(&w, ranges, kappas)
		if !got.IsInt64() {
			t.Fatal(got)
		}
		vertex, whole, isPart := triedCosts(&w, ranges, kappas)
		if up := new(big.Int).Neg(new(big.Int).Div(new(big.Int).Neg(vertex.Num()),
			vertex.Denom())); got.Cmp(up) != 0 {
			t.Fatalf("%+v in %v at %v: %v, and the least vertex is %v", w, ranges, kappas, got,
				vertex)
		}
		if got.Int64() > whole {
			t.Fatalf("%+v in %v at %v: %v, and some uses cost %d", w, ranges, kappas, got, whole)
		}
		if isPart {
			parts++
		}
		if met++; vertex.Cmp(new(big.Rat).SetInt64(whole)) > 0 {
			t.Fatalf("%v is more than %d", vertex, whole)
		}
	}
	if met < 1500 || parts < 30 {
		t.Errorf("%d wants, %d with a part of a copy: too few to trust", met, parts)
	}
}

// triedCosts is the least cost of the vertices, and of whole numbers of uses.
func triedCosts(w *model.CertWant, ranges []useRange, kappas []*big.Int) (vertex *big.Rat,
	whole int64, isPart bool) {
	all, costs := slices.Clone(ranges), []int64{}
	copies := func(n int) int64 {
		if n < len(w.Ways) {
			return w.Ways[n].Copies
		}
		return 1
	}
	for _, k := range kappas {
		costs = append(costs, k.Int64())
	}
	if w.Forgo != nil {
		all, costs = append(all, useRange{0, unlimited}), append(costs, *w.Forgo)
	}
	for n := range all { // more than are wanted are of no use
		all[n].most = min(all[n].most, all[n].least+w.Demand)
	}
	whole = math.MaxInt64
	var uses func(n int, need, cost int64)
	uses = func(n int, need, cost int64) {
		if n == len(all) {
			if need <= 0 {
				whole = min(whole, cost)
			}
			return
		}
		for k := all[n].least; k <= all[n].most; k++ {
			uses(n+1, need-k*copies(n), cost+k*costs[n])
		}
	}
	uses(0, w.Demand, 0)
	for ends := range 1 << len(all) {
		for part := range len(all) {
			need, cost := w.Demand, int64(0)
			for n, l := range all {
				at := l.least
				if ends>>n&1 == 1 {
					at = l.most
				}
				if n == part {
					at = l.least
				}
				need, cost = need-at*copies(n), cost+at*costs[n]
			}
			room := (all[part].most - all[part].least) * copies(part)
			if need = max(need, 0); need > room {
				continue
			}
			sum := big.NewRat(need*costs[part], copies(part))
			sum.Add(sum, new(big.Rat).SetInt64(cost))
			if vertex == nil || sum.Cmp(vertex) < 0 {
				vertex, isPart = sum, need%copies(part) > 0
			}
		}
	}
	return vertex, whole, isPart
}

// The cheapest cover is the least of all sets of staves that come to the need.
func TestCheapestCover(t *testing.T) {
	r := rand.New(rand.NewPCG(87, 88))
	for range 2000 {
		v := &model.CertCover{Need: 1 + r.Int64N(12), Layers: 1}
		duals := make([]int64, 3)
		for item := range duals {
			if duals[item] = r.Int64N(20); r.IntN(3) > 0 || item == 2 && len(v.Staves) == 0 {
				v.Staves = append(v.Staves, model.CertStave{Item: item, Steps: 1 + r.Int64N(5)})
			}
		}
		want := int64(math.MaxInt64)
		var from func(n int, steps, cost int64)
		from = func(n int, steps, cost int64) {
			if steps >= v.Need {
				want = min(want, cost)
				return
			}
			for k := n; k < len(v.Staves); k++ { // in the order of their items
				from(k, steps+v.Staves[k].Steps, cost+duals[v.Staves[k].Item])
			}
		}
		from(0, 0, 0)
		if got, ok := cheapestCover(v, duals); !ok || got != want {
			t.Fatalf("%+v at %v: %d, %v, want %d", v, duals, got, ok, want)
		}
	}
	v := &model.CertCover{Need: 4, Layers: 1, Staves: []model.CertStave{{Item: 0, Steps: 1}}}
	for most, ok := range map[int64]bool{0: true, 1<<59 - 1: true, 1 << 59: false,
		math.MaxInt64: false} {
		if got, is := cheapestCover(v, []int64{most}); is != ok || ok && got != 4*most {
			t.Errorf("%d: %d, %v", most, got, is)
		}
	}
}

// What a leaf counts, by hand: 5 copies wanted, of 2 pieces for one of item 0, or 3 for two of item
// 1, or of covers that need 7 in 2 layers, of staves of 2 of item 1 and 3 of item 2. Open, item 0
// is cut at most 2 x 5 times for itself, item 1 3 x 3 times (three uses give 6) and 4 x 2 x 5 times
// as a stave, item 2 3 x 2 x 5 times. At duals of 10, 8 and 9 a use of the ways costs 20 and 24,
// and a cover twice the least of 4 x 8, 2 x 9 + 8, 3 x 9 and 9 + 2 x 8: 50.
func TestWhatALeafCounts(t *testing.T) {
	p := &treeProof{proof: &proof{}, steps: 1000, cert: &model.Certificate{
		Items: []model.CertItem{{Demand: 1}, {Demand: 0}, {Demand: 4}},
		Wants: []model.CertWant{{Demand: 5, Forgo: new(int64(11)),
			Ways: []model.CertWay{{Item: 0, Pieces: 2, Copies: 1}, {Item: 1, Pieces: 3, Copies: 2}},
			Covers: []model.CertCover{{Need: 7, Layers: 2,
				Staves: []model.CertStave{{Item: 1, Steps: 2}, {Item: 2, Steps: 3}}}}}}}}
	duals := []int64{10, 8, 9}
	kappas, why := p.kappas(&p.cert.Wants[0], duals)
	if why != "" || len(kappas) != 3 || kappas[0].Int64() != 20 || kappas[1].Int64() != 24 ||
		kappas[2].Int64() != 50 || p.steps != 1000-8*2 {
		t.Errorf("uses cost %v, %q, and %d steps are left", kappas, why, p.steps)
	}
	for _, c := range []struct {
		what    string
		limits  []useRange
		settled bool
		items   [3]int64
		pays    int64 // 1 x 10 + 4 x 9 for themselves
		forgone int64
	}{
		{"open", []useRange{{0, unlimited}, {0, unlimited}, {0, unlimited}}, false,
			[3]int64{1 + 10, 9 + 40, 4 + 30}, 46 + 55, 0},
		{"open, one way twice", []useRange{{0, 3}, {2, unlimited}, {0, 0}}, false,
			[3]int64{1 + 10, 9 + 40, 4 + 30}, 46 + 2*24 + 11, 0},
		{"open, with a cover", []useRange{{2, 2}, {1, 1}, {1, 1}}, false,
			[3]int64{1 + 10, 9 + 40, 4 + 30}, 46 + 2*20 + 24 + 50, 0},
		{"settled", []useRange{{1, 1}, {1, 1}, {0, 0}}, true, [3]int64{1 + 2, 3, 4},
			46 + 20 + 24, 2 * 11},
		{"settled with too many", []useRange{{0, 0}, {3, 3}, {0, 0}}, true, [3]int64{1, 9, 4},
			46 + 3*24, 0},
	} {
		cert := p.asWanted(c.limits)
		for i := range c.items {
			if got := cert.Items[i].Demand; got != c.items[i] {
				t.Errorf("%s: item %d is wanted %d times, not %d", c.what, i, got, c.items[i])
			}
		}
		pays := p.pays(cert, duals, c.limits, "leaf")
		if p.settled(c.limits) != c.settled || pays.Int64() != c.pays ||
			c.settled && p.forgone(c.limits).Int64() != c.forgone {
			t.Errorf("%s: settled %v, pays %v, not %d, forgone %v, not %d", c.what,
				p.settled(c.limits), pays, c.pays, p.forgone(c.limits), c.forgone)
		}
	}
	if got := p.cert.Items[0].Demand; got != 1 {
		t.Errorf("the certificate itself now has a demand of %d", got)
	}
	p.steps = 15
	if _, why := p.kappas(&p.cert.Wants[0], duals); why != "its covers take too long" {
		t.Errorf("with too few steps: %q", why)
	}
}

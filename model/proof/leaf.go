package proof

import (
	"fmt"
	"math"
	"math/big"
	"slices"

	"rackwright/model"
	"rackwright/model/proof/across"
	"rackwright/model/proof/along"
)

// What the nodes of a certificate prove. A node is a leaf, or a split of its plans in two: those
// that use at most so many boards of a stock, or buy so many in all (bought.go), and those that use
// or buy more. Or it is a choice, likewise, by how often a way is used in which parts are made up
// (choice.go). So every plan lies in a leaf. What a leaf proves by its duals says the head of
// doc.go.
//
// Where all duals are 0 hardly anything needs to be searched. The pieces give nothing, and no
// offcuts of a board are worth more than the board as it lies there: cutting never raises worth
// (package model). So no board gives more than it costs, and a stock of which a leaf allows none
// adds nothing, whatever exactly its boards give. Without splits such a leaf proves that nothing is
// cheaper than 0.

const (
	unlimited = math.MaxInt64 // boards of a stock
	maxLeaves = 1 << 16       // more are refused rather than left to run for hours
)

// MaxDepth is how many splits may lie above a leaf.
const MaxDepth = 1 << 10

// judgeBound derives the bound of one group, in ticks; nil where it cannot. items are those that
// each stock holds.
func (p *proof) judgeBound(group *model.Group, where string, stocks []stock,
	items [][]int) *big.Int {
	t := &treeProof{proof: p, cert: &group.Certificate, stocks: stocks, items: items,
		steps: listWork}
	limits := make([]useRange, len(stocks))
	for s := range stocks {
		limits[s] = useRange{0, stocks[s].supply}
	}
	for j := range t.cert.Wants {
		for range len(t.cert.Wants[j].Ways) + len(t.cert.Wants[j].Covers) {
			limits = append(limits, useRange{0, unlimited})
		}
	}
	limits = append(limits, useRange{0, unlimited})
	return t.bound(&t.cert.Root, limits, where, 0)
}

// useRange is how many boards of a stock a node allows, how many uses of a way, or how many boards
// that are bought.
type useRange struct{ least, most int64 }

// treeProof derives what the nodes of one certificate prove.
type treeProof struct {
	*proof
	cert   *model.Certificate
	stocks []stock
	items  [][]int // by stock
	leaves int     // so far
	steps  int64   // left for lists
}

// bound is what a node proves within its limits: those of the stocks, then those of the ways of the
// wants, last that of all boards bought. It is nil where that is nothing, which it then says.
func (t *treeProof) bound(n *model.CertNode, limits []useRange, where string,
	depth int) *big.Int {
	limits = t.tight(limits)
	if n.Split == nil && n.Choice == nil {
		where = fmt.Sprintf("%s, leaf %d", where, t.leaves)
		if t.leaves++; t.leaves > maxLeaves {
			t.say(where, "is one too many; a proof has at most %d", maxLeaves)
			return nil
		}
		return t.leaf(n, limits, where)
	}
	split := n.Split
	switch {
	case len(n.Duals) > 0 || len(n.Within) > 0 || n.List != nil:
		t.say(where, "a split has what only a leaf may have")
		return nil
	case n.Split != nil && n.Choice != nil:
		t.say(where, "is split and is a choice as well")
		return nil
	case depth == MaxDepth:
		t.say(where, "its splits lie more than %d deep", MaxDepth)
		return nil
	case n.Choice != nil:
		return t.choice(n.Choice, limits, where, depth)
	case split.Stock != model.AllBought && (split.Stock < 0 || split.Stock >= len(t.stocks)):
		t.say(where, "a split is about stock %d, which is not there", split.Stock)
		return nil
	}
	at, what := split.Stock, fmt.Sprintf("boards of stock %d", split.Stock)
	if at == model.AllBought {
		at, what = len(limits)-1, "boards bought"
	}
	if split.AtMost < limits[at].least || split.AtMost >= limits[at].most {
		t.say(where, "a split at %d %s leaves one side nothing", split.AtMost, what)
		return nil
	}
	low, high := slices.Clone(limits), slices.Clone(limits)
	low[at].most, high[at].least = split.AtMost, split.AtMost+1
	return t.sides(&split.Low, &split.High, low, high, where, depth)
}

// sides is what the two sides of a split or a choice prove: the lesser of both; nil where that is
// nothing, which it then says.
func (t *treeProof) sides(a, b *model.CertNode, low, high []useRange, where string,
	depth int) *big.Int {
	proven := t.bound(a, low, where, depth+1)
	if proven == nil {
		return nil
	}
	return lesser(proven, t.bound(b, high, where, depth+1))
}

// leaf is what a leaf proves by its duals, or by its list.
func (t *treeProof) leaf(n *model.CertNode, limits []useRange, where string) *big.Int {
	if isEmpty(n) && t.hasNone(limits, tooFew, tooMany) {
		return noPlans
	}
	before, cert := len(t.found), t.asWanted(limits)
	if len(n.Duals) != len(t.cert.Items) {
		t.say(where, "has %d duals for %d items", len(n.Duals), len(t.cert.Items))
	}
	for _, d := range n.Duals {
		if d < 0 {
			t.say(where, "has a dual below 0: %d", d)
		}
	}
	t.judgeWithin(n, where)
	if n.List != nil && !t.settled(limits) {
		t.say(where, "has a list, and it is not settled how parts are made")
	}
	if n.List != nil {
		t.judgeListNode(where+", list", cert, &n.List.CertListNode, rowsBought(limits), 0)
		if s := slices.IndexFunc(t.stocks, func(s stock) bool {
			return s.rough || s.onGrid()
		}); s >= 0 {
			why := "is bounded by its length alone"
			switch {
			case t.stocks[s].onGrid():
				why = "is worked out on a coarser grid"
			case t.stocks[s].across != nil:
				why = "is bounded by its area alone"
			}
			t.say(where, "has a list, but %s, of stock %d, %s; lists are for groups without "+
				"such boards", t.woodName(t.stocks[s].woods[0]), s, why)
		}
	}
	if len(t.found) > before {
		return nil
	}
	if t.hasNone(limits, tooFew) {
		return noPlans
	}
	l := t.byDuals(n, cert, limits, where)
	if l == nil {
		return nil
	}
	sum := l.listed(n.List)
	if sum != nil && t.settled(limits) {
		sum.Add(sum, t.forgone(limits))
	}
	return sum
}

// listed is what a leaf proves: by its list where it has one, else by its duals.
func (l *leafProof) listed(list *model.CertList) *big.Int {
	switch {
	case list != nil && l.sum.Cmp(big.NewInt(list.Target)) < 0:
		return l.byList(list)
	case !l.holdsWithin():
		return nil
	case list != nil:
		return big.NewInt(list.Target)
	}
	return l.sum
}

// leafProof is what one leaf proves by its duals, and what it reckons with by stock; in ticks.
type leafProof struct {
	*treeProof
	where  string
	cert   *model.Certificate // with what is wanted of the items in the leaf
	duals  []int64            // of the items
	limits []useRange         // of the boards that the leaf allows
	bought useRange           // of those that are bought, together
	best   []int64            // the most that one board gives for any number of copies
	gives  []int64            // that, or what the leaf says of it
	sum    *big.Int           // proven
}

// byDuals is what one leaf proves by its duals; nil where that is nothing, which it then says. cert
// is the one with what is wanted there.
func (t *treeProof) byDuals(leaf *model.CertNode, cert *model.Certificate, limits []useRange,
	where string) *leafProof {
	n := len(t.stocks)
	out := &leafProof{t, where, cert, leaf.Duals, limits[:n], limits[len(limits)-1],
		make([]int64, n), make([]int64, n), t.pays(cert, leaf.Duals, limits, where)}
	if out.sum == nil {
		return nil
	}
	free := leaf.List == nil && !slices.ContainsFunc(leaf.Duals, func(d int64) bool {
		return d != 0
	})
	var longest model.Length
	for s := range t.stocks {
		if b := t.stocks[s].along; b != nil && !t.stocks[s].rough {
			longest = max(longest, b.To-b.From)
		}
	}
	for s := range t.stocks {
		if limits[s].most == 0 {
			continue
		}
		if t.isLate() {
			return nil
		}
		one, why := &t.stocks[s], ""
		if free && !out.asksFor(s) && t.bare(one.woods[0]) <= one.cost {
			continue
		}
		out.gives[s], why = out.mostOf(s, longest)
		if t.isLate() { // so it may not be worked out
			return nil
		}
		if why != "" {
			t.say(where, "%s on stock %d", why, s)
			return nil
		}
		out.takeWithin(leaf, s)
		if one.net(out.gives[s]).Sign() < 0 && !out.hasEnd(s) {
			t.say(where, "proves nothing: stock %d, of which there is any number, would give "+
				"more than it costs",
				s)
			return nil
		}
	}
	out.sum.Add(out.sum, out.leastNets(-1))
	return out
}

// isLate says whether the context has ended, and notes it.
func (p *proof) isLate() bool {
	p.late = p.late || p.ctx.Err() != nil
	return p.late
}

// mostOf is the most that one board of a stock gives, or its bound on a coarser grid or by length
// or area. No board of those that cannot be ripped is longer than longest between its trims.
func (l *leafProof) mostOf(stock int, longest model.Length) (int64, string) {
	one, kerf, rip := &l.stocks[stock], l.job.Settings.CrosscutKerf, l.job.Settings.RipKerf
	if one.across != nil {
		items := l.itemsAcross(stock, l.duals)
		switch {
		case one.rough:
			return one.across.Rough(items, kerf, rip)
		case one.onGrid():
			return l.ripped.OnGrid(one.across, items, kerf, rip, one.grid, one.gridAcross)
		}
		return l.ripped.One(one.across, items, kerf, rip)
	}
	items := l.itemsAlong(stock, l.duals)
	kerf /= l.worth.Unit
	switch {
	case one.rough:
		return one.along.Rough(items, kerf)
	case one.onGrid():
		return l.onGrid.OnGrid(one.along, items, kerf, longest, one.grid)
	}
	return l.most.One(one.along, items, kerf, longest)
}

// itemsAlong gives the items of a stock that cannot be ripped, at the given duals.
func (l *leafProof) itemsAlong(stock int, duals []int64) []along.Item {
	held := make([]along.Item, len(l.items[stock]))
	for k, i := range l.items[stock] {
		item := &l.cert.Items[i]
		held[k] = along.Item{Length: item.Length / l.worth.Unit, Face: item.Face, Dual: duals[i],
			Demand: item.Demand, Number: i}
	}
	return held
}

// itemsAcross gives the items of a stock that can be ripped, at the given duals.
func (l *leafProof) itemsAcross(stock int, duals []int64) []across.Item {
	held := make([]across.Item, len(l.items[stock]))
	for k, i := range l.items[stock] {
		item := &l.cert.Items[i]
		held[k] = l.stocks[stock].across.Item(item.Length, item.Width, item.Face, duals[i])
	}
	return held
}

// addNet adds the least that so many boards come to; false where that has no end. net is used up.
func addNet(sum, net *big.Int, boards useRange) bool {
	switch {
	case net.Sign() >= 0:
		net.Mul(net, big.NewInt(boards.least))
	case boards.most == unlimited:
		return false
	default:
		net.Mul(net, big.NewInt(boards.most))
	}
	sum.Add(sum, net)
	return true
}

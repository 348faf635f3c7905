package proof

import (
	"fmt"
	"maps"
	"math"
	"math/big"
	"slices"

	"rackwright/model"
	"rackwright/model/proof/across"
	"rackwright/model/proof/along"
	"rackwright/model/proof/internal/integer"
)

// What a leaf proves by its duals. The head of doc.go has the formula.

const (
	unlimited = math.MaxInt64 // boards of a stock
	maxScale  = 1 << 40
	maxLeaves = 1 << 16 // more are refused rather than left to run for hours
)

// judgeBound derives the bound of one group from its leaves, and judges that it is the stated one;
// items are those that each stock holds.
func (p *proof) judgeBound(group *model.Group, where string, stocks []stock, items [][]int) {
	cert := &group.Certificate
	if len(cert.Leaves) == 0 || len(cert.Leaves) > maxLeaves {
		p.say(where, "has %d leaves; a proof has from 1 to %d", len(cert.Leaves), maxLeaves)
		return
	}
	var least *big.Int
	leaves := make([][]useRange, len(cert.Leaves))
	before := len(p.found)
	for i := range cert.Leaves {
		where := fmt.Sprintf("%s, leaf %d", where, i)
		leaves[i] = p.readLeaf(where, cert, i, stocks)
		if list := cert.Leaves[i].List; list != nil {
			p.judgeList(where+", list", cert, list)
			if s := slices.IndexFunc(stocks, func(s stock) bool {
				return s.across != nil
			}); s >= 0 {
				p.say(where, "has a list, but %s, of stock %d, can be ripped; lists are for "+
					"groups without such boards",
					p.woodName(stocks[s].woods[0]), s)
			}
		}
	}
	if len(p.found) > before {
		return
	}
	root := make([]useRange, len(stocks))
	for s := range stocks {
		root[s] = useRange{s, 0, stocks[s].supply}
	}
	work := coverWork
	if !covered(root, leaves, &work) {
		p.say(where, "the leaves do not cover every number of boards that could be used")
		return
	}
	steps := int64(listWork)
	for i := range cert.Leaves {
		where := fmt.Sprintf("%s, leaf %d", where, i)
		l := p.leafBound(where, cert, i, stocks, items, leaves[i])
		if l == nil {
			return
		}
		b := integer.Ceil(l.sum, big.NewInt(cert.Scale))
		if list := cert.Leaves[i].List; list != nil {
			b = p.listBound(where, cert, list, stocks, items, l, &steps)
		}
		if b == nil {
			return
		}
		if least == nil || b.Cmp(least) < 0 {
			least = b
		}
	}
	if least.Cmp(big.NewInt(int64(group.Bound))) != 0 {
		proven := "far below"
		if least.IsInt64() {
			proven = model.Money(least.Int64()).String()
		}
		p.say(where, "the bound is stated as %v; the certificate proves %s", group.Bound, proven)
	}
}

// readLeaf judges that one leaf makes sense, and gives how many boards of which stocks it allows.
func (p *proof) readLeaf(where string, cert *model.Certificate, i int, stocks []stock) []useRange {
	l := &cert.Leaves[i]
	if len(l.Duals) != len(cert.Items) {
		p.say(where, "has %d duals for %d items", len(l.Duals), len(cert.Items))
	}
	for _, d := range l.Duals {
		if d < 0 {
			p.say(where, "has a dual below 0: %d", d)
		}
	}
	p.judgeCopies(where, cert, l, stocks)
	var out []useRange
	for _, s := range slices.Sorted(maps.Keys(l.Bounds)) {
		if s < 0 || s >= len(stocks) {
			p.say(where, "bounds stock %d, which is not there", s)
			continue
		}
		b := useRange{s, l.Bounds[s].Least, stocks[s].supply}
		if l.Bounds[s].Most != nil {
			b.most = *l.Bounds[s].Most
		}
		if b.least < 0 || b.least > b.most || b.most > stocks[s].supply {
			p.say(where, "allows from %d to %d boards of stock %d, of which there are not so "+
				"many, or none",
				b.least, b.most, s)
		}
		out = append(out, b)
	}
	return out
}

// judgeCopies judges that the limits of copies of a leaf make sense: each stands once, at a dual no
// higher than the item's own.
func (p *proof) judgeCopies(where string, cert *model.Certificate, l *model.CertLeaf,
	stocks []stock) {
	seen := map[[2]int]bool{}
	for _, c := range l.Copies {
		switch {
		case c.Stock < 0 || c.Stock >= len(stocks) || c.Item < 0 ||
			c.Item >= min(len(cert.Items), len(l.Duals)):
			p.say(where, "limits the copies of item %d on stock %d, which are not there", c.Item,
				c.Stock)
		case stocks[c.Stock].across == nil:
			p.say(where, "limits copies on stock %d, which cannot be ripped", c.Stock)
		case !slices.Contains(cert.Items[c.Item].Stocks, c.Stock):
			p.say(where, "limits the copies of item %d on stock %d, which does not hold it", c.Item,
				c.Stock)
		case seen[[2]int{c.Stock, c.Item}]:
			p.say(where, "limits the copies of item %d on stock %d twice", c.Item, c.Stock)
		case c.Dual < 1 || c.Dual > l.Duals[c.Item]:
			p.say(where, "limits the copies of item %d on stock %d at a dual of %d; it is to be "+
				"from 1 to %d",
				c.Item, c.Stock, c.Dual, l.Duals[c.Item])
		}
		seen[[2]int{c.Stock, c.Item}] = true
	}
}

// leafProof is what one leaf proves by its duals, and what it reckons with by stock.
type leafProof struct {
	sum         *big.Int // proven, in 1/10000 x 1/scale
	least, most []int64  // boards that the leaf allows
	gives       []int64  // the most that one board can give, in 1/10000 x 1/scale
	held        [][]along.Item
}

// leafBound is what one leaf proves by its duals; nil where that is nothing, which it then says.
func (p *proof) leafBound(where string, cert *model.Certificate, i int, stocks []stock,
	items [][]int, bounds []useRange) *leafProof {
	sum, duals := new(big.Int), cert.Leaves[i].Duals
	n := len(stocks)
	out := &leafProof{sum, make([]int64, n), make([]int64, n), make([]int64, n),
		make([][]along.Item, n)}
	for k, d := range duals {
		sum.Add(sum, new(big.Int).Mul(big.NewInt(d), big.NewInt(cert.Items[k].Demand)))
	}
	kerf := p.job.Settings.CrosscutKerf
	var longest model.Length
	for s := range stocks {
		if stocks[s].along != nil {
			longest = max(longest, stocks[s].along.To-stocks[s].along.From)
		}
	}
	for s := range stocks {
		least, most := int64(0), stocks[s].supply
		if len(bounds) > 0 && bounds[0].stock == s {
			least, most, bounds = bounds[0].least, bounds[0].most, bounds[1:]
		}
		out.least[s], out.most[s] = least, most
		if most == 0 {
			continue
		}
		one, why := &stocks[s].oneBoard, ""
		back := new(big.Int)
		if one.across != nil {
			lowered := lowerDuals(cert, i, s, back)
			out.gives[s], why = p.ripped.One(one.across,
				itemsAcross(cert, one.across, items[s], lowered), kerf,
				p.job.Settings.RipKerf, cert.Scale)
		} else {
			out.held[s] = itemsAlong(cert, items[s], duals)
			out.gives[s], why = p.most.One(one.along, out.held[s], kerf, longest, cert.Scale)
		}
		if why != "" {
			p.say(where, "%s on stock %d", why, s)
			return nil
		}
		net := one.net(out.gives[s], cert.Scale)
		if !addNet(sum, net.Sub(net, back), least, most) {
			p.say(where, "proves nothing: stock %d, of which there is any number, would give "+
				"more than it costs",
				s)
			return nil
		}
	}
	return out
}

// lowerDuals gives the duals of a leaf less the prices of its limits of copies on one stock. It
// adds to back what these prices give back.
func lowerDuals(cert *model.Certificate, leaf, s int, back *big.Int) []int64 {
	duals := slices.Clone(cert.Leaves[leaf].Duals)
	for _, c := range cert.Leaves[leaf].Copies {
		if c.Stock == s {
			duals[c.Item] -= c.Dual
			back.Add(back, new(big.Int).Mul(big.NewInt(c.Dual),
				big.NewInt(cert.Items[c.Item].Demand)))
		}
	}
	return duals
}

// itemsAlong gives the items of a stock that cannot be ripped, at the given duals.
func itemsAlong(cert *model.Certificate, items []int, duals []int64) []along.Item {
	held := make([]along.Item, len(items))
	for k, i := range items {
		held[k] = along.Item{Length: cert.Items[i].Length, Face: cert.Items[i].Face, Dual: duals[i],
			Demand: cert.Items[i].Demand}
	}
	return held
}

// addNet adds the least that from least to most boards come to; false where that has no end. net is
// used up.
func addNet(sum, net *big.Int, least, most int64) bool {
	switch {
	case net.Sign() >= 0:
		net.Mul(net, big.NewInt(least))
	case most == unlimited:
		return false
	default:
		net.Mul(net, big.NewInt(most))
	}
	sum.Add(sum, net)
	return true
}

// itemsAcross gives the items of a stock that can be ripped, at the given duals.
func itemsAcross(cert *model.Certificate, b *across.Board, items []int,
	duals []int64) []across.Item {
	held := make([]across.Item, len(items))
	for k, i := range items {
		item := &cert.Items[i]
		held[k] = b.Item(item.Length, item.Width, item.Face, duals[i])
	}
	return held
}

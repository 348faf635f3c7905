package proof

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"math/big"
	"rackwright/model"
	"slices"
)

const (
	unlimited = math.MaxInt64
	maxScale  = 1 << 40
	maxLeaves = 1 << 16 // more are refused rather than left to run for hours
)

// within is how many boards of one stock a leaf allows, where that is not all of [0, supply].
type within struct {
	stock       int
	least, most int64
}

// bound derives the bound of one group from its leaves; items[s] are those that stock s holds.
func (p *proof) bound(group *model.Group, where string, stocks []stock, items [][]int) {
	cert := &group.Certificate
	if len(cert.Leaves) == 0 || len(cert.Leaves) > maxLeaves {
		p.say(where, "has %d leaves; a proof has from 1 to %d", len(cert.Leaves), maxLeaves)
		return
	}
	var least *big.Int
	leaves := make([][]within, len(cert.Leaves))
	before := len(p.found)
	for i := range cert.Leaves {
		where := fmt.Sprintf("%s, leaf %d", where, i)
		leaves[i] = p.leaf(where, cert, i, stocks)
		if list := cert.Leaves[i].List; list != nil {
			p.list(where+", list", cert, list)
			if s := slices.IndexFunc(stocks, func(s stock) bool {
				return s.across != nil
			}); s >= 0 {
				p.say(where, "has a list, but %s, of stock %d, can be ripped; lists are for groups without such boards", p.name(stocks[s].woods[0]), s)
			}
		}
	}
	if len(p.found) > before {
		return
	}
	root := make([]within, len(stocks))
	for s := range stocks {
		root[s] = within{s, 0, stocks[s].supply}
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
		b := roundUp(l.sum, cert.Scale)
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

// leaf reads one leaf, and judges that it makes sense.
func (p *proof) leaf(where string, cert *model.Certificate, i int, stocks []stock) []within {
	l := &cert.Leaves[i]
	if len(l.Duals) != len(cert.Items) {
		p.say(where, "has %d duals for %d items", len(l.Duals), len(cert.Items))
	}
	for _, d := range l.Duals {
		if d < 0 {
			p.say(where, "has a dual below 0: %d", d)
		}
	}
	p.copiesOf(where, cert, l, stocks)
	var out []within
	for _, s := range slices.Sorted(maps.Keys(l.Bounds)) {
		if s < 0 || s >= len(stocks) {
			p.say(where, "bounds stock %d, which is not there", s)
			continue
		}
		b := within{s, l.Bounds[s].Least, stocks[s].supply}
		if l.Bounds[s].Most != nil {
			b.most = *l.Bounds[s].Most
		}
		if b.least < 0 || b.least > b.most || b.most > stocks[s].supply {
			p.say(where, "allows from %d to %d boards of stock %d, of which there are not so many, or none", b.least, b.most, s)
		}
		out = append(out, b)
	}
	return out
}

// copiesOf judges that the limits of copies of a leaf make sense: each once, and at most at the
// item's dual.
func (p *proof) copiesOf(where string, cert *model.Certificate, l *model.CertLeaf, stocks []stock) {
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
			p.say(where, "limits the copies of item %d on stock %d at a dual of %d; it is to be from 1 to %d", c.Item, c.Stock, c.Dual, l.Duals[c.Item])
		}
		seen[[2]int{c.Stock, c.Item}] = true
	}
}

// roundUp is sum / scale in whole money: -floor(-x).
func roundUp(sum *big.Int, scale int64) *big.Int {
	up := new(big.Int).Neg(sum)
	return up.Div(up, big.NewInt(scale)).Neg(up)
}

// reckoned is what one leaf proves by its duals, in 1/10000 x 1/scale, and by stock how many boards
// it allows, the most that one can give, and the blanks that it holds.
type reckoned struct {
	sum         *big.Int
	least, most []int64
	gives       []int64
	held        [][]wanted
}

// leafBound is what one leaf proves by its duals; nil where that is nothing.
func (p *proof) leafBound(where string, cert *model.Certificate, i int, stocks []stock,
	items [][]int,
	bounds []within) *reckoned {
	sum, duals := new(big.Int), cert.Leaves[i].Duals
	n := len(stocks)
	out := &reckoned{sum, make([]int64, n), make([]int64, n), make([]int64, n), make([][]wanted, n)}
	for k, d := range duals {
		sum.Add(sum, new(big.Int).Mul(big.NewInt(d), big.NewInt(cert.Items[k].Demand)))
	}
	kerf := p.job.Settings.CrosscutKerf
	var longest model.Length
	for s := range stocks {
		if stocks[s].across == nil {
			longest = max(longest, stocks[s].to-stocks[s].from)
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
		bar, why := &stocks[s].bar, ""
		back := new(big.Int)
		if bar.across != nil {
			lowered := limited(cert, i, s, back)
			out.gives[s], why = p.most.ripped.of(bar, wantsSawn(cert, bar, items[s], lowered), kerf,
				p.job.Settings.RipKerf, cert.Scale)
		} else {
			out.held[s] = wants(cert, items[s], duals)
			out.gives[s], why = p.most.reckon(bar, out.held[s], kerf, longest, cert.Scale)
		}
		if why != "" {
			p.say(where, "%s on stock %d", why, s)
			return nil
		}
		net := bar.net(out.gives[s], cert.Scale)
		if !addNet(sum, net.Sub(net, back), least, most) {
			p.say(where, "proves nothing: stock %d, of which there is any number, would give more than it costs", s)
			return nil
		}
	}
	return out
}

// limited gives the duals of a leaf less the limits of copies on one stock, and adds to back what
// these give back.
func limited(cert *model.Certificate, leaf, stock int, back *big.Int) []int64 {
	duals := slices.Clone(cert.Leaves[leaf].Duals)
	for _, c := range cert.Leaves[leaf].Copies {
		if c.Stock == stock {
			duals[c.Item] -= c.Dual
			back.Add(back, new(big.Int).Mul(big.NewInt(c.Dual),
				big.NewInt(cert.Items[c.Item].Demand)))
		}
	}
	return duals
}

// wants is the items that a stock holds at the given duals.
func wants(cert *model.Certificate, items []int, duals []int64) []wanted {
	held := make([]wanted, len(items))
	for k, i := range items {
		held[k] = wanted{cert.Items[i].Length, cert.Items[i].Face, duals[i], cert.Items[i].Demand}
	}
	return held
}

// net is what a board costs less what it gives.
func (b *bar) net(gives, scale int64) *big.Int {
	net := new(big.Int).Mul(big.NewInt(int64(b.cost)), big.NewInt(scale))
	return net.Sub(net, big.NewInt(gives))
}

// addNet adds the least that [least, most] boards come to; false where that has no end.
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

// coverWork limits the cover test, which a hostile set of leaves could draw out; a tree of 10,000
// leaves takes some 10^7.
const coverWork = 1 << 30

// covered says whether the leaves cover every point of the cell. A leaf that holds all of it will
// do. Else the cell is cut in two, where a branching tree has its node: between leaves, so that
// none lies on both sides. Where there is no such place, as leaves overlap, it is cut at a face of
// the first. Cutting ends, as a cell only shrinks; work limits it.
func covered(cell []within, leaves [][]within, work *int) bool {
	*work -= len(cell)
	var here [][]within
	cutting := map[int]int{} // how many leaves hold only a part of the cell's range of a stock
	for _, l := range leaves {
		*work -= 1 + len(l)
		apart, whole := false, true
		for _, b := range l {
			c := cell[b.stock]
			apart = apart || b.most < c.least || b.least > c.most
			whole = whole && b.least <= c.least && b.most >= c.most
		}
		if apart {
			continue
		}
		if whole {
			return true
		}
		for _, b := range l {
			if c := cell[b.stock]; b.least > c.least || b.most < c.most {
				cutting[b.stock]++
			}
		}
		here = append(here, l)
	}
	if len(here) == 0 || *work < 0 {
		return false
	}
	stock, after := 0, int64(0)
	found := false
	for _, s := range slices.Sorted(maps.Keys(cutting)) {
		if cutting[s] == len(here) && !found {
			after, found = between(here, s)
			stock = s
		}
	}
	if !found {
		for _, b := range here[0] {
			c := cell[b.stock]
			if b.most < c.most {
				stock, after = b.stock, b.most
				break
			}
			if b.least > c.least {
				stock, after = b.stock, b.least-1
				break
			}
		}
	}
	low, high := slices.Clone(cell), slices.Clone(cell)
	low[stock].most, high[stock].least = after, after+1
	return covered(low, here, work) && covered(high, here, work)
}

// between finds a number of boards of a stock after which no leaf goes on that began before; every
// leaf bounds the stock.
func between(leaves [][]within, stock int) (int64, bool) {
	ranges := make([]within, len(leaves))
	for i, l := range leaves {
		ranges[i] = l[slices.IndexFunc(l, func(b within) bool { return b.stock == stock })]
	}
	slices.SortFunc(ranges, func(a, b within) int { return cmp.Compare(a.least, b.least) })
	most := ranges[0].most
	for _, r := range ranges[1:] {
		if r.least > most {
			return most, true
		}
		most = max(most, r.most)
	}
	return 0, false
}

package model

import (
	"maps"
	"math/big"
	"slices"
)

// A leaf of the certificate may carry a tree. It tells the plans of the leaf apart by f, the number of boards of one stock
// that hold at least the pieces named (any board that is used, where none is named): f <= v - 1 below, f >= v from there on.
// Every plan is in one of the two, so a tree covers by its shape. A leaf of the tree has duals pi >= 0 and for each split
// on its way a sigma, >= 0 where f >= v, <= 0 where f <= v - 1. Plans cheaper than V, the value of the group's own, use
// only the patterns listed (boundlist.go), so by weak duality none of them in that leaf of the tree costs less than
//
//	sum of pi d + sum of sigma v, or sigma (v - 1) below + sum over s of min( least net, most net )
//	net of s = least over the patterns a of its list of scale (cost - w*(a)) - pi a - sigmas of splits of s that a meets
//
// A stock with an empty list adds nothing where least is 0; else the leaf has no plan below V at all. The leaf of the
// certificate proves the least over the leaves of its tree, each rounded up to whole money, and at most V.

const (
	maxDepth = 200     // of a tree
	treeWork = 1 << 30 // steps of lists and looks at a pattern, over all trees of a group
)

// turn is a split on the way to a node, and whether the way goes on from it or below.
type turn struct {
	*CertNode
	from bool
}

// tree judges that a tree makes sense; left is how many leaves it may yet have.
func (p *proof) tree(where string, cert *Certificate, n *CertNode, items [][]int, way []turn, left *int) {
	if *left < 0 {
		return
	}
	if n.Below == nil && n.From == nil {
		*left--
		p.treeLeaf(where, cert, n, way)
		return
	}
	if n.Below == nil || n.From == nil || len(n.Duals)+len(n.Extra) > 0 {
		p.say(where, "a split has two branches and no duals, a leaf duals and no branch")
		return
	}
	if len(way) == maxDepth {
		p.say(where, "is more than %d splits deep", maxDepth)
		return
	}
	if n.Stock < 0 || n.Stock >= len(items) {
		p.say(where, "splits stock %d, which is not there", n.Stock)
		return
	}
	if n.Least < 1 {
		p.say(where, "splits at %d boards; the least is 1", n.Least)
	}
	for _, i := range slices.Sorted(maps.Keys(n.Pieces)) {
		if !slices.Contains(items[n.Stock], i) {
			p.say(where, "splits by item %d, which stock %d does not hold", i, n.Stock)
		} else if n.Pieces[i] < 1 {
			p.say(where, "splits by %d copies of item %d; the least is 1", n.Pieces[i], i)
		}
	}
	way = slices.Clip(way)
	p.tree(where, cert, n.Below, items, append(way, turn{n, false}), left)
	p.tree(where, cert, n.From, items, append(way, turn{n, true}), left)
}

// treeLeaf judges a leaf of a tree.
func (p *proof) treeLeaf(where string, cert *Certificate, n *CertNode, way []turn) {
	if n.Stock != 0 || n.Least != 0 || len(n.Pieces) > 0 {
		p.say(where, "a leaf splits nothing")
	}
	if len(n.Duals) != len(cert.Items) || len(n.Extra) != len(way) {
		p.say(where, "a leaf has %d duals and %d more for %d items and %d splits", len(n.Duals), len(n.Extra), len(cert.Items), len(way))
		return
	}
	for _, d := range n.Duals {
		if d < 0 {
			p.say(where, "has a dual below 0: %d", d)
		}
	}
	for k, sigma := range n.Extra {
		if sigma < 0 && way[k].from || sigma > 0 && !way[k].from {
			p.say(where, "has the dual %d for a split that allows it no such sign", sigma)
		}
	}
}

// treeBound is what a leaf with a tree proves, in whole money; nil where that is nothing.
func (p *proof) treeBound(where string, cert *Certificate, tree *CertNode, stocks []stock, items [][]int, l *reckoned, value Money, work *int) *big.Int {
	slack := new(big.Int).Sub(big.NewInt(int64(value)), big.NewInt(1))
	slack.Mul(slack, big.NewInt(cert.Scale)).Sub(slack, l.sum)
	if slack.Sign() < 0 {
		return big.NewInt(int64(value))
	}
	c := &treeProof{proof: p, where: where, cert: cert, stocks: stocks, items: items, leaf: l, least: big.NewInt(int64(value)), work: work}
	if !c.lists(slack) || !c.walk(tree, nil) {
		return nil
	}
	return c.least
}

// treeProof is a tree over the lists of its leaf.
type treeProof struct {
	*proof
	where  string
	cert   *Certificate
	stocks []stock
	items  [][]int
	leaf   *reckoned
	listed [][]pattern // by stock
	least  *big.Int    // over the leaves of the tree so far
	work   *int
}

// step is a split on the way, and which patterns of its stock meet it.
type step struct {
	turn
	meet []int
}

// lists makes the lists of the leaf. Stocks alike in all that matters share theirs.
func (c *treeProof) lists(slack *big.Int) bool {
	c.listed = make([][]pattern, len(c.stocks))
	needs := make([]*big.Int, len(c.stocks))
	room := maxListed
	for s := range c.stocks {
		bar := &c.stocks[s].bar
		if c.leaf.most[s] == 0 || len(c.items[s]) == 0 {
			continue
		}
		need := big.NewInt(c.leaf.gives[s])
		if net := bar.net(c.leaf.gives[s], c.cert.Scale); c.leaf.least[s] == 0 && net.Sign() > 0 {
			need.Add(need, net)
		}
		needs[s] = need.Sub(need, slack)
		alike := slices.IndexFunc(c.stocks[:s], func(o stock) bool { return o.bar.equal(bar) })
		for ; alike >= 0 && alike < s; alike++ {
			if needs[alike] != nil && needs[alike].Cmp(need) == 0 && c.stocks[alike].equal(bar) && slices.Equal(c.items[alike], c.items[s]) {
				break
			}
		}
		if alike >= 0 && alike < s {
			c.listed[s] = c.listed[alike]
			continue
		}
		found, why := c.lister.list(bar, c.leaf.held[s], c.items[s], c.job.Settings.CrosscutKerf, c.cert.Scale, c.leaf.gives[s], need, room)
		if *c.work -= c.lister.steps + int(c.lister.cells); *c.work < 0 {
			why = "the trees of the group take too long"
		}
		if why != "" {
			c.say(c.where, "the patterns of stock %d cannot be listed: %s", s, why)
			return false
		}
		c.listed[s] = found
		room -= len(found)
	}
	return true
}

// walk goes through the tree and notes what its leaves prove.
func (c *treeProof) walk(n *CertNode, way []step) bool {
	if n.Below == nil {
		return c.treeLeafBound(n, way)
	}
	at := step{turn: turn{n, false}}
	for k, a := range c.listed[n.Stock] {
		if *c.work--; a.meets(n.Pieces) {
			at.meet = append(at.meet, k)
		}
	}
	if !c.walk(n.Below, append(slices.Clip(way), at)) {
		return false
	}
	at.from = true
	return c.walk(n.From, append(slices.Clip(way), at))
}

func (a *pattern) meets(pieces map[int]int64) bool {
	met := 0
	for _, t := range a.takes {
		if least, named := pieces[t.item]; named {
			if t.copies < least {
				return false
			}
			met++
		}
	}
	return met == len(pieces)
}

// treeLeafBound notes what one leaf of the tree proves; false where that is nothing.
func (c *treeProof) treeLeafBound(n *CertNode, way []step) bool {
	sum, size, scale := new(big.Int), new(big.Int), c.cert.Scale
	for i, d := range n.Duals {
		sum.Add(sum, new(big.Int).Mul(big.NewInt(d), big.NewInt(c.cert.Items[i].Demand)))
	}
	for k, sigma := range n.Extra {
		times := big.NewInt(way[k].Least)
		if !way[k].from {
			times.Sub(times, big.NewInt(1))
		}
		sum.Add(sum, times.Mul(times, big.NewInt(sigma)))
		size.Add(size, new(big.Int).Abs(big.NewInt(sigma)))
	}
	for s := range c.stocks {
		bar, list := &c.stocks[s].bar, c.listed[s]
		if len(list) == 0 {
			if c.leaf.least[s] > 0 {
				return true // no plan below V
			}
			continue
		}
		if size.BitLen() > 60 || !bar.fits(wants(c.cert, c.items[s], n.Duals), c.job.Settings.CrosscutKerf, scale) {
			c.say(c.where, "the duals of the tree are too large to reckon with on stock %d", s)
			return false
		}
		net := bar.net(c.gives(s, n, way), scale)
		if *c.work < 0 {
			c.say(c.where, "the trees take too long to judge")
			return false
		}
		if !addNet(sum, net, c.leaf.least[s], c.leaf.most[s]) {
			c.say(c.where, "a leaf of the tree proves nothing: stock %d, of which there is any number, would give more than it costs", s)
			return false
		}
	}
	if up := roundUp(sum, scale); up.Cmp(c.least) < 0 {
		c.least = up
	}
	return true
}

// gives is the most that a pattern of stock s gives at the duals of a leaf of the tree.
func (c *treeProof) gives(s int, n *CertNode, way []step) int64 {
	list := c.listed[s]
	give := make([]int64, len(list))
	*c.work -= len(list)
	for k := range list {
		give[k] = c.cert.Scale * list[k].worth
		for _, t := range list[k].takes {
			give[k] += n.Duals[t.item] * t.copies
		}
	}
	for i := range way {
		if way[i].Stock == s {
			*c.work -= len(way[i].meet)
			for _, k := range way[i].meet {
				give[k] += n.Extra[i]
			}
		}
	}
	return slices.Max(give)
}

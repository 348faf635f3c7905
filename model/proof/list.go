package proof

import (
	"math/big"
	"slices"

	"rackwright/model"
	"rackwright/model/proof/internal/patterns"
)

// A leaf may carry a list with cuts, which proves more than its duals alone:
//
//	V       the target: what the list proves holds for plans cheaper than V
//	L_s     the patterns that a board of stock s can be used for in such a plan, see package along
//	pi      the list's own dual of an item, whole and at least 0
//	tau     the dual of a cut, likewise; cuts.go has the cuts
//	d       the demand of an item
//	a, b    the numbers of a cut
//	w*      the greatest worth that the offcuts of a pattern can have
//
//	excess   = of a pattern:  cost - w* - sum of pi copies - sum of tau a
//	net of s = the least excess over L_s
//	sum      = sum of pi d + sum of tau b + sum over s of min( least net, most net )
//
// By weak duality no plan of the leaf costs less than the lesser of V and sum. A stock whose L_s is
// empty adds nothing where its least is 0; else the leaf has no plan below V.
//
// Before its last duals a list may name others, over the first cuts only, that strike patterns off.
// A plan that uses a pattern costs at least
//
//	sum + excess - net          where net < 0, or the least of its stock is above 0
//	sum + excess                else: a plan without the stock has no net
//
// Where that is V or more, no plan below V uses the pattern. All plans below V are then made of
// what is left, so that later cuts and duals need to hold for that only.
//
// In place of its last duals a list may part the plans below V; listsplit.go says how.

// byList is what a leaf with a list proves whose duals prove less than its target, in ticks; nil
// where that is nothing, which it then says.
func (l *leafProof) byList(list *model.CertList) *big.Int {
	most := big.NewInt(list.Target)
	slack := new(big.Int).Sub(most, big.NewInt(1))
	c := &listProof{leafProof: l, target: most}
	if c.listed = l.lists(l.needs(slack.Sub(slack, l.sum))); c.listed == nil {
		return nil
	}
	for s, patterns := range c.listed {
		if len(patterns) == 0 && l.limits[s].least > 0 {
			return most
		}
	}
	c.begin()
	return c.node(&list.CertListNode, l.where+", list")
}

// listProof is the list of a leaf with its cuts, or a part of it.
type listProof struct {
	*leafProof
	target *big.Int

	listed [][]patterns.Pattern // by stock; a column is a pattern of a stock
	cols   int
	size   int64     // steps to go through all patterns once
	least  []int64   // b by row
	cuts   [][]int32 // a by cut and column, sides of splits among them
	above  int       // how many cuts were made above
	shared bool      // their numbers are those of the part above
	kept   int64     // numbers of cuts that the parts above keep

	// of the cut at hand: U and g(-U) by row, 0 for a row that the cut does not name
	times, spare []int64
	sums, spares []int64 // sum of alpha and of g(-U) a, by column
}

// needs are what patterns of each stock are to reach in a list; slack is T of package along.
func (l *leafProof) needs(slack *big.Int) []*big.Int {
	needs, least := make([]*big.Int, len(l.stocks)), l.leastNets(-1)
	for s := range l.stocks {
		if !l.mayUse(s) {
			continue
		}
		need := l.leastNets(s)
		need.Sub(need, least).Add(need, big.NewInt(l.gives[s]))
		needs[s] = need.Sub(need, slack)
		if above := l.above(s); l.claims(s) && above.Cmp(need) < 0 {
			needs[s] = above // nothing reaches it
		}
	}
	return needs
}

// addUp is the sum that the list proves by duals of the items and of the cuts, and what each
// pattern gives by them; nil where it proves nothing, which it then says.
func (c *listProof) addUp(duals, cutDuals []int64) (*big.Int, [][]int64) {
	sum := c.addCuts(cutDuals)
	if sum == nil {
		return nil, nil
	}
	addDemands(sum, c.cert, duals)
	gives := make([][]int64, len(c.listed))
	from := 0
	for s, list := range c.listed {
		if len(list) == 0 {
			continue
		}
		one := &c.stocks[s].oneBoard
		if !c.fits(s, duals) {
			c.say(c.where, "the duals of the list are too large to reckon with on stock %d", s)
			return nil, nil
		}
		gives[s] = given(list, duals, c.sums[from:])
		from += len(list)
		if !addNet(sum, one.net(slices.Max(gives[s])), c.limits[s]) {
			c.say(c.where, "the list proves nothing: stock %d, of which there is any number, "+
				"would give more than it costs",
				s)
			return nil, nil
		}
	}
	return sum, gives
}

// fits says whether what boards of a stock give at some duals can be reckoned with.
func (c *listProof) fits(s int, duals []int64) bool {
	one, set, u := &c.stocks[s].oneBoard, &c.job.Settings, c.worth.Unit
	if one.across != nil {
		return one.across.Fits(c.itemsAcross(s, duals), set.CrosscutKerf/u, set.RipKerf/u)
	}
	return one.along.Fits(c.itemsAlong(s, duals), set.CrosscutKerf/u)
}

// addCuts is the sum of tau b, with the sums of tau a by column in sums; nil where that is too
// large, which it then says.
func (c *listProof) addCuts(cutDuals []int64) *big.Int {
	sum, size := new(big.Int), new(big.Int)
	for k, d := range cutDuals {
		largest := int64(0)
		for _, a := range c.cuts[k] {
			largest = max(largest, int64(a), -int64(a))
		}
		dual := big.NewInt(d)
		size.Add(size, new(big.Int).Mul(dual, big.NewInt(largest)))
		sum.Add(sum, dual.Mul(dual, big.NewInt(c.least[len(c.times)+k])))
	}
	if size.BitLen() > 61 {
		c.say(c.where, "the duals of the cuts are too large to reckon with")
		return nil
	}
	clear(c.sums)
	for k, d := range cutDuals {
		if d != 0 {
			for j, a := range c.cuts[k] {
				c.sums[j] += d * int64(a)
			}
		}
	}
	return sum
}

// given is what the patterns of a list give; byCuts is what the cuts add to each, nil nothing.
func given(list []patterns.Pattern, duals, byCuts []int64) []int64 {
	give := make([]int64, len(list))
	for k := range list {
		give[k] = list[k].Worth
		if byCuts != nil {
			give[k] += byCuts[k]
		}
		for _, t := range list[k].Takes {
			give[k] += duals[t.Item] * t.Copies
		}
	}
	return give
}

// strike strikes off each pattern that no plan below the target can use; short is what duals lack
// to the target, gives what patterns give by them. It is false where the leaf has no plan below the
// target.
func (c *listProof) strike(short *big.Int, gives [][]int64) bool {
	var kept []int32 // columns
	from := int32(0)
	for s, list := range c.listed {
		if len(list) == 0 {
			continue
		}
		best := slices.Max(gives[s])
		net := c.stocks[s].net(best)
		if net.Sign() < 0 || c.limits[s].least > 0 {
			net.SetInt64(0)
		}
		var left []patterns.Pattern
		for k := range list {
			beyond := big.NewInt(best - gives[s][k])
			if beyond.Add(beyond, net).Cmp(short) < 0 {
				left, kept = append(left, list[k]), append(kept, from+int32(k))
			}
		}
		from += int32(len(list))
		if c.listed[s] = left; len(left) == 0 && c.limits[s].least > 0 {
			return false
		}
	}
	for k, row := range c.cuts {
		to := row
		if c.shared && k < c.above {
			to = make([]int32, len(kept))
		}
		for n, j := range kept {
			to[n] = row[j]
		}
		c.cuts[k] = to[:len(kept)]
	}
	c.shared = false
	c.countColumns()
	return true
}

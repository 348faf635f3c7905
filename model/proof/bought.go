package proof

import (
	"math/big"
	"slices"
)

// How many boards are bought. A split may be about all stocks together of which there is any
// number, so that a leaf has a range for them:
//
//	B         the stocks of which there is any number
//	L, M      at least and at most so many boards of B; M may be without end
//	z_s       boards of stock s, from least_s to most_s
//	net_s     cost - best
//
// What the boards of a plan come to is then no less than
//
//	R = least sum of net_s z_s  over whole z_s within their ranges, with L <= sum over B of z_s <= M
//
// Beyond the least of each stock, those of B whose net is below 0 are taken, the least net first,
// as far as M goes, and others then until L is reached. Where the ranges leave no such z there are
// no plans, and whatever is said of them is true.
//
// A pattern of a stock is of use for a list where it gives enough beside what else a plan needs.
// With R_s for R with one board of s at least,
//
//	need = best + (R_s - R) - T
//
// where package along has best, or best + net. Without a split by boards bought R_s - R is 0 or
// net, as there. A stock of which no board can be used needs no list.
//
// In a list L and M are rows, before all cuts and counted among them, each if it says something:
//
//	row       a_j                            b
//	least     1 for the patterns of B        L, where it is above 0
//	most      -1 for the patterns of B       -M, where it has an end

// isBought says whether there is any number of a stock.
func (t *treeProof) isBought(s int) bool { return t.stocks[s].supply == unlimited }

// asksFor says whether the leaf may ask for boards of a stock.
func (l *leafProof) asksFor(s int) bool {
	return l.limits[s].least > 0 || l.bought.least > 0 && l.isBought(s)
}

// hasEnd says whether there is an end of the boards of a stock that the leaf allows.
func (l *leafProof) hasEnd(s int) bool {
	return l.limits[s].most != unlimited || l.bought.most != unlimited && l.isBought(s)
}

// mayUse says whether the leaf allows a board of a stock.
func (l *leafProof) mayUse(s int) bool {
	at := l.limits[s]
	return at.most > 0 && (at.least > 0 || !l.isBought(s) || l.open() > 0)
}

// open is how many boards may be bought beyond the least of each stock; unlimited: no end.
func (l *leafProof) open() int64 {
	if l.bought.most == unlimited {
		return unlimited
	}
	return max(0, l.bought.most-l.leastBought())
}

// leastBought is how many boards the least of each stock of B asks for; unlimited: that or more.
func (l *leafProof) leastBought() (n int64) {
	for s, at := range l.limits {
		if l.isBought(s) {
			n += min(at.least, unlimited-n)
		}
	}
	return n
}

// leastNets is R, or R_s of a stock s that is not negative and may be used.
func (l *leafProof) leastNets(with int) *big.Int {
	sum, limits := new(big.Int), slices.Clone(l.limits)
	open, owed := l.open(), max(0, l.bought.least-l.leastBought())
	take := func(times int64) {
		if owed = max(0, owed-times); open != unlimited {
			open = max(0, open-times)
		}
	}
	if with >= 0 && limits[with].least == 0 {
		if limits[with].least = 1; l.isBought(with) {
			take(1)
		}
	}
	nets := make([]*big.Int, len(limits))
	var some []int // stocks of B
	add := func(s int, times int64) {
		sum.Add(sum, new(big.Int).Mul(nets[s], big.NewInt(times)))
	}
	for s, at := range limits {
		nets[s] = l.stocks[s].net(l.gives[s])
		switch {
		case at.most == 0:
		case l.isBought(s):
			some = append(some, s)
			add(s, at.least)
		case nets[s].Sign() < 0:
			add(s, at.most)
		default:
			add(s, at.least)
		}
	}
	slices.SortStableFunc(some, func(a, b int) int { return nets[a].Cmp(nets[b]) })
	for _, s := range some {
		times := limits[s].most
		if times != unlimited {
			times -= limits[s].least
		}
		if nets[s].Sign() < 0 {
			times = min(times, open)
		} else {
			times = min(times, owed)
		}
		take(times)
		add(s, times)
	}
	return sum
}

// rowsBought is how many rows of a list the boards bought have within some limits.
func rowsBought(limits []useRange) (n int) {
	bought := limits[len(limits)-1]
	if bought.least > 0 {
		n++
	}
	if bought.most != unlimited {
		n++
	}
	return n
}

// addBought adds these rows.
func (c *listProof) addBought() {
	row := func(of int32, least int64) {
		var out []int32
		for s, list := range c.listed {
			v := int32(0)
			if c.isBought(s) {
				v = of
			}
			for range list {
				out = append(out, v)
			}
		}
		c.cuts, c.least = append(c.cuts, out), append(c.least, least)
	}
	if c.bought.least > 0 {
		row(1, c.bought.least)
	}
	if c.bought.most != unlimited {
		row(-1, -c.bought.most)
	}
	c.above = len(c.cuts)
}

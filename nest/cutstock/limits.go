package cutstock

import (
	"cmp"
	"math"
	"slices"

	"rackwright/nest/cutstock/cuts"
	"rackwright/nest/cutting"
	"rackwright/nest/lp"
)

// Limits of a node. Splits part plans by how many boards of a stock they use, or where boards can
// be ripped by how many they buy in all, of whatever length. The second mostly raises both sides
// more: where less of one length may be bought, another will do for nearly as much. Measured at the
// roots of the fifty groups of the months with rips: the lesser side rises by 0.21 % of the bound
// in the mean, and by 0.08 % where the stock is split of whose use the part that is not whole costs
// most. Neither is always better, so each node tries a few.
//
// What boards come to, at so much for one of each stock (net_s), is the least within the limits:
//
//	least   sum net_s x_s,   least_s <= x_s <= most_s,   L <= sum over bought x_s <= M
//
// Those of least net are bought first: while their net is below 0 and M allows, and until L is
// reached. For a list (list.go) more_s is by how much that rises where a board of s is used.

// AllBought stands for all boards bought, where else a split names a stock.
const AllBought = -1

// limits are how many boards a plan may use. The zero value asks for none.
type limits struct {
	least, most             []int64 // by stock; cutting.Any: no limit
	leastBought, mostBought int64   // of all that are bought
}

// limits are those of a master.
func (m *master) limits() limits {
	if m.bought == nil {
		return limits{m.least, m.most, 0, cutting.Any}
	}
	return limits{m.least, m.most, m.bought.least, m.bought.most}
}

// isBought says whether boards of a stock are bought.
func isBought(p *cutting.Problem, s int) bool { return p.Stocks[s].Supply == cutting.Any }

// buysTwo says whether there are stocks to buy of more than one kind.
func (k *solver) buysTwo() bool {
	kinds := 0
	for s := range k.p.Stocks {
		if isBought(k.p, s) {
			kinds++
		}
	}
	return kinds > 1
}

// asks says whether the limits may ask for boards of a stock.
func (l *limits) asks(p *cutting.Problem, s int) bool {
	return l.least != nil && l.least[s] > 0 || l.leastBought > 0 && isBought(p, s)
}

// end says whether there is an end of how many boards of a stock may be used.
func (l *limits) end(p *cutting.Problem, s int) bool {
	return l.most[s] != cutting.Any || l.mostBought != cutting.Any && isBought(p, s)
}

// add adds what boards come to at least, at so much for one of each stock; of stocks without an end
// one costs nothing or more.
func (l *limits) add(sum *total, p *cutting.Problem, net []int64) {
	var kinds []int // that are bought
	bought := int64(0)
	for s, r := range net {
		switch {
		case isBought(p, s):
			kinds = append(kinds, s)
			bought += l.least[s]
			sum.add(r, l.least[s])
		case r < 0:
			sum.add(r, l.most[s])
		default:
			sum.add(r, l.least[s])
		}
	}
	slices.SortStableFunc(kinds, func(a, b int) int { return cmp.Compare(net[a], net[b]) })
	for _, s := range kinds {
		upTo := l.leastBought
		if net[s] < 0 {
			upTo = l.mostBought
		}
		n := max(0, upTo-bought)
		if upTo == cutting.Any {
			n = cutting.Any
		}
		if room := l.most[s]; room != cutting.Any && (n == cutting.Any || n > room-l.least[s]) {
			n = room - l.least[s]
		}
		bought += n
		sum.add(net[s], n)
	}
}

// more is more_s of a stock; false where none of its boards can be used.
func (l *limits) more(p *cutting.Problem, net []int64, s int) (int64, bool) {
	if l.most[s] == 0 {
		return 0, false
	}
	if l.least[s] > 0 {
		return 0, true
	}
	with := *l
	with.least = slices.Clone(l.least)
	with.least[s] = 1
	bought := int64(0)
	for s, n := range with.least {
		if isBought(p, s) {
			bought += n
		}
	}
	if isBought(p, s) && l.mostBought != cutting.Any && bought > l.mostBought {
		return 0, false
	}
	var a, b total
	with.add(&a, p, net)
	l.add(&b, p, net)
	a.sum.Sub(&a.sum, &b.sum)
	return a.bound(), true
}

// split is what the plans of a node are parted by: how many boards of a stock are used, or are
// bought in all, and how many the relaxation uses.
type split struct {
	stock int // or AllBought
	used  float64
}

// atMost is how many the low side of a split uses at most.
func (s split) atMost() int64 { return int64(math.Floor(s.used)) }

// sides are the masters of a split: of at most so many, and of more.
func (m *master) sides(s split) (low, high *master) {
	atMost := s.atMost()
	low, high = m.clone(), m.clone()
	if s.stock == AllBought {
		low.limitBought(m.bought.least, atMost)
		high.limitBought(atMost+1, m.bought.most)
	} else {
		low.limitStock(s.stock, m.least[s.stock], atMost)
		high.limitStock(s.stock, atMost+1, m.most[s.stock])
	}
	return low, high
}

// toSplit is by what to split a solved node; nil where all uses are whole.
func (k *solver) toSplit(m *master) *split {
	if k.lists {
		if s, z := m.fractionalStock(); s >= 0 {
			return &split{s, z}
		}
		return nil
	}
	some := splitsOf(m)
	if len(some) == 0 {
		return nil
	}
	if m.bought == nil {
		return &some[0]
	}
	best, most := 0, -1.0
	for n := range some {
		if len(some) == 1 {
			break
		}
		low, high := m.sides(some[n])
		if r := k.raised(m, k.goal(), low, high); r > most {
			best, most = n, r
		}
	}
	return &some[best]
}

// mostTried is how many stocks are tried beside all boards bought, those of whose use the part that
// is not whole costs most.
const mostTried = 3

// splitsOf are the stocks whose use in a solved master is not whole, those few where that part
// costs most; then all boards bought, where they have a row together and are not whole either.
func splitsOf(m *master) (some []split) {
	all := split{stock: AllBought}
	for s, z := range m.used() {
		if isBought(m.p, s) {
			all.used += z
		}
		if math.Abs(z-math.Round(z)) > wholeTol {
			some = append(some, split{s, z})
		}
	}
	part := func(s split) float64 { // what the part that is not whole costs
		return math.Abs(s.used-math.Round(s.used)) * float64(m.p.Stocks[s.stock].Cost+1)
	}
	slices.SortStableFunc(some, func(a, b split) int { return cmp.Compare(part(b), part(a)) })
	some = some[:min(len(some), mostTried)]
	if m.bought != nil && math.Abs(all.used-math.Round(all.used)) > wholeTol {
		some = append(some, all)
	}
	return some
}

// raised is the product of how far the sides of a split raise the relaxation towards a goal, over
// the columns that there are.
func (k *solver) raised(m *master, goal int64, low, high *master) float64 {
	room := float64(goal)/m.unit - m.lp.Value()
	product := 1.0
	for _, side := range []*master{low, high} {
		before := side.lp.Work()
		status := k.solve(side.lp)
		k.meter.Add(side.lp.Work() - before)
		gain := room
		if status == lp.Optimal {
			gain = min(room, side.lp.Value()-m.lp.Value())
		}
		product *= max(gain, 1e-6*room)
	}
	return product
}

// rows are those of the boards bought, for a list: at least, then at most.
func (l *limits) rows(p *cutting.Problem) (out []cuts.Side) {
	all := cuts.Sum{Item: cuts.AllItems}
	for s := range p.Stocks {
		if isBought(p, s) {
			all.Stocks = append(all.Stocks, s)
		}
	}
	if l.leastBought > 0 {
		out = append(out, cuts.Side{Sum: all, AtMost: l.leastBought - 1, High: true})
	}
	if l.mostBought != cutting.Any {
		out = append(out, cuts.Side{Sum: all, AtMost: l.mostBought})
	}
	return out
}

// Boards are the limits of a part of a program with wants.
type Boards struct {
	limits
	MaySplit bool // nodes may be split by them
	Split    bool // they are not those of the whole program
	together bool // all boards bought have a row
}

// AllBoards are those of the whole program. Where nodes may be split by boards those bought have a
// row together from the beginning.
func (c *Choosing) AllBoards(maySplit bool) Boards {
	b := Boards{limits: limits{mostBought: cutting.Any}, MaySplit: maySplit,
		together: maySplit && c.k.buysTwo()}
	for s := range c.p.Stocks {
		b.least, b.most = append(b.least, 0), append(b.most, c.p.Stocks[s].Supply)
	}
	return b
}

// Sides are the limits on both sides of a split: of at most so many boards, and of more.
func (b Boards) Sides(stock int, atMost int64) (low, high Boards) {
	b.Split = true
	low, high = b, b
	if stock == AllBought {
		low.mostBought, high.leastBought = atMost, atMost+1
		return low, high
	}
	low.most, high.least = slices.Clone(b.most), slices.Clone(b.least)
	low.most[stock], high.least[stock] = atMost, atMost+1
	return low, high
}

// limitTo sets all limits of a master.
func (m *master) limitTo(l limits) {
	for s := range l.most {
		if m.least[s] != l.least[s] || m.most[s] != l.most[s] {
			m.limitStock(s, l.least[s], l.most[s])
		}
	}
	if m.bought != nil {
		m.limitBought(l.leastBought, l.mostBought)
	}
}

// Part is by what the plans of a program with wants are parted: by how many boards are used, or by
// how often a way is.
type Part struct {
	Stock     int // or AllBought
	Want, Way int // Want -1: by boards
	AtMost    int64
}

// ByBoards are splits of a relaxation by boards: those that are likely to raise it most.
func (r *Relaxed) ByBoards() (out []Part) {
	for _, s := range splitsOf(r.m) {
		out = append(out, Part{Stock: s.stock, Want: -1, AtMost: s.atMost()})
	}
	return out
}

// Best is the part of some that raises both its sides most, over the columns that there are.
func (c *Choosing) Best(r *Relaxed, some []Part, goal int64) Part {
	if len(some) == 1 {
		return some[0]
	}
	best, most := 0, -1.0
	for n, part := range some {
		var low, high *master
		if part.Want < 0 {
			low, high = r.m.sides(split{part.Stock, float64(part.AtMost)})
		} else {
			low, high = r.m.clone(), r.m.clone()
			col := r.m.wants.ways[part.Want][part.Way]
			lo, hi := r.m.wholeBounds(col)
			low.lp.SetColumn(col, lo, float64(part.AtMost))
			high.lp.SetColumn(col, float64(part.AtMost+1), hi)
		}
		if v := c.k.raised(r.m, goal, low, high); v > most {
			best, most = n, v
		}
	}
	return some[best]
}

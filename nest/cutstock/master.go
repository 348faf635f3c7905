package cutstock

import (
	"maps"
	"math"
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/lp"
)

// column is a pattern with its counts, as the master sees it.
type column struct {
	cutting.Pattern
	cost       int64
	items      []int // distinct, ascending
	counts     []int64
	bits       uint64 // of its items, by number modulo 64
	cuts, rips int64  // how many cuts, how long the rips; of a stock with Across
}

// key tells columns apart: two of one stock with the same counts differ in worth only.
func (c *column) key() string {
	b := make([]byte, 0, 8+4*len(c.items))
	put := func(v int64) {
		for ; v >= 128; v >>= 7 {
			b = append(b, byte(v)|128)
		}
		b = append(b, byte(v))
	}
	put(int64(c.Stock))
	for n, i := range c.items {
		put(int64(i))
		put(c.counts[n])
	}
	put(c.Worth)
	return string(b)
}

// newColumn makes one of a pattern whose worth need not be known yet.
func newColumn(p *cutting.Problem, t cutting.Pattern) *column {
	t.Worth = p.Worth(&t)
	c := &column{Pattern: t, cost: p.Cost(&t)}
	c.items, c.counts = cutting.Tally(t.Places)
	for _, i := range c.items {
		c.bits |= 1 << (i % 64)
	}
	if p.Stocks[t.Stock].Rippable() {
		c.cuts, c.rips = p.Cuts(&t)
	}
	return c
}

// master is the linear program over the columns found so far: a row for each item, then one for
// each stock; a column for each item that leaves it unmet, then the columns of the pool in their
// order.
type master struct {
	p      *cutting.Problem
	pool   *pool
	lp     *lp.Problem
	costs  // of the problem
	demand []int64
	least  []int64            // of each stock, by branching
	most   []int64            // Any: no limit
	added  int                // columns of the pool that the program holds
	place  []int              // of these, in the program
	times  map[int][2]float64 // limits of single columns, by branching
	strict bool               // only columns that could be used once whole
	within bool               // columns keep to the demands, and the pricing is exact
	wants  *wanting           // how what is made of pieces comes about; nil: there is no such thing
	// of a program of very many items; nil: each item has a row of its own
	surface *surface
	bought  *bought // nil: all boards bought have no row together
}

// bought is the row of all boards bought together, those of stocks of any number, and its limits.
type bought struct {
	row         int
	least, most int64 // Any: no limit
}

// pool holds every column found, each once, laid out as the ties ask for.
type pool struct {
	cols []*column
	seen map[string]*column
}

// add takes a column, and says whether there was none of its key.
func (l *pool) add(c *column) bool {
	k := c.key()
	if had := l.seen[k]; had != nil {
		if c.rips < had.rips || c.rips == had.rips && c.cuts < had.cuts {
			had.Pattern, had.rips, had.cuts = c.Pattern, c.rips, c.cuts
		}
		return false
	}
	l.seen[k] = c
	l.cols = append(l.cols, c)
	return true
}

// newMaster makes the program over the columns of a pool, not yet solved: no limits but the
// supplies.
func newMaster(p *cutting.Problem, c costs, l *pool) *master {
	return newMasterOf(p, c, l, false)
}

// newMasterOf makes one in which all boards bought may have a row together.
func newMasterOf(p *cutting.Problem, c costs, l *pool, together bool) *master {
	m := &master{p: p, pool: l, lp: lp.New(), costs: c}
	for i := range p.Items {
		m.demand = append(m.demand, p.Items[i].Demand)
		m.lp.AddRow(float64(p.Items[i].Demand), math.Inf(1))
	}
	m.addStocks()
	if together {
		m.bought = &bought{m.lp.AddRow(0, math.Inf(1)), 0, cutting.Any}
	}
	for i := range p.Items {
		m.lp.AddColumn(float64(c.unmet[i])/m.unit, 0, math.Inf(1), []int{i}, []float64{1})
	}
	m.sync()
	return m
}

// addStocks adds the row of each stock, with no limit but its supply.
func (m *master) addStocks() {
	for s := range m.p.Stocks {
		m.least, m.most = append(m.least, 0), append(m.most, m.p.Stocks[s].Supply)
		m.lp.AddRow(0, upper(m.p.Stocks[s].Supply))
	}
}

// stockRow is the row of a stock.
func (m *master) stockRow(s int) int {
	if m.surface != nil {
		return m.surface.knots + s
	}
	return len(m.p.Items) + s
}

func upper(n int64) float64 {
	if n == cutting.Any {
		return math.Inf(1)
	}
	return float64(n)
}

// sync takes the new columns of the pool into the program.
func (m *master) sync() {
	for ; m.added < len(m.pool.cols); m.added++ {
		c := m.pool.cols[m.added]
		rows, coefs := make([]int, 0, len(c.items)+1), make([]float64, 0, len(c.items)+1)
		if m.surface != nil {
			rows, coefs = m.surface.row(c)
		} else {
			for n, i := range c.items {
				rows, coefs = append(rows, i), append(coefs, float64(c.counts[n]))
			}
		}
		rows, coefs = append(rows, m.stockRow(c.Stock)), append(coefs, 1)
		if m.bought != nil && m.p.Stocks[c.Stock].Supply == cutting.Any {
			rows, coefs = append(rows, m.bought.row), append(coefs, 1)
		}
		j := m.lp.AddColumn(float64(c.cost)/m.unit, 0, math.Inf(1), rows, coefs)
		m.place = append(m.place, j)
		if m.strict && !m.proper(c) {
			m.lp.SetColumn(j, 0, 0)
		}
	}
}

// proper says whether the column could be used once whole within what is left.
func (m *master) proper(c *column) bool {
	if m.most[c.Stock] == 0 {
		return false
	}
	for n, i := range c.items {
		if c.counts[n] > m.demand[i] {
			return false
		}
	}
	return true
}

// eachProper gives those of some columns that could be used once whole within what is left.
func (m *master) eachProper(cols []*column, do func(c *column)) {
	var wanted uint64
	for i, n := range m.demand {
		if n > 0 {
			wanted |= 1 << (i % 64)
		}
	}
	for _, c := range cols {
		if c.bits&^wanted == 0 && m.proper(c) {
			do(c)
		}
	}
}

// index of a pool column in the program.
func (m *master) index(j int) int { return m.place[j] }

func (m *master) x(j int) float64 { return m.lp.X(m.index(j)) }

// fix takes a column into the plan that many times: demand and supply shrink.
func (m *master) fix(c *column, times int64) {
	for n, i := range c.items {
		m.demand[i] -= c.counts[n] * times
		m.lp.SetRow(i, float64(m.demand[i]-m.wants.beside(i)), math.Inf(1))
	}
	if m.most[c.Stock] != cutting.Any {
		m.most[c.Stock] -= times
	}
	m.least[c.Stock] = max(0, m.least[c.Stock]-times)
	m.lp.SetRow(m.stockRow(c.Stock), float64(m.least[c.Stock]), upper(m.most[c.Stock]))
	if b := m.bought; b != nil && m.p.Stocks[c.Stock].Supply == cutting.Any {
		most := b.most
		if most != cutting.Any {
			most -= times
		}
		m.limitBought(max(0, b.least-times), most)
	}
}

// purge takes out, for good, the columns that are not proper.
func (m *master) purge() {
	m.strict = true
	for j, c := range m.pool.cols[:m.added] {
		if !m.proper(c) {
			m.lp.SetColumn(m.index(j), 0, 0)
		}
	}
}

// limitStock sets how many of a stock may be used.
func (m *master) limitStock(s int, least, most int64) {
	m.least[s], m.most[s] = least, most
	m.lp.SetRow(m.stockRow(s), float64(least), upper(most))
}

// limitBought sets how many boards may be bought.
func (m *master) limitBought(least, most int64) {
	m.bought = &bought{m.bought.row, least, most}
	m.lp.SetRow(m.bought.row, float64(least), upper(most))
}

// stockDual is what a use of a stock is worth by the limits of its uses.
func (m *master) stockDual(s int) float64 {
	d := m.lp.Dual(m.stockRow(s))
	if m.bought != nil && m.p.Stocks[s].Supply == cutting.Any {
		d += m.lp.Dual(m.bought.row)
	}
	return d * m.unit
}

// limitColumn limits how often column j of the pool may be used.
func (m *master) limitColumn(j int, least, most float64) {
	if m.times == nil {
		m.times = map[int][2]float64{}
	}
	m.times[j] = [2]float64{least, most}
	m.lp.SetColumn(m.index(j), least, most)
}

func (m *master) clone() *master {
	c := *m
	c.lp = m.lp.Clone()
	c.demand = append([]int64(nil), m.demand...)
	c.least = append([]int64(nil), m.least...)
	c.most = append([]int64(nil), m.most...)
	c.times = maps.Clone(m.times)
	c.place = slices.Clone(m.place)
	c.wants = m.wants.clone()
	return &c
}

// costs are what the linear programs of one problem reckon with.
type costs struct {
	unit  float64 // parts in one unit of a program, so that the dearest use of a stock costs 100
	unmet []int64 // by item, what leaving one piece unmet costs
}

// costsOf gives those of a problem. What leaving a piece unmet costs goes by its length (pieces
// over ten times the shortest count alike), and is far above any real price.
func costsOf(p *cutting.Problem) costs {
	const times = 64
	dearest := dearestOf(p)
	c := costs{unit: max(1, float64(dearest)/100)}
	for i := range p.Items {
		shortest := p.Items[i].Size
		for n := range p.Items {
			shortest = min(shortest, p.Items[n].Size)
		}
		c.unmet = append(c.unmet, int64(times*float64(dearest+1)*
			float64(min(10*shortest, p.Items[i].Size))/float64(shortest)))
	}
	return c
}

// dearestOf is what one more piece costs at most: the dearest stock with the rips that a piece may
// need, one at either side and one that trims it, each as long as the stock.
func dearestOf(p *cutting.Problem) int64 {
	var c int64
	for n := range p.Stocks {
		s := &p.Stocks[n]
		cost := s.Cost
		if s.Rippable() {
			cost += 3 * p.RipCost * (s.To - s.From)
		}
		c = max(c, cost)
	}
	return c
}

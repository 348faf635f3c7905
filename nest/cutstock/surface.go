package cutstock

import (
	"cmp"
	"math"
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/lp"
)

// The relaxation with duals on a surface. With very many items, hardly two alike, a master of a row
// each takes long to solve, and its duals jump while it has few columns. But an item is worth about
// what one a little longer and a little wider is. So its dual is
//
//	pi_i = a_i x sum over knots g of  share_ig theta_g
//
// where a_i is its dual by area (gridbound.go), and theta a surface over length and width, linear
// in both between knots. The master then has a row for each knot,
//
//	sum over patterns p of  sum over i of a_i share_ig n_ip  x_p  >=  sum over i of a_i share_ig d_i,
//
// n_ip being the copies of item i in p: a sum of the rows that it had for the items. Its value is
// no more, and any duals prove a bound. Few knots come first: their columns are there for the
// others.

const (
	// veryMany is of how many items a program is whose duals lie on a surface, mostOnSurfaces of how
	// many at most: with more the work ends before the stocks with spots are priced once.
	veryMany, mostOnSurfaces = 512, 1024
	// coarseKnots and fineKnots are how many knots a surface has each way, first and then.
	coarseKnots, fineKnots = 2, 8
)

// surface gives the duals of items by those of knots.
type surface struct {
	knots int
	parts [][]part // by item
}

// part is what a knot counts for in an item.
type part struct {
	knot  int
	share float64
}

// onSurfaces solves the relaxation with duals on surfaces.
func (k *solver) onSurfaces() {
	for _, each := range []int{coarseKnots, fineKnots} {
		if !k.over() {
			k.generate(newMasterOn(newSurface(k.p, each), k.p, k.costs, &k.pool))
		}
	}
}

// newSurface makes one of so many knots each way.
func newSurface(p *cutting.Problem, each int) *surface {
	var lengths, widths []int64
	for i := range p.Items {
		lengths, widths = append(lengths, p.Items[i].Size), append(widths, p.Items[i].Width)
	}
	lengths, widths = spread(lengths, each), spread(widths, each)
	area, most := areaDuals(p), int64(1)
	for _, a := range area {
		most = max(most, a)
	}
	s, number := &surface{parts: make([][]part, len(p.Items))}, map[[2]int]int{}
	for i := range p.Items {
		for _, along := range between(lengths, p.Items[i].Size) {
			for _, across := range between(widths, p.Items[i].Width) {
				at := [2]int{along.knot, across.knot}
				if _, ok := number[at]; !ok {
					number[at] = len(number)
				}
				share := along.share * across.share * float64(area[i]) / float64(most)
				s.parts[i] = append(s.parts[i], part{number[at], share})
			}
		}
	}
	s.knots = len(number)
	return s
}

// spread gives at most so many of some values, ascending: the least, the greatest, and between them
// those at equal distances in their order.
func spread(values []int64, most int) (out []int64) {
	slices.Sort(values)
	for n := range most {
		out = append(out, values[n*(len(values)-1)/(most-1)])
	}
	return slices.Compact(out)
}

// between gives the one or two knots about a value, with their shares, which come to 1.
func between(knots []int64, x int64) []part {
	n, _ := slices.BinarySearch(knots, x)
	if knots[n] == x {
		return []part{{n, 1}}
	}
	f := float64(x-knots[n-1]) / float64(knots[n]-knots[n-1])
	return []part{{n - 1, 1 - f}, {n, f}}
}

// row gives the rows of the knots that a column has, and its coefficients.
func (s *surface) row(c *column) (rows []int, coefs []float64) {
	sums := map[int]float64{}
	for n, i := range c.items {
		for _, t := range s.parts[i] {
			sums[t.knot] += t.share * float64(c.counts[n])
		}
	}
	for knot := range sums {
		rows = append(rows, knot)
	}
	slices.SortFunc(rows, cmp.Compare[int])
	for _, knot := range rows {
		coefs = append(coefs, sums[knot])
	}
	return rows, coefs
}

// newMasterOn makes the master of a surface over the columns of a pool, not yet solved. Nothing can
// be fixed in it.
func newMasterOn(s *surface, p *cutting.Problem, c costs, l *pool) *master {
	m := &master{p: p, pool: l, lp: lp.New(), costs: c, surface: s}
	demand, unmet := make([]float64, s.knots), make([]float64, s.knots)
	for i := range p.Items {
		m.demand = append(m.demand, p.Items[i].Demand)
		for _, t := range s.parts[i] {
			demand[t.knot] += t.share * float64(p.Items[i].Demand)
			unmet[t.knot] = max(unmet[t.knot], float64(c.unmet[i])/m.unit)
		}
	}
	for _, d := range demand {
		m.lp.AddRow(d, math.Inf(1))
	}
	m.addStocks()
	for knot, cost := range unmet {
		m.lp.AddColumn(cost, 0, math.Inf(1), []int{knot}, []float64{1})
	}
	m.sync()
	return m
}

// readDuals reads the duals of the items off a solved master.
func (m *master) readDuals(out []float64) {
	for i := range out {
		if m.surface == nil {
			out[i] = m.lp.Dual(i)
			continue
		}
		out[i] = 0
		for _, t := range m.surface.parts[i] {
			out[i] += t.share * m.lp.Dual(t.knot)
		}
	}
}

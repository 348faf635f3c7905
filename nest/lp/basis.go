package lp

import "math"

// The basis: its factors, and x and d computed from them. With y = B^-T c_B the reduced costs are
// d_j = c_j - y a_j. An activity s_i has the column -e_i, so its d is y_i, which is Dual(i).

// restore takes the true bounds and costs, and computes x and d; with fresh factors if the old ones
// do not fit. What a Solve that ended as Optimal has left is taken over.
func (p *Problem) restore() {
	copy(p.workLo, p.lo)
	copy(p.workHi, p.hi)
	copy(p.workCost, p.cost)
	if !p.priced || p.boundsMoved {
		for v := range p.lo {
			p.settle(int32(v))
		}
	}
	p.boundsMoved = false
	p.work += int64(len(p.lo))
	if p.factored && p.factor.updates() <= maxUpdates/2 {
		p.computeX()
		if p.priced || p.computeD() <= residualTol && p.residual() <= residualTol {
			return
		}
	}
	p.refactor()
}

// refactor factorises the basis and computes x and d. It reports whether the basis had to be
// repaired.
func (p *Problem) refactor() (repaired bool) {
	p.factor.start(p.m)
	for k, v := range p.head {
		col := &p.factor.space.cols[k]
		if int(v) < p.m {
			*col = append(*col, entry{v, -1})
		} else {
			*col = append(*col, p.column(int(v)-p.m)...)
		}
	}
	rowOf := p.factor.factorise()
	old := append([]int32(nil), p.head...)
	for i := range p.head {
		p.head[i] = -1
	}
	for k, r := range rowOf {
		if r >= 0 {
			p.head[r], p.place[old[k]] = old[k], r
		} else {
			repaired, p.steep = true, false
			p.place[old[k]] = -1
			p.settle(old[k])
		}
	}
	for i, v := range p.head {
		if v < 0 {
			p.head[i], p.place[i], p.way[i] = int32(i), int32(i), 0
		}
	}
	p.factored = true
	p.computeX()
	p.computeD()
	return repaired
}

// addColumnTo adds f times the column of variable v to x, by rows.
func (p *Problem) addColumnTo(x []float64, v int32, f float64) {
	if int(v) < p.m {
		x[v] -= f
		return
	}
	col := p.column(int(v) - p.m)
	for _, e := range col {
		x[e.at] += f * e.val
	}
	p.work += int64(len(col))
}

// computeX computes the basic variables from the others.
func (p *Problem) computeX() {
	b := p.scratch
	clear(b)
	for v, x := range p.x {
		if x != 0 && p.place[v] < 0 {
			p.addColumnTo(b, int32(v), -x)
		}
	}
	p.factor.solve(b)
	for i, v := range p.head {
		p.x[v] = b[i]
	}
	p.work += int64(len(p.x))
}

// computeD computes the reduced costs of all variables that may move, from the working costs. It
// returns how far those of basic variables were from zero before it made them so, relative to the
// numbers in them.
func (p *Problem) computeD() float64 {
	y, most := p.scratch, 0.0
	for i, v := range p.head {
		y[i] = p.workCost[v]
	}
	p.factor.solveTransposed(y)
	for i, v := range y {
		p.d[i] = p.workCost[i] + v
		most = max(most, math.Abs(v))
	}
	for j, w := range p.way[p.m:] {
		if w == 0 {
			continue
		}
		c := p.workCost[p.m+j]
		col := p.column(j)
		s := less(c, col, y)
		// Only where the sum may be noise it is looked at closely.
		if math.Abs(s) <= noise*(math.Abs(c)+most*p.largest*float64(len(col))) &&
			math.Abs(s) <= noise*terms(c, col, y) {
			s = 0
		}
		p.d[p.m+j] = s
		p.work += int64(len(col))
	}
	worst, scale := 0.0, p.costScale()
	for _, v := range p.head {
		size, d := math.Abs(p.workCost[v]), p.d[v]
		if int(v) >= p.m {
			col := p.column(int(v) - p.m)
			d = less(p.workCost[v], col, y)
			size = terms(size, col, y)
		}
		worst = math.Max(worst, math.Abs(d)/(scale+size))
		p.d[v] = 0
	}
	p.work += int64(2*p.m + p.n)
	return worst
}

// less takes from c the sum of col times y.
func less(c float64, col []entry, y []float64) float64 {
	for _, e := range col {
		c -= e.val * y[e.at]
	}
	return c
}

// terms adds up the magnitudes of c and of the terms of col times y.
func terms(c float64, col []entry, y []float64) float64 {
	size := math.Abs(c)
	for _, e := range col {
		size += math.Abs(e.val * y[e.at])
	}
	return size
}

// residual tells how badly the equations hold, relative to the numbers in them.
func (p *Problem) residual() float64 {
	sums, sizes := p.scratch, p.tau
	for i, x := range p.x[:p.m] {
		sums[i], sizes[i] = -x, 1+math.Abs(x)
	}
	for j, x := range p.x[p.m:] {
		if x != 0 {
			col := p.column(j)
			for _, e := range col {
				t := e.val * x
				sums[e.at] += t
				sizes[e.at] += math.Abs(t)
			}
			p.work += int64(len(col))
		}
	}
	worst := 0.0
	for i, sum := range sums {
		worst = max(worst, math.Abs(sum)/sizes[i])
	}
	p.work += int64(p.m + p.n)
	return worst
}

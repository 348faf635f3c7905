package lp

import "math"

// Scaling. Coefficients far from 1 make tolerances meaningless. So a row or column is scaled where
// its coefficients are not all within [1/scaleFair, scaleFair]. It is multiplied by a power of two:
// the one that brings the geometric mean of its smallest and largest next to 1 (Fulkerson & Wolfe
// 1962; Curtis & Reid 1972, from memory). Powers of two lose no bits. Programs of fair size, such
// as patterns with small counts, stay as they are. With a'_ij = r_i a_ij s_j:
//
//	x'_j = x_j / s_j    c'_j = c_j s_j    activity'_i = r_i activity_i    dual'_i = dual_i / r_i
//
// Everything inside is scaled; the exported methods convert. Rows get their scale at the first
// Solve, from the columns there are; later columns get one of their own.

const (
	scaleFair   = 16
	scaleRounds = 4 // rows and columns in turn; more changes little
)

// span is the smallest and largest magnitude of some coefficients.
type span struct{ least, most float64 }

func (s *span) add(v float64) {
	v = math.Abs(v)
	if s.most == 0 {
		s.least, s.most = v, v
	} else {
		s.least, s.most = math.Min(s.least, v), math.Max(s.most, v)
	}
}

// scale is the power of two to multiply by.
func (s *span) scale() float64 {
	if s.most == 0 || s.most <= scaleFair && s.least >= 1./scaleFair {
		return 1
	}
	_, a := math.Frexp(s.least)
	_, b := math.Frexp(s.most)
	return math.Ldexp(1, -(a+b)/2)
}

// scaleAll scales the whole program, at the first Solve.
func (p *Problem) scaleAll() {
	for range scaleRounds {
		changed := false
		for i, row := range p.rows {
			var s span
			for _, e := range row {
				s.add(e.val * p.rowScale[i] * p.colScale[e.at])
			}
			f := s.scale()
			p.rowScale[i] *= f
			changed = changed || f != 1
		}
		for j := range p.n {
			var s span
			for _, e := range p.column(j) {
				s.add(e.val * p.rowScale[e.at] * p.colScale[j])
			}
			f := s.scale()
			p.colScale[j] *= f
			changed = changed || f != 1
		}
		p.work += int64(2 * len(p.cells))
		if !changed {
			break
		}
	}
	// Fresh slices: a clone may share the old ones.
	cells := make([]entry, len(p.cells))
	for j := range p.n {
		for c := p.start[j]; c < p.start[j+1]; c++ {
			e := p.cells[c]
			cells[c] = entry{e.at, e.val * p.rowScale[e.at] * p.colScale[j]}
		}
		v := p.m + j
		p.lo[v], p.hi[v] = p.lo[v]/p.colScale[j], p.hi[v]/p.colScale[j]
		p.scaleCost(v, p.cost[v]*p.colScale[j])
	}
	p.cells, p.largest = cells, 0
	for _, e := range cells {
		p.largest = max(p.largest, math.Abs(e.val))
	}
	for i, row := range p.rows {
		scaled := make([]entry, len(row))
		for k, e := range row {
			scaled[k] = entry{e.at, e.val * p.rowScale[i] * p.colScale[e.at]}
		}
		p.rows[i] = scaled
		p.lo[i], p.hi[i] = p.lo[i]*p.rowScale[i], p.hi[i]*p.rowScale[i]
	}
}

// scaleNewest scales column j, just added after the first Solve, whose cells are scaled by rows
// already.
func (p *Problem) scaleNewest(j int) {
	var s span
	for _, e := range p.column(j) {
		s.add(e.val)
	}
	f := s.scale()
	if f == 1 {
		return
	}
	p.colScale[j] = f
	for c := p.start[j]; c < p.start[j+1]; c++ {
		p.cells[c].val *= f
		p.largest = max(p.largest, math.Abs(p.cells[c].val))
		row := p.rows[p.cells[c].at]
		row[len(row)-1].val *= f
	}
}

// scaleCost sets the scaled cost of variable v and keeps the books for costScale.
func (p *Problem) scaleCost(v int, cost float64) {
	count := func(c float64, by int) {
		if c != 0 {
			_, exponent := math.Frexp(c)
			p.costExponents += by * exponent
			p.costsNonzero += by
		}
	}
	count(p.cost[v], -1)
	p.cost[v] = cost
	count(cost, 1)
}

package lp

import "math"

// Dual simplex.
//
// Leaving: largest e_r^2 / w_r, e how far x_r is outside its bounds, w dual devex weights.
//
// Entering: the row of r is signed so that a variable which helps has a > 0 at its lower bound and
// a < 0 at its upper one. Then reduced costs keep their signs up to the step min |d| / |a|. Past
// such a breakpoint a boxed variable may change bound instead, as long as x_r then stays outside
// its bound (bound flips; Fourer, Maros, from memory). Breakpoints are taken in groups that
// Harris's tolerance cannot tell apart. The largest |a| of the last group enters. Costs are shifted
// where signs within the tolerance come out wrong. When many steps in a row are of length nought,
// all nonbasic costs are shifted by small different amounts that keep the signs.

const (
	// how much costs are shifted against degeneracy, relative to costScale + |cost|
	costsOut = 1e-6
	// a wider box is left at its bound, and its cost shifted, while signs are made right
	largestBox = 1e5
	// an earlier group enters if the last has only pivots below this share of the largest
	fairPivot = 0.1
)

type candidate struct {
	v       int32
	size, d float64 // |a| and |d| (below 0 if the sign is wrong)
}

// dual works until every basic variable is within its bounds.
func (p *Problem) dual() outcome {
	p.makeSignsRight()
	for v := range p.dualWeight {
		p.dualWeight[v] = 1
	}
	tol := optTol * p.costScale() * slackShare
	still := 0
	for {
		if p.tooMany() {
			return limit
		}
		if p.factor.overgrown() && p.refactor() {
			return again
		}
		r, excess := p.worstBasic()
		if r < 0 {
			return done
		}
		p.leaveRow(r)
		q, flips := p.dualRatio(r, excess, tol, pivotTol)
		if q < 0 && p.factor.updates() == 0 {
			q, flips = p.dualRatio(r, excess, tol, lastPivot)
		}
		if q < 0 {
			if p.factor.updates() == 0 {
				if p.contradictory() {
					return proven
				}
				return doubt
			}
			if p.refactor() {
				return again
			}
			continue
		}
		p.enterColumn(q)
		if !p.trusted(q, r) {
			if p.refactor() {
				return again
			}
			continue
		}
		step := math.Abs(p.d[q])
		p.flipAll(flips, q)
		p.dualUpdate(q, r, excess > 0)
		if step > tol {
			still = 0
		} else if still++; still > degenerateRun && !p.calm {
			p.letCostsOut()
			still = -degenerateRun * 10
		}
	}
}

// makeSignsRight flips boxed variables and shifts other costs where d has a wrong sign.
func (p *Problem) makeSignsRight() {
	flipped := false
	for i, w := range p.way {
		v := int32(i)
		if w == 0 || !wrong(w, p.d[v], 0) {
			continue
		}
		if w != up|down && p.workHi[v]-p.workLo[v] <= largestBox {
			p.flipBound(v)
			flipped = true
			continue
		}
		p.shift(v, -p.d[v])
	}
	p.work += int64(len(p.way))
	if flipped {
		p.computeX()
	}
}

// flipBound moves v to its other bound, basic variables left alone, and returns by how much.
func (p *Problem) flipBound(v int32) float64 {
	from := p.x[v]
	if p.way[v] ^= up | down; p.way[v] == down {
		p.x[v] = p.workHi[v]
	} else {
		p.x[v] = p.workLo[v]
	}
	return p.x[v] - from
}

// shift changes the working cost of a nonbasic variable.
func (p *Problem) shift(v int32, by float64) {
	p.workCost[v] += by
	p.d[v] += by
}

// worstBasic chooses the leaving position, or -1, and how far it is outside its bounds.
func (p *Problem) worstBasic() (r int32, excess float64) {
	r = -1
	best := 0.0
	p.work += int64(p.m)
	for i, v := range p.head {
		e := p.excess(v)
		if e == 0 {
			continue
		}
		if p.bland {
			if r < 0 || v < p.head[r] {
				r, excess = int32(i), e
			}
		} else if merit := e * e; merit > best*p.dualWeight[v] {
			r, excess, best = int32(i), e, merit/p.dualWeight[v]
		}
	}
	return r, excess
}

// dualRatio chooses the entering variable, or -1, among those with |a| above least, and the boxed
// variables that change bound.
func (p *Problem) dualRatio(r int32, excess, tol, least float64) (q int32, flips []candidate) {
	c := p.candidates[:0]
	for _, v := range p.rowAt {
		a, w := p.row[v], p.way[v]
		if excess < 0 {
			a = -a
		}
		if a > least && w&up != 0 {
			c = append(c, candidate{v, a, p.d[v]})
		} else if a < -least && w&down != 0 {
			c = append(c, candidate{v, -a, -p.d[v]})
		}
	}
	p.candidates = c
	p.work += int64(len(p.rowAt))
	if p.bland {
		return firstCandidate(c), nil
	}
	slope := math.Abs(excess)
	largest := 0.0
	chosen, chosenFrom := -1, 0
	for from := 0; from < len(c); {
		to, best := nearest(c, from, tol)
		p.work += int64(2 * (len(c) - from))
		largest = max(largest, c[best].size)
		if chosen < 0 || c[best].size >= fairPivot*min(largest, 1) {
			chosen, chosenFrom = best, from
		}
		for _, k := range c[from:to] {
			slope -= k.size * (p.workHi[k.v] - p.workLo[k.v])
		}
		if slope < 0 {
			break
		}
		from = to
	}
	if chosen < 0 || slope > p.allowed(p.x[p.head[r]]) {
		return -1, nil // even all flips together leave x_r outside
	}
	return c[chosen].v, c[:chosenFrom]
}

// nearest moves the group of candidates with the nearest breakpoints to the front of c[from:]; it
// returns its end and the place of its largest pivot.
func nearest(c []candidate, from int, tol float64) (to, best int) {
	reach := math.Inf(1)
	for _, k := range c[from:] {
		if t := (max(k.d, 0) + tol) / k.size; t < reach {
			reach = t
		}
	}
	to, best = from, from
	for k := from; k < len(c); k++ {
		if c[k].d/c[k].size <= reach {
			c[to], c[k] = c[k], c[to]
			if c[to].size > c[best].size {
				best = to
			}
			to++
		}
	}
	return to, best
}

// firstCandidate is the choice by Bland's rule: exactly the nearest, lowest number first.
func firstCandidate(c []candidate) int32 {
	q, least := int32(-1), math.Inf(1)
	for _, k := range c {
		if t := max(k.d, 0) / k.size; q < 0 || t < least || t == least && k.v < q {
			q, least = k.v, t
		}
	}
	return q
}

// contradictory tells whether the rows, added up with the factors rho, contradict the bounds
// (Farkas). With w = rho (A, -I) the sum of w_v x_v over v must be 0, but it is past zero wherever
// in its bounds each variable is.
func (p *Problem) contradictory() bool {
	least, most, size := 0.0, 0.0, 0.0
	for v := range p.lo {
		w, terms := 0.0, 0.0
		if v < p.m {
			w = -p.rho[v]
			terms = -w
		} else {
			for _, e := range p.column(v - p.m) {
				w += e.val * p.rho[e.at]
				terms += math.Abs(e.val * p.rho[e.at])
			}
		}
		if math.Abs(w) <= max(proofTol*math.Abs(terms), lastPivot) {
			w = 0
		}
		from, to := w*p.lo[v], w*p.hi[v]
		if w < 0 {
			from, to = to, from
		} else if w == 0 {
			continue
		}
		least, most = least+from, most+to
		size += min(math.Abs(from), math.Abs(to))
	}
	p.work += int64(p.m + len(p.cells))
	return least > proofTol*(1+size) || most < -proofTol*(1+size)
}

// flipAll moves the given variables to their other bounds, and the basic variables with them; alpha
// stays as it is.
func (p *Problem) flipAll(flips []candidate, q int32) {
	if len(flips) == 0 {
		return
	}
	b := p.scratch
	clear(b)
	for _, k := range flips {
		if k.v != q {
			p.addColumnTo(b, k.v, p.flipBound(k.v))
		}
	}
	p.factor.solve(b)
	for i, v := range p.head {
		p.x[v] -= b[i]
	}
	p.work += int64(p.m)
}

// dualUpdate brings position r to its bound by moving x_q, and exchanges them.
func (p *Problem) dualUpdate(q, r int32, atUpper bool) {
	out := p.head[r]
	target := p.workLo[out]
	if atUpper {
		target = p.workHi[out]
	}
	pivot := p.alpha[r]
	t := (p.x[out] - target) / pivot
	p.x[q] += t
	p.moveBasics(t)
	p.x[out] = target
	theta := p.d[q] / pivot
	if atUpper == (theta < 0) {
		p.shift(q, -p.d[q]) // the sign of d_q was wrong within the tolerance
		theta = 0
	}
	for _, v := range p.rowAt {
		p.d[v] -= theta * p.row[v]
		if wrong(p.way[v], p.d[v], 0) && v != q {
			p.shift(v, -p.d[v])
		}
	}
	p.work += int64(len(p.rowAt))
	w := p.dualWeight[out] / (pivot * pivot)
	for _, i := range p.nz {
		v := p.head[i]
		p.dualWeight[v] = max(p.dualWeight[v], p.alpha[i]*p.alpha[i]*w)
	}
	p.dualWeight[q] = max(w, 1)
	p.exchange(q, r, atUpper, -theta)
}

// letCostsOut shifts the costs of nonbasic variables at a bound away from zero.
func (p *Problem) letCostsOut() {
	scale := p.costScale()
	for v, w := range p.way {
		by := costsOut * (scale + math.Abs(p.cost[v])) * p.random()
		switch w {
		case up:
			p.shift(int32(v), by)
		case down:
			p.shift(int32(v), -by)
		}
	}
}

package lp

import "math"

// Dual simplex.
//
// Leaving: largest e_r^2 / w_r, e how far x_r is outside its bounds, w the weights of steepest.go.
//
// Entering: the ratio test of ratio.go. Costs are shifted where signs within the tolerance come out
// wrong. When many steps in a row are of length nought, all nonbasic costs are shifted by small
// different amounts that keep the signs.

const (
	// how much costs are shifted against degeneracy, relative to costScale + |cost|
	costsOut = 1e-6
	// a wider box is left at its bound, and its cost shifted, while signs are made right
	largestBox = 1e5
)

// dual works until every basic variable is within its bounds.
func (p *Problem) dual() outcome {
	p.makeSignsRight()
	if !p.steep {
		p.weigh()
	}
	clear(p.weight) // of edges that end with the first pivot
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
	if theta != 0 { // else all d stay, and their signs are right
		p.changeCosts(q, theta)
	}
	p.reweigh(q, r)
	p.exchange(q, r, atUpper, -theta)
}

// changeCosts takes theta times the row from d; signs that come out wrong within the tolerance are
// shifted right.
func (p *Problem) changeCosts(q int32, theta float64) {
	row, ways, d := p.row, p.way[:len(p.row)], p.d[:len(p.row)]
	for _, v := range p.rowAt {
		t := d[v] - theta*row[v]
		d[v] = t
		if (t < 0 && ways[v]&up != 0 || t > 0 && ways[v]&down != 0) && v != q {
			p.shift(v, -t)
		}
	}
	p.work += int64(len(p.rowAt))
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

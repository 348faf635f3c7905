package lp

import "math"

// Primal simplex.
//
// Entering: largest d_q^2 / w_q, w the weights of steepest.go.
//
// Leaving: Harris's two passes. The first finds how far x_q may go if every bound is let out by a
// tolerance. The second takes the largest pivot among the variables that stop x_q before that. A
// leaving variable that is already past its bound gets its present value for a working bound, so
// that x_q never goes back. When many steps in a row are of length nought, the working bounds of
// all basic variables are let out by small different amounts.

const (
	degenerateRun = 15 // steps of length nought before bounds are let out
	// by how much, relative to 1 + |bound|: over feasTol, so that steps count
	boundsOut = 1e-6
	stepTol   = 1e-10
)

// primal works until every d has the right sign.
func (p *Problem) primal() outcome {
	tol := optTol * p.costScale() * slackShare
	p.weighEdges()
	still := 0
	for pivots := 0; ; pivots++ {
		p.steep = p.steep && pivots < p.m/4 // by then they are sooner computed anew
		if p.tooMany() {
			return limit
		}
		if p.factor.overgrown() && p.refactor() {
			return again
		}
		q := p.price(tol)
		if q < 0 {
			return done
		}
		dir := 1.0
		if p.d[q] > 0 {
			dir = -1
		}
		p.enterColumn(q)
		r, step, atUpper := p.primalRatio(q, dir, pivotTol)
		if r < 0 && math.IsInf(step, 1) && p.factor.updates() == 0 {
			r, step, atUpper = p.primalRatio(q, dir, lastPivot)
		}
		switch {
		case r < 0 && math.IsInf(step, 1):
			if p.factor.updates() > 0 {
				p.refactor()
				return again
			}
			if !p.improves(q) {
				return doubt
			}
			return proven
		case r < 0:
			p.flip(q, dir*step)
			still = 0
			continue
		}
		p.leaveRow(r)
		if !p.trusted(q, r) {
			if p.refactor() {
				return again
			}
			continue
		}
		p.primalUpdate(q, r, dir*step, atUpper)
		if step > stepTol {
			still = 0
		} else if still++; still > degenerateRun && !p.calm {
			p.letBoundsOut()
			still = -degenerateRun * 10
		}
	}
}

// price chooses the entering variable, or -1.
func (p *Problem) price(tol float64) int32 {
	q, best := int32(-1), 0.0
	p.work += int64(len(p.way))
	for v, w := range p.way {
		if d := p.d[v]; w != 0 && wrong(w, d, tol) {
			if p.bland {
				return int32(v)
			}
			if merit := d * d; merit > best*p.weight[v] {
				q, best = int32(v), merit/p.weight[v]
			}
		}
	}
	return q
}

// primalRatio finds how far x_q may go in direction dir, the position that stops it and at which
// bound; -1 if q itself does, at its other bound. Entries up to least do not count.
func (p *Problem) primalRatio(q int32, dir, least float64) (r int32, step float64, atUpper bool) {
	size := 1.0
	for _, i := range p.nz {
		size = max(size, math.Abs(p.alpha[i]))
	}
	least = max(least, noise*size)
	let := slackShare
	if p.bland {
		let = 0
	}
	far := math.Inf(1)
	for _, i := range p.nz {
		a := dir * p.alpha[i]
		v := p.head[i]
		if a > least {
			if lo := p.workLo[v]; !math.IsInf(lo, -1) {
				far = min(far, max(0, p.x[v]-lo+let*p.allowed(lo))/a)
			}
		} else if a < -least {
			if hi := p.workHi[v]; !math.IsInf(hi, 1) {
				far = min(far, max(0, hi-p.x[v]+let*p.allowed(hi))/-a)
			}
		}
	}
	p.work += int64(2 * len(p.nz))
	if own := p.workHi[q] - p.workLo[q]; own <= far {
		return -1, own, dir > 0
	}
	r = -1
	largest := 0.0
	for _, i := range p.nz {
		a, v := dir*p.alpha[i], p.head[i]
		t := math.Inf(1)
		if a > least {
			t = (p.x[v] - p.workLo[v]) / a
		} else if a < -least {
			t = (p.workHi[v] - p.x[v]) / -a
		}
		if t > far {
			continue
		}
		if p.bland && r >= 0 && v < p.head[r] || !p.bland && math.Abs(a) > largest || r < 0 {
			r, step, largest, atUpper = i, t, math.Abs(a), a < 0
		}
	}
	return r, max(0, step), atUpper
}

// improves tells whether the direction of x_q, in which nothing stops it, lowers the value by more
// than rounding.
func (p *Problem) improves(q int32) bool {
	rate, size := p.cost[q], 1.0
	for _, i := range p.nz {
		rate -= p.cost[p.head[i]] * p.alpha[i]
		size = max(size, math.Abs(p.alpha[i]))
	}
	return math.Abs(rate) > proofTol*p.costScale()*size && wrong(p.way[q], rate, 0)
}

// flip moves q to its other bound.
func (p *Problem) flip(q int32, by float64) {
	p.moveBasics(by)
	p.flipBound(q)
	p.iterations++
}

// primalUpdate moves x_q by t and exchanges it for position r.
func (p *Problem) primalUpdate(q, r int32, t float64, atUpper bool) {
	out := p.head[r]
	p.x[q] += t
	p.moveBasics(t)
	if atUpper {
		p.boundsMoved = p.boundsMoved || p.x[out] > p.workHi[out]+stepTol
		p.workHi[out] = max(p.workHi[out], p.x[out])
		p.x[out] = p.workHi[out]
	} else {
		p.boundsMoved = p.boundsMoved || p.x[out] < p.workLo[out]-stepTol
		p.workLo[out] = min(p.workLo[out], p.x[out])
		p.x[out] = p.workLo[out]
	}
	pivot := p.alpha[r]
	theta := p.d[q] / pivot
	for _, v := range p.rowAt {
		p.d[v] -= theta * p.row[v]
	}
	p.work += int64(len(p.rowAt))
	p.reweighEdges(q, r)
	if p.steep {
		p.reweigh(q, r)
	}
	p.exchange(q, r, atUpper, -theta)
}

// letBoundsOut widens the working bounds of basic variables.
func (p *Problem) letBoundsOut() {
	for _, v := range p.head {
		p.workLo[v] -= boundsOut * (1 + math.Abs(p.workLo[v])) * p.random()
		p.workHi[v] += boundsOut * (1 + math.Abs(p.workHi[v])) * p.random()
	}
	p.boundsMoved = true
}

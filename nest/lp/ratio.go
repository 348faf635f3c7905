package lp

import "math"

// The ratio test of the dual simplex.
//
// The row of r is signed so that a variable which helps has a > 0 at its lower bound and a < 0 at
// its upper one. Then reduced costs keep their signs up to the step min |d| / |a|. Past such a
// breakpoint a boxed variable may change bound instead, as long as x_r then stays outside its bound
// (bound flips; Fourer, Maros, from memory). Breakpoints are taken in groups that Harris's
// tolerance cannot tell apart. The largest |a| of the last group enters.

// fairPivot: an earlier group enters if the last has only pivots below this share of the largest.
const fairPivot = 0.1

type candidate struct {
	v       int32
	size, d float64 // |a| and |d| (below 0 if the sign is wrong)
}

// dualRatio chooses the entering variable, or -1, among those with |a| above least, and the boxed
// variables that change bound.
func (p *Problem) dualRatio(r int32, excess, tol, least float64) (q int32, flips []candidate) {
	c := p.helpers(excess, least)
	if p.bland {
		return firstCandidate(c), nil
	}
	slope := math.Abs(excess)
	if q := p.firstGroup(c, slope, tol); q >= 0 {
		return q, nil
	}
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

// helpers are the variables that help a row whose variable is outside by excess. Whether one does
// is a toss-up, so that all are written and the list grows without a branch.
func (p *Problem) helpers(excess, least float64) []candidate {
	if cap(p.candidates) < len(p.rowAt) {
		p.candidates = make([]candidate, len(p.x))
	}
	c, n := p.candidates[:len(p.rowAt)], 0
	row, ways, ds := p.row, p.way[:len(p.row)], p.d[:len(p.row)]
	sign := math.Copysign(1, excess)
	for _, v := range p.rowAt {
		a, d := sign*row[v], ds[v]
		if w := ways[v]; w == down || w == up|down && a < 0 {
			a, d = -a, -d
		}
		c[n] = candidate{v, a, d}
		if a > least {
			n++
		}
	}
	p.work += int64(len(p.rowAt))
	return c[:n]
}

// firstGroup is the choice where x_r comes to its bound within the group of the nearest
// breakpoints, as mostly; -1 otherwise.
func (p *Problem) firstGroup(c []candidate, slope, tol float64) int32 {
	reach := math.Inf(1)
	for k := range c {
		t := c[k].d
		if t < 0 {
			t = 0
		}
		if t += tol; t < reach*c[k].size {
			reach = t / c[k].size
		}
	}
	q, largest := int32(-1), 0.0
	for k := range c {
		if a := c[k].size; c[k].d <= reach*a {
			v := c[k].v
			slope -= a * (p.workHi[v] - p.workLo[v])
			if a > largest {
				q, largest = v, a
			}
		}
	}
	p.work += int64(2 * len(c))
	if slope >= 0 {
		return -1
	}
	return q
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

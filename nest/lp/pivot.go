package lp

import "math"

// What both forms of the simplex share: the column alpha = B^-1 a_q of the entering variable, the
// row r of B^-1 A, and the exchange. When x_q grows by t, basic variables change by -t alpha; when
// it enters for position r, reduced costs change by -(d_q / alpha_r) times the row.

// rowwiseShare: rho counts as sparse below one in so many. Measured; going by rows costs more for
// each number.
const rowwiseShare = 5

// enterColumn computes alpha and nz for variable q.
func (p *Problem) enterColumn(q int32) {
	clear(p.alpha)
	p.addColumnTo(p.alpha, q, 1)
	p.factor.solve(p.alpha)
	p.nz = nonzeros(p.nz[:0], p.alpha)
	p.work += int64(p.m)
}

// nonzeros adds to at where x is not zero; what a cancellation has left is made zero.
func nonzeros(at []int32, x []float64) []int32 {
	for i, a := range x {
		if math.Abs(a) > luDrop {
			at = append(at, int32(i))
		} else if a != 0 {
			x[i] = 0
		}
	}
	return at
}

// leaveRow computes the row of basis position r, for variables that may move.
func (p *Problem) leaveRow(r int32) {
	clear(p.rho)
	p.rho[r] = 1
	p.factor.solveTransposed(p.rho)
	p.nzRow = nonzeros(p.nzRow[:0], p.rho)
	p.rowAt = p.rowAt[:0]
	for _, i := range p.nzRow {
		if p.way[i] != 0 {
			p.row[i] = -p.rho[i]
			p.rowAt = append(p.rowAt, i)
		}
	}
	p.work += int64(p.m)
	if rowwiseShare*len(p.nzRow) < p.m {
		p.rowByRows()
	} else {
		p.rowDense()
	}
}

// rowByRows adds up the rows of A where rho is not zero: best if those are few.
func (p *Problem) rowByRows() {
	p.stamped++
	for _, i := range p.nzRow {
		f := p.rho[i]
		for _, e := range p.rows[i] {
			v := p.m + int(e.at)
			if p.stamp[v] == p.stamped {
				p.row[v] += f * e.val
			} else if p.way[v] != 0 {
				p.stamp[v] = p.stamped
				p.row[v] = f * e.val
				p.rowAt = append(p.rowAt, int32(v))
			}
		}
		p.work += int64(len(p.rows[i]))
	}
}

// rowDense adds up the rows for all columns: best if rho is dense.
func (p *Problem) rowDense() {
	row := p.row[p.m:]
	clear(row)
	for _, i := range p.nzRow {
		f := p.rho[i]
		for _, e := range p.rows[i] {
			row[e.at] += f * e.val
		}
		p.work += int64(len(p.rows[i]))
	}
	n := len(p.rowAt)
	if cap(p.rowAt) < len(p.x) {
		p.rowAt = append(make([]int32, 0, cap(p.x)), p.rowAt...)
	}
	at := p.rowAt[:len(p.x)]
	for v := p.m; v < len(p.x); v++ {
		at[n] = int32(v)
		if p.way[v] != 0 {
			n++
		}
	}
	p.rowAt = at[:n]
	p.work += int64(p.n)
}

// trusted tells whether the pivot, seen once in the column and once in the row, may be used.
func (p *Problem) trusted(q, r int32) bool {
	if p.factor.updates() == 0 {
		return true
	}
	a := p.alpha[r]
	return math.Abs(a) > smallPivot && math.Abs(a-p.row[q]) <= agreeTol*(1+math.Abs(a))
}

// moveBasics moves the basic variables as x_q grows by t.
func (p *Problem) moveBasics(t float64) {
	if t != 0 {
		for _, i := range p.nz {
			p.x[p.head[i]] -= t * p.alpha[i]
		}
	}
}

// exchange makes q basic at position r. The variable that leaves rests at its upper bound or else
// at its lower one; its reduced cost becomes dOut.
func (p *Problem) exchange(q, r int32, atUpper bool, dOut float64) {
	out := p.head[r]
	p.factor.exchange(r, p.alpha, p.nz)
	p.head[r] = q
	p.place[q], p.place[out] = r, -1
	p.way[q], p.d[q], p.d[out] = 0, 0, dOut
	switch {
	case p.lo[out] == p.hi[out]:
		p.way[out] = 0
	case atUpper:
		p.way[out] = down
	default:
		p.way[out] = up
	}
	p.iterations++
	p.work += int64(len(p.nz))
}

// tooMany tells that Solve has done more pivots than any sound run needs, or is to stop.
func (p *Problem) tooMany() bool {
	const between = 16
	return p.iterations > 20000+50*(p.m+p.n) ||
		p.Stop != nil && p.iterations%between == 0 && p.Stop()
}

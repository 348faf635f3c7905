package lp

import "slices"

// Clone returns an independent copy, basis included. Coefficients never change once a column is
// added, so both share them until one adds a column; so they do with the factors of the basis.
func (p *Problem) Clone() *Problem {
	p.start, p.cells, p.rows = slices.Clip(p.start), slices.Clip(p.cells), slices.Clip(p.rows)
	for i, row := range p.rows {
		p.rows[i] = slices.Clip(row)
	}
	q := *p
	q.rows = slices.Clone(p.rows)
	for _, s := range []*[]float64{
		&q.rowScale, &q.colScale, &q.lo, &q.hi, &q.cost, &q.workLo, &q.workHi, &q.workCost, &q.x,
		&q.d, &q.weight, &q.dualWeight,
		&q.alpha, &q.rho, &q.tau, &q.row, &q.scratch,
	} {
		*s = slices.Clone(*s)
	}
	q.way, q.place, q.head = slices.Clone(p.way), slices.Clone(p.place), slices.Clone(p.head)
	q.stamp, q.nz, q.nzRow, q.rowAt, q.candidates = slices.Clone(p.stamp), nil, nil, nil, nil
	q.factor = p.factor.share()
	q.recorder.clone(p, &q)
	return &q
}

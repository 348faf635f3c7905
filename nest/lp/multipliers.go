package lp

// ColumnMultipliers returns numbers u by row for a basic column j of the last solution; nil where j
// is not basic. In sum_i u_i (row i) column j has coefficient 1. Every other basic variable has 0
// there, activities of rows included.
func (p *Problem) ColumnMultipliers(j int) []float64 {
	return p.multipliers(p.variable(j), p.colScale[j])
}

// RowMultipliers does the same for the activity of row i. In sum_k u_k (row k - its activity) that
// activity has coefficient 1.
func (p *Problem) RowMultipliers(i int) []float64 {
	return p.multipliers(int32(i), 1/p.rowScale[i])
}

func (p *Problem) multipliers(v int32, scale float64) []float64 {
	if p.head == nil || p.place[v] < 0 {
		return nil
	}
	u := make([]float64, p.m)
	u[p.place[v]] = 1
	p.factor.solveTransposed(u)
	for i := range u {
		u[i] *= scale * p.rowScale[i]
	}
	p.work += int64(p.m)
	return u
}

// Activity returns the activity of row i in the solution that the last Solve found.
func (p *Problem) Activity(i int) float64 {
	if p.head == nil {
		return 0
	}
	return p.x[i] / p.rowScale[i]
}

// Bounds returns the bounds of column j.
func (p *Problem) Bounds(j int) (lo, hi float64) {
	v := p.variable(j)
	return p.lo[v] * p.colScale[j], p.hi[v] * p.colScale[j]
}

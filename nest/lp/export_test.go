package lp

// Rows is the number of rows.
func (p *Problem) Rows() int { return p.m }

// Columns is the number of columns.
func (p *Problem) Columns() int { return p.n }

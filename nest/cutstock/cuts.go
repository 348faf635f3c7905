package cutstock

import (
	"math"
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// Cuts over a list. The rows of the integer program over a list are written as sum a_j x_j >= b,
// everything whole: demands, -(uses) >= -most, uses >= least, and the cuts so far. With any whole
// multipliers U_r, one denominator D, and slack s_r = sum a_rj x_j - b_r, whole and at least 0,
//
//	sum_j alpha_j x_j - sum_r U_r s_r = beta,   alpha = U a, beta = U b   (everything in 1/D),
//
// and mixed-integer rounding (R. E. Gomory, 1960; G. L. Nemhauser, L. A. Wolsey, 1990) makes of it
//
//	sum_j g(alpha_j) x_j + sum_r g(-U_r) s_r >= F (floor(beta/D) + 1),
//	F = beta mod D,   g(v) = F floor(v/D) + min(F, v mod D),
//
// which is a row again once s_r is written out. Multipliers come from the basis, as in Gomory's
// method. What they are changes the strength of a cut, never its truth. The numbers of a cut are
// divided by what they have in common; where they are large, by any number. For the left side is
// then rounded up and whole, so the right side may be rounded up too.

// Cut is a cut by its multipliers.
type Cut struct {
	Den  int64
	Rows []RowOf
}

// RowOf is a row and its multiplier. Rows are counted: the demand of each item; of each stock the
// most, then of each the least; the cuts.
type RowOf struct {
	Row        int
	Multiplier int64
}

// inequality is a row: sum coefs x >= least.
type inequality struct {
	coefs []int64 // by entry of the list
	least int64
}

// largest is the largest number of a row, without a sign.
func (q *inequality) largest() (most int64) {
	for _, v := range q.coefs {
		most = max(most, v, -v)
	}
	return most
}

// MostCoef is the largest number of a cut's row, MostDen the largest denominator of its
// multipliers. Both decide by what a cut is divided, so the proof must have the same.
const (
	MostCoef = 1 << 20
	MostDen  = 1 << 16
)

// baseRows makes the rows of the program over a list before any cut; nil for the most of a stock
// without a limit, or one too large to matter.
func baseRows(p *cutting.Problem, list []*column, least, most []int64) []*inequality {
	rows := make([]*inequality, len(p.Items)+2*len(p.Stocks))
	for i := range p.Items {
		rows[i] = &inequality{make([]int64, len(list)), p.Items[i].Demand}
	}
	for s := range p.Stocks {
		if most[s] != cutting.Any && most[s] <= MostCoef {
			rows[len(p.Items)+s] = &inequality{make([]int64, len(list)), -most[s]}
		}
		rows[len(p.Items)+len(p.Stocks)+s] = &inequality{make([]int64, len(list)), least[s]}
	}
	for j, e := range list {
		for n, i := range e.items {
			rows[i].coefs[j] = e.counts[n]
		}
		if r := rows[len(p.Items)+e.Stock]; r != nil {
			r.coefs[j] = -1
		}
		rows[len(p.Items)+len(p.Stocks)+e.Stock].coefs[j] = 1
	}
	return rows
}

// roundCut makes the row of a cut; nil where it says nothing. A row has numbers of at most 2^20 and
// multipliers are below 2^16, so no sum leaves 64 bits.
func roundCut(rows []*inequality, c *Cut) *inequality {
	n := len(rows[0].coefs)
	alpha, beta := make([]int64, n), int64(0)
	for _, r := range c.Rows {
		row := rows[r.Row]
		for j, a := range row.coefs {
			alpha[j] += r.Multiplier * a
		}
		beta += r.Multiplier * row.least
	}
	d := c.Den
	f := mod(beta, d)
	if f == 0 {
		return nil
	}
	g := func(v int64) int64 { return f*floorDiv(v, d) + min(f, mod(v, d)) }
	out := &inequality{alpha, f * (floorDiv(beta, d) + 1)}
	for j, v := range alpha {
		out.coefs[j] = g(v)
	}
	for _, r := range c.Rows {
		m, row := g(-r.Multiplier), rows[r.Row]
		for j, a := range row.coefs {
			out.coefs[j] += m * a
		}
		out.least += m * row.least
	}
	return out.reduced()
}

// reduced divides a row so that its numbers stay small; nil where all are 0.
func (q *inequality) reduced() *inequality {
	common, most := int64(0), int64(0)
	for _, v := range append(q.coefs, q.least) {
		common = price.GCD(common, max(v, -v))
		most = max(most, v, -v)
	}
	if common == 0 {
		return nil
	}
	by := max(common, (most+MostCoef-1)/MostCoef)
	if most/common <= MostCoef {
		by = common
	}
	for j, v := range q.coefs {
		q.coefs[j] = -floorDiv(-v, by)
	}
	q.least = -floorDiv(-q.least, by)
	return q
}

func floorDiv(v, d int64) int64 {
	q := v / d
	if v%d < 0 {
		q--
	}
	return q
}

func mod(v, d int64) int64 { return v - d*floorDiv(v, d) }

// denominator finds a denominator for multipliers, each a number modulo 1: the least that fits all,
// or else MostDen.
func denominator(u []float64) int64 {
	for d := int64(2); d <= 512; d++ {
		if !slices.ContainsFunc(u, func(v float64) bool {
			w := v * float64(d)
			return math.Abs(w-math.Round(w)) > 1e-6*float64(d)
		}) {
			return d
		}
	}
	return MostDen
}

package cuts

import (
	"math"
	"slices"

	"rackwright/nest/price"
)

// What a cut is. The rows of the integer program over a list are written as sum a_j x_j >= b,
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

// MostCoef is the largest number of a cut's row, MostDen the largest denominator of its
// multipliers. Both decide by what a cut is divided, so the proof must have the same.
const (
	MostCoef = 1 << 20
	MostDen  = 1 << 16
)

// inequality is a row: sum coefs x >= least. No number is above MostCoef.
type inequality struct {
	coefs []int32 // by entry of the list; nil: the row is not needed any more
	least int64
}

// rounding is g of a cut.
type rounding struct{ den, frac int64 }

func (g rounding) of(v int64) int64 {
	whole := floorDiv(v, g.den)
	return g.frac*whole + min(g.frac, v-whole*g.den)
}

// base gives the number of an entry in a row before the cuts.
func (p *Program) base(row int, e *Entry) int64 {
	items, stocks := len(p.Demand), len(p.Most)
	switch {
	case row < items:
		return e.copies(row)
	case row < items+stocks:
		return -flag(e.Stock == row-items)
	}
	return flag(e.Stock == row-items-stocks)
}

func flag(is bool) int64 {
	if is {
		return 1
	}
	return 0
}

// fixed is how many rows there are before the cuts.
func (p *Program) fixed() int { return len(p.Demand) + 2*len(p.Most) }

// leastOf is the right side of a row, and whether it may be in a cut: not the most of a stock
// without a limit, or one too large to matter.
func (n *node) leastOf(row int) (int64, bool) {
	items, stocks := len(n.Demand), len(n.Most)
	switch {
	case row < items:
		return n.Demand[row], true
	case row < items+stocks:
		most := n.Most[row-items]
		return -most, most >= 0 && most <= MostCoef
	case row < items+2*stocks:
		return n.Least[row-items-stocks], true
	}
	return n.rows[row-items-2*stocks].least, true
}

// ends gives the rounding of a cut and its right side, not divided yet; false where it says
// nothing.
func (n *node) ends(c *Cut) (g rounding, least int64, ok bool) {
	beta := int64(0)
	for _, r := range c.Rows {
		b, _ := n.leastOf(r.Row)
		beta += r.Multiplier * b
	}
	g = rounding{c.Den, mod(beta, c.Den)}
	least = g.of(beta)
	for _, r := range c.Rows {
		b, _ := n.leastOf(r.Row)
		least += g.of(-r.Multiplier) * b
	}
	return g, least, g.frac != 0
}

// round makes the row of a cut; nil where it says nothing. A row has numbers of at most 2^20 and
// multipliers are below 2^16, so no sum leaves 64 bits.
func (n *node) round(c *Cut) *inequality {
	g, least, ok := n.ends(c)
	if !ok {
		return nil
	}
	fixed := n.fixed()
	times, spare := make([]int64, fixed), make([]int64, fixed)
	named := c.Rows
	for ; len(named) > 0 && named[0].Row < fixed; named = named[1:] {
		u := named[0].Multiplier
		times[named[0].Row], spare[named[0].Row] = u, g.of(-u)
	}
	alpha, extra := make([]int64, len(n.list)), make([]int64, len(n.list))
	items, stocks := len(n.Demand), len(n.Most)
	for j, e := range n.list {
		a := times[items+stocks+e.Stock] - times[items+e.Stock]
		b := spare[items+stocks+e.Stock] - spare[items+e.Stock]
		for at, i := range e.Items {
			a += times[i] * int64(e.Counts[at])
			b += spare[i] * int64(e.Counts[at])
		}
		alpha[j], extra[j] = a, b
	}
	for _, r := range named {
		back := g.of(-r.Multiplier)
		for j, a := range n.rows[r.Row-fixed].coefs {
			alpha[j] += r.Multiplier * int64(a)
			extra[j] += back * int64(a)
		}
	}
	for j := range alpha {
		alpha[j] = g.of(alpha[j]) + extra[j]
	}
	n.Meter.Add(int64(len(n.list)) * int64(8+2*len(named)))
	return reduced(alpha, least)
}

// reduced divides a row so that its numbers stay small; nil where all are 0.
func reduced(coefs []int64, least int64) *inequality {
	common := max(least, -least)
	most := common
	for _, v := range coefs {
		v = max(v, -v)
		if common != 1 {
			common = price.GCD(common, v)
		}
		most = max(most, v)
	}
	if common == 0 {
		return nil
	}
	by := common
	if most/common > MostCoef {
		by = (most + MostCoef - 1) / MostCoef
	}
	out := &inequality{make([]int32, len(coefs)), -floorDiv(-least, by)}
	for j, v := range coefs {
		if by > 1 {
			v = -floorDiv(-v, by)
		}
		out.coefs[j] = int32(v)
	}
	return out
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

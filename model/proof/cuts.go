package proof

import (
	"fmt"
	"math/bits"
	"slices"

	"rackwright/model"
	"rackwright/model/proof/internal/integer"
)

// The cuts of a list. A plan of the leaf that is cheaper than the target uses only the patterns
// listed (list.go). It meets these rows, each sum over j of a_j x_j >= b:
//
//	x_j         whole: how many boards are cut by pattern j
//	I, S        how many items and stocks there are
//
//	row             a_j                                   b
//	i               the copies of item i                  the demand of i
//	I + s           -1 for the patterns of stock s        - most of s
//	I + S + s       1 for the patterns of stock s         least of s
//	I + 2S + c      those of cut c, for later cuts        that of cut c
//
// The side of a split is counted among the cuts (listsplit.go), and so are the limits of the boards
// bought (bought.go).
//
// A cut is made from some of these rows:
//
//	D           its denominator, from 2 to MostDen
//	U           the multiplier of a row, from 1 to D - 1
//	alpha_j     sum of U a_j
//	beta        sum of U b
//	t           what a row has to spare: sum of a_j x_j - b >= 0
//	F           beta mod D; not to be 0
//	g(v)        F floor(v/D) + min(F, v mod D)
//
//	cut:        sum over j of g(alpha_j) x_j + sum over rows of g(-U) t >= g(beta)
//	            g(beta) = F (floor(beta/D) + 1)
//
// with t written out. Why: sum of alpha_j x_j - sum of U t = beta, x and t are whole and at least
// 0, and g(v + w) <= g(v) + g(w). (Mixed-integer rounding: R. E. Gomory 1960; G. L. Nemhauser and
// L. A. Wolsey 1990.)
//
// The cut is divided by all that its numbers share. Where one is above MostCoef even so, the cut is
// divided by what brings the largest there, and each number is rounded up. That is right as x >= 0
// and the left side is whole. So whatever the multipliers are, no plan is cut off.
//
// No number can overflow. In a row none is above MostCoef and a cut has at most maxNamed rows, so
// |alpha| and |beta| are at most 2^52. |g(v)| is at most |v| + D, and all of a cut stays below
// 2^55.

// What a cut is: solver and checker must have these equal, as they decide its numbers.
const (
	MostDen  = 1 << 16 // the largest denominator of a cut
	MostCoef = 1 << 20 // the largest number of a cut, after it is divided
)

const (
	maxCuts    = 2_000   // of a leaf, or of a part of its list with those above
	maxStruck  = 100     // times that a leaf strikes patterns off, or a part of its list
	maxNamed   = 1 << 16 // rows that a cut is made from
	maxCutting = 1 << 26 // numbers kept for a leaf: one a pattern for each cut, and some 8 besides
	listWork   = 1 << 34 // steps of the lists and cuts of a group, an int64
)

// judgeCuts judges that the cuts of a list, or of a part of it, make sense, and what is struck off
// by them. So many cuts stand above.
func (p *proof) judgeCuts(where string, cert *model.Certificate, l *model.CertListNode,
	above int) {
	before, all := above, above+len(l.Cuts)
	for n := range l.Struck {
		s := &l.Struck[n]
		where := fmt.Sprintf("%s, struck %d", where, n)
		p.judgeDuals(where, cert, s.Duals, s.CutDuals, min(len(s.CutDuals), all))
		if len(s.CutDuals) < before {
			p.say(where, "goes by %d cuts, and the one before by %d", len(s.CutDuals), before)
		}
		before = len(s.CutDuals)
	}
	if len(l.Struck) > maxStruck {
		p.say(where, "strikes off %d times; it may %d times", len(l.Struck), maxStruck)
	}
	if all > maxCuts {
		p.say(where, "has %d cuts; there may be %d", all, maxCuts)
		return
	}
	for c := range l.Cuts {
		p.judgeCut(fmt.Sprintf("%s, cut %d", where, c), &l.Cuts[c],
			int64(len(cert.Items)+2*len(cert.Stocks)+above+c))
	}
}

// judgeDuals judges that there is a dual for each item and for so many cuts, none below 0.
func (p *proof) judgeDuals(where string, cert *model.Certificate, duals, cutDuals []int64,
	cuts int) {
	if len(duals) != len(cert.Items) || len(cutDuals) != cuts {
		p.say(where, "has %d duals for %d items, and %d for %d cuts", len(duals), len(cert.Items),
			len(cutDuals), cuts)
	}
	for _, d := range slices.Concat(duals, cutDuals) {
		if d < 0 {
			p.say(where, "has a dual below 0: %d", d)
		}
	}
}

// judgeCut judges that a cut names rows; so many stand before it.
func (p *proof) judgeCut(where string, cut *model.CertCut, rows int64) {
	if cut.Den < 2 || cut.Den > MostDen {
		p.say(where, "has the denominator %d; it is to be from 2 to %d", cut.Den, MostDen)
		return
	}
	if len(cut.Rows) > maxNamed {
		p.say(where, "names %d rows; it may name %d", len(cut.Rows), maxNamed)
		return
	}
	last := int64(-1)
	for _, r := range cut.Rows {
		switch {
		case r[0] < 0 || r[0] >= rows:
			p.say(where, "names row %d; the rows before it are 0 to %d", r[0], rows-1)
			return
		case r[0] <= last:
			p.say(where, "names row %d after row %d; rows are to rise", r[0], last)
			return
		case r[1] < 1 || r[1] >= cut.Den:
			p.say(where, "has the multiplier %d for row %d; it is to be from 1 to %d", r[1], r[0],
				cut.Den-1)
			return
		}
		last = r[0]
	}
}

// begin works out the rows that stand without cuts.
func (c *listProof) begin() {
	for i := range c.cert.Items {
		c.least = append(c.least, c.cert.Items[i].Demand)
	}
	for _, boards := range c.limits {
		c.least = append(c.least, -boards.most)
	}
	for _, boards := range c.limits {
		c.least = append(c.least, boards.least)
	}
	c.times, c.spare = make([]int64, len(c.least)), make([]int64, len(c.least))
	c.countColumns()
	c.addBought()
}

// makeCuts works out cuts, until there are so many with those above.
func (c *listProof) makeCuts(cuts []model.CertCut, upTo int, where string) bool {
	if c.steps -= c.size; c.steps < 0 ||
		c.kept+int64(c.cols)*int64(upTo+8) > maxCutting {
		c.say(where, "%d cuts of %d patterns are too many", upTo, c.cols)
		return false
	}
	for k := len(c.cuts); k < upTo; k++ {
		if why := c.makeCut(&cuts[k-c.above]); why != "" {
			c.say(fmt.Sprintf("%s, cut %d", where, k-c.above), "%s", why)
			return false
		}
	}
	return true
}

// countColumns counts the patterns listed, and the steps to go through them.
func (c *listProof) countColumns() {
	c.cols, c.size = 0, 0
	for _, list := range c.listed {
		c.cols += len(list)
		for k := range list {
			c.size += int64(2 + len(list[k].Takes))
		}
	}
	c.sums, c.spares = make([]int64, c.cols), make([]int64, c.cols)
}

// makeCut works out the next cut; it says why where it cannot.
func (c *listProof) makeCut(cut *model.CertCut) string {
	beta := int64(0)
	for _, r := range cut.Rows {
		b := c.least[r[0]]
		if b > MostCoef || b < -MostCoef {
			return fmt.Sprintf("names row %d, of which there is no end, or more than 2^%d", r[0],
				bits.TrailingZeros(MostCoef))
		}
		beta += r[1] * b
	}
	g := rounding{cut.Den, integer.Modulo(beta, cut.Den)}
	if g.frac == 0 {
		return "comes to a multiple of its denominator, so that it cuts off nothing"
	}
	if c.steps -= c.size + int64(len(cut.Rows)+1)*int64(c.cols+1); c.steps < 0 {
		return "comes too late: the lists of the group take too long"
	}
	least := g.apply(beta)
	for _, r := range cut.Rows {
		least += g.apply(-r[1]) * c.least[r[0]]
	}
	c.fillColumns(cut, g)
	by := divisor(least, c.sums)
	if by == 0 {
		return "is 0 throughout"
	}
	row := make([]int32, c.cols)
	for j, v := range c.sums {
		row[j] = int32(-integer.Floor(-v, by))
	}
	c.cuts, c.least = append(c.cuts, row), append(c.least, -integer.Floor(-least, by))
	return ""
}

// fillColumns fills sums with the numbers of a cut by column, not divided yet.
func (c *listProof) fillColumns(cut *model.CertCut, g rounding) {
	clear(c.times)
	clear(c.spare)
	named := cut.Rows
	for ; len(named) > 0 && named[0][0] < int64(len(c.times)); named = named[1:] {
		c.times[named[0][0]], c.spare[named[0][0]] = named[0][1], g.apply(-named[0][1])
	}
	j, most, least := 0, len(c.cert.Items), len(c.cert.Items)+len(c.stocks)
	for s, list := range c.listed {
		for k := range list {
			sum, spare := c.times[least+s]-c.times[most+s], c.spare[least+s]-c.spare[most+s]
			for _, t := range list[k].Takes {
				sum += c.times[t.Item] * t.Copies
				spare += c.spare[t.Item] * t.Copies
			}
			c.sums[j], c.spares[j] = sum, spare
			j++
		}
	}
	for _, r := range named {
		times, spare := r[1], g.apply(-r[1])
		for j, a := range c.cuts[r[0]-int64(len(c.times))] {
			c.sums[j] += times * int64(a)
			c.spares[j] += spare * int64(a)
		}
	}
	for j, v := range c.sums {
		c.sums[j] = g.apply(v) + c.spares[j]
	}
}

// rounding is the function g of a cut: den is D, frac is F.
type rounding struct{ den, frac int64 }

// apply is g(v).
func (g rounding) apply(v int64) int64 {
	return g.frac*integer.Floor(v, g.den) + min(g.frac, integer.Modulo(v, g.den))
}

// divisor is what a cut is divided by: all that its numbers share, or more where that leaves one
// above MostCoef; 0 where all numbers are 0.
func divisor(least int64, coefs []int64) int64 {
	share := max(least, -least)
	most := share
	for _, v := range coefs {
		v = max(v, -v)
		share, most = integer.GCD(share, v), max(most, v)
	}
	if share > 0 && most/share > MostCoef {
		return -integer.Floor(-most, MostCoef)
	}
	return share
}

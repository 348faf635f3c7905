package proof

import (
	"fmt"
	"slices"

	"rackwright/model"
	"rackwright/model/proof/internal/integer"
)

// A leaf of the certificate may carry a list with cuts. A plan of the leaf cheaper than its target
// V uses only the patterns listed (boundlist.go). With x_j for how many boards it cuts by pattern
// j, I items and S stocks, it meets these rows, each sum of a_j x_j >= b, all of it whole:
//
//	i           a the copies of item i, b its demand
//	I + s       a = -1 for the patterns of stock s, b = -most
//	I + S + s   a = 1 for the patterns of stock s, b = least
//	I + 2S + c  cut c, for the cuts that come after it
//
// A cut is made from some of these by a multiplier U from 1 to D - 1 for each, over a denominator
// D. Let alpha_j and beta be the sums of U a_j and U b, and t = sum of a_j x_j - b >= 0 what a row
// has to spare. So sum of alpha_j x_j - sum of U t = beta. With F = beta mod D, which is not to be
// 0, the function
//
//	g(v) = F floor(v/D) + min(F, v mod D)
//
// has g(v + w) <= g(v) + g(w); x and t are whole and >= 0, so
//
//	sum of g(alpha_j) x_j + sum of g(-U) t >= g(beta) = F (floor(beta/D) + 1)
//
// This is the cut, t written out (mixed-integer rounding: R. E. Gomory 1960; G. L. Nemhauser and L.
// A. Wolsey 1990). It is divided by all that its numbers share. Where one is above 2^20 even so, it
// is divided by what brings the largest there and each is rounded up, which is right as x >= 0 and
// the left side is whole. So whatever its multipliers are, no plan is cut off.
//
// By weak duality, with duals pi >= 0 of the items and tau >= 0 of the cuts, no plan in the leaf
// costs less than the lesser of V and
//
//	sum of pi d + sum of tau b + sum over s of min( least net, most net )
//	net of s = least over the patterns of its list of scale (cost - w*) - sum of pi a - sum of tau a
//
// rounded up to whole money. A stock with an empty list adds nothing where least is 0; else the
// leaf has no plan below V.
//
// No number can overflow: in a row none is above 2^20 and a cut has at most 2^16 of them, so
// |alpha| and |beta| are at most 2^52, |g(v)| is at most |v| + D, and all of a cut stays below
// 2^55.

const (
	maxCuts    = 2_000   // of a leaf
	maxNamed   = 1 << 16 // rows of a cut
	maxDen     = 1 << 16
	maxCoef    = 1 << 20
	maxCutting = 1 << 26 // numbers kept for a leaf: one a pattern for each cut, and some 8 besides
	listWork   = 1 << 31 // steps of the lists and cuts of a group, an int64
)

// list judges that a list makes sense.
func (p *proof) list(where string, cert *model.Certificate, l *model.CertList) {
	if len(l.Duals) != len(cert.Items) || len(l.CutDuals) != len(l.Cuts) {
		p.say(where, "has %d duals for %d items, and %d for %d cuts", len(l.Duals), len(cert.Items),
			len(l.CutDuals), len(l.Cuts))
	}
	for _, d := range slices.Concat(l.Duals, l.CutDuals) {
		if d < 0 {
			p.say(where, "has a dual below 0: %d", d)
		}
	}
	if len(l.Cuts) > maxCuts {
		p.say(where, "has %d cuts; there may be %d", len(l.Cuts), maxCuts)
		return
	}
	for c := range l.Cuts {
		p.cut(fmt.Sprintf("%s, cut %d", where, c), &l.Cuts[c],
			int64(len(cert.Items)+2*len(cert.Stocks)+c))
	}
}

// cut judges that a cut names rows, of which there are so many before it.
func (p *proof) cut(where string, cut *model.CertCut, rows int64) {
	if cut.Den < 2 || cut.Den > maxDen {
		p.say(where, "has the denominator %d; it is to be from 2 to %d", cut.Den, maxDen)
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

// rows works out all cuts.
func (c *listProof) rows() bool {
	for i := range c.cert.Items {
		c.least = append(c.least, c.cert.Items[i].Demand)
	}
	for _, most := range c.leaf.most {
		c.least = append(c.least, -most)
	}
	c.least = append(c.least, c.leaf.least...)
	for _, list := range c.listed {
		c.cols += len(list)
		for k := range list {
			c.size += int64(2 + len(list[k].Takes))
		}
	}
	if *c.work -= c.size; *c.work < 0 || int64(c.cols)*int64(len(c.list.Cuts)+8) > maxCutting {
		c.say(c.where, "%d cuts of %d patterns are too many", len(c.list.Cuts), c.cols)
		return false
	}
	c.times, c.spare = make([]int64, len(c.least)), make([]int64, len(c.least))
	c.sums, c.rest = make([]int64, c.cols), make([]int64, c.cols)
	for k := range c.list.Cuts {
		if why := c.cut(&c.list.Cuts[k]); why != "" {
			c.say(fmt.Sprintf("%s, list, cut %d", c.where, k), "%s", why)
			return false
		}
	}
	return true
}

// cut works out the next cut; it says why where it cannot.
func (c *listProof) cut(cut *model.CertCut) string {
	beta := int64(0)
	for _, r := range cut.Rows {
		b := c.least[r[0]]
		if b > maxCoef || b < -maxCoef {
			return fmt.Sprintf("names row %d, of which there is no end, or more than 2^20", r[0])
		}
		beta += r[1] * b
	}
	g := rounding{cut.Den, integer.Modulo(beta, cut.Den)}
	if g.rest == 0 {
		return "comes to a multiple of its denominator, so that it cuts off nothing"
	}
	if *c.work -= c.size + int64(len(cut.Rows)+1)*int64(c.cols+1); *c.work < 0 {
		return "comes too late: the lists of the group take too long"
	}
	least := g.of(beta)
	for _, r := range cut.Rows {
		least += g.of(-r[1]) * c.least[r[0]]
	}
	c.columns(cut, g)
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

// columns fills sums with what the cut has for each column, not divided yet.
func (c *listProof) columns(cut *model.CertCut, g rounding) {
	clear(c.times)
	clear(c.spare)
	named := cut.Rows
	for ; len(named) > 0 && named[0][0] < int64(len(c.times)); named = named[1:] {
		c.times[named[0][0]], c.spare[named[0][0]] = named[0][1], g.of(-named[0][1])
	}
	j, most, least := 0, len(c.cert.Items), len(c.cert.Items)+len(c.stocks)
	for s, list := range c.listed {
		for k := range list {
			sum, rest := c.times[least+s]-c.times[most+s], c.spare[least+s]-c.spare[most+s]
			for _, t := range list[k].Takes {
				sum += c.times[t.Item] * t.Copies
				rest += c.spare[t.Item] * t.Copies
			}
			c.sums[j], c.rest[j] = sum, rest
			j++
		}
	}
	for _, r := range named {
		times, spare := r[1], g.of(-r[1])
		for j, a := range c.cuts[r[0]-int64(len(c.times))] {
			c.sums[j] += times * int64(a)
			c.rest[j] += spare * int64(a)
		}
	}
	for j, v := range c.sums {
		c.sums[j] = g.of(v) + c.rest[j]
	}
}

// rounding is the function g of a cut.
type rounding struct{ den, rest int64 }

func (g rounding) of(v int64) int64 {
	return g.rest*integer.Floor(v, g.den) + min(g.rest, integer.Modulo(v, g.den))
}

// divisor is what a cut is divided by: all that its numbers share, or more where that leaves one
// above 2^20; 0 where all are 0.
func divisor(least int64, coefs []int64) int64 {
	share := max(least, -least)
	most := share
	for _, v := range coefs {
		v = max(v, -v)
		share, most = integer.GCD(share, v), max(most, v)
	}
	if share > 0 && most/share > maxCoef {
		return -integer.Floor(-most, maxCoef)
	}
	return share
}

// Package coarse looks for plans on a coarser measure than the shop's.
//
// A kerf of 2.8 mm shares next to nothing with sizes in sixteenths of an inch. Pieces then start at
// as many points as there are sums of sizes and numbers of cuts. With the kerf rounded up to what
// the sizes share they start at as many as there are sums. So [Kerfs] rounds the kerfs up, and
// [Pricer] looks for patterns with these. A pattern found is legal with the true kerfs, too, and is
// then laid out with them.
//
// What is lost are patterns that only fit with the true kerfs. So the last columns of a relaxation
// are found with the true kerfs, and bounds are derived with nothing else.
package coarse

import (
	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// mostMore is by how much of itself a kerf is rounded up at most: by one part in so many.
const mostMore = 2

// leastGain is how many times coarser the measure must become.
const leastGain = 4

// Kerfs gives the problem with its kerfs rounded up to a measure that the sizes of its items share;
// false where that would gain little, or would waste much.
func Kerfs(p *cutting.Problem) (*cutting.Problem, bool) {
	var size, width int64
	for i := range p.Items {
		size = price.GCD(size, p.Items[i].Size)
		width = price.GCD(width, p.Items[i].Width)
	}
	up := *p
	along, across := false, false
	up.Kerf, along = roundedUp(p.Kerf, size)
	up.Rip, across = roundedUp(p.Rip, width)
	return &up, along || across
}

// roundedUp gives a kerf rounded up to a measure of sizes, or of half of them, a quarter and so on;
// the kerf itself and false where that is not worth it.
func roundedUp(kerf, measure int64) (int64, bool) {
	if kerf == 0 || measure == 0 {
		return kerf, false
	}
	for least := leastGain * price.GCD(kerf, measure); measure >= least; measure /= 2 {
		up := (kerf + measure - 1) / measure * measure
		if (up-kerf)*mostMore <= kerf {
			return up, true
		}
		if measure%2 != 0 {
			break
		}
	}
	return kerf, false
}

// Pricer prices one stock of a problem. Price looks at patterns with kerfs rounded up, unless it is
// asked to be fine; all else is exact.
type Pricer struct {
	p        *cutting.Problem
	up, fine price.Pricer
	last     price.Pricer // that of the last pricing
}

// NewPricer makes one of the pricers of a stock with kerfs rounded up, and with its own.
func NewPricer(p *cutting.Problem, up, fine price.Pricer) *Pricer {
	return &Pricer{p: p, up: up, fine: fine, last: fine}
}

// Bare is what the stock is worth without a piece.
func (r *Pricer) Bare() int64 { return r.fine.Bare() }

// Traits say that there is a coarse way.
func (r *Pricer) Traits() price.Traits {
	t := r.fine.Traits()
	t.Quick, t.Coarse = true, true
	return t
}

// Price gives a value that some pattern has.
func (r *Pricer) Price(a *price.Ask) int64 {
	if r.last = r.up; a.Fine {
		r.last = r.fine
	}
	return r.last.Price(a)
}

// Vouch gives the most that a pattern is worth, and at least floor; false where that takes too
// long.
func (r *Pricer) Vouch(a *price.Ask, floor int64) (int64, bool) {
	r.last = r.fine
	return r.fine.Vouch(a, floor)
}

// Walk gives the pattern of the last pricing, laid out with the true kerfs.
func (r *Pricer) Walk(allowed []int64, opener int) *cutting.Pattern {
	return r.laidOut(r.last.Walk(allowed, opener))
}

// Fill gives a pattern of what is left, laid out with the true kerfs.
func (r *Pricer) Fill(left []int64, ask price.Asker) *cutting.Pattern {
	if t := r.laidOut(r.up.Fill(left, ask)); t != nil {
		return t
	}
	return r.fine.Fill(left, ask)
}

// List is that of the true kerfs.
func (r *Pricer) List(l *price.Listing, best, least int64) ([]cutting.Pattern, bool) {
	return r.fine.List(l, best, least)
}

func (r *Pricer) laidOut(t *cutting.Pattern) *cutting.Pattern {
	if t == nil || r.last == r.fine {
		return t
	}
	out := r.p.Layout(*t)
	return &out
}

// Package coarse prices stocks with two pricers: a quick one of a program whose kerfs are rounded
// up, and a fine one of the program itself.
//
// A pattern found with kerfs rounded up is legal with the true ones, and is laid out with them.
// What is lost are patterns that only fit with the true kerfs. So the last columns of a relaxation
// are asked of the fine pricer, and bounds of it alone.
package coarse

import (
	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// Pricer prices one stock of a problem. Price looks at patterns with kerfs rounded up, unless it is
// asked to be fine; all else is asked of the fine pricer.
type Pricer struct {
	price.Pricer // the fine one
	p            *cutting.Problem
	apart        [2]int64     // what lies no further apart is drawn together
	up           price.Pricer // the quick one
	last         price.Pricer // that of the last pricing
}

// NewPricer makes one for a stock of p, of its pricers with the kerfs of another program and with
// its own. The fine one has to be quick by its traits: they stand for both.
func NewPricer(p, other *cutting.Problem, up, fine price.Pricer) *Pricer {
	return &Pricer{Pricer: fine, p: p, apart: Apart(p, other), up: up, last: fine}
}

// Apart is how far apart pieces of p lie at most, by axis, that are a kerf apart in a program with
// kerfs, and sizes along, rounded up.
func Apart(p, up *cutting.Problem) [2]int64 {
	var longer int64
	for i := range p.Items {
		longer = max(longer, up.Items[i].Size-p.Items[i].Size)
	}
	return [2]int64{up.Kerf + longer, up.Rip}
}

// Price gives a value that some pattern has.
func (r *Pricer) Price(a *price.Ask) int64 {
	if r.last = r.up; a.Fine {
		r.last = r.Pricer
	}
	return r.last.Price(a)
}

// Vouch gives what the fine pricer vouches for.
func (r *Pricer) Vouch(a *price.Ask, floor int64) (int64, bool) {
	r.last = r.Pricer
	return r.Pricer.Vouch(a, floor)
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
	return r.Pricer.Fill(left, ask)
}

func (r *Pricer) laidOut(t *cutting.Pattern) *cutting.Pattern {
	if t == nil || r.last == r.Pricer {
		return t
	}
	out := r.p.Closed(*t, r.apart)
	if len(out.Places) == 0 {
		return nil
	}
	return &out
}

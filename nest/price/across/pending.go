package across

import (
	"cmp"
	"slices"

	"rackwright/nest/price"
)

// mostPending is how many lengths a round prices, at most, besides those it chose, where the budget
// does not say.
const mostPending = 24

// pendingLength is a length of which only a bound is known.
type pendingLength struct {
	lengthAt
	group   int32
	through int64 // a bound of patterns with the length there
}

// pricePending prices the lengths that the next rounds are most likely to choose: those with the
// greatest bound of patterns through them. It gives the last start at which anything has changed.
//
//	before[t]  a bound of what precedes start t (package offcuts)
//	through    a bound of patterns with length j at t
//
//	through = before[t] + value[t, j] + f[first start a kerf or more after length j]
func (r *pricer) pricePending() (last int) {
	s := &r.lengths
	s.pending, s.least = s.pending[:0], s.best
	s.before = s.gaps.Before(s.before, r.extend)
	r.work += int64(len(r.xs) * len(r.clear.lens) / quick)
	for _, o := range s.pending {
		c := r.slot(o.t, o.j)
		if s.priced[c] || s.before[o.t]+s.value[c]+s.f[r.nextAlong[c]] < o.through {
			continue // its group has been bounded since
		}
		// where lengths are many its group is bounded first: most need no more than that
		if r.clear.many && o.group >= 0 && r.groups[o.group].bounded != r.pass {
			last = max(last, r.boundGroup(&r.groups[o.group]))
			continue
		}
		last = max(last, r.priceLength(o.lengthAt))
	}
	return last
}

// extend raises before by the lengths that may lie at start t. It suggests those of them of which
// only a bound is known.
func (r *pricer) extend(before []int64, t int) {
	s, lens := &r.lengths, len(r.clear.lens)
	next := r.nextAlong[t*lens : (t+1)*lens]
	noSpot := int(r.clearLens[t])
	for m := range s.clearOptions {
		o := &s.clearOptions[m]
		if o.n >= noSpot {
			break
		}
		before[next[o.n]] = max(before[next[o.n]], before[t]+o.any)
	}
	for j := noSpot; j < int(r.fitLens[t]); j++ {
		c := r.slot(t, j)
		if price.None(s.value[c]) {
			continue
		}
		v := before[t] + s.value[c]
		before[next[j]] = max(before[next[j]], v)
		if through := v + s.f[next[j]]; !s.priced[c] && through > s.least {
			r.suggest(pendingLength{lengthAt{j, t, r.xs[t]}, r.groupAt(c), through})
		}
	}
}

// suggest puts a length among the pending ones, best first. Of a group that is not bounded in this
// pass only the best is kept: its pricing will bound the others.
func (r *pricer) suggest(o pendingLength) {
	s := &r.lengths
	at := len(s.pending)
	for at > 0 && s.pending[at-1].through < o.through {
		at--
	}
	if o.group >= 0 && r.groups[o.group].bounded != r.pass {
		same := func(p pendingLength) bool { return p.group == o.group }
		if slices.ContainsFunc(s.pending[:at], same) {
			return
		}
		if n := slices.IndexFunc(s.pending[at:], same); n >= 0 {
			s.pending = slices.Delete(s.pending, at+n, at+n+1)
		}
	}
	s.pending = slices.Insert(s.pending, at, o)
	most := cmp.Or(r.maker.budget.Pending, mostPending)
	if len(s.pending) > most {
		s.pending = s.pending[:most]
	}
	if len(s.pending) == most {
		s.least = max(s.least, s.pending[most-1].through)
	}
}

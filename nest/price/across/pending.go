package across

import (
	"slices"

	"rackwright/nest/price"
)

// mostPending is how many lengths one round prices besides those chosen.
const mostPending = 24

// pendingLength is a length of which only a bound is known.
type pendingLength struct {
	lengthAt
	group   int32
	through int64 // at most what a pattern with it is worth
}

// pricePending prices lengths that the next rounds are likely to choose: those through which the
// best ways from end to end lead. It gives the last start at which anything has changed.
//
//	through = before[t] + value[t, j] + f[first start after length j]
//	before(t) = max of
//	   before(t - 1)
//	   before(s) + value[s, j]                   a length j at s, t the first start after it
//	   before(s) + u of [x of s, a kerf before t)  a gap, without spots
func (r *pricer) pricePending() (last int) {
	u, n := &r.lengths, len(r.xs)
	if u.before == nil {
		u.before = make([]int64, n+1)
	}
	for t := range u.before {
		u.before[t] = price.Never
	}
	u.before[0] = 0
	u.pending, u.least = u.pending[:0], u.best
	slope, gap, s := r.fullSlope(), int64(price.Never), 0
	for t := range n {
		before := u.before[t]
		if t > 0 {
			before = max(before, u.before[t-1])
		}
		end := r.gapEnds[t] - r.stock.Keep
		for ; s < t && r.xs[s] <= end; s++ {
			gap = max(gap, u.before[s]-slope*r.xs[s])
		}
		u.before[t] = max(before, gap+slope*end)
		r.leadOn(t)
	}
	r.steps += int64(n * len(r.clear.lens))
	for _, o := range u.pending {
		c := r.slot(o.t, o.j)
		if u.priced[c] || u.before[o.t]+u.value[c]+u.f[r.nextAlong[c]] < o.through {
			continue // its group has been bounded since
		}
		last = max(last, r.priceLength(o.lengthAt))
	}
	return last
}

// leadOn leads each length that may lie at start t on to the start after it, and suggests those that
// are not priced.
func (r *pricer) leadOn(t int) {
	u, lens := &r.lengths, len(r.clear.lens)
	before, next := u.before[t], r.nextAlong[t*lens:(t+1)*lens]
	clear := int(r.clearLens[t])
	for m := range u.clearOptions {
		o := &u.clearOptions[m]
		if o.n >= clear {
			break
		}
		u.before[next[o.n]] = max(u.before[next[o.n]], before+o.any)
	}
	for j := clear; j < int(r.fitLens[t]); j++ {
		c := r.slot(t, j)
		if u.value[c] < 0 {
			continue
		}
		v := before + u.value[c]
		u.before[next[j]] = max(u.before[next[j]], v)
		if through := v + u.f[next[j]]; !u.priced[c] && through > u.least {
			r.suggest(pendingLength{lengthAt{j, t, r.xs[t]}, r.groupOf[c], through})
		}
	}
}

// suggest puts a length among the pending ones, best first. Of a group without a bound it keeps only
// the best.
func (r *pricer) suggest(o pendingLength) {
	u := &r.lengths
	at := len(u.pending)
	for at > 0 && u.pending[at-1].through < o.through {
		at--
	}
	if r.groups[o.group].bounded != r.pass {
		same := func(p pendingLength) bool { return p.group == o.group }
		if slices.ContainsFunc(u.pending[:at], same) {
			return
		}
		if n := slices.IndexFunc(u.pending[at:], same); n >= 0 {
			u.pending = slices.Delete(u.pending, at+n, at+n+1)
		}
	}
	u.pending = slices.Insert(u.pending, at, o)
	if len(u.pending) > mostPending {
		u.pending = u.pending[:mostPending]
	}
	if len(u.pending) == mostPending {
		u.least = max(u.least, u.pending[mostPending-1].through)
	}
}

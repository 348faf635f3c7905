package across

import (
	"slices"

	"rackwright/nest/price"
)

// openLength is a length not priced yet, and what a pattern with it is worth at most.
type pendingLength struct {
	lengthAt
	group   int32
	through int64
}

// more is how many lengths one round prices besides those chosen.
const mostPending = 24

// priceMore prices those lengths that the next rounds would most likely choose: the ones that lie
// on the best ways from end to end, with what precedes them at most (gaps without spots) and what
// follows. It gives the last start that has changed.
func (r *pricer) pricePending() (last int) {
	u, lens, n := &r.lengths, len(r.clear.lens), len(r.xs)
	if u.before == nil {
		u.before = make([]int64, n+1)
	}
	for t := range u.before {
		u.before[t] = price.Never
	}
	u.before[0] = 0
	u.pending = u.pending[:0]
	least := u.best
	slope, gap, s := r.fullSlope(), int64(price.Never), 0
	for t := range n {
		past := u.before[t]
		if t > 0 {
			past = max(past, u.before[t-1])
		}
		for ; s < t && r.xs[s] <= r.gapEnds[t]-r.stock.Keep; s++ {
			gap = max(gap, u.before[s]-slope*r.xs[s])
		}
		past = max(past, gap+slope*(r.gapEnds[t]-r.stock.Keep))
		u.before[t] = past
		met := int(r.clearLens[t])
		for _, e := range u.clearOptions {
			if e.j >= met {
				break
			}
			to := r.nextAlong[t*lens+e.j]
			u.before[to] = max(u.before[to], past+e.any)
		}
		for a := met; a < int(r.fitLens[t]); a++ {
			v := u.value[t*lens+a]
			if v < 0 {
				continue
			}
			c := t*lens + a
			to := r.nextAlong[c]
			u.before[to] = max(u.before[to], past+v)
			if through := past + v + u.f[to]; !u.priced[c] && through > least {
				least = max(least,
					u.suggest(pendingLength{lengthAt{a, t, r.xs[t]}, r.groupOf[c], through},
						r.groups[r.groupOf[c]].boundedIn != r.pass))
			}
		}
	}
	r.steps += int64(n * lens)
	for _, o := range u.pending {
		c := o.t*lens + o.j
		// its group has been bounded since
		if u.priced[c] || u.before[o.t]+u.value[c]+u.f[r.nextAlong[c]] < o.through {
			continue
		}
		last = max(last, r.priceLength(o.lengthAt))
	}
	return last
}

// suggest puts a length among the best so far, best first, once for a group without a bound. It
// gives what the next must pass.
func (u *lengthSearch) suggest(o pendingLength, once bool) (least int64) {
	at := len(u.pending)
	for at > 0 && u.pending[at-1].through < o.through {
		at--
	}
	if once {
		same := func(p pendingLength) bool { return p.group == o.group }
		if slices.ContainsFunc(u.pending[:at], same) {
			return price.Never
		}
		if n := slices.IndexFunc(u.pending[at:], same); n >= 0 {
			u.pending = slices.Delete(u.pending, at+n, at+n+1)
		}
	}
	if u.pending = slices.Insert(u.pending, at, o); len(u.pending) > mostPending {
		u.pending = u.pending[:mostPending]
	}
	if len(u.pending) < mostPending {
		return price.Never
	}
	return u.pending[mostPending-1].through
}

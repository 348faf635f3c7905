package across

import (
	"slices"

	"rackwright/nest/price"
)

// openLength is a length not priced yet, and what a pattern with it is worth at most.
type openLength struct {
	lengthAt
	group   int32
	through int64
}

// more is how many lengths one round prices besides those chosen.
const more = 24

// priceMore prices those lengths that the next rounds would most likely choose: the ones that lie
// on the best ways from end to end, with what precedes them at most (gaps without spots) and what
// follows. It gives the last start that has changed.
func (r *pricer) priceMore() (last int) {
	u, lens, n := &r.cross, len(r.t.lens), len(r.xs)
	if u.past == nil {
		u.past = make([]int64, n+1)
	}
	for t := range u.past {
		u.past[t] = price.Never
	}
	u.past[0] = 0
	u.open = u.open[:0]
	least := u.value
	slope, gap, s := r.fullSlope(), int64(price.Never), 0
	for t := range n {
		past := u.past[t]
		if t > 0 {
			past = max(past, u.past[t-1])
		}
		for ; s < t && r.xs[s] <= r.te[t]-r.s.Keep; s++ {
			gap = max(gap, u.past[s]-slope*r.xs[s])
		}
		past = max(past, gap+slope*(r.te[t]-r.s.Keep))
		u.past[t] = past
		met := int(r.met[t])
		for _, e := range u.thin {
			if e.a >= met {
				break
			}
			to := r.next[t*lens+e.a]
			u.past[to] = max(u.past[to], past+e.any)
		}
		for a := met; a < int(r.fit[t]); a++ {
			v := u.at[t*lens+a]
			if v < 0 {
				continue
			}
			c := t*lens + a
			to := r.next[c]
			u.past[to] = max(u.past[to], past+v)
			if through := past + v + u.f[to]; !u.priced[c] && through > least {
				least = max(least,
					u.suggest(openLength{lengthAt{a, t, r.xs[t]}, r.groups[c], through},
						r.group[r.groups[c]].pass != r.pass))
			}
		}
	}
	r.steps += int64(n * lens)
	for _, o := range u.open {
		c := o.t*lens + o.a
		// its group has been bounded since
		if u.priced[c] || u.past[o.t]+u.at[c]+u.f[r.next[c]] < o.through {
			continue
		}
		last = max(last, r.priceLength(o.lengthAt))
	}
	return last
}

// suggest puts a length among the best so far, best first, once for a group without a bound. It
// gives what the next must pass.
func (u *crossRun) suggest(o openLength, once bool) (least int64) {
	at := len(u.open)
	for at > 0 && u.open[at-1].through < o.through {
		at--
	}
	if once {
		same := func(p openLength) bool { return p.group == o.group }
		if slices.ContainsFunc(u.open[:at], same) {
			return price.Never
		}
		if n := slices.IndexFunc(u.open[at:], same); n >= 0 {
			u.open = slices.Delete(u.open, at+n, at+n+1)
		}
	}
	if u.open = slices.Insert(u.open, at, o); len(u.open) > more {
		u.open = u.open[:more]
	}
	if len(u.open) < more {
		return price.Never
	}
	return u.open[more-1].through
}

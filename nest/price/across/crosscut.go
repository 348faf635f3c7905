package across

import (
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// lengthGroup is a set of neighbouring starts of one length between which no piece in it begins or
// ends to meet a spot. Over them the worth of each clear run is a convex function of the start, at
// most the greater of its values at the first and the last start.
type lengthGroup struct {
	a, first, last int
	pass           int // the pricing in which it was bounded last
}

// crossRun is the recursion along the stock, over lengths.
type crossRun struct {
	// by start and length: at most what the length there gives; never: none may lie there
	at     []int64
	priced []bool // whether it is just that
	f      []int64
	thin   []stripEntry // the best lengths where no spot is near
	length []int64      // the best length at each start and what follows
	scan   gapScan
	begin  int   // the start of the first length, and all from there on
	bound  int64 // with the gap before it
	value  int64 // what route gives
	route  []lengthAt

	past []int64 // what precedes each start at most
	open []openLength
}

// lengthAt is length a at x.
type lengthAt struct {
	a, t int // t: the start; -1 on stocks without spots
	x    int64
}

// groupLengths finds the groups. What a start has in common with the next is how many lengths end
// before, and begin after, each spot in it.
func (r *pricer) groupLengths() {
	lens, n := r.t.lens, len(r.xs)
	r.groups, r.met, r.fit = make([]int32, n*len(lens)), make([]int32, n), make([]int32, n)
	for a, l := range lens {
		var key, last []int
		for t, x := range r.xs {
			at := t*len(lens) + a
			r.groups[at] = -1
			key = key[:0]
			for m := range r.spots {
				if s := &r.spots[m]; x+l <= r.span && s.From < x+l && s.To > x {
					key = append(key, m, upTo(lens, s.From-x), upTo(lens, x+l-s.To))
				}
			}
			if x+l <= r.span {
				r.fit[t] = int32(a + 1)
				if len(key) == 0 {
					r.met[t] = int32(a + 1)
				}
			}
			if len(key) > 0 {
				if !slices.Equal(key, last) {
					r.group = append(r.group, lengthGroup{a: a, first: t})
				}
				r.group[len(r.group)-1].last = t
				r.groups[at] = int32(len(r.group) - 1)
			}
			last = append(last[:0], key...)
		}
	}
}

// upTo counts the lengths that are at most x.
func upTo(lens []int64, x int64) int { return after(lens, x+1) }

func (r *pricer) priceCross(rounds int) {
	u := &r.cross
	if len(r.spots) == 0 {
		r.clearCross()
		return
	}
	r.startCross()
	for n, from := 1, len(r.xs)-1; ; n++ {
		r.recurCross(from)
		if u.bound < 0 || u.bound <= u.value {
			return
		}
		route := r.lengthsFrom(u.begin, true, nil)
		value := u.bound
		var open []lengthAt
		for _, at := range route {
			if c := at.t*len(r.t.lens) + at.a; !u.priced[c] {
				value -= u.at[c]
				open = append(open, at)
			}
		}
		from = 0
		none := false // a length of the route has no place
		for _, at := range open {
			from = max(from, r.priceLength(at))
			v := u.at[at.t*len(r.t.lens)+at.a]
			none = none || v < 0
			value += max(v, 0)
		}
		if !none {
			u.offer(value, route)
		}
		if len(open) == 0 {
			return
		}
		if rounds > 0 && n >= rounds {
			break
		}
		from = max(from, r.priceMore())
	}
	for c := range u.at { // the best of what is priced
		if !u.priced[c] {
			u.at[c] = price.Never
		}
	}
	r.recurCross(len(r.xs) - 1)
	if u.bound >= 0 {
		u.offer(u.bound, r.lengthsFrom(u.begin, true, nil))
	}
}

func (u *crossRun) offer(value int64, route []lengthAt) {
	if value > u.value {
		u.value = value
		u.route = append(u.route[:0], route...)
	}
}

// priceLength prices a length with its spots, and bounds its group; it gives the last start that
// has changed.
func (r *pricer) priceLength(at lengthAt) (last int) {
	u, c := &r.cross, at.t*len(r.t.lens)+at.a
	last = at.t
	if g := &r.group[r.groups[c]]; g.pass != r.pass {
		g.pass = r.pass
		last = g.last
		r.boundGroup(g)
	}
	if !u.priced[c] {
		v := r.runLength(at.a, at.x, at.x, false)
		u.at[c], u.priced[c] = max(v, r.plainAt(at.a, at.x)), true
	}
	return last
}

// boundGroup bounds all starts of a group.
func (r *pricer) boundGroup(g *lengthGroup) {
	u := &r.cross
	l := r.t.lens[g.a]
	bound := r.runLength(g.a, r.xs[g.first], r.xs[g.last], true)
	exact := l <= r.s.Keep || r.t.s0 == 0 // nothing in it is worth anything then
	for t := g.first; t <= g.last; t++ {
		c := t*len(r.t.lens) + g.a
		if !u.priced[c] {
			u.at[c], u.priced[c] = min(u.at[c], max(bound, r.plainAt(g.a, r.xs[t]))), exact
		}
	}
}

// plainAt is the best plain piece of length a at x.
func (r *pricer) plainAt(a int, x int64) int64 {
	best := int64(price.Never)
	for q, v := range r.t.plainClass[a] {
		if v > best && r.free(q, cutting.Span{From: x, To: x + r.t.lens[a]}, r.whole()) {
			best = v
		}
	}
	return best
}

func (r *pricer) startCross() {
	u, lens, n := &r.cross, len(r.t.lens), len(r.xs)
	u.thin = thin(r.t.whole, r.t.lens, r.span)
	if u.at == nil {
		u.at, u.priced = make([]int64, n*lens), make([]bool, n*lens)
		u.f, u.length = make([]int64, n+1), make([]int64, n)
	}
	for t, x := range r.xs {
		for a := range lens {
			c := t*lens + a
			u.at[c], u.priced[c] = r.t.q[a], r.groups[c] < 0
			if x+r.t.lens[a] > r.span {
				u.at[c], u.priced[c] = price.Never, true
			}
		}
	}
}

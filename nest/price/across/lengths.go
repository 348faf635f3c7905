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
	j, first, last int
	boundedIn      int // the pricing in which it was bounded last
}

// crossRun is the recursion along the stock, over lengths.
type lengthSearch struct {
	// by start and length: at most what the length there gives; never: none may lie there
	value        []int64
	priced       []bool // whether it is just that
	f            []int64
	clearOptions []option // the best lengths where no spot is near
	leading      []int64  // the best length at each start and what follows
	scan         gapScan
	opening      int   // the start of the first length, and all from there on
	bound        int64 // with the gap before it
	best         int64 // what route gives
	route        []lengthAt

	before  []int64 // what precedes each start at most
	pending []pendingLength
}

// lengthAt is length a at x.
type lengthAt struct {
	j, t int // t: the start; -1 on stocks without spots
	x    int64
}

// groupLengths finds the groups. What a start has in common with the next is how many lengths end
// before, and begin after, each spot in it.
func (r *pricer) groupLengths() {
	lens, n := r.clear.lens, len(r.xs)
	r.groupOf, r.clearLens, r.fitLens = make([]int32, n*len(lens)), make([]int32, n), make([]int32, n)
	for a, l := range lens {
		var key, last []int
		for t, x := range r.xs {
			at := t*len(lens) + a
			r.groupOf[at] = -1
			key = key[:0]
			for m := range r.spots {
				if s := &r.spots[m]; x+l <= r.extent && s.From < x+l && s.To > x {
					key = append(key, m, upTo(lens, s.From-x), upTo(lens, x+l-s.To))
				}
			}
			if x+l <= r.extent {
				r.fitLens[t] = int32(a + 1)
				if len(key) == 0 {
					r.clearLens[t] = int32(a + 1)
				}
			}
			if len(key) > 0 {
				if !slices.Equal(key, last) {
					r.groups = append(r.groups, lengthGroup{j: a, first: t})
				}
				r.groups[len(r.groups)-1].last = t
				r.groupOf[at] = int32(len(r.groups) - 1)
			}
			last = append(last[:0], key...)
		}
	}
}

// upTo counts the lengths that are at most x.
func upTo(lens []int64, x int64) int { return firstFrom(lens, x+1) }

func (r *pricer) searchLengths(rounds int) {
	u := &r.lengths
	if len(r.spots) == 0 {
		r.priceClear()
		return
	}
	r.resetLengths()
	for n, from := 1, len(r.xs)-1; ; n++ {
		r.solveLengths(from)
		if u.bound < 0 || u.bound <= u.best {
			return
		}
		route := r.traceLengths(u.opening, true, nil)
		value := u.bound
		var open []lengthAt
		for _, at := range route {
			if c := at.t*len(r.clear.lens) + at.j; !u.priced[c] {
				value -= u.value[c]
				open = append(open, at)
			}
		}
		from = 0
		none := false // a length of the route has no place
		for _, at := range open {
			from = max(from, r.priceLength(at))
			v := u.value[at.t*len(r.clear.lens)+at.j]
			none = none || v < 0
			value += max(v, 0)
		}
		if !none {
			u.improve(value, route)
		}
		if len(open) == 0 {
			return
		}
		if rounds > 0 && n >= rounds {
			break
		}
		from = max(from, r.pricePending())
	}
	for c := range u.value { // the best of what is priced
		if !u.priced[c] {
			u.value[c] = price.Never
		}
	}
	r.solveLengths(len(r.xs) - 1)
	if u.bound >= 0 {
		u.improve(u.bound, r.traceLengths(u.opening, true, nil))
	}
}

func (u *lengthSearch) improve(value int64, route []lengthAt) {
	if value > u.best {
		u.best = value
		u.route = append(u.route[:0], route...)
	}
}

// priceLength prices a length with its spots, and bounds its group; it gives the last start that
// has changed.
func (r *pricer) priceLength(at lengthAt) (last int) {
	u, c := &r.lengths, at.t*len(r.clear.lens)+at.j
	last = at.t
	if g := &r.groups[r.groupOf[c]]; g.boundedIn != r.pass {
		g.boundedIn = r.pass
		last = g.last
		r.boundGroup(g)
	}
	if !u.priced[c] {
		v := r.priceRipped(at.j, at.x, at.x, false)
		u.value[c], u.priced[c] = max(v, r.plainValue(at.j, at.x)), true
	}
	return last
}

// boundGroup bounds all starts of a group.
func (r *pricer) boundGroup(g *lengthGroup) {
	u := &r.lengths
	l := r.clear.lens[g.j]
	bound := r.priceRipped(g.j, r.xs[g.first], r.xs[g.last], true)
	exact := l <= r.stock.Keep || r.clear.s0 == 0 // nothing in it is worth anything then
	for t := g.first; t <= g.last; t++ {
		c := t*len(r.clear.lens) + g.j
		if !u.priced[c] {
			u.value[c], u.priced[c] = min(u.value[c], max(bound, r.plainValue(g.j, r.xs[t]))), exact
		}
	}
}

// plainAt is the best plain piece of length a at x.
func (r *pricer) plainValue(a int, x int64) int64 {
	best := int64(price.Never)
	for q, v := range r.clear.plain[a] {
		if v > best && r.free(q, cutting.Span{From: x, To: x + r.clear.lens[a]}, r.fullWidth()) {
			best = v
		}
	}
	return best
}

func (r *pricer) resetLengths() {
	u, lens, n := &r.lengths, len(r.clear.lens), len(r.xs)
	u.clearOptions = undominated(r.clear.lengths, r.clear.lens, r.extent)
	if u.value == nil {
		u.value, u.priced = make([]int64, n*lens), make([]bool, n*lens)
		u.f, u.leading = make([]int64, n+1), make([]int64, n)
	}
	for t, x := range r.xs {
		for a := range lens {
			c := t*lens + a
			u.value[c], u.priced[c] = r.clear.q[a], r.groupOf[c] < 0
			if x+r.clear.lens[a] > r.extent {
				u.value[c], u.priced[c] = price.Never, true
			}
		}
	}
}

package rows

import (
	"rackwright/nest/price"
	"rackwright/nest/price/counts"
)

// Step is a thing at a start.
type Step struct{ Thing, Start int }

// Trace gives the things of the best row of a set, in order.
func (l *Line) Trace(number int) (out []Step) {
	rest, n, touching := l.Form.None(), 0, false
	for number > 0 {
		s := &l.sets[number]
		value := s.f[n]
		if touching {
			value = s.t[n]
		}
		if m, before := l.thingAt(number, n, value, touching, rest); m >= 0 {
			out = append(out, Step{m, n})
			t := &l.Things[m]
			touching = t.Touches != nil && t.Touches[n]
			number, n = before, int(t.Next[n])
			continue
		}
		touching = false
		if s.f[n+1] == value {
			n++
			continue
		}
		if n = GapTo(l.Gaps, s.f[:len(s.f)-1], n, value); n < 0 {
			panic("rows: a row leads nowhere")
		}
	}
	return out
}

// thingAt is a thing that the best row of a set begins with at a start, and the number of what
// follows; -1: there is none.
func (l *Line) thingAt(number, n int, value int64, touching bool,
	rest counts.Counts) (m, then int) {
	left := int64(0)
	if l.Left != nil && !touching {
		left = l.Left[n]
	}
	has := l.set.At(number)
	for m := range l.Things {
		t := &l.Things[m]
		if price.None(t.Values[n]) || !l.Form.Less(rest, has, t.Counts) {
			continue
		}
		before := l.set.Find(rest)
		if before < 0 || int(t.Next[n]) > l.sets[before].last {
			continue
		}
		v := l.sets[before].f[t.Next[n]]
		if t.Touches != nil && t.Touches[n] {
			v = l.sets[before].t[t.Next[n]]
		}
		if !price.None(v) && v+t.Values[n]-left == value {
			return m, before
		}
	}
	return -1, -1
}

// GapTo is the last start to which a gap from start n leads that gives a value with what follows
// it, by f; -1: there is none.
func GapTo(g Gaps, f []int64, n int, value int64) int {
	for to := len(f) - 1; to > n; to-- {
		if w, ok := g.Worth(n, to); ok && !price.None(f[to]) && f[to]+w == value {
			return to
		}
	}
	return -1
}

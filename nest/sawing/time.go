package sawing

import (
	"context"
	"slices"
)

// Least time: whole passes, one after the other. Another wood always is another setting, so in a
// pass the kinds of wood are problems of their own, whatever their order. Passes of one saw meet
// where the first ends: if a wood comes last there and first in the next pass, with the same
// setting, that setting is saved. For each saw the cheapest of such meetings is looked for, also
// those where one of the two takes a little longer alone.

// job is what is to be sawn of one wood in one pass.
type job struct {
	*words
	wood  wood
	plans []plan // the best first, then those that end otherwise
}

// leastTime goes pass by pass.
func (s *shop) leastTime(ctx context.Context) (order []cut) {
	last := 0
	for u := range s.units {
		last = max(last, s.pass(u))
	}
	passes := make([][]job, last+1)
	for p := range passes {
		for _, w := range s.woods() {
			var units []int
			for u := range s.units {
				if s.pass(u) == p && s.wood[s.units[u].Board] == w {
					units = append(units, u)
				}
			}
			if len(units) > 0 {
				j := job{words: s.wordsOf(units), wood: w}
				j.plans = j.solve(ctx, none)
				passes[p] = append(passes[p], j)
			}
		}
	}
	for p := 3; p <= last; p++ {
		meet(ctx, passes[p-2], passes[p])
	}
	for _, jobs := range passes {
		for _, j := range jobs {
			order = append(order, s.cuts(j.words, j.plans[0].visits)...)
		}
	}
	return order
}

// woods lists the kinds of wood that are sawn, in the order of their boards.
func (s *shop) woods() (out []wood) {
	for u := range s.units {
		if w := s.wood[s.units[u].Board]; !slices.Contains(out, w) {
			out = append(out, w)
		}
	}
	return out
}

// mostMeetings is how many settings are looked at as the one in which two passes meet.
const mostMeetings = 4

// meet lets two passes of one saw meet in a setting, where that saves minutes: a wood that comes
// last in one comes first in the other.
func meet(ctx context.Context, before, after []job) {
	type meeting struct {
		before, after int
		ends, begins  plan
		cost          int64 // besides the best of both alone
	}
	var best meeting
	tried := 0
	for n := range before {
		m := slices.IndexFunc(after, func(j job) bool { return j.wood == before[n].wood })
		if m < 0 {
			continue
		}
		b, a := &before[n], &after[m]
		for _, ends := range b.plans {
			if ends.end == none {
				continue // no setting at all
			}
			start := slices.Index(a.letters, b.letters[ends.end])
			if start < 0 || tried == mostMeetings || best.cost <= -b.setting { // no more can be saved
				continue
			}
			tried++
			begins := a.solve(ctx, start)[0]
			cost := ends.cost - b.plans[0].cost + begins.cost - a.plans[0].cost
			if cost < best.cost {
				best = meeting{n, m, ends, begins, cost}
			}
		}
	}
	if best.cost == 0 {
		return
	}
	// A pass that has met the one before already keeps its beginning.
	b := &before[best.before]
	b.plans = []plan{best.ends}
	toEnd(before, best.before)
	a := &after[best.after]
	a.plans = []plan{best.begins}
	toStart(after, best.after)
}

func toEnd(jobs []job, n int) {
	j := jobs[n]
	copy(jobs[n:], jobs[n+1:])
	jobs[len(jobs)-1] = j
}

func toStart(jobs []job, n int) {
	j := jobs[n]
	copy(jobs[1:n+1], jobs[:n])
	jobs[0] = j
}

package along

import (
	"cmp"
	"math"
	"slices"

	"rackwright/model"
)

// The list of a board that is not linked: the ways to fill each clear run by itself, then all sums
// of one way for each run that keep to the demands. A way is left out where it stays below the need
// with the best of all other runs.

// filled is one way to fill a run, or several runs.
type filled struct {
	id    int32 // of the vector of counts
	value int64 // duals and worth
}

// listSeparate lists a board that is not linked.
func (l *Lister) listSeparate() {
	follow := l.follow()
	if l.cells > maxCells {
		l.why = tooLong
		return
	}
	var runs []*runFill
	later := int64(0) // the best of the runs that follow
	for _, r := range l.bar.clearRuns() {
		one := &runFill{Lister: l, free: r.To - r.From + l.kerf, most: follow,
			here: make([]int64, len(l.items))}
		runs = append(runs, one)
		later += one.best()
	}
	sums := []filled{{}}
	for _, one := range runs {
		later -= one.best()
		most := int64(math.MinInt64)
		for _, s := range sums {
			most = max(most, s.value)
		}
		if len(sums) > 0 {
			one.fill(0, one.free, 0, l.need-later-most)
		}
		if len(runs) == 1 {
			sums = one.ways
		} else {
			sums = l.sum(sums, one.ways, later)
		}
		if l.why != "" {
			return
		}
	}
	for _, s := range sums {
		l.add(s.id, s.value)
	}
}

// sum adds the ways to fill one more run; the runs after it can bring later at most. Of equal
// counts the best is kept.
func (l *Lister) sum(sums, ways []filled, later int64) []filled {
	slices.SortStableFunc(ways, func(a, b filled) int { return cmp.Compare(b.value, a.value) })
	var out []filled
	at := map[int32]int{}
	for _, s := range sums {
		for _, w := range ways {
			if s.value+w.value+later < l.need || !l.countStep() {
				break
			}
			id, fits := l.met.Plus(s.id, w.id)
			if !fits {
				continue
			}
			k, known := at[id]
			if !known {
				k, at[id] = len(out), len(out)
				out = append(out, filled{id, s.value + w.value})
			}
			out[k].value = max(out[k].value, s.value+w.value)
		}
	}
	return out
}

// follow gives by i the most that the items from i on give, with the worth of what is then left.
func (l *Lister) follow() []slide {
	most := make([]slide, len(l.items)+1)
	s := []stair{{}}
	for i := len(l.items); ; i-- {
		most[i] = newSlide(s, l.bar.Slope, int64(l.kerf), int64(l.bar.Keep))
		l.cells += int64(len(s) + len(most[i].bends))
		if i == 0 {
			return most
		}
		it := &l.items[i-1]
		s = addItem(s, int64(it.Length+l.kerf), it.Dual, it.Demand,
			int64(l.bar.To-l.bar.From+l.kerf), true)
	}
}

// runFill is the search in one clear run. Free is the length of the run and a kerf. The slides of
// what follows are exact, so no branch of the search is in vain.
type runFill struct {
	*Lister
	free model.Length
	most []slide
	here []int64
	ways []filled
}

// best is the most that the run gives.
func (r *runFill) best() int64 { return r.most[0].at(int64(r.free)) }

// fill notes each way to go on with items from i on in a free length that gives at least need.
func (r *runFill) fill(i int, free model.Length, value, need int64) {
	if !r.Lister.countStep() {
		return
	}
	if i == len(r.items) {
		r.ways = append(r.ways, filled{r.met.Of(r.here), value + r.bar.worth(free-r.kerf)})
		return
	}
	for n := int64(0); n <= r.items[i].Demand && free >= 0; n++ {
		if value+r.most[i+1].at(int64(free)) >= need {
			r.here[i] = n
			r.fill(i+1, free, value, need)
		}
		free, value = free-r.items[i].Length-r.kerf, value+r.items[i].Dual
	}
	r.here[i] = 0
}

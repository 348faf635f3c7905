package along

import (
	"cmp"
	"math"
	"slices"

	"rackwright/model"
	"rackwright/model/proof/internal/integer"
)

// The list of a board that is not linked: the ways to fill each clear run by itself, then all sums
// of one way for each run that keep to the demands. A way is left out where it stays below the need
// with the best of all other runs.

// filled is one way to fill a run, or several runs.
type filled struct {
	id    int32 // of the vector of counts
	value int64 // duals and worth
	worth int64
}

// listSeparate lists a board that is not linked.
func (l *Lister) listSeparate() {
	var runs []*runFill
	later := int64(0) // the best of the runs that follow
	for _, r := range l.bar.clearRuns() {
		one := &runFill{Lister: l, length: r.To - r.From, here: make([]uint16, len(l.items))}
		if !one.prepare() {
			return
		}
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
		l.add(s.id, s.worth)
	}
}

// sum adds the ways to fill one more run; the runs after it can bring later at most. Of equal
// counts the best is kept.
func (l *Lister) sum(sums, ways []filled, later int64) []filled {
	slices.SortStableFunc(ways, func(a, b filled) int { return cmp.Compare(b.value, a.value) })
	var out []filled
	at := map[int32]int{}
	counts := make([]uint16, len(l.items))
	for _, s := range sums {
		for _, w := range ways {
			if s.value+w.value+later < l.need || !l.countStep() {
				break
			}
			fits := true
			for k, c := range l.met.countsAt(w.id) {
				counts[k] = c + l.met.countsAt(s.id)[k]
				fits = fits && int64(counts[k]) <= l.items[k].Demand
			}
			if !fits {
				continue
			}
			both := filled{l.met.number(counts), s.value + w.value, s.worth + w.worth}
			if k, known := at[both.id]; !known {
				at[both.id] = len(out)
				out = append(out, both)
			} else if both.value > out[k].value {
				out[k] = both
			}
		}
	}
	return out
}

// runFill is the search in one clear run. Free length is counted in steps that all l + k share.
// most[i][c] is the most that the items from i on give where c steps are free, with the worth of
// what is then left. It is exact, so no branch of the search is in vain.
type runFill struct {
	*Lister
	length model.Length
	step   int64
	free   int
	size   []int
	most   [][]int64
	here   []uint16
	ways   []filled
}

// best is the most that the run gives.
func (r *runFill) best() int64 { return r.most[0][r.free] }

// prepare fills the table.
func (r *runFill) prepare() bool {
	n := len(r.items)
	for _, i := range r.items {
		r.step = integer.GCD(r.step, int64(i.Length+r.kerf))
	}
	r.step = max(r.step, 1)
	if n > 0 {
		r.free = int(min(int64(r.length+r.kerf)/r.step, maxCells))
	}
	r.cells += int64(r.free+1) * int64(n+1)
	if r.cells > maxCells {
		r.why = fineMeasure
		return false
	}
	r.most = make([][]int64, n+1)
	for i := range r.most {
		r.most[i] = make([]int64, r.free+1)
	}
	for c := range r.most[n] {
		r.most[n][c] = r.worthLeft(c)
	}
	for _, i := range r.items {
		r.size = append(r.size, int(int64(i.Length+r.kerf)/r.step))
	}
	for i := n - 1; i >= 0; i-- {
		then, now, size, dual := r.most[i+1], r.most[i], r.size[i], r.items[i].Dual
		copy(now, then)
		for copies := 1; copies <= int(r.items[i].Demand) && copies*size <= r.free; copies++ {
			all := int64(copies) * dual
			for c, v := range then[:r.free+1-copies*size] {
				now[c+copies*size] = max(now[c+copies*size], v+all)
			}
		}
	}
	return true
}

// worthLeft is the worth of the run where c steps are free.
func (r *runFill) worthLeft(c int) int64 {
	return r.bar.worth(r.length - model.Length(int64(r.free-c)*r.step))
}

// fill notes each way to go on with items from i on in c free steps that gives at least need.
func (r *runFill) fill(i, c int, value, need int64) {
	if !r.Lister.countStep() {
		return
	}
	if i == len(r.items) {
		r.ways = append(r.ways, filled{r.met.number(r.here), value + r.most[i][c], r.worthLeft(c)})
		return
	}
	for n := 0; n <= int(r.items[i].Demand) && c >= 0; n++ {
		if value+r.most[i+1][c] >= need {
			r.here[i] = uint16(n)
			r.fill(i+1, c, value, need)
		}
		c, value = c-r.size[i], value+r.items[i].Dual
	}
	r.here[i] = 0
}

package along

import (
	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// The layouts of a stock whose clear runs stand alone: they are filled one by one, longest items
// first, as long as the best of what may follow keeps the layout on the list.

// tailKey is what stocks with the same tails have in common.
type tailKey struct {
	sack *knapsack
	rate cutting.Rate
	keep int64
}

// tail gives for each n the most that items[n:] and the worth of what is left can give in a length
// that stands for its kerfs too, by that length / step rounded up: never too little.
func (l *runsList) tail() [][]int64 {
	r, key := l.r, tailKey{l.r.sack, l.r.s.Rate, l.r.s.Keep}
	if old, ok := l.Shared[key]; ok {
		return old.([][]int64)
	}
	step, size := r.sack.step, len(r.sack.h)+1
	tail := make([][]int64, len(r.sack.items)+1)
	last := make([]int64, size)
	for t := range last {
		last[t] = r.s.Rate.For(int64(t)*step-r.p.Kerf-r.s.Keep) * l.Ask.Scale
	}
	tail[len(r.sack.items)] = last
	for n := len(r.sack.items) - 1; n >= 0; n-- {
		i, after := r.sack.items[n], tail[n+1]
		full, now := int((r.p.Items[i].Size+r.p.Kerf)/step), make([]int64, size)
		for t := range now {
			v := after[t]
			for c := int64(1); c <= l.Ask.Demand[i] && int(c)*full <= t; c++ {
				v = max(v, c*l.Ask.Duals[i]+after[t-int(c)*full])
				l.steps++
			}
			now[t] = v
		}
		tail[n] = now
		l.steps += int64(size)
	}
	l.Shared[key] = tail
	return tail
}

// filling is one way to fill one run.
type filling struct {
	items []int // one for each piece
	value int64 // duals and worth
	worth int64
}

// runsList is the search for the layouts of one stock.
type runsList struct {
	*price.Listing
	r      *Separate
	least  int64
	steps  int64
	best   []int64     // of the runs from j on
	ways   [][]filling // of each run
	counts []int64
	places []cutting.Place
	found  layouts
}

func (r *Separate) List(l *price.Listing, best, least int64) ([]price.Listed, bool) {
	if best < least {
		return nil, true
	}
	s := &runsList{Listing: l, r: r, least: least, counts: make([]int64, len(r.p.Items)),
		found: layouts{}}
	ok := s.fillRuns() && s.join(0, 0, 0)
	r.m.Add(8 * s.steps)
	return s.found.all(), ok
}

// fillRuns finds the ways to fill each run that can be part of a layout; false where they are too
// many.
func (l *runsList) fillRuns() bool {
	r, tail := l.r, l.tail()
	l.best, l.ways = make([]int64, len(r.clear)+1), make([][]filling, len(r.clear))
	for j := len(r.clear) - 1; j >= 0; j-- {
		length := r.clear[j].To - r.clear[j].From
		l.best[j] = l.best[j+1] + tail[0][(length+r.p.Kerf+r.sack.step-1)/r.sack.step]
	}
	for j, run := range r.clear {
		f := filler{l: l, tail: tail, least: l.least - (l.best[0] - l.best[j] + l.best[j+1])}
		if !f.fill(0, run.To-run.From+r.p.Kerf, 0) {
			return false
		}
		l.ways[j] = f.out
	}
	return true
}

// join puts together the ways to fill the runs from j on, after runs of so much value and worth;
// false where there are too many.
func (l *runsList) join(j int, value, worth int64) bool {
	r := l.r
	if l.steps++; l.steps > stepsOfList || len(l.found) > l.Most {
		return false
	}
	if value+l.best[j] < l.least {
		return true
	}
	if j == len(r.clear) {
		l.found.put(l.counts, r.index, l.places, worth)
		return true
	}
	for _, f := range l.ways[j] {
		at, fits := r.clear[j].From, true
		for _, i := range f.items {
			l.counts[i]++
			fits = fits && l.counts[i] <= l.Ask.Demand[i]
			l.places = append(l.places, cutting.Place{Item: i, At: at})
			at += r.p.Items[i].Size + r.p.Kerf
		}
		ok := !fits || l.join(j+1, value+f.value, worth+f.worth)
		for _, i := range f.items {
			l.counts[i]--
		}
		if l.places = l.places[:len(l.places)-len(f.items)]; !ok {
			return false
		}
	}
	return true
}

// filler finds the ways to fill one run.
type filler struct {
	l     *runsList
	tail  [][]int64
	least int64
	items []int
	out   []filling
}

// fill tries the items from n on in what is left of the run, the kerf of a last piece included.
func (f *filler) fill(n int, left, value int64) bool {
	r, l := f.l.r, f.l
	if l.steps++; l.steps > stepsOfList {
		return false
	}
	if value+f.tail[n][(left+r.sack.step-1)/r.sack.step] < f.least {
		return true
	}
	if n == len(r.sack.items) {
		w := r.s.Rate.For(left - r.p.Kerf - r.s.Keep)
		if v := value + w*l.Ask.Scale; v >= f.least {
			f.out = append(f.out, filling{append([]int(nil), f.items...), v, w})
		}
		return true
	}
	i, before := r.sack.items[n], len(f.items)
	full := r.p.Items[i].Size + r.p.Kerf
	for c := int64(0); c <= l.Ask.Demand[i] && c*full <= left; c++ {
		if c > 0 {
			f.items = append(f.items, i)
		}
		if !f.fill(n+1, left-c*full, value+c*l.Ask.Duals[i]) {
			return false
		}
	}
	f.items = f.items[:before]
	return true
}

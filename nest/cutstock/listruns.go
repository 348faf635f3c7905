package cutstock

import "fmt"

// tails gives for each n the most that items[n:] and the worth of what is left can give in a length
// that stands for its kerfs too, by that length / step rounded up: never too little.
func (l *lister) tail(r *runs) [][]int64 {
	key := fmt.Sprint(r.s.Holds, r.s.Rate, r.s.Keep)
	if l.tails[key] != nil {
		return l.tails[key]
	}
	step, size := r.sack.step, len(r.sack.h)+1
	tail := make([][]int64, len(r.sack.items)+1)
	last := make([]int64, size)
	for t := range last {
		last[t] = r.s.Rate.Of(int64(t)*step-r.p.Kerf-r.s.Keep) * l.a.scale
	}
	tail[len(r.sack.items)] = last
	for n := len(r.sack.items) - 1; n >= 0; n-- {
		i, after := r.sack.items[n], tail[n+1]
		full, now := int((r.p.Items[i].Size+r.p.Kerf)/step), make([]int64, size)
		for t := range now {
			v := after[t]
			for c := int64(1); c <= l.a.demand[i] && int(c)*full <= t; c++ {
				v = max(v, c*l.a.duals[i]+after[t-int(c)*full])
				l.steps++
			}
			now[t] = v
		}
		tail[n] = now
		l.steps += int64(size)
	}
	l.tails[key] = tail
	return tail
}

// filling is one way to fill one run.
type filling struct {
	items []int // one for each piece
	value int64 // duals and worth
	worth int64
}

// runs lists the patterns of a stock whose runs stand alone with at least so much value.
func (l *lister) runs(r *runs, least int64) (map[string]layoutOf, bool) {
	tail := l.tail(r)
	best := make([]int64, len(r.clear)+1) // of the runs from j on
	at := func(length int64) int { return int((length + r.p.Kerf + r.sack.step - 1) / r.sack.step) }
	for j := len(r.clear) - 1; j >= 0; j-- {
		best[j] = best[j+1] + tail[0][at(r.clear[j].To-r.clear[j].From)]
	}
	fillings := make([][]filling, len(r.clear))
	for j, run := range r.clear {
		f := filler{l: l, r: r, tail: tail, least: least - (best[0] - best[j] + best[j+1])}
		if !f.fill(0, run.To-run.From+r.p.Kerf, 0) {
			return nil, false
		}
		fillings[j] = f.out
	}
	found := map[string]layoutOf{}
	counts := make([]int64, len(r.p.Items))
	var places []Place
	var join func(j int, value, worth int64) bool
	join = func(j int, value, worth int64) bool {
		if l.steps++; l.steps > stepsOfList || len(found) > l.room {
			return false
		}
		if value+best[j] < least {
			return true
		}
		if j == len(r.clear) {
			key := countsKey(counts)
			if old, ok := found[key]; !ok || worth > old.worth {
				found[key] = layoutOf{append([]Place(nil), places...), worth}
			}
			return true
		}
		for _, f := range fillings[j] {
			at, fits := r.clear[j].From, true
			for _, i := range f.items {
				counts[i]++
				fits = fits && counts[i] <= l.a.demand[i]
				places = append(places, Place{Item: i, At: at})
				at += r.p.Items[i].Size + r.p.Kerf
			}
			ok := !fits || join(j+1, value+f.value, worth+f.worth)
			for _, i := range f.items {
				counts[i]--
			}
			if places = places[:len(places)-len(f.items)]; !ok {
				return false
			}
		}
		return true
	}
	return found, join(0, 0, 0)
}

// filler finds the ways to fill one run.
type filler struct {
	l     *lister
	r     *runs
	tail  [][]int64
	least int64
	items []int
	out   []filling
}

// fill tries the items from n on in what is left of the run, the kerf of a last piece included.
func (f *filler) fill(n int, left, value int64) bool {
	r, l := f.r, f.l
	if l.steps++; l.steps > stepsOfList {
		return false
	}
	if value+f.tail[n][(left+r.sack.step-1)/r.sack.step] < f.least {
		return true
	}
	if n == len(r.sack.items) {
		w := r.s.Rate.Of(left - r.p.Kerf - r.s.Keep)
		if v := value + w*l.a.scale; v >= f.least {
			f.out = append(f.out, filling{append([]int(nil), f.items...), v, w})
		}
		return true
	}
	i, before := r.sack.items[n], len(f.items)
	full := r.p.Items[i].Size + r.p.Kerf
	for c := int64(0); c <= l.a.demand[i] && c*full <= left; c++ {
		if c > 0 {
			f.items = append(f.items, i)
		}
		if !f.fill(n+1, left-c*full, value+c*l.a.duals[i]) {
			return false
		}
	}
	f.items = f.items[:before]
	return true
}

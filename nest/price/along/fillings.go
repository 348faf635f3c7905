package along

import (
	"rackwright/nest/cutting"
	"rackwright/nest/price"
	"rackwright/nest/price/counts"
)

// The list of a stock on which no piece can trade: each set of counts that has a layout worth
// enough, duals and worth together. A filling is one way to fill one clear run.
//
//	1. For each run, all fillings are found, longest items first.
//	2. A filling of each run, joined, is a layout.
//
// Either search turns back where the layout would be worth too little even with the most that may
// follow.

// fillings is the search for the layouts of one stock.
type fillings struct {
	*price.Listing
	r      *separate
	least  int64 // what a layout on the list is worth at least
	steps  int64
	ahead  []int64 // by run: at most what all runs from there on give
	ways   []ways  // by run
	form   *counts.Form
	chosen []int32         // by run: a way to fill it
	counts []counts.Counts // by run: of the runs before it
	found  *layouts
	by     []int32 // of each layout found, the ways chosen
}

// ways are those to fill one run.
type ways struct {
	of     []filling
	counts counts.Counts // one after the other
}

// filling is one way to fill one run.
type filling struct {
	value int64 // duals and worth
	worth int64
}

// at are the counts of a filling.
func (w *ways) at(n int) counts.Counts {
	words := len(w.counts) / len(w.of)
	return w.counts[n*words : (n+1)*words : (n+1)*words]
}

func (r *separate) List(l *price.Listing, best, least int64) (*price.List, bool) {
	if best < least {
		return nil, true
	}
	form := counts.NewForm(l.Ask.Demand)
	s := &fillings{Listing: l, r: r, least: least, form: form, found: newLayouts(form),
		chosen: make([]int32, len(r.runs))}
	for range len(r.runs) + 1 {
		s.counts = append(s.counts, form.None())
	}
	ok := s.fillRuns() && s.join(0, 0, 0)
	r.m.Add(8*s.steps + stepsOfLayout*int64(len(s.found.worth)))
	return &price.List{Counts: s.found.set, Form: form, Worth: s.found.worth, LayOut: s.layOut}, ok
}

// tails gives, by n, the most that a length can give: by pieces of items[n:] of the knapsack, and
// the stretch behind them. A kerf behind each piece, and one behind the stretch, are part of the
// length. It counts the steps of a table by lengths, the first time for a slope and a length to
// keep.
func (l *fillings) tails() []*scale {
	n, s := l.r.knapsack, l.r.s
	tails := n.tailsOf(l.Listing)
	out := make([]*scale, len(tails))
	for m, t := range tails {
		out[m] = t.scales.get(t.front, 0, s.Slope)
	}
	if key := [2]int64{s.Slope, s.Keep}; !n.counted[key] {
		n.counted[key] = true
		l.steps += n.tailSteps(l.Ask)
	}
	return out
}

// most is the most of tails from n on in a length; a length between two steps counts as the longer
// one.
func (l *fillings) most(tails []*scale, n int, length int64) int64 {
	step, kerf := l.r.knapsack.step, l.r.p.Kerf
	v, _, _ := tails[n].most((length+step-1)/step*step-kerf, kerf, l.r.s.Keep)
	return v
}

// fillRuns finds the fillings of each run that can be part of a layout on the list; false where the
// search is too long or the layouts are too many.
func (l *fillings) fillRuns() bool {
	r, tails := l.r, l.tails()
	l.ahead, l.ways = make([]int64, len(r.runs)+1), make([]ways, len(r.runs))
	for j := len(r.runs) - 1; j >= 0; j-- {
		length := r.runs[j].To - r.runs[j].From
		l.ahead[j] = l.ahead[j+1] + l.most(tails, 0, length+r.p.Kerf)
	}
	for j, run := range r.runs {
		others := l.ahead[0] - l.ahead[j] + l.ahead[j+1]
		f := filler{l: l, tails: tails, least: l.least - others, most: stepsOfList,
			counts: l.form.None()}
		if len(r.runs) == 1 { // each is a layout
			f.most = l.Most + 1 // one may be without a piece
		}
		if !f.fill(0, run.To-run.From+r.p.Kerf, 0) {
			return false
		}
		l.ways[j] = f.out
	}
	return true
}

// join joins the fillings of the runs from j on, after runs of so much value and worth; false where
// the search is too long or the layouts are too many.
func (l *fillings) join(j int, value, worth int64) bool {
	r := l.r
	if l.steps++; l.steps > stepsOfList || len(l.found.worth) > l.Most {
		return false
	}
	if value+l.ahead[j] < l.least {
		return true
	}
	if j == len(r.runs) {
		l.keep(worth)
		return true
	}
	for w, f := range l.ways[j].of {
		l.chosen[j] = int32(w)
		if l.form.Sum(l.counts[j+1], l.counts[j], l.ways[j].at(w)) &&
			!l.join(j+1, value+f.value, worth+f.worth) {
			return false
		}
	}
	return true
}

// keep keeps the layout under way, if it has a piece.
func (l *fillings) keep(worth int64) {
	c := l.counts[len(l.chosen)]
	if c.Empty() {
		return
	}
	n, kept := l.found.put(c, worth)
	if from := n * len(l.chosen); from == len(l.by) {
		l.by = append(l.by, l.chosen...)
	} else if kept {
		copy(l.by[from:], l.chosen)
	}
}

// layOut lays out a layout found.
func (l *fillings) layOut(n int) *cutting.Pattern {
	var places []cutting.Place
	for j, run := range l.r.runs {
		row, at := l.ways[j].at(int(l.by[n*len(l.chosen)+j])), run.From
		for _, i := range l.r.knapsack.items {
			for range l.form.Of(row, i) {
				places = append(places, cutting.Place{Item: i, At: at})
				at += l.r.p.Items[i].Size + l.r.p.Kerf
			}
		}
	}
	return &cutting.Pattern{Stock: l.r.index, Places: places, Worth: l.found.worth[n]}
}

// filler finds the fillings of one run.
type filler struct {
	l      *fillings
	tails  []*scale
	least  int64         // what a filling is worth at least
	most   int           // fillings that there may be
	counts counts.Counts // of the filling under way
	out    ways
}

// fill tries the items of the knapsack from n on in what is left of the run and a kerf behind it.
// The pieces so far have a value. False where the search is too long or the fillings are too many.
func (f *filler) fill(n int, left, value int64) bool {
	r, l := f.l.r, f.l
	if l.steps++; l.steps > stepsOfList {
		return false
	}
	if value+l.most(f.tails, n, left) < f.least {
		return true
	}
	if n == len(r.knapsack.items) {
		w := r.worth(left - r.p.Kerf)
		if v := value + w; v >= f.least {
			f.out.of = append(f.out.of, filling{v, w})
			f.out.counts = append(f.out.counts, f.counts...)
		}
		return len(f.out.of) <= f.most
	}
	i := r.knapsack.items[n]
	full := r.p.Items[i].Size + r.p.Kerf
	most := min(l.Ask.Demand[i], left/full)
	for c := range most + 1 {
		if c > 0 {
			l.form.Add(f.counts, i, 1)
		}
		if !f.fill(n+1, left-c*full, value+c*l.Ask.Duals[i]) {
			return false
		}
	}
	l.form.Add(f.counts, i, -most)
	return true
}

package along

import (
	"cmp"
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// label is a layout of the pieces up to x: after x, their last kerf paid, the next may start.
type label struct {
	x      int64
	counts []int64
	worth  int64 // of the gaps so far: whole units, and
	rem    int64 // the rest of the chain that goes on, in 1/Den
	value  int64 // duals of the pieces
	last   cutting.Place
	before *label
}

// slack is how much more than the tables of price.go say the w of a linked stock can be: a chain
// goes on here where there a flag is taken back, which is a unit at most for each stretch that is
// worth something.
func (r *Linked) slack() int64 {
	usable := r.s.To - r.s.From
	shortest := usable
	for _, i := range r.s.Holds {
		shortest = min(shortest, r.p.Items[i].Size)
	}
	return min(usable/(r.s.Keep+1), usable/max(1, shortest)+int64(len(r.s.Spots))+1) + 1
}

func (r *Linked) List(l *price.Listing, best, least int64) ([]price.Listed, bool) {
	slack := r.slack() * l.Ask.Scale
	if best+slack < least {
		return nil, true
	}
	r.run(l.Ask)
	w := &labels{Listing: l, r: r, least: least - slack, exact: least,
		at: make([][]*label, len(r.pos)+1), best: map[string]*label{}, found: layouts{}}
	for _, run := range r.runs {
		w.edges = append(w.edges, run.From, run.To)
	}
	ok := w.all()
	r.m.Add(8 * w.steps)
	return w.found.all(), ok
}

// labels is the search for the layouts of one stock.
type labels struct {
	*price.Listing
	r     *Linked
	least int64 // by the tables of price.go
	exact int64
	steps int64
	edges []int64
	at    [][]*label        // by position
	best  map[string]*label // the most worth so far, by counts and stretch
	found layouts
}

// all extends the labels in the order of their positions; false where they are too many.
func (w *labels) all() bool {
	w.at[0] = []*label{{x: w.r.s.From, counts: make([]int64, len(w.r.p.Items)),
		last: cutting.Place{Item: -1}}}
	for t := range w.at {
		slices.SortFunc(w.at[t], func(a, b *label) int {
			return cmp.Or(cmp.Compare(a.x, b.x), cmp.Compare(b.worth, a.worth),
				cmp.Compare(b.rem, a.rem), slices.Compare(a.counts, b.counts),
				cmp.Compare(a.last.Item, b.last.Item))
		})
		for _, b := range w.at[t] {
			if !w.dominated(b) && !w.extend(t, b) {
				return false
			}
		}
		w.at[t] = nil
	}
	return true
}

// dominated says whether an earlier label leads to all that this one does.
func (w *labels) dominated(b *label) bool {
	stretch := 0
	for stretch < len(w.edges) && w.edges[stretch] <= b.x {
		stretch++
	}
	key := countsKey(append(b.counts, int64(stretch)))
	old := w.best[key]
	if old != nil && cmp.Or(cmp.Compare(old.worth, b.worth), cmp.Compare(old.rem, b.rem)) >= 0 {
		return true
	}
	w.best[key] = b
	return false
}

// extend takes a label to each next piece, and to the stock's end.
func (w *labels) extend(t int, b *label) bool {
	r := w.r
	layer := 0
	if b.before == nil {
		layer = 1
	}
	gap := gapWorth{s: r.s, runs: r.runs, from: b.x, worth: b.worth, rem: b.rem}
	gap.start()
	for u := t; u < len(r.pos); u++ {
		if w.steps++; w.steps > stepsOfList {
			return false
		}
		worth, rem := gap.to(r.pos[u] - r.p.Kerf)
		ahead := b.value + (worth+1)*w.Ask.Scale // the chain's rest counts as a whole unit
		if ahead+r.f[layer][1][u] < w.least {
			continue
		}
		for q := range r.items {
			for _, i := range r.items[q][:r.fit[q][u]] {
				after := r.pos[u] + r.p.Items[i].Size + r.p.Kerf
				to := r.at(after)
				if b.counts[i] == w.Ask.Demand[i] || ahead+w.Ask.Duals[i]+r.f[0][1][to] < w.least {
					continue
				}
				next := &label{x: after, counts: slices.Clone(b.counts), worth: worth, rem: rem,
					value: b.value +
						w.Ask.Duals[i], last: cutting.Place{Item: i, At: r.pos[u]}, before: b}
				next.counts[i]++
				w.at[to] = append(w.at[to], next)
				w.steps += 8
			}
		}
	}
	worth, _ := gap.to(r.s.To)
	if b.before == nil || b.value+worth*w.Ask.Scale < w.exact {
		return true
	}
	w.found.put(b.counts, r.index, b.places(), worth)
	return len(w.found) <= w.Most
}

func (b *label) places() (out []cutting.Place) {
	for ; b.before != nil; b = b.before {
		out = append(out, b.last)
	}
	slices.Reverse(out)
	return out
}

// gapWorth adds to the worth of a label that of the gap from its end to a point that only moves on.
type gapWorth struct {
	s          *cutting.Stock
	runs       []cutting.Span
	from       int64
	worth, rem int64 // before the part in run j
	j          int
}

func (g *gapWorth) start() {
	for g.j < len(g.runs) && g.runs[g.j].To <= g.from {
		g.j++
	}
}

// add sums, as fractions, the worth of a length in one run.
func (g *gapWorth) add(length int64) (worth, rem int64) {
	if length <= g.s.Keep || g.s.Rate.Num == 0 {
		return g.worth, g.rem
	}
	q, m := g.s.Rate.Split(length - g.s.Keep)
	if m += g.rem; m >= g.s.Rate.Den {
		q, m = q+1, m-g.s.Rate.Den
	}
	return g.worth + q, m
}

// to gives the worth with the gap up to a point; a chain ends, rounded down, where the gap passes
// from one run to the next.
func (g *gapWorth) to(x int64) (worth, rem int64) {
	for g.j+1 < len(g.runs) && g.runs[g.j+1].From < x {
		run := g.runs[g.j]
		g.worth, _ = g.add(run.To - max(run.From, g.from))
		g.rem = 0
		g.j++
	}
	if g.j == len(g.runs) {
		return g.worth, g.rem
	}
	run := g.runs[g.j]
	return g.add(min(x, run.To) - max(run.From, g.from))
}

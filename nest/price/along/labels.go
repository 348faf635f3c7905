package along

import (
	"cmp"
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
)

// The list of a linked stock: each set of counts that has a layout worth enough, duals and worth
// together.
//
// The worth of a listed layout. The stretches of a chain are summed as exact fractions. The sum is
// rounded down once, where the chain ends: where a gap passes from one clear run to the next. So a
// trade loses nothing, and for any counts some layout on the starts of starts.go is worth most.
//
// The search. A label is a layout of the pieces up to a point. Labels are taken in the order of
// their points. A label leads to a new one for each piece at each later start. It leads also to
// the layout with no more pieces. Two kinds of labels are dropped:
//
//	too little   value, worth, one unit and F of what may follow, by the tables of linked.go, are
//	             together less than what is asked less the slack
//	dominated    an earlier label has the same counts and no less worth, and no clear run begins
//	             or ends between the two points: it leads to all that the later one leads to

// label is a layout of the pieces up to x.
type label struct {
	x      int64 // behind the last piece, its kerf paid
	counts []int64
	worth  int64 // of the gaps before x, in whole units,
	rem    int64 // and the fraction of the chain that goes on, in 1/Rate.Den
	value  int64 // duals of the pieces
	last   cutting.Place
	before *label // without the last piece; nil: there is none
}

// slack is how many units more the list may say that a layout is worth than the tables of linked.go
// say. There the flag falls to 0 wherever a gap leaves a spot. Here the chain goes on if the gap
// began in that spot, or ends where the next run begins. That is a unit at most for each stretch
// longer than keep.
//
//	U           length of the stock
//	stretches   at most U / (keep + 1), and at most U / shortest item + spots + 1
func (r *linked) slack() int64 {
	usable := r.s.To - r.s.From
	shortest := usable
	for _, i := range r.s.Holds {
		shortest = min(shortest, r.p.Items[i].Size)
	}
	return min(usable/(r.s.Keep+1), usable/max(1, shortest)+int64(len(r.s.Spots))+1) + 1
}

func (r *linked) List(l *price.Listing, best, least int64) ([]price.Listed, bool) {
	slack := r.slack() * l.Ask.Scale
	if best+slack < least {
		return nil, true
	}
	r.solve(l.Ask)
	s := &labels{Listing: l, r: r, least: least, byTables: least - slack,
		at: make([][]*label, len(r.starts)+1), leading: map[string]*label{}, found: layouts{}}
	for _, run := range r.runs {
		s.edges = append(s.edges, run.From, run.To)
	}
	ok := s.all()
	r.m.Add(8 * s.steps)
	return s.found.all(), ok
}

// labels is the search for the layouts of one stock.
type labels struct {
	*price.Listing
	r        *linked
	least    int64 // what a layout on the list is worth at least
	byTables int64 // the same by the tables of linked.go
	steps    int64
	edges    []int64    // of clear runs, ascending
	at       [][]*label // by the first start at or after x
	found    layouts
	// the last label that was not dominated, by counts and the edges before x
	leading map[string]*label
}

// all extends the labels in the order of their points; false where the search is too long or the
// layouts are too many.
func (s *labels) all() bool {
	s.at[0] = []*label{{x: s.r.s.From, counts: make([]int64, len(s.r.p.Items)),
		last: cutting.Place{Item: -1}}}
	for t := range s.at {
		slices.SortFunc(s.at[t], func(a, b *label) int {
			return cmp.Or(cmp.Compare(a.x, b.x), cmp.Compare(b.worth, a.worth),
				cmp.Compare(b.rem, a.rem), slices.Compare(a.counts, b.counts),
				cmp.Compare(a.last.Item, b.last.Item))
		})
		for _, b := range s.at[t] {
			if !s.dominated(b) && !s.extend(t, b) {
				return false
			}
		}
		s.at[t] = nil
	}
	return true
}

// dominated says whether an earlier label dominates this one; else it may dominate later ones.
func (s *labels) dominated(b *label) bool {
	before := 0
	for before < len(s.edges) && s.edges[before] <= b.x {
		before++
	}
	key := countsKey(append(b.counts, int64(before)))
	old := s.leading[key]
	if old != nil && cmp.Or(cmp.Compare(old.worth, b.worth), cmp.Compare(old.rem, b.rem)) >= 0 {
		return true
	}
	s.leading[key] = b
	return false
}

// extend leads a label to each next piece, and to a layout; false where the search is too long or
// the layouts are too many.
func (s *labels) extend(t int, b *label) bool {
	r := s.r
	layer := 0
	if b.before == nil {
		layer = 1
	}
	gap := gapWorth{s: r.s, runs: r.runs, from: b.x, worth: b.worth, rem: b.rem}
	gap.start()
	for u := t; u < len(r.starts); u++ {
		if s.steps++; s.steps > stepsOfList {
			return false
		}
		worth, rem := gap.to(r.starts[u] - r.p.Kerf)
		ahead := b.value + (worth+1)*s.Ask.Scale // the chain's fraction counts as a whole unit
		if ahead+r.f[layer][1][u] < s.byTables {
			continue
		}
		for q := range r.items {
			for _, i := range r.items[q][:r.fits[q][u]] {
				after := r.starts[u] + r.p.Items[i].Size + r.p.Kerf
				to := r.at(after)
				if b.counts[i] == s.Ask.Demand[i] ||
					ahead+s.Ask.Duals[i]+r.f[0][1][to] < s.byTables {
					continue
				}
				next := &label{x: after, counts: slices.Clone(b.counts), worth: worth, rem: rem,
					value: b.value + s.Ask.Duals[i],
					last:  cutting.Place{Item: i, At: r.starts[u]}, before: b}
				next.counts[i]++
				s.at[to] = append(s.at[to], next)
				s.steps += 8
			}
		}
	}
	worth, _ := gap.to(r.s.To)
	if b.before == nil || b.value+worth*s.Ask.Scale < s.least {
		return true
	}
	s.found.put(b.counts, r.index, b.places(), worth)
	return len(s.found) <= s.Most
}

func (b *label) places() (out []cutting.Place) {
	for ; b.before != nil; b = b.before {
		out = append(out, b.last)
	}
	slices.Reverse(out)
	return out
}

// gapWorth adds the gap behind a label to its worth, up to a point that only moves on.
type gapWorth struct {
	s          *cutting.Stock
	runs       []cutting.Span
	from       int64 // where the gap begins
	worth, rem int64 // before the stretch in run j
	j          int
}

// start finds the run of the first stretch.
func (g *gapWorth) start() {
	for g.j < len(g.runs) && g.runs[g.j].To <= g.from {
		g.j++
	}
}

// add gives the worth with a stretch of a length added, as a fraction.
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

// to gives the worth with the gap up to x. The chain ends, and its fraction goes, where the gap
// passes from one run to the next.
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

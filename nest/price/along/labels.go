package along

import (
	"cmp"
	"slices"

	"rackwright/nest/cutting"
	"rackwright/nest/price"
	"rackwright/nest/price/counts"
)

// The list of a linked stock: each set of counts that has a layout worth enough, duals and worth
// together.
//
// The search. A label is a layout of the pieces up to a point. Labels are taken in the order of
// their points. A label leads to a new one for each piece at each later start. It leads also to
// the layout with no more pieces. Two kinds of labels are dropped:
//
//	too little   value, worth and F of what may follow, by the tables of linked.go, are together
//	             less than what is asked
//	dominated    an earlier label has the same counts and no less worth, and no clear run begins
//	             or ends between the two points: it leads to all that the later one leads to

// mostOfList is how many starts there may be for the list of a stock, times its items and 8 more.
// The checker's limit is twice as high.
const mostOfList = 1 << 23

// label is a layout of the pieces up to x.
type label struct {
	x      int64 // behind the last piece, its kerf paid
	counts counts.Counts
	worth  int64 // of the gaps before x
	value  int64 // duals of the pieces
	last   cutting.Place
	before *label // without the last piece; nil: there is none
}

func (r *linked) List(l *price.Listing, best, least int64) (*price.List, bool) {
	switch {
	case best < least:
		return nil, true
	case len(r.starts) > mostOfList/(len(r.s.Holds)+8):
		return nil, false
	}
	r.solve(l.Ask)
	form := counts.NewForm(l.Ask.Demand)
	s := &labels{Listing: l, r: r, least: least, form: form, found: newLayouts(form),
		at: make([][]*label, len(r.starts)+1)}
	for _, run := range r.runs {
		s.edges = append(s.edges, run.From, run.To)
	}
	for range len(s.edges) + 1 {
		s.leading = append(s.leading, leading{set: counts.NewSet(form)})
	}
	ok := s.all()
	r.m.Add(8*s.steps + stepsOfLayout*int64(len(s.found.worth)))
	return &price.List{Counts: s.found.set, Form: form, Worth: s.found.worth, LayOut: s.layOut}, ok
}

// labels is the search for the layouts of one stock.
type labels struct {
	*price.Listing
	r     *linked
	least int64 // what a layout on the list is worth at least
	steps int64
	form  *counts.Form
	edges []int64    // of clear runs, ascending
	at    [][]*label // by the first start at or after x
	found *layouts
	by    []*label // of each layout found, its last
	// the last label that was not dominated, by counts, and by how many edges are before x
	leading []leading
}

// leading are labels by the number of their counts.
type leading struct {
	set *counts.Set
	by  []*label
}

// all extends the labels in the order of their points; false where the search is too long or the
// layouts are too many.
func (s *labels) all() bool {
	s.at[0] = []*label{{x: s.r.s.From, counts: s.form.None(),
		last: cutting.Place{Item: -1}}}
	for t := range s.at {
		slices.SortFunc(s.at[t], func(a, b *label) int {
			return cmp.Or(cmp.Compare(a.x, b.x), cmp.Compare(b.worth, a.worth),
				slices.Compare(a.counts, b.counts), cmp.Compare(a.last.Item, b.last.Item))
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
	l := &s.leading[before]
	n, fresh := l.set.Put(b.counts)
	if fresh {
		l.by = append(l.by, b)
		return false
	}
	if l.by[n].worth >= b.worth {
		return true
	}
	l.by[n] = b
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
	gap := gapWorth{r: r, from: b.x, worth: b.worth}
	for u := t; u < len(r.starts); u++ {
		if s.steps++; s.steps > stepsOfList {
			return false
		}
		worth := gap.to(r.starts[u] - r.p.Kerf)
		ahead := b.value + worth
		if ahead+r.f[layer][u] < s.least {
			continue
		}
		for q := range r.items {
			for _, i := range r.fitting(q, u) {
				after := r.starts[u] + r.p.Items[i].Size + r.p.Kerf
				to := r.at(after)
				if s.form.Of(b.counts, i) == s.Ask.Demand[i] ||
					ahead+s.Ask.Duals[i]+r.f[0][to] < s.least {
					continue
				}
				next := &label{x: after, counts: slices.Clone(b.counts), worth: worth,
					value: b.value + s.Ask.Duals[i],
					last:  cutting.Place{Item: i, At: r.starts[u]}, before: b}
				s.form.Add(next.counts, i, 1)
				s.at[to] = append(s.at[to], next)
				s.steps += 8
			}
		}
	}
	worth := gap.to(r.s.To)
	if b.before == nil || b.value+worth < s.least {
		return true
	}
	if n, kept := s.found.put(b.counts, worth); n == len(s.by) {
		s.by = append(s.by, b)
	} else if kept {
		s.by[n] = b
	}
	return len(s.by) <= s.Most
}

// layOut lays out a layout found.
func (s *labels) layOut(n int) *cutting.Pattern {
	var places []cutting.Place
	for b := s.by[n]; b.before != nil; b = b.before {
		places = append(places, b.last)
	}
	slices.Reverse(places)
	return &cutting.Pattern{Stock: s.r.index, Places: places, Worth: s.found.worth[n]}
}

// gapWorth adds the gap behind a label to its worth, up to a point that only moves on.
type gapWorth struct {
	r     *linked
	from  int64 // where the gap begins
	worth int64 // before the stretch in run j
	j     int
}

// to gives the worth with the gap up to x.
func (g *gapWorth) to(x int64) int64 {
	for ; g.j < len(g.r.runs); g.j++ {
		run := g.r.runs[g.j]
		stretch := g.r.worth(min(x, run.To) - max(run.From, g.from))
		if run.To >= x {
			return g.worth + stretch
		}
		g.worth += stretch
	}
	return g.worth
}

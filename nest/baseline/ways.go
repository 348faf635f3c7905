package baseline

import (
	"cmp"
	"context"
	"math"
	"slices"

	"rackwright/nest/cutting"
)

// way is one in which stocks with Across are filled.
type way int

const (
	unripped  way = iota // as if none had Across
	byLengths            // crosscut first
	byStrips             // ripped first
)

// fill fills stocks in one way, none of them with Across where they are not ripped.
func fill(ctx context.Context, p *cutting.Problem, onHand []bool, list []run, rule Rule, by way,
	order []int) (uses []cutting.Use, unmet []int64) {
	f := &filling{p: p, onHand: onHand, order: order, by: by, used: make([]int64, len(p.Stocks)),
		narrowest: make([]int64, len(p.Stocks)), stripped: make([][]*load, len(p.Stocks)), ctx: ctx}
	for a := range f.ends {
		f.ends[a] = make([][]int64, len(p.Stocks))
	}
	for s := range p.Stocks {
		f.empty = append(f.empty, &load{stock: s})
	}
	unmet = make([]int64, len(p.Items))
	for _, r := range inOrder(p, list, rule, by) {
		unmet[r.item] += f.place(r, rule)
	}
	if rule == BestFitDecreasing {
		f.exchange()
	}
	return f.uses(), unmet
}

// wholeWidth fills stocks as if none could be ripped: every piece takes the whole width, and so
// does every spot.
func wholeWidth(ctx context.Context, p *cutting.Problem, onHand []bool, list []run,
	rule Rule) (uses []cutting.Use, unmet []int64) {
	q := *p
	q.Stocks = slices.Clone(p.Stocks)
	for n := range q.Stocks {
		q.Stocks[n].Across = nil
	}
	uses, unmet = fill(ctx, &q, onHand, list, rule, unripped, openingOrder(p, onHand, nil))
	for n := range uses {
		t := &uses[n].Pattern
		if a := p.Stocks[t.Stock].Across; a != nil {
			for i := range t.Places {
				t.Places[i].Right = a.Width
			}
			t.Worth = p.Worth(t)
		}
	}
	return uses, unmet
}

// inOrder is the list in the order in which a rule takes it.
func inOrder(p *cutting.Problem, list []run, rule Rule, by way) (out []run) {
	if rule == FirstFit {
		return list
	}
	wide := itemWidths(p)
	list = slices.Clone(list)
	slices.SortStableFunc(list, func(a, b run) int {
		x, y := &p.Items[a.item], &p.Items[b.item]
		size, width := cmp.Compare(y.Size, x.Size), cmp.Compare(wide[b.item], wide[a.item])
		switch by {
		case unripped:
			width = 0
		case byStrips:
			size, width = width, size
		}
		return cmp.Or(size, width, cmp.Compare(x.Class, y.Class))
	})
	for _, r := range list {
		if last := len(out) - 1; last >= 0 && out[last].item == r.item {
			out[last].copies += r.copies
		} else {
			out = append(out, r)
		}
	}
	return out
}

// itemWidths are those that items take of stocks with Across, the most where they differ; what none
// of these holds is as wide as any.
func itemWidths(p *cutting.Problem) []int64 {
	wide := make([]int64, len(p.Items))
	for _, s := range p.Stocks {
		if !s.Rippable() {
			continue
		}
		for _, i := range s.Holds {
			w := p.Items[i].Width
			if _, asItIs := slices.BinarySearch(s.Across.Whole, i); asItIs {
				w = s.Across.Width
			}
			wide[i] = max(wide[i], w)
		}
	}
	for i, w := range wide {
		if w == 0 {
			wide[i] = math.MaxInt64
		}
	}
	return wide
}

// stockWidths are those of stocks; one without Across counts as the widest.
func stockWidths(p *cutting.Problem) []int64 {
	var widest int64
	for _, s := range p.Stocks {
		if s.Rippable() {
			widest = max(widest, s.Across.Width)
		}
	}
	wide := slices.Repeat([]int64{widest}, len(p.Stocks))
	for n, s := range p.Stocks {
		if s.Rippable() {
			wide[n] = s.Across.Width
		}
	}
	return wide
}

// sizeOf is the size of so many pieces of each item together.
func sizeOf(p *cutting.Problem, counts []int64) (sum int64) {
	for i, n := range counts {
		sum += n * p.Items[i].Size
	}
	return sum
}

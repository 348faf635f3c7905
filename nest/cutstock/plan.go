package cutstock

import (
	"cmp"
	"slices"
)

// nothing is the plan that meets nothing.
func (k *solver) nothing() plan {
	pl := plan{unmet: make([]int64, len(k.p.Items))}
	for i, it := range k.p.Items {
		pl.unmet[i] = it.Demand
		pl.short += it.Demand * it.Size
	}
	return pl
}

// offer makes a plan of patterns, without their surplus, and keeps it if it is better than the
// incumbent: less unmet length, then less cost, then what ties.go says.
func (k *solver) offer(uses []Use) {
	pl := k.trimmed(uses)
	if pl.short > 0 {
		pl = k.trimmed(k.filled(uses, pl.unmet))
	}
	if pl.short < k.best.short || pl.short == k.best.short && pl.value <= k.best.value {
		for i := range pl.uses { // each stock laid out anew for its own pieces
			pl.uses[i].Pattern = k.p.Layout(pl.uses[i].Pattern)
		}
		pl.value = k.p.Value(pl.uses)
	}
	pl.tie = k.p.tie(pl.uses)
	if cmp.Or(cmp.Compare(pl.short, k.best.short), cmp.Compare(pl.value, k.best.value),
		cmp.Compare(pl.tie, k.best.tie)) < 0 {
		k.best = pl
	}
}

// filled adds, for what a plan leaves unmet, stocks that are still there: longest items first, each
// stock filled from its start on.
func (k *solver) filled(uses []Use, unmet []int64) []Use {
	left := slices.Clone(unmet)
	used := make([]int64, len(k.p.Stocks))
	for _, u := range uses {
		used[u.Pattern.Stock] += u.Times
	}
	out := slices.Clone(uses)
	for s := range k.p.Stocks {
		for n := used[s]; k.p.Stocks[s].Supply == Any || n < k.p.Stocks[s].Supply; n++ {
			t := k.greedy(s, left)
			if t == nil {
				break
			}
			out = append(out, Use{*t, 1})
		}
	}
	return out
}

// greedy fills one stock with what is left, each time the longest item that fits at its first legal
// place, and takes it from what is left; a stock with Across as if all were worth their size. Nil:
// nothing fits.
func (k *solver) greedy(s int, left []int64) *Pattern {
	p := k.p
	if p.Stocks[s].Across != nil {
		return k.greedyAcross(s, left)
	}
	var places []Place
	items := slices.Clone(p.Stocks[s].Holds)
	sortBySize(p, items)
	from := p.Stocks[s].From
	for n := len(items) - 1; n >= 0; n-- {
		i := items[n]
		for left[i] > 0 {
			at := int64(-1)
			for _, x := range append([]int64{from}, edges(&p.Stocks[s], from)...) {
				if p.Legal(s, Place{Item: i, At: x}) && (at < 0 || x < at) {
					at = x
				}
			}
			if at < 0 {
				break
			}
			places = append(places, Place{Item: i, At: at})
			from = at + p.Items[i].Size + p.Kerf
			left[i]--
		}
	}
	if len(places) == 0 {
		return nil
	}
	return &Pattern{Stock: s, Places: places, Worth: p.Worth(s, places)}
}

func (k *solver) greedyAcross(s int, left []int64) *Pattern {
	duals := make([]int64, len(left))
	for i, n := range left {
		if it := &k.p.Items[i]; n > 0 {
			duals[i] = it.Size / 64 * max(1, it.Width/64)
		}
	}
	k.work += k.pricers[s].work()
	k.pricers[s].price(k.ask(duals, left))
	t := k.pricers[s].walk(left, -1)
	if t == nil {
		return nil
	}
	for _, pl := range t.Places {
		left[pl.Item]--
	}
	t.Worth = k.p.WorthOf(t)
	return t
}

// trimmed takes out what no demand asks for, each time the copy whose absence gains most worth;
// patterns left empty are not used.
func (k *solver) trimmed(uses []Use) plan {
	pl := k.nothing()
	for _, u := range uses {
		for _, place := range u.Pattern.Places {
			pl.unmet[place.Item] -= u.Times
		}
	}
	for _, u := range uses {
		if k.surplus(pl.unmet, &u.Pattern) < 0 {
			if u.Times > 0 && len(u.Pattern.Places) > 0 {
				pl.uses = append(pl.uses, u)
			}
			continue
		}
		for range u.Times { // each copy may lose other pieces
			t := u.Pattern
			for {
				drop := k.surplus(pl.unmet, &t)
				if drop < 0 {
					break
				}
				less := k.without(&t, drop)
				for _, place := range t.Places { // with it a slab may go
					pl.unmet[place.Item]++
				}
				for _, place := range less.Places {
					pl.unmet[place.Item]--
				}
				t = less
			}
			if len(t.Places) > 0 {
				pl.uses = append(pl.uses, Use{t, 1})
			}
		}
	}
	pl.short = 0
	for i, n := range pl.unmet {
		pl.short += n * k.p.Items[i].Size
	}
	pl.value = k.p.Value(pl.uses)
	return pl
}

// surplus is the place of a pattern whose piece is not wanted and whose absence gains most worth;
// -1 if there is none.
func (k *solver) surplus(unmet []int64, t *Pattern) int {
	at, gain := -1, int64(-1)
	for n, pl := range t.Places {
		if unmet[pl.Item] >= 0 {
			continue
		}
		w := k.without(t, n)
		if w.Worth > gain {
			at, gain = n, w.Worth
		}
	}
	return at
}

func (k *solver) without(t *Pattern, n int) Pattern {
	if k.p.Stocks[t.Stock].Across != nil {
		return k.p.dropped(t, n)
	}
	places := append(append([]Place(nil), t.Places[:n]...), t.Places[n+1:]...)
	places = k.p.settle(t.Stock, places)
	return Pattern{Stock: t.Stock, Places: places, Worth: k.p.Worth(t.Stock, places)}
}

// settle moves each piece, in the same order, as near to the stock's start as it may lie, where
// that loses no worth.
func (p *Problem) settle(stock int, places []Place) []Place {
	s := &p.Stocks[stock]
	moved := make([]Place, 0, len(places))
	from := s.From
	for _, pl := range places {
		at := pl.At
		for _, x := range append([]int64{from}, edges(s, from)...) {
			if x < at && p.Legal(stock, Place{Item: pl.Item, At: x}) {
				at = x
			}
		}
		moved = append(moved, Place{Item: pl.Item, At: at})
		from = at + p.Items[pl.Item].Size + p.Kerf
	}
	if p.Worth(stock, moved) >= p.Worth(stock, places) {
		return moved
	}
	return places
}

// edges are the ends of spots after x.
func edges(s *Stock, x int64) []int64 {
	var out []int64
	for _, spot := range s.Spots {
		if spot.To > x {
			out = append(out, spot.To)
		}
	}
	return out
}

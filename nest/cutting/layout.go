package cutting

import (
	"cmp"
	"encoding/binary"
	"math"
	"slices"
)

// mostStates is how many states a search for a layout may take; a pattern that needs more stays.
const mostStates = 20000

// Layout lays the pieces of a pattern out anew on its stock, and gives the best layout tried: most
// worth of offcuts, then fewest separate remainders, then longer pieces nearer to the stock's
// start. It is never worth less than the pattern.
//
// A piece is tried right after the one before, behind each spot, and ending at each spot or at the
// stock's end. A state is the point reached and how many pieces of each item are left. Dynamic
// programming finds the best ending of each state once. On a stock with Across pieces are only
// pushed together, and the ripped span is chosen anew.
func (p *Problem) Layout(t Pattern) Pattern {
	if p.Stocks[t.Stock].Rippable() {
		// a piece that was moved may leave nothing beside it that is kept
		t = p.Normal(p.respanned(p.pushed(p.respanned(p.Normal(t)))))
		t.Worth = p.Worth(&t)
		return t
	}
	l := layoutSearch{p: p, s: &p.Stocks[t.Stock], stock: t.Stock, memo: map[string]ending{},
		budget: mostStates}
	items, counts := Tally(t.Places)
	l.items = slices.Clone(items)
	slices.SortStableFunc(l.items, func(a, b int) int {
		return cmp.Compare(p.Items[b].Size, p.Items[a].Size)
	})
	left := make([]byte, len(items))
	for n, i := range items {
		if counts[n] > math.MaxUint8 {
			return t // more copies than a byte counts: such a pattern stays as it is
		}
		left[slices.Index(l.items, i)] = byte(counts[n])
	}
	best := l.ending(l.s.From, left)
	if !best.ok || l.budget <= 0 || best.worth < t.Worth {
		return t
	}
	return Pattern{Stock: t.Stock, Places: l.trace(left), Worth: best.worth}
}

// layoutSearch is the search for a layout of some pieces on a stock without Across.
type layoutSearch struct {
	p      *Problem
	s      *Stock
	stock  int
	items  []int // longest first
	memo   map[string]ending
	budget int // states that may still be looked at
}

// ending is the best way on from a state: what it is worth, how many remainders it leaves, and its
// first piece.
type ending struct {
	worth, remainders int64
	item              int // of the first piece, as an index of layoutSearch.items; -1: none is left
	at                int64
	ok                bool // there is one
}

// ending gives the best way on from a point, a kerf before it paid, with the pieces left.
func (l *layoutSearch) ending(from int64, left []byte) ending {
	key := string(binary.LittleEndian.AppendUint64(slices.Clone(left), uint64(from)))
	if e, ok := l.memo[key]; ok {
		return e
	}
	l.budget--
	best := ending{item: -1}
	if noneLeft(left) {
		best.ok = true
		best.worth, best.remainders = l.gap(from, l.s.To)
	} else if l.budget > 0 {
		for n, i := range l.items {
			if left[n] == 0 {
				continue
			}
			left[n]--
			for _, at := range l.starts(from, i) {
				e := l.ending(at+l.p.Items[i].Size+l.p.Kerf, left)
				w, r := l.gap(from, at-l.p.Kerf)
				w, r = w+e.worth, r+e.remainders
				if e.ok &&
					(!best.ok || w > best.worth || w == best.worth && r < best.remainders) {
					best = ending{w, r, n, at, true}
				}
			}
			left[n]++
		}
	}
	l.memo[key] = best
	return best
}

// gap is the worth of a gap, and 1 where it leaves a remainder.
func (l *layoutSearch) gap(from, to int64) (worth, remainders int64) {
	if to <= from {
		return 0, 0
	}
	return l.s.worthOfGap(from, to), 1
}

// starts are where a piece of an item is tried from a point on, ascending.
func (l *layoutSearch) starts(from int64, item int) []int64 {
	size, k := l.p.Items[item].Size, l.p.Kerf
	tries := []int64{from, l.s.To - size}
	for _, spot := range l.s.Spots {
		tries = append(tries, spot.To, spot.From+k, spot.From-size, spot.To-k-size)
	}
	slices.Sort(tries)
	return slices.DeleteFunc(slices.Compact(tries), func(at int64) bool {
		return at < from || !l.p.Legal(l.stock, Place{Item: item, At: at})
	})
}

// trace gives the places of the best layout found of all the pieces.
func (l *layoutSearch) trace(left []byte) []Place {
	var out []Place
	left = slices.Clone(left)
	from := l.s.From
	for !noneLeft(left) {
		e := l.ending(from, left)
		left[e.item]--
		out = append(out, Place{Item: l.items[e.item], At: e.at})
		from = e.at + l.p.Items[l.items[e.item]].Size + l.p.Kerf
	}
	return out
}

func noneLeft(left []byte) bool {
	return !slices.ContainsFunc(left, func(n byte) bool {
		return n > 0
	})
}

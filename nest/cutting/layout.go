package cutting

import (
	"cmp"
	"encoding/binary"
	"slices"
)

// Layout lays the pieces of a pattern out anew on its stock: among the layouts tried the one whose
// offcuts are worth most, then the one with the fewest separate remainders, then longer pieces
// nearer to the stock's start. It is never worth less than the pattern.
//
// A piece is tried right after the one before, behind each spot, and ending at each spot or at the
// stock's end: by a search over what is left to place and from where on, each such state once. On a
// stock with Across pieces are only pushed together.
func (p *Problem) Layout(t Pattern) Pattern {
	if p.Stocks[t.Stock].Across != nil {
		t = p.pushed(p.Straight(t))
		t.Worth = p.Worth(&t)
		return t
	}
	l := layout{p: p, s: &p.Stocks[t.Stock], stock: t.Stock, memo: map[string]found{},
		budget: 20000}
	l.items, _ = Tally(t.Places)
	slices.SortStableFunc(l.items, func(a, b int) int {
		return cmp.Compare(p.Items[b].Size, p.Items[a].Size)
	})
	left := make([]byte, len(l.items))
	for n, i := range l.items {
		for _, pl := range t.Places {
			if pl.Item == i {
				if left[n] == 255 {
					return t // more alike pieces than any board has; such a pattern stays as it is
				}
				left[n]++
			}
		}
	}
	best := l.rest(l.s.From, left)
	if !best.ok || l.budget <= 0 || best.worth < t.Worth {
		return t
	}
	return Pattern{Stock: t.Stock, Places: l.places(left), Worth: best.worth}
}

type layout struct {
	p      *Problem
	s      *Stock
	stock  int
	items  []int // longest first
	memo   map[string]found
	budget int
}

// found is the best of what is left: worth, separate remainders, and the first piece of it (item as
// an index of items; -1: nothing is left).
type found struct {
	worth, pieces int64
	item          int
	at            int64
	ok            bool
}

func (l *layout) rest(from int64, left []byte) found {
	key := string(binary.LittleEndian.AppendUint64(slices.Clone(left), uint64(from)))
	if f, ok := l.memo[key]; ok {
		return f
	}
	l.budget--
	best := found{item: -1}
	if none(left) {
		best.ok = true
		best.worth, best.pieces = l.gap(from, l.s.To)
	} else if l.budget > 0 {
		for n, i := range l.items {
			if left[n] == 0 {
				continue
			}
			left[n]--
			for _, at := range l.starts(from, i) {
				f := l.rest(at+l.p.Items[i].Size+l.p.Kerf, left)
				w, pieces := l.gap(from, at-l.p.Kerf)
				w, pieces = w+f.worth, pieces+f.pieces
				if f.ok && (!best.ok || w > best.worth || w == best.worth && pieces < best.pieces) {
					best = found{w, pieces, n, at, true}
				}
			}
			left[n]++
		}
	}
	l.memo[key] = best
	return best
}

// gap is the worth of a gap, and 1 where it leaves a remainder.
func (l *layout) gap(from, to int64) (worth, pieces int64) {
	if to <= from {
		return 0, 0
	}
	return l.s.worthOfGap(from, to), 1
}

// starts are where a piece of an item is tried from a point on.
func (l *layout) starts(from int64, item int) []int64 {
	size, k := l.p.Items[item].Size, l.p.Kerf
	tries := []int64{from, l.s.To - size}
	for _, spot := range l.s.Spots {
		tries = append(tries, spot.To, spot.From+k, spot.From-size, spot.To-k-size)
	}
	slices.Sort(tries)
	tries = slices.Compact(tries)
	out := tries[:0]
	for _, at := range tries {
		if at >= from && l.p.Legal(l.stock, Place{Item: item, At: at}) {
			out = append(out, at)
		}
	}
	return out
}

func (l *layout) places(left []byte) []Place {
	var out []Place
	left = slices.Clone(left)
	from := l.s.From
	for !none(left) {
		f := l.rest(from, left)
		left[f.item]--
		out = append(out, Place{Item: l.items[f.item], At: f.at})
		from = f.at + l.p.Items[l.items[f.item]].Size + l.p.Kerf
	}
	return out
}

func none(left []byte) bool {
	return !slices.ContainsFunc(left, func(n byte) bool {
		return n > 0
	})
}

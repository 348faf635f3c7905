package along

import (
	"cmp"
	"slices"

	"rackwright/model"
)

// The most of a linked board. Positions lie on a grid from S on. Its step is the greatest common
// divisor of k, U - S, the lengths of the blanks, and the edges of the spots from S. From the far
// end towards S, with any number of copies:
//
//	F(x)   a kerf before x is paid, and anything may start:
//	       max of  F(x + step)
//	               pi_i + F(x + l_i + k)        for each blank that fits at x
//	               G(x)
//	G(x)   inside a gap, in a clear run that ends at e:
//	       max of  F(x + k)
//	               w(r - x) + F(r + k)          for x < r < e
//	               w(e - x) + D(e)              D(e) is 0 where e = U
//	D(x)   inside a gap, in a block of spots that ends at a:
//	       max of  F(x + k)
//	               G(a)                         0 where a = U
//
// F = G = 0 from U on. Where k = 0, F(x + k) stands for the upper two terms of F(x). In D the kerf
// may start anywhere in the block; F falls along the board, so it starts at once. The same holds in
// a second layer, for boards without a piece yet. There minus infinity stands for 0, and pieces
// lead to F of the first layer. The most is F(S) of the second layer.
//
// Why the grid is enough. Between its points all edges of spots stand still, and so do the kerfs
// that are not whole. There the worth of each run is convex in the places of the pieces, so the sum
// is greatest at points of the grid.
//
// The best r is found without trying all. Where r - x is longer than keep,
//
//	w(r - x) + F(r + k) = slope r + F(r + k) - slope (x + keep),
//
// so that one r is the best for all x from which it is far enough. A worth of 0 is never better
// than F(x + k).

// table holds F of a linked board and what it takes to fill it from the far end towards S.
// Positions and the kerf are in steps of the grid, from S. It may be used for one board after
// another.
type table struct {
	*Board
	items []Item // none dominated by another
	step  int64
	n     int             // U
	kerf  int             // at most n: from U on all is 0
	f     [layers][]int64 // F by layer; from n to n + kerf the layer's end

	places []placing // blanks that fit in the present stretch, the last start first
	reach  int       // the shortest run longer than keep; above n where none is worth anything

	gap  [layers]int64 // G at the start of the clear run last done
	spot [layers]int64 // D at the start of the block last done
}

// layers: boards with a piece already, and without one yet.
const layers = 2

// layerEnds is what the far end is worth in each layer. Its minus infinity leaves room to add to.
var layerEnds = [layers]int64{0, -1 << 61}

// placing is a blank in one stretch: advance is its length and a kerf, last the last position where
// it may start.
type placing struct {
	advance, last int
	dual          int64
}

// best is the most that a linked board can give.
func (t *table) best(b *Board, items []Item, kerf model.Length) int64 {
	t.fill(b, items, kerf)
	if best := t.f[1][0]; best >= 0 {
		return best
	}
	return t.f[0][0]
}

// fill works out F, over the stretches between the edges of spots from the far end on; within each,
// the same blanks fit.
func (t *table) fill(b *Board, items []Item, kerf model.Length) {
	t.start(b, items, kerf)
	edges := []model.Length{b.From, b.To}
	for _, s := range b.Spots {
		edges = append(edges, s.From, s.To)
	}
	slices.Sort(edges)
	edges = slices.Compact(edges)
	for i := len(edges) - 2; i >= 0; i-- {
		lo, hi := edges[i], edges[i+1]
		t.allow(lo)
		if slices.ContainsFunc(b.Spots, func(s Spot) bool { return s.From <= lo && hi <= s.To }) {
			t.block(t.at(lo), t.at(hi))
		} else {
			t.run(t.at(lo), t.at(hi))
		}
	}
}

// at is the number of a position on the grid.
func (t *table) at(x model.Length) int { return int(int64(x-t.From) / t.step) }

// start makes the table ready for a board.
func (t *table) start(b *Board, items []Item, kerf model.Length) {
	t.Board, t.step = b, b.gridStep(items, kerf)
	t.n = t.at(b.To)
	t.kerf = int(min(int64(kerf)/t.step, int64(t.n)))
	for layer, end := range layerEnds {
		f := slices.Grow(t.f[layer][:0], t.n+t.kerf+1)[:t.n+t.kerf+1]
		for x := t.n; x < len(f); x++ {
			f[x] = end
		}
		t.f[layer] = f
		t.gap[layer], t.spot[layer] = end, end
	}
	t.keepBest(items)
	t.reach = t.n + 1
	if b.Slope > 0 {
		t.reach = int(min(int64(t.reach), int64(b.Keep)/t.step+1))
	}
}

// keepBest leaves out blanks that another dominates: one no longer and of no lower dual that
// tolerates the same spots. That is safe as F falls along the board.
func (t *table) keepBest(items []Item) {
	var covers [model.Faces][model.Faces]bool
	for f := range covers {
		for g := range covers {
			covers[f][g] = !slices.ContainsFunc(t.Spots, func(s Spot) bool {
				return s.Tolerated[g] && !s.Tolerated[f]
			})
		}
	}
	sorted := slices.Clone(items)
	slices.SortStableFunc(sorted, func(a, b Item) int {
		return cmp.Or(cmp.Compare(b.Dual, a.Dual), cmp.Compare(a.Length, b.Length),
			cmp.Compare(b.Face, a.Face))
	})
	t.items = t.items[:0]
	for _, i := range sorted {
		if !slices.ContainsFunc(t.items, func(o Item) bool {
			// and its dual is no lower, as it came before
			return o.Length <= i.Length && covers[o.Face][i.Face]
		}) {
			t.items = append(t.items, i)
		}
	}
}

// allow finds the blanks that may start in the stretch that begins at lo.
func (t *table) allow(lo model.Length) {
	var limit [model.Faces]model.Length // where the next spot that a face does not tolerate begins
	for f := range limit {
		limit[f] = t.To
		for _, s := range t.Spots {
			if !s.Tolerated[f] && s.To > lo {
				limit[f] = min(limit[f], s.From)
			}
		}
	}
	t.places = t.places[:0]
	for _, i := range t.items {
		if last := limit[i.Face] - i.Length; last >= lo {
			t.places = append(t.places, placing{t.at(t.From+i.Length) + t.kerf, t.at(last), i.Dual})
		}
	}
	slices.SortFunc(t.places, func(a, b placing) int { return cmp.Compare(b.last, a.last) })
}

// bestPiece is the best of some blanks at x, with what follows it.
func bestPiece(f []int64, x int, places []placing) int64 {
	most := layerEnds[1]
	for i := range places {
		most = max(most, places[i].dual+f[x+places[i].advance])
	}
	return most
}

// block fills the stretch [lo, hi) within a block of spots.
func (t *table) block(lo, hi int) {
	active := 0
	for x := hi - 1; x >= lo; x-- {
		for active < len(t.places) && t.places[active].last >= x {
			active++
		}
		cut := bestPiece(t.f[0], x, t.places[:active])
		for layer, f := range t.f {
			most := max(f[x+1], cut)
			kerf := most
			if t.kerf > 0 {
				kerf = f[x+t.kerf]
			}
			t.spot[layer] = max(kerf, t.gap[layer])
			f[x] = max(most, t.spot[layer])
		}
	}
}

// run fills the clear run [lo, hi).
func (t *table) run(lo, hi int) {
	by := t.Slope * t.step
	beyond := [layers]int64{layerEnds[1], layerEnds[1]} // the most of slope r + F(r + k)
	r := hi
	for x, active := hi-1, 0; x >= lo; x-- {
		for active < len(t.places) && t.places[active].last >= x {
			active++
		}
		if r-x >= t.reach {
			for layer, f := range t.f {
				after := t.spot[layer]
				if r < hi {
					after = f[r+t.kerf]
				}
				beyond[layer] = max(beyond[layer], by*int64(r)+after)
			}
			r--
		}
		cut := bestPiece(t.f[0], x, t.places[:active])
		for layer, f := range t.f {
			most := max(f[x+1], cut)
			g := most
			if t.kerf > 0 {
				g = f[x+t.kerf]
			}
			g = max(g, t.spot[layer])
			if r < hi {
				g = max(g, beyond[layer]-by*int64(x)-t.Slope*int64(t.Keep))
			}
			t.gap[layer] = g
			f[x] = max(most, g)
		}
	}
}

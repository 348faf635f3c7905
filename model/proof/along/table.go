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
// is greatest at points of the grid. And of these only the places count: see places.go. F(x) is
// worked out there, and stands for all x back to the place before.
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
	items []Item
	step  int64
	n     int // U
	kerf  int // at most n: from U on all is 0
	places
	blocks [model.Faces][]block
	f      [layers][]int64 // F by layer and number of the place; at last the layer's end

	fitting []placing // blanks that fit in the present stretch, the last start first
	reach   int       // the shortest run longer than keep; above n where none is worth anything

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
	t.start(b, items, kerf)
	t.places.fill(t, t.items, maxPositions)
	t.fill()
	if best := t.f[1][0]; best >= 0 {
		return best
	}
	return t.f[0][0]
}

// fill works out F at the places, over the stretches between the edges of spots from the far end
// on; within each, the same blanks fit.
func (t *table) fill() {
	b := t.Board
	for layer, end := range layerEnds {
		f := slices.Grow(t.f[layer][:0], len(t.points)+1)[:len(t.points)+1]
		f[len(f)-1] = end
		t.f[layer] = f
		t.gap[layer], t.spot[layer] = end, end
	}
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
	t.Board, t.items, t.step = b, items, b.gridStep(items, kerf)
	t.n = t.at(b.To)
	t.kerf = int(min(int64(kerf)/t.step, int64(t.n)))
	t.blocks = t.blocksOf()
	t.reach = t.n + 1
	if b.Slope > 0 {
		t.reach = int(min(int64(t.reach), int64(b.Keep)/t.step+1))
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
	t.fitting = t.fitting[:0]
	for _, i := range t.items {
		if last := limit[i.Face] - i.Length; last >= lo {
			t.fitting = append(t.fitting,
				placing{t.at(t.From+i.Length) + t.kerf, t.at(last), i.Dual})
		}
	}
	slices.SortFunc(t.fitting, func(a, b placing) int { return cmp.Compare(b.last, a.last) })
}

// bestPiece is the best of some blanks at x, with what follows it.
func (t *table) bestPiece(x int, fitting []placing) int64 {
	most := layerEnds[1]
	for i := range fitting {
		most = max(most, fitting[i].dual+t.f[0][t.index(x+fitting[i].advance)])
	}
	return most
}

// block fills the stretch [lo, hi) within a block of spots.
func (t *table) block(lo, hi int) {
	active := 0
	for n := t.index(hi) - 1; n >= 0 && t.points[n] >= lo; n-- {
		x := t.points[n]
		for active < len(t.fitting) && t.fitting[active].last >= x {
			active++
		}
		cut, next := t.bestPiece(x, t.fitting[:active]), t.index(x+t.kerf)
		for layer, f := range t.f {
			f[n] = max(f[n+1], cut)
			f[n] = max(f[n], f[next], t.gap[layer])
		}
	}
	for layer, f := range t.f {
		t.spot[layer] = max(f[t.index(lo+t.kerf)], t.gap[layer])
	}
}

// run fills the clear run [lo, hi).
func (t *table) run(lo, hi int) {
	by := t.Slope * t.step
	beyond := [layers]int64{layerEnds[1], layerEnds[1]} // the most of slope r + F(r + k)
	far := false                                        // some r is far enough from x

	// of the places r + k, those before this number are not taken yet
	r, active := t.index(hi+t.kerf), 0
	for n := t.index(hi) - 1; n >= 0 && t.points[n] >= lo; n-- {
		x := t.points[n]
		for active < len(t.fitting) && t.fitting[active].last >= x {
			active++
		}
		if !far && hi-x >= t.reach {
			far = true
			for layer := range beyond {
				beyond[layer] = by*int64(hi) + t.spot[layer]
			}
		}
		for far && r > 0 && t.points[r-1]-t.kerf-x >= t.reach {
			r--
			for layer, f := range t.f {
				beyond[layer] = max(beyond[layer], by*int64(t.points[r]-t.kerf)+f[r])
			}
		}
		cut, next := t.bestPiece(x, t.fitting[:active]), t.index(x+t.kerf)
		for layer, f := range t.f {
			most := max(f[n+1], cut)
			g := most
			if t.kerf > 0 {
				g = f[next]
			}
			g = max(g, t.spot[layer])
			if far {
				g = max(g, beyond[layer]-by*int64(x)-t.Slope*int64(t.Keep))
			}
			t.gap[layer] = g
			f[n] = max(most, g)
		}
	}
}

package along

import (
	"cmp"
	"math/bits"
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
//	               scale w(r - x) + F(r + k)    for x < r < e
//	               scale w(e - x) + D(e)        D(e) is 0 where e = U
//	D(x)   inside a gap, in a block of spots that ends at a:
//	       max of  F(x + k)
//	               G(a)                         0 where a = U
//
// F = G = 0 from U on. Where k = 0, F(x + k) stands for the upper two terms of F(x). In D the kerf
// may start anywhere in the block; F falls along the board, so it starts at once. The same holds in
// a second layer, for boards without a piece yet. There minus infinity stands for 0, and pieces
// lead to F of the first layer. The most is F(S) of the second layer.
//
// Why the grid is enough. Before rounding, worth is convex between the points of the grid, so it is
// greatest on the grid. Rounding is the catch. Take m runs longer than keep whose lengths are
// traded. On the grid they may lose up to m - 1 units of money that they need not lose off it. So
// F, G and D carry a flag b, 0 at the start. A run longer than keep sets the flag. Where the flag
// is set already, such a run is paid one more unit, whatever it is worth itself. A block crossed
// inside a gap stands still, so nothing is traded across it: behind it G(a) is taken with b = 0.
//
// For one run the best r is found without trying all. Write
//
//	A_r = num (r - S)            = den a + alpha      num/den the rate
//	C_x = num (x - S + keep)     = den c + gamma
//	w(r - x) = floor((A_r - C_x) / den) = a - c - [alpha < gamma]
//
// where [alpha < gamma] is 1 if alpha < gamma, else 0. So for any x the best r is among the pairs
// (scale a + F(r + k), alpha) that no other pair beats in both: the stairs. A worth of 0 is never
// better than F(x + k).

// table holds F of a linked board and what it takes to fill it from the far end towards S.
// Positions, lengths and the kerf are in steps of the grid, from S. It may be used for one board
// after another.
type table struct {
	*Board
	items []Item // none dominated by another
	step  int64
	n     int // U
	kerf  int // at most n: from U on all is 0
	scale int64
	f     [layers][2][]int64 // F by layer and flag; from n to n + kerf the layer's end

	places []placing // blanks that fit in the present stretch, the last start first
	reach  int       // the shortest run longer than keep; above n where none is worth anything
	stairs [layers]stairs

	gap  [layers]int64    // G with flag 0 at the start of the clear run last done
	spot [layers][2]int64 // D at the start of the block last done
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
func (t *table) best(b *Board, items []Item, kerf model.Length, scale int64) int64 {
	t.start(b, items, kerf, scale)
	// Backwards over the stretches between the edges of spots; within each, the same blanks fit.
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
	if best := t.f[1][0][0]; best >= 0 {
		return best
	}
	return t.f[0][0][0]
}

// at is the number of a position on the grid.
func (t *table) at(x model.Length) int { return int(int64(x-t.From) / t.step) }

// start makes the table ready for a board.
func (t *table) start(b *Board, items []Item, kerf model.Length, scale int64) {
	t.Board, t.scale, t.step = b, scale, b.gridStep(items, kerf)
	t.n = t.at(b.To)
	t.kerf = int(min(int64(kerf)/t.step, int64(t.n)))
	for layer, end := range layerEnds {
		for b := range t.f[layer] {
			f := slices.Grow(t.f[layer][b][:0], t.n+t.kerf+1)[:t.n+t.kerf+1]
			for x := t.n; x < len(f); x++ {
				f[x] = end
			}
			t.f[layer][b] = f
		}
		t.gap[layer], t.spot[layer] = end, [2]int64{end, end}
	}
	t.keepBest(items)

	t.reach = t.n + 1
	if b.Rate.Num > 0 {
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
		for b := range 2 {
			cut := bestPiece(t.f[0][b], x, t.places[:active])
			for layer := range layers {
				f := t.f[layer][b]
				most := max(f[x+1], cut)
				kerf := most
				if t.kerf > 0 {
					kerf = f[x+t.kerf]
				}
				t.spot[layer][b] = max(kerf, t.gap[layer])
				f[x] = max(most, t.spot[layer][b])
			}
		}
	}
}

// run fills the clear run [lo, hi).
func (t *table) run(lo, hi int) {
	for layer := range layers {
		t.stairs[layer] = t.stairs[layer][:0]
	}
	var c, a quotient // C_x and A_r, over den
	by := t.times(t.step)
	r := hi
	for x, active := hi-1, 0; x >= lo; x-- {
		for active < len(t.places) && t.places[active].last >= x {
			active++
		}
		if r-x >= t.reach {
			if r == hi {
				a, c = t.times(int64(hi)*t.step), t.times(int64(x)*t.step+int64(t.Keep))
			} else {
				c.less(by, t.Rate.Den)
			}
			for layer := range layers {
				after := t.spot[layer][1] // the flag is set after any run longer than keep
				if r < hi {
					after = t.f[layer][1][r+t.kerf]
				}
				t.stairs[layer].add(t.scale*a.quo+after, a.rem, t.scale)
			}
			a.less(by, t.Rate.Den)
			r--
		}
		for b := range 2 {
			cut := bestPiece(t.f[0][b], x, t.places[:active])
			for layer := range layers {
				f := t.f[layer][b]
				most := max(f[x+1], cut)
				g := most
				if t.kerf > 0 {
					g = f[x+t.kerf]
				}
				g = max(g, t.spot[layer][b])
				if s := t.stairs[layer]; len(s) > 0 {
					g = max(g, s.best(c.rem, t.scale)-t.scale*c.quo+int64(b)*t.scale)
				}
				if b == 0 {
					t.gap[layer] = g
				}
				f[x] = max(most, g)
			}
		}
	}
}

// quotient is quo + rem / Den of the rate.
type quotient struct{ quo, rem int64 }

// times is rate x l.
func (t *table) times(l int64) quotient {
	hi, lo := bits.Mul64(uint64(t.Rate.Num), uint64(l))
	q, r := bits.Div64(hi, lo, uint64(t.Rate.Den))
	return quotient{int64(q), int64(r)}
}

// less takes a quotient off.
func (q *quotient) less(by quotient, den int64) {
	q.quo -= by.quo
	if q.rem -= by.rem; q.rem < 0 {
		q.rem += den
		q.quo--
	}
}

// stairs are the ends r of a run, as far as they are seen, that no other end beats in both value
// and rem. rem rises and value falls along them. None is worse than the best by scale or more, as
// that is all that a rem can cost.
type stairs []stair

type stair struct{ value, rem int64 }

// find gives the first stair whose rem is at least the given one.
func (s stairs) find(rem int64) int {
	at, _ := slices.BinarySearchFunc(s, rem, func(one stair, rem int64) int {
		return cmp.Compare(one.rem, rem)
	})
	return at
}

// add notes an end of the run, and drops what it beats.
func (s *stairs) add(value, rem, scale int64) {
	old := *s
	if len(old) > 0 && value <= old[0].value-scale {
		return
	}
	end := old.find(rem)
	if end < len(old) && old[end].value >= value {
		return
	}
	from := end
	for from > 0 && old[from-1].value <= value {
		from--
	}
	if end < len(old) && old[end].rem == rem {
		end++
	}
	old = slices.Replace(old, from, end, stair{value, rem})
	for old[len(old)-1].value <= old[0].value-scale {
		old = old[:len(old)-1]
	}
	*s = old
}

// best is the most over all ends of a value, less scale where its rem is below the given one.
func (s stairs) best(rem, scale int64) int64 {
	most := s[0].value - scale
	if i := s.find(rem); i < len(s) {
		most = max(most, s[i].value)
	}
	return most
}

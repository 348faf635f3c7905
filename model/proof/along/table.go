package along

import (
	"cmp"
	"math/bits"
	"slices"

	"rackwright/model"
)

// table holds F of a linked board and what is needed to fill it from the far end towards S; see
// boundboard.go. Positions, lengths and the kerf are in steps of the grid, from S. It may be used
// for one board after another.
type table struct {
	*Board
	items []Item // none beaten by another
	step  int64
	n     int // U
	kerf  int // at most n: from U on all is 0
	scale int64
	f     [layers][2][]int64 // F by layer and flag; from n to n + kerf the layer's end

	places []landing // blanks that fit in the present stretch, the last start first
	reach  int       // the shortest run longer than keep; above n where none is worth anything
	stairs [layers]stairs

	gap  [layers]int64    // G with flag 0 at the start of the clear run last done
	spot [layers][2]int64 // D at the start of the block last done
}

// layers: with a piece already, and without one yet.
const layers = 2

// ends is what the far end is worth in each layer; minus infinity leaves room to add to.
var ends = [layers]int64{0, -1 << 61}

// landing is a blank in one stretch: length + kerf, and the last position where it may start.
type landing struct {
	advance, last int
	dual          int64
}

// best is the most that a linked board can give, in 1/10000 x 1/scale.
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

func (t *table) at(x model.Length) int { return int(int64(x-t.From) / t.step) }

func (t *table) start(b *Board, items []Item, kerf model.Length, scale int64) {
	t.Board, t.scale, t.step = b, scale, b.step(items, kerf)
	t.n = t.at(b.To)
	t.kerf = int(min(int64(kerf)/t.step, int64(t.n)))
	for layer, end := range ends {
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

// keepBest leaves out blanks that are never needed: not shorter and of no higher dual than another
// that tolerates the same spots. That is safe as F falls along the board.
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
			t.places = append(t.places, landing{t.at(t.From+i.Length) + t.kerf, t.at(last), i.Dual})
		}
	}
	slices.SortFunc(t.places, func(a, b landing) int { return cmp.Compare(b.last, a.last) })
}

// piece is the best blank of the first n places at x, with what follows it.
func piece(f []int64, x int, places []landing) int64 {
	most := ends[1]
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
			cut := piece(t.f[0][b], x, t.places[:active])
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
				t.stairs[layer].add(t.scale*a.whole+after, a.rest, t.scale)
			}
			a.less(by, t.Rate.Den)
			r--
		}
		for b := range 2 {
			cut := piece(t.f[0][b], x, t.places[:active])
			for layer := range layers {
				f := t.f[layer][b]
				most := max(f[x+1], cut)
				g := most
				if t.kerf > 0 {
					g = f[x+t.kerf]
				}
				g = max(g, t.spot[layer][b])
				if s := t.stairs[layer]; len(s) > 0 {
					g = max(g, s.best(c.rest, t.scale)-t.scale*c.whole+int64(b)*t.scale)
				}
				if b == 0 {
					t.gap[layer] = g
				}
				f[x] = max(most, g)
			}
		}
	}
}

// quotient is a whole number and a rest over the rate's Den.
type quotient struct{ whole, rest int64 }

// times is rate x l.
func (t *table) times(l int64) quotient {
	hi, lo := bits.Mul64(uint64(t.Rate.Num), uint64(l))
	q, r := bits.Div64(hi, lo, uint64(t.Rate.Den))
	return quotient{int64(q), int64(r)}
}

func (q *quotient) less(by quotient, den int64) {
	q.whole -= by.whole
	if q.rest -= by.rest; q.rest < 0 {
		q.rest += den
		q.whole--
	}
}

// stairs are the ends of a run seen so far that no other beats in both value and rest: rest rises,
// value falls, and none is worse than the best by scale or more, as that is all a rest can cost.
type stairs []stair

type stair struct{ value, rest int64 }

// from finds the first stair whose rest is at least the given one.
func (s stairs) from(rest int64) int {
	lo, hi := 0, len(s)
	for lo < hi {
		if mid := (lo + hi) / 2; s[mid].rest < rest {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	return lo
}

func (s *stairs) add(value, rest, scale int64) {
	old := *s
	if len(old) > 0 && value <= old[0].value-scale {
		return
	}
	end := old.from(rest)
	if end < len(old) && old[end].value >= value {
		return
	}
	first := end
	for first > 0 && old[first-1].value <= value {
		first--
	}
	if end < len(old) && old[end].rest == rest {
		end++
	}
	old = slices.Replace(old, first, end, stair{value, rest})
	for old[len(old)-1].value <= old[0].value-scale {
		old = old[:len(old)-1]
	}
	*s = old
}

// best is the most over all ends: a value, less scale where its rest is below the given one.
func (s stairs) best(rest, scale int64) int64 {
	most := s[0].value - scale
	if i := s.from(rest); i < len(s) {
		most = max(most, s[i].value)
	}
	return most
}

package brute

import (
	"cmp"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"

	"rackwright/model"
	"rackwright/model/internal/handmade"
	"rackwright/model/proof/along"
)

// Never is the value of what cannot be.
const Never = -1 << 60

// Counts is how many copies of each blank a layout has.
type Counts [4]int64

// layouts are all layouts of a board, at single units of length. Each gap is judged by the words of
// package check: less a kerf on each side that faces a piece it is one offcut if it is long enough
// and some face could use a run of it. An offcut is worth the slope for each unit of its clear runs
// beyond keep, and nothing is rounded.
type layouts struct {
	*along.Board
	items []along.Item
	kerf  model.Length
	// by unit from the start of the usable span: no piece of the face may lie there; last by any
	// spot
	barred  [model.Faces + 1][]bool
	credits map[[2]model.Length]int64 // by where a gap starts and ends
}

func newLayouts(b *along.Board, items []along.Item, kerf model.Length) *layouts {
	l := &layouts{Board: b, items: items, kerf: kerf, credits: map[[2]model.Length]int64{}}
	for f := range l.barred {
		l.barred[f] = make([]bool, b.To-b.From)
		for x := range l.barred[f] {
			at := b.From + model.Length(x)
			for _, s := range b.Spots {
				hit := s.From <= at && at < s.To
				l.barred[f][x] = l.barred[f][x] ||
					hit && (f == int(model.Faces) || !s.Tolerated[f])
			}
		}
	}
	return l
}

// runs gives the lengths of the runs in a span that nothing bars.
func (l *layouts) runs(barred []bool, from, to model.Length) (runs []model.Length) {
	run := model.Length(0)
	for x := from; x < to; x++ {
		if barred[x-l.From] {
			runs, run = append(runs, run), 0
		} else {
			run++
		}
	}
	return append(runs, run)
}

// credit is what the gap from x to at is worth; before and after say where it faces a piece.
func (l *layouts) credit(x, at model.Length, before, after bool) int64 {
	key := [2]model.Length{x, at}
	if v, known := l.credits[key]; known {
		return v
	}
	from, to := x, at
	if before {
		from += l.kerf
	}
	if after {
		to -= l.kerf
	}
	usable, sum := false, int64(0)
	if from < to && to-from >= l.Keep {
		for f := range model.Faces {
			for _, run := range l.runs(l.barred[f], from, to) {
				usable = usable || run >= max(1, l.Keep)
			}
		}
		for _, run := range l.runs(l.barred[model.Faces], from, to) {
			if run > l.Keep {
				sum += l.Slope * int64(run-l.Keep)
			}
		}
	}
	if !usable {
		sum = 0
	}
	l.credits[key] = sum
	return sum
}

// next visits each piece that may lie first behind a piece that ends at x, with the worth of the
// gap before it and where it ends.
func (l *layouts) next(x model.Length, first bool, visit func(item int, gap int64,
	end model.Length)) {
	from := x + l.kerf
	if first {
		from = x
	}
	for at := from; at < l.To; at++ {
		for n, i := range l.items {
			end := at + i.Length
			if end <= l.To && !slices.Contains(l.barred[i.Face][at-l.From:end-l.From], true) {
				visit(n, l.credit(x, at, !first, true), end)
			}
		}
	}
}

// Ways gives, for each number of copies of the blanks that a board can give, at least one in all
// and none above its demand, the most that its offcuts are then worth.
func Ways(b *along.Board, items []along.Item, kerf model.Length) map[Counts]int64 {
	l, out := newLayouts(b, items, kerf), map[Counts]int64{}
	// The counts stand in one number, each in its place.
	places, all := make([]int64, len(items)), int64(1)
	for k, i := range items {
		places[k] = all
		all *= i.Demand + 1
	}
	countsOf := func(n int64) (c Counts) {
		for k, i := range items {
			c[k] = n / places[k] % (i.Demand + 1)
		}
		return c
	}
	most := make([][]int64, b.To-b.From+1) // by where the last piece ends, and by counts
	for x := range most {
		most[x] = slices.Repeat([]int64{Never}, int(all))
	}
	extend := func(x model.Length, first bool, from []int64) {
		l.next(x, first, func(item int, gap int64, end model.Length) {
			to := most[end-b.From]
			for n, v := range from {
				if v > Never && int64(n)/places[item]%(items[item].Demand+1) < items[item].Demand {
					to[int64(n)+places[item]] = max(to[int64(n)+places[item]], v+gap)
				}
			}
		})
	}
	none := slices.Repeat([]int64{Never}, int(all))
	none[0] = 0
	if b.From < b.To {
		extend(b.From, true, none)
	}
	for x := b.From + 1; x <= b.To; x++ {
		extend(x, false, most[x-b.From])
		last := l.credit(x, b.To, true, false)
		for n, v := range most[x-b.From] {
			c := countsOf(int64(n))
			if old, known := out[c]; v > Never && (!known || v+last > old) {
				out[c] = v + last
			}
		}
	}
	return out
}

// ValueOf is the duals of a way with the worth of its offcuts.
func ValueOf(c Counts, items []along.Item, worth int64) int64 {
	for k, i := range items {
		worth += c[k] * i.Dual
	}
	return worth
}

// Most is the most that any layout with a piece gives, with no more copies than are wanted; where
// none has a piece the worth of the whole.
func Most(b *along.Board, items []along.Item, kerf model.Length) int64 {
	most := int64(Never)
	for c, worth := range Ways(b, items, kerf) {
		most = max(most, ValueOf(c, items, worth))
	}
	if most == Never {
		return newLayouts(b, items, kerf).credit(b.From, b.To, false, false)
	}
	return most
}

// MostOfAny is Most for any number of copies.
func MostOfAny(b *along.Board, items []along.Item, kerf model.Length) int64 {
	l := newLayouts(b, items, kerf)
	most := slices.Repeat([]int64{Never}, int(b.To-b.From)+1) // by where the last piece ends
	best := int64(Never)
	for x := b.From; x <= b.To; x++ {
		first, v := x == b.From, most[x-b.From]
		if first {
			v = 0
		} else if v > Never {
			best = max(best, v+l.credit(x, b.To, true, false))
		}
		if v > Never {
			l.next(x, first, func(item int, gap int64, end model.Length) {
				to := &most[end-b.From]
				*to = max(*to, v+gap+items[item].Dual)
			})
		}
	}
	if best == Never {
		return l.credit(b.From, b.To, false, false)
	}
	return best
}

// RandomBoard is a small board with spots of all sorts, its blanks and the kerf, in units of which
// all lengths but keep and some kerfs are a multiple.
func RandomBoard(r *rand.Rand, longest int, unit model.Length) (along.Board, []along.Item,
	model.Length) {
	n := model.Length(1 + r.IntN(longest))
	trim := model.Length(r.IntN(3))
	b := along.Board{From: trim * unit, To: (trim + n) * unit, Keep: model.Length(r.IntN(6)) * unit}
	if r.IntN(4) == 0 {
		b.Keep += model.Length(r.IntN(int(unit))) // keep need not be on the grid
	}
	b.Slope = handmade.Pick(r, int64(0), 1, 1, 2, 7, 1_000_003, 1<<40+1)
	for range r.IntN(5) {
		from := model.Length(r.IntN(int(n)))
		to := min(n, from+1+model.Length(r.IntN(4)))
		s := along.Spot{Span: model.Span{From: b.From + from*unit, To: b.From + to*unit}}
		s.Tolerated = handmade.Pick(r, [model.Faces]bool{}, [model.Faces]bool{},
			[model.Faces]bool{false, false, true},
			[model.Faces]bool{false, true, true})
		b.Spots = append(b.Spots, s)
	}
	slices.SortFunc(b.Spots, func(x, y along.Spot) int {
		return cmp.Or(cmp.Compare(x.From, y.From), cmp.Compare(x.To, y.To),
			strings.Compare(fmt.Sprint(x.Tolerated), fmt.Sprint(y.Tolerated)))
	})
	kerf := model.Length(r.IntN(4)) * unit
	if r.IntN(3) == 0 {
		kerf = model.Length(r.IntN(4 * int(unit))) // and share nothing with the sizes
	}
	var items []along.Item
	for n := range r.IntN(4) {
		length := model.Length(1 + r.IntN(7))
		worth := int64(length*unit) * b.Slope
		items = append(items, along.Item{Length: length * unit,
			Face:   model.Face(r.IntN(model.Faces)),
			Dual:   r.Int64N(2*worth + 5),
			Demand: 1 + r.Int64N(4),
			Number: n})
	}
	return b, items, kerf
}

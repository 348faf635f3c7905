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

const Never = -1 << 60

// Layouts tries every layout of a board at single units of length, with at most the copies asked
// for, and judges each gap by the words of package check: less a kerf on each side that faces a
// piece it is one offcut if it is long enough and some face could use a run of it.
type Layouts struct {
	Board *along.Board
	Items []along.Item
	Kerf  model.Length
	Scale int64
	memo  map[[4]int64]int64
}

func (l *Layouts) credit(from, to model.Length, before, after bool) int64 {
	if before {
		from += l.Kerf
	}
	if after {
		to -= l.Kerf
	}
	if to <= from || to-from < l.Board.Keep {
		return 0
	}
	usable := false
	for f := model.Show; f < model.Faces; f++ {
		for x, run := from, model.Length(0); x < to; x++ {
			run++
			for _, s := range l.Board.Spots {
				if !s.Tolerated[f] && s.From <= x && x < s.To {
					run = 0
				}
			}
			usable = usable || run >= max(1, l.Board.Keep)
		}
	}
	if !usable {
		return 0
	}
	sum, run := int64(0), model.Length(0)
	for x := from; x <= to; x++ {
		clear := x < to
		for _, s := range l.Board.Spots {
			clear = clear && !(s.From <= x && x < s.To)
		}
		if clear {
			run++
			continue
		}
		sum += max(0, l.Board.Rate.Num*int64(run-l.Board.Keep)) / l.Board.Rate.Den
		run = 0
	}
	return sum * l.Scale
}

// after is the most that pieces and gaps beyond a piece that ends at x can give; left is how many
// of each blank are left.
func (l *Layouts) after(x model.Length, left [3]int64, first bool) int64 {
	key := [4]int64{int64(x), left[0], left[1], left[2]}
	if v, known := l.memo[key]; known && !first {
		return v
	}
	most, from := l.credit(x, l.Board.To, true, false), x+l.Kerf
	if first {
		most, from = Never, x
	}
	for at := from; at <= l.Board.To; at++ {
		gap, known := int64(0), false
		for n, i := range l.Items {
			clear := at+i.Length <= l.Board.To && left[n] > 0
			for _, s := range l.Board.Spots {
				clear = clear && (s.Tolerated[i.Face] || at+i.Length <= s.From || s.To <= at)
			}
			if !clear {
				continue
			}
			if !known {
				gap, known = l.credit(x, at, !first, true), true
			}
			then := left
			then[n]--
			most = max(most, gap+i.Dual+l.after(at+i.Length, then, false))
		}
	}
	if !first {
		l.memo[key] = most
	}
	return most
}

// Most is the most that any layout with a piece gives, else the worth of the whole.
func (l *Layouts) Most() int64 {
	l.memo = map[[4]int64]int64{}
	var left [3]int64
	for n, i := range l.Items {
		left[n] = i.Demand
	}
	if most := l.after(l.Board.From, left, true); most >= 0 {
		return most
	}
	return l.credit(l.Board.From, l.Board.To, false, false)
}

// RandomBoard is a small board with spots of all sorts, in units of which all lengths are a
// multiple.
func RandomBoard(r *rand.Rand, longest int, unit model.Length) (along.Board, []along.Item,
	model.Length, int64) {
	n := model.Length(1 + r.IntN(longest))
	trim := model.Length(r.IntN(3))
	b := along.Board{From: trim * unit, To: (trim + n) * unit, Keep: model.Length(r.IntN(6)) * unit}
	if r.IntN(4) == 0 {
		b.Keep += model.Length(r.IntN(int(unit))) // keep and rate need not be on the grid
	}
	b.Rate = handmade.Pick(r, model.NewRate(0, 1), model.NewRate(1, 1), model.NewRate(1, 5),
		model.NewRate(5, 7), model.NewRate(7, 3),
		model.NewRate(13, 11), model.NewRate(1000, 37), model.NewRate(3, 10), model.NewRate(97, 89))
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
	scale := handmade.Pick(r, int64(1), 2, 3, 10)
	var items []along.Item
	for range r.IntN(4) {
		length := model.Length(1 + r.IntN(7))
		worth := int64(length) * int64(unit) * b.Rate.Num * scale / b.Rate.Den
		items = append(items, along.Item{Length: length * unit,
			Face:   model.Face(r.IntN(model.Faces)),
			Dual:   r.Int64N(2*worth + 5),
			Demand: 1 + r.Int64N(4)})
	}
	return b, items, kerf, scale
}

// Ways gives, for each number of copies of two blanks that a board can give, at least one in all,
// the most that its offcuts are then worth: every layout at single units of length is tried.
func Ways(b *along.Board, items []along.Item, kerf model.Length) map[[2]int64]int64 {
	l := &Layouts{Board: b, Items: items, Kerf: kerf, Scale: 1}
	out := map[[2]int64]int64{}
	var rest func(x model.Length, first bool, n [2]int64, credit int64)
	rest = func(x model.Length, first bool, n [2]int64, credit int64) {
		from := x + kerf
		if first {
			from = x
		} else if most, known := out[n]; !known || credit+l.credit(x, b.To, true, false) > most {
			out[n] = credit + l.credit(x, b.To, true, false)
		}
		for at := from; at <= b.To; at++ {
			for i, item := range items {
				clear := at+item.Length <= b.To && n[i] < item.Demand
				for _, s := range b.Spots {
					clear = clear &&
						(s.Tolerated[item.Face] || at+item.Length <= s.From || s.To <= at)
				}
				if clear {
					then := n
					then[i]++
					rest(at+item.Length, false, then, credit+l.credit(x, at, !first, true))
				}
			}
		}
	}
	rest(b.From, true, [2]int64{}, 0)
	return out
}

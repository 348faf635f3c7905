package brute

import (
	"fmt"
	"math/big"
	"slices"
	"strings"

	"rackwright/model"
	"rackwright/model/proof/along"
)

// words is the list of one board by the words at the heads of model/proof/along/list.go and
// model/proof/along/chain.go, and nothing faster: every layout at positions of the grid is tried,
// and its worth is taken gap by gap.
type words struct {
	bar    *along.Board
	items  []along.Item
	kerf   model.Length
	linked bool
	runs   []model.Span
	worth  map[string]int64 // the greatest worth by counts
	from   []model.Length   // of the pieces so far
	to     []model.Length
	counts []int64
}

func (w *words) clear(x model.Length) bool {
	return !slices.ContainsFunc(w.bar.Spots, func(s along.Spot) bool {
		return s.From <= x && x < s.To
	})
}

// ByWords gives by counts of the items the greatest worth that a list of one board is to have.
func ByWords(b *along.Board, items []along.Item, kerf model.Length) map[string]int64 {
	w := &words{bar: b, items: items, kerf: kerf, worth: map[string]int64{},
		counts: make([]int64, len(items))}
	for _, s := range b.Spots {
		w.linked = w.linked || s.To-s.From < kerf
		for _, i := range items {
			w.linked = w.linked || s.Tolerated[i.Face]
		}
	}
	for x := b.From; x < b.To; x++ {
		if n := len(w.runs); w.clear(x) && n > 0 && w.runs[n-1].To == x {
			w.runs[n-1].To++
		} else if w.clear(x) {
			w.runs = append(w.runs, model.Span{From: x, To: x + 1})
		}
	}
	if w.linked {
		w.place(gridOf(b, items, kerf))
	} else {
		w.share(0, make([]int64, len(items)), 0)
	}
	return w.worth
}

func (w *words) note(worth int64) {
	key := fmt.Sprint(w.counts)
	if most, known := w.worth[key]; !known || worth > most {
		w.worth[key] = worth
	}
}

// share deals pieces to one run after another, each of which stands alone.
func (w *words) share(n int, here []int64, worth int64) {
	if n == len(w.runs) {
		if slices.ContainsFunc(w.counts, func(c int64) bool { return c > 0 }) {
			w.note(worth)
		}
		return
	}
	length := w.runs[n].To - w.runs[n].From
	var deal func(i int, all model.Length)
	deal = func(i int, all model.Length) {
		if all > length+w.kerf {
			return
		}
		if i == len(w.items) {
			w.share(n+1, here, worth+int64(w.bar.Rate.Worth(max(0, length-all), w.bar.Keep)))
			return
		}
		deal(i+1, all)
		before := w.counts[i]
		for w.counts[i] < w.items[i].Demand {
			w.counts[i]++
			all += w.items[i].Length + w.kerf
			deal(i+1, all)
		}
		w.counts[i] = before
	}
	deal(0, 0)
}

// place lays a piece after the last one, everywhere, and goes on.
func (w *words) place(step model.Length) {
	first := w.bar.From
	if n := len(w.to); n > 0 {
		w.note(w.chains())
		first = w.to[n-1] + w.kerf
	}
	for y := first; y < w.bar.To; y += step {
		for i, item := range w.items {
			end, legal := y+item.Length, w.counts[i] < item.Demand
			for _, s := range w.bar.Spots {
				legal = legal && (s.Tolerated[item.Face] || end <= s.From || s.To <= y)
			}
			if legal && end <= w.bar.To {
				w.counts[i]++
				w.from, w.to = append(w.from, y), append(w.to, end)
				w.place(step)
				w.from, w.to = w.from[:len(w.from)-1], w.to[:len(w.to)-1]
				w.counts[i]--
			}
		}
	}
}

// chains is the worth of the pieces laid: exact amounts added up along the board, rounded down
// where a chain ends.
func (w *words) chains() int64 {
	sum, chain, whole := int64(0), new(big.Rat), func(r *big.Rat) int64 {
		return new(big.Int).Quo(r.Num(), r.Denom()).Int64()
	}
	for g := range len(w.from) + 1 {
		lo, hi := w.bar.From, w.bar.To
		if g > 0 {
			lo = w.to[g-1] + w.kerf
		}
		if g < len(w.from) {
			hi = w.from[g] - w.kerf
		}
		var met []*big.Rat
		for _, r := range w.runs {
			if t := min(hi, r.To) - max(lo, r.From); t > 0 {
				amount := new(big.Rat)
				if t > w.bar.Keep {
					amount.Mul(big.NewRat(w.bar.Rate.Num, w.bar.Rate.Den),
						big.NewRat(int64(t-w.bar.Keep), 1))
				}
				met = append(met, amount)
			}
		}
		for k, amount := range met {
			switch {
			case k == 0:
				chain.Add(chain, amount)
			case k < len(met)-1:
				sum += whole(amount)
			default:
				sum += whole(chain)
				chain.Set(amount)
			}
		}
	}
	return sum + whole(chain)
}

// CountsOf reads a key of ByWords.
func CountsOf(key string, n int) []int64 {
	out := make([]int64, n)
	for k, word := range strings.Fields(strings.Trim(key, "[]")) {
		fmt.Sscan(word, &out[k])
	}
	return out
}

// gridOf is the greatest length that divides all others: kerf, blanks, and where spots begin and
// end.
func gridOf(b *along.Board, items []along.Item, kerf model.Length) model.Length {
	all := []model.Length{b.To - b.From, kerf}
	for _, i := range items {
		all = append(all, i.Length)
	}
	for _, s := range b.Spots {
		all = append(all, s.From-b.From, s.To-b.From)
	}
	for g := b.To - b.From; ; g-- {
		if !slices.ContainsFunc(all, func(l model.Length) bool { return l%g != 0 }) {
			return g
		}
	}
}

package proof

import (
	"fmt"
	"maps"
	"math"
	"math/big"
	"math/rand/v2"
	"rackwright/model"
	"slices"
	"strings"
	"testing"
)

// words is the list of one board by the words at the heads of boundlist.go and boundchain.go, and
// nothing faster: every layout at positions of the grid is tried, and its worth is taken gap by
// gap.
type words struct {
	bar    *bar
	items  []wanted
	kerf   model.Length
	linked bool
	runs   []model.Span
	worth  map[string]int64 // the greatest worth by counts
	from   []model.Length   // of the pieces so far
	to     []model.Length
	counts []int64
}

func (w *words) clear(x model.Length) bool {
	return !slices.ContainsFunc(w.bar.spots, func(s spot) bool { return s.From <= x && x < s.To })
}

func byWords(b *bar, items []wanted, kerf model.Length) map[string]int64 {
	w := &words{bar: b, items: items, kerf: kerf, worth: map[string]int64{},
		counts: make([]int64, len(items))}
	for _, s := range b.spots {
		w.linked = w.linked || s.To-s.From < kerf
		for _, i := range items {
			w.linked = w.linked || s.tolerated[i.face]
		}
	}
	for x := b.from; x < b.to; x++ {
		if n := len(w.runs); w.clear(x) && n > 0 && w.runs[n-1].To == x {
			w.runs[n-1].To++
		} else if w.clear(x) {
			w.runs = append(w.runs, model.Span{From: x, To: x + 1})
		}
	}
	if w.linked {
		w.place(model.Length(b.step(items, kerf)))
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
			w.share(n+1, here, worth+int64(w.bar.rate.Of(max(0, length-all), w.bar.keep)))
			return
		}
		deal(i+1, all)
		before := w.counts[i]
		for w.counts[i] < w.items[i].demand {
			w.counts[i]++
			all += w.items[i].length + w.kerf
			deal(i+1, all)
		}
		w.counts[i] = before
	}
	deal(0, 0)
}

// place lays a piece after the last one, everywhere, and goes on.
func (w *words) place(step model.Length) {
	first := w.bar.from
	if n := len(w.to); n > 0 {
		w.note(w.chains())
		first = w.to[n-1] + w.kerf
	}
	for y := first; y < w.bar.to; y += step {
		for i, item := range w.items {
			end, legal := y+item.length, w.counts[i] < item.demand
			for _, s := range w.bar.spots {
				legal = legal && (s.tolerated[item.face] || end <= s.From || s.To <= y)
			}
			if legal && end <= w.bar.to {
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
		lo, hi := w.bar.from, w.bar.to
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
				if t > w.bar.keep {
					amount.Mul(big.NewRat(w.bar.rate.Num, w.bar.rate.Den),
						big.NewRat(int64(t-w.bar.keep), 1))
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

// asWords gives a list by the keys of byWords, less what does not meet the need.
func asWords(list []pattern, items []wanted) map[string]int64 {
	out := map[string]int64{}
	for _, p := range list {
		counts := make([]int64, len(items))
		for _, t := range p.takes {
			counts[t.item] = t.copies
		}
		out[fmt.Sprint(counts)] = p.worth
	}
	return out
}

// countsOf reads a key of byWords.
func countsOf(key string, n int) []int64 {
	out := make([]int64, n)
	for k, word := range strings.Fields(strings.Trim(key, "[]")) {
		fmt.Sscan(word, &out[k])
	}
	return out
}

// valueOf is duals and worth of a pattern.
func valueOf(key string, items []wanted, worth, scale int64) int64 {
	sum := scale * worth
	for k, n := range countsOf(key, len(items)) {
		sum += n * items[k].dual
	}
	return sum
}

func TestListIsByTheWords(t *testing.T) {
	r := rand.New(rand.NewPCG(15, 16))
	var l lister
	var most most
	linked, patterns := 0, 0
	for n := range 9000 {
		unit := model.Length(pick(r, 1, 1, 2, 3))
		b, items, kerf, scale := randomBar(r, pick(r, 18, 24), unit)
		for i := range items {
			items[i].length = max(items[i].length, (3+model.Length(r.IntN(3)))*unit)
			items[i].demand = r.Int64N(4)
			if r.IntN(6) == 0 {
				items[i].dual = 0
			}
		}
		index := []int{0, 1, 2, 3}[:len(items)]
		all := byWords(&b, items, kerf)
		best := int64(0)
		for key, worth := range all {
			best = max(best, valueOf(key, items, worth, scale))
		}
		need := best - r.Int64N(best+20)*pick(r, int64(0), 1, 2)/2
		if r.IntN(3) == 0 {
			need = -1 << 62
		}
		gives := most.of(&b, items, kerf, b.to-b.from, scale)
		list, why := l.list(&b, items, index, kerf, scale, gives, big.NewInt(need), 1000)
		maps.DeleteFunc(all, func(key string, worth int64) bool {
			return valueOf(key, items, worth, scale) < need
		})
		if got := asWords(list, items); why != "" || !maps.Equal(got, all) {
			t.Fatalf("board %d: %s\ngot  %v\nwant %v\n%+v items %v kerf %d scale %d need %d", n,
				why, got, all, b, items, kerf, scale, need)
		}
		patterns += len(list)
		if b.linked(items, kerf) && len(list) > 0 {
			linked++
		}
	}
	if linked < 2000 || patterns < 8000 {
		t.Errorf("%d lists of linked boards and %d patterns are too few to trust", linked, patterns)
	}
}

// No layout of true worth, on the grid or off it, is missing from a list, or worth more than the
// list says.
func TestListHoldsEveryLayout(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 22))
	var l lister
	var most most
	layouts := 0
	for n := range 4000 {
		unit := model.Length(pick(r, 1, 2, 3, 4))
		b, items, kerf, scale := randomBar(r, 40/int(unit), unit)
		items = append(items, wanted{4 * unit, model.Face(r.IntN(model.Faces)),
			r.Int64N(20 * scale), 2},
			wanted{7 * unit, model.Face(r.IntN(model.Faces)), r.Int64N(30 * scale), 1})[len(items):]
		gives := most.of(&b, items, kerf, b.to-b.from, scale)
		need := gives - r.Int64N(gives+10)
		list, why := l.list(&b, items, []int{0, 1}, kerf, scale, gives, big.NewInt(need), 1000)
		if why != "" {
			t.Fatal(why)
		}
		got := asWords(list, items)
		for counts, worth := range ways(&b, items, kerf) {
			if counts[0]*items[0].dual+counts[1]*items[1].dual+scale*worth < need {
				continue
			}
			layouts++
			if listed, known := got[fmt.Sprint(counts)]; !known || listed < worth {
				t.Fatalf("board %d: %v leave %d, the list says %d, %t: %+v items %v kerf %d scale %d need %d", n, counts, worth, listed, known, b, items, kerf, scale, need)
			}
		}
	}
	if layouts < 2000 {
		t.Errorf("%d layouts are too few to trust", layouts)
	}
}

// A list that is too long is refused, and says so.
func TestListsHaveLimits(t *testing.T) {
	knots := []spot{{model.Span{From: 30, To: 35}, [model.Faces]bool{true, true, true}}}
	for _, c := range []struct {
		want   string
		length model.Length
		spots  []spot
		demand int64
	}{
		{"more than 20000 in the leaf", 90, nil, 9},
		{"takes too long", 120, knots, 9},
		{"too small a measure", model.MaxLength, nil, 9},
		{"too small a measure", model.MaxLength, knots, 9},
		{"too many pieces", 1 << 20, nil, math.MaxInt64},
	} {
		var l lister
		var items []wanted
		var index []int
		for i := range 30 {
			items, index = append(items, wanted{model.Length(10 + i), model.Show, 0, c.demand}),
				append(index, i)
		}
		board := bar{to: c.length, rate: model.NewRate(1, 1), keep: 5, spots: c.spots}
		if _, why := l.list(&board, items, index, 1, 1, 1000, big.NewInt(-1),
			maxListed); !strings.Contains(why, c.want) {
			t.Errorf("%s: %q", c.want, why)
		}
	}
}

func BenchmarkList(b *testing.B) {
	const grid = model.UnitsPerInch / 16
	for _, c := range []struct {
		name  string
		spots int
		faces int
		knots bool
	}{{"clear", 0, 1, false}, {"2 spots, show", 2, 1, false}, {"2 knots", 2, 3, true},
		{"5 knots", 5, 3, true}} {
		b.Run(c.name, func(b *testing.B) {
			r := rand.New(rand.NewPCG(17, 18))
			board := bar{to: 144 * 16 * grid, rate: model.NewRate(150_000, 144*16*grid),
				keep: 12 * 16 * grid, cost: 300_000}
			for k := range c.spots {
				at := model.Length(k*16*144/c.spots+r.IntN(16*60/c.spots)) * grid
				board.spots = append(board.spots,
					spot{model.Span{From: at, To: at + model.Length(16+r.IntN(32))*grid},
						[model.Faces]bool{false, c.knots, c.knots}})
			}
			const scale = 1 << 10
			var items []wanted
			for range 20 {
				n := 13*16 + r.IntN(50*16)
				dual := int64(n+2) * 300_000 * scale / (144 * 16) * int64(1000+r.IntN(40)) / 1000
				items = append(items,
					wanted{model.Length(n) * grid, model.Face(r.IntN(c.faces)), dual,
						1 + r.Int64N(6)})
			}
			var most most
			var l lister
			best := most.of(&board, items, 2*grid, board.to, scale)
			index := make([]int, len(items))
			need := big.NewInt(best - 10_000*scale) // 0.2 % of 500
			for b.Loop() {
				list, why := l.list(&board, items, index, 2*grid, scale, best, need, maxListed)
				if why != "" {
					b.Fatal(why)
				}
				b.ReportMetric(float64(len(list)), "patterns")
				b.ReportMetric(float64(l.steps), "steps")
			}
		})
	}
}

package along_test

import (
	"fmt"
	"maps"
	"math"
	"math/big"
	"math/rand/v2"
	"strings"
	"testing"

	"rackwright/model"
	"rackwright/model/internal/handmade"
	"rackwright/model/proof/along"
	"rackwright/model/proof/internal/brute"
)

// asWords gives a list by the keys of ByWords, less what does not meet the need.
func asWords(list []along.Pattern, items []along.Item) map[string]int64 {
	out := map[string]int64{}
	for _, p := range list {
		counts := make([]int64, len(items))
		for _, t := range p.Takes {
			counts[t.Item] = t.Copies
		}
		out[fmt.Sprint(counts)] = p.Worth
	}
	return out
}

// valueOf is duals and worth of a pattern.
func valueOf(key string, items []along.Item, worth, scale int64) int64 {
	sum := scale * worth
	for k, n := range brute.CountsOf(key, len(items)) {
		sum += n * items[k].Dual
	}
	return sum
}

func TestListIsByTheWords(t *testing.T) {
	r := rand.New(rand.NewPCG(15, 16))
	var l along.Lister
	var most along.Most
	linked, patterns := 0, 0
	for n := range 9000 {
		unit := model.Length(handmade.Pick(r, 1, 1, 2, 3))
		b, items, kerf, scale := brute.RandomBoard(r, handmade.Pick(r, 18, 24), unit)
		for i := range items {
			items[i].Length = max(items[i].Length, (3+model.Length(r.IntN(3)))*unit)
			items[i].Demand = r.Int64N(4)
			if r.IntN(6) == 0 {
				items[i].Dual = 0
			}
		}
		index := []int{0, 1, 2, 3}[:len(items)]
		all := brute.ByWords(&b, items, kerf)
		best := int64(0)
		for key, worth := range all {
			best = max(best, valueOf(key, items, worth, scale))
		}
		need := best - r.Int64N(best+20)*handmade.Pick(r, int64(0), 1, 2)/2
		if r.IntN(3) == 0 {
			need = -1 << 62
		}
		gives := most.Of(&b, items, kerf, b.To-b.From, scale)
		list, why := l.List(&b, items, index, kerf, scale, gives, big.NewInt(need), 1000)
		maps.DeleteFunc(all, func(key string, worth int64) bool {
			return valueOf(key, items, worth, scale) < need
		})
		if got := asWords(list, items); why != "" || !maps.Equal(got, all) {
			t.Fatalf("board %d: %s\ngot  %v\nwant %v\n%+v items %v kerf %d scale %d need %d", n,
				why, got, all, b, items, kerf, scale, need)
		}
		patterns += len(list)
		if b.Linked(items, kerf) && len(list) > 0 {
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
	var l along.Lister
	var most along.Most
	layouts := 0
	for n := range 4000 {
		unit := model.Length(handmade.Pick(r, 1, 2, 3, 4))
		b, items, kerf, scale := brute.RandomBoard(r, 40/int(unit), unit)
		items = append(items, along.Item{Length: 4 * unit, Face: model.Face(r.IntN(model.Faces)),
			Dual: r.Int64N(20 * scale), Demand: 2},
			along.Item{Length: 7 * unit, Face: model.Face(r.IntN(model.Faces)),
				Dual: r.Int64N(30 * scale), Demand: 1})[len(items):]
		gives := most.Of(&b, items, kerf, b.To-b.From, scale)
		need := gives - r.Int64N(gives+10)
		list, why := l.List(&b, items, []int{0, 1}, kerf, scale, gives, big.NewInt(need), 1000)
		if why != "" {
			t.Fatal(why)
		}
		got := asWords(list, items)
		for counts, worth := range brute.Ways(&b, items, kerf) {
			if counts[0]*items[0].Dual+counts[1]*items[1].Dual+scale*worth < need {
				continue
			}
			layouts++
			if listed, known := got[fmt.Sprint(counts)]; !known || listed < worth {
				t.Fatalf("board %d: %v leave %d, the list says %d, %t: %+v items %v kerf %d "+
					"scale %d need %d",
					n, counts, worth, listed, known, b, items, kerf, scale, need)
			}
		}
	}
	if layouts < 2000 {
		t.Errorf("%d layouts are too few to trust", layouts)
	}
}

// A list that is too long is refused, and says so.
func TestListsHaveLimits(t *testing.T) {
	knots := []along.Spot{{Span: model.Span{From: 30, To: 35},
		Tolerated: [model.Faces]bool{true, true, true}}}
	for _, c := range []struct {
		want   string
		length model.Length
		spots  []along.Spot
		demand int64
	}{
		{"more than 20000 in the leaf", 90, nil, 9},
		{"takes too long", 120, knots, 9},
		{"too small a measure", model.MaxLength, nil, 9},
		{"too small a measure", model.MaxLength, knots, 9},
		{"too many pieces", 1 << 20, nil, math.MaxInt64},
	} {
		var l along.Lister
		var items []along.Item
		var index []int
		for i := range 30 {
			items, index = append(items,
				along.Item{Length: model.Length(10 + i), Face: model.Show, Dual: 0,
					Demand: c.demand}),
				append(index, i)
		}
		board := along.Board{To: c.length, Rate: model.NewRate(1, 1), Keep: 5, Spots: c.spots}
		if _, why := l.List(&board, items, index, 1, 1, 1000, big.NewInt(-1),
			along.MaxListed); !strings.Contains(why, c.want) {
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
			board := along.Board{To: 144 * 16 * grid, Rate: model.NewRate(150_000, 144*16*grid),
				Keep: 12 * 16 * grid}
			for k := range c.spots {
				at := model.Length(k*16*144/c.spots+r.IntN(16*60/c.spots)) * grid
				board.Spots = append(board.Spots,
					along.Spot{
						Span:      model.Span{From: at, To: at + model.Length(16+r.IntN(32))*grid},
						Tolerated: [model.Faces]bool{false, c.knots, c.knots}})
			}
			const scale = 1 << 10
			var items []along.Item
			for range 20 {
				n := 13*16 + r.IntN(50*16)
				dual := int64(n+2) * 300_000 * scale / (144 * 16) * int64(1000+r.IntN(40)) / 1000
				items = append(items,
					along.Item{Length: model.Length(n) * grid, Face: model.Face(r.IntN(c.faces)),
						Dual:   dual,
						Demand: 1 + r.Int64N(6)})
			}
			var most along.Most
			var l along.Lister
			best := most.Of(&board, items, 2*grid, board.To, scale)
			index := make([]int, len(items))
			need := big.NewInt(best - 10_000*scale) // 0.2 % of 500
			for b.Loop() {
				list, why := l.List(&board, items, index, 2*grid, scale, best, need,
					along.MaxListed)
				if why != "" {
					b.Fatal(why)
				}
				b.ReportMetric(float64(len(list)), "patterns")
				b.ReportMetric(float64(l.Work()), "steps and cells")
			}
		})
	}
}

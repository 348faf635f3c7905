package along_test

import (
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
	"rackwright/model/proof/internal/patterns"
)

// asWays gives a list as [brute.Ways] does.
func asWays(list []patterns.Pattern) map[brute.Counts]int64 {
	out := map[brute.Counts]int64{}
	for _, p := range list {
		var counts brute.Counts
		for _, t := range p.Takes {
			counts[t.Item] = t.Copies
		}
		out[counts] = p.Worth
	}
	return out
}

// A list has every vector of counts that some layout gives and that meets the need, on the grid or
// off it, each with exactly the greatest worth that its offcuts can have, and no other.
func TestListIsAllLayouts(t *testing.T) {
	r := rand.New(rand.NewPCG(15, 16))
	var l along.Lister
	var most along.Most
	linked, patterns, whole := 0, 0, 0
	for n := range 9000 {
		unit := model.Length(handmade.Pick(r, 1, 1, 2, 3))
		b, items, kerf := brute.RandomBoard(r, handmade.Pick(r, 18, 24), unit)
		for i := range items {
			items[i].Length = max(items[i].Length, (3+model.Length(r.IntN(3)))*unit)
			items[i].Demand = r.Int64N(4)
			if r.IntN(6) == 0 {
				items[i].Dual = 0
			}
		}
		all := brute.Ways(&b, items, kerf)
		best := int64(0)
		for counts, worth := range all {
			best = max(best, brute.ValueOf(counts, items, worth))
		}
		need := best - r.Int64N(best+20)*handmade.Pick(r, int64(0), 1, 2)/2
		if r.IntN(3) == 0 {
			need = -1 << 62
			whole++
		}
		gives := most.Of(&b, items, kerf, b.To-b.From)
		list, why := l.List(&b, items, kerf, gives,
			big.NewInt(need),
			1000)
		maps.DeleteFunc(all, func(counts brute.Counts, worth int64) bool {
			return brute.ValueOf(counts, items, worth) < need
		})
		if got := asWays(list); why != "" || len(got) != len(list) || !maps.Equal(got, all) {
			t.Fatalf("board %d: %s\ngot  %v\nwant %v\n%+v items %v kerf %d need %d", n, why, list,
				all, b, items, kerf, need)
		}
		patterns += len(list)
		if b.Linked(items, kerf) && len(list) > 0 {
			linked++
		}
	}
	if linked < 2000 || patterns < 8000 || whole < 2000 {
		t.Errorf("%d lists of linked boards, %d patterns and %d lists without a need are too few "+
			"to trust", linked, patterns, whole)
	}
}

// Slope and duals so large that they only just fit give the most and the lists that small ones
// give, so many times greater: nothing overflows. Twice as large they are refused.
func TestLargeNumbersAreExact(t *testing.T) {
	r := rand.New(rand.NewPCG(27, 28))
	var l along.Lister
	var most along.Most
	judged, listed := 0, 0
	for n := range 3000 {
		b, items, kerf := brute.RandomBoard(r, 24, 1)
		b.Slope %= 10
		for i := range items {
			items[i].Dual = r.Int64N(1 << 8)
		}
		scaled := func(by int64) (along.Board, []along.Item) {
			bar, large := b, append([]along.Item(nil), items...)
			bar.Slope *= by
			for i := range large {
				large[i].Dual *= by
			}
			return bar, large
		}
		by := int64(1)
		for bar, large := scaled(2 * by); by < 1<<56 && bar.Fits(large, kerf); {
			by *= 2
			bar, large = scaled(2 * by)
		}
		small, why := most.One(&b, items, kerf, b.To-b.From)
		bar, large := scaled(by)
		if got, refused := most.One(&bar, large, kerf, b.To-b.From); got != small*by ||
			why+refused != "" {
			t.Fatalf("board %d: %d times as large gives %d, small %d, %s%s: %+v items %v kerf %d",
				n,
				by, got, small, why, refused, b, items, kerf)
		}
		need := small - r.Int64N(small+2)
		few, why := l.List(&b, items, kerf, small, big.NewInt(need), 1000)
		want := asWays(few)
		for counts := range want {
			want[counts] *= by
		}
		all, refused := l.List(&bar, large, kerf, small*by, big.NewInt(need*by), 1000)
		if !maps.Equal(asWays(all), want) || why+refused != "" {
			t.Fatalf("board %d: %d times as large the list is %v, small %v, %s%s: %+v items %v "+
				"kerf %d need %d", n, by, all, few, why, refused, b, items, kerf, need)
		}
		if by == 1<<56 {
			continue
		}
		judged++
		listed += len(all)
		if bar, large = scaled(2 * by); len(large) > 0 {
			if _, refused = most.One(&bar, large, kerf, b.To-b.From); refused == "" {
				t.Errorf("board %d: what does not fit is not refused: %+v items %v", n, bar, large)
			}
		}
	}
	if judged < 500 || listed < 1000 {
		t.Errorf("%d boards and %d patterns are too few to trust", judged, listed)
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
		{"more than 400000 in the leaf", 90, nil, 9},
		{"takes too long", 120, knots, 9},
		{"too small a measure", model.MaxLength, knots, 9},
		{"too many pieces", 1 << 20, nil, math.MaxInt64},
	} {
		var l along.Lister
		var items []along.Item
		for i := range 30 {
			items = append(items, along.Item{Length: model.Length(10 + i), Face: model.Show,
				Dual: 0, Demand: c.demand})
		}
		board := along.Board{To: c.length, Slope: 1, Keep: 5, Spots: c.spots}
		if _, why := l.List(&board, items, 1, 1000, big.NewInt(-1),
			20_000); !strings.Contains(why, c.want) {
			t.Errorf("%s: %q", c.want, why)
		}
	}
}

// grid is what all lengths of a longBoard share.
const grid = model.UnitsPerInch / 16

// longBoard is a board of 144 in with spots, and twenty blanks at duals as they stand at the end of
// a search.
func longBoard(spots, faces int, knots bool) (along.Board, []along.Item) {
	r := rand.New(rand.NewPCG(17, 18))
	board := along.Board{To: 144 * 16 * grid, Slope: 150_000 << 10 / (144 * 16 * grid),
		Keep: 12 * 16 * grid}
	for k := range spots {
		at := model.Length(k*16*144/spots+r.IntN(16*60/spots)) * grid
		board.Spots = append(board.Spots,
			along.Spot{
				Span:      model.Span{From: at, To: at + model.Length(16+r.IntN(32))*grid},
				Tolerated: [model.Faces]bool{false, knots, knots}})
	}
	var items []along.Item
	for range 20 {
		n := 13*16 + r.IntN(50*16)
		dual := int64(n+2) * 300_000 << 10 / (144 * 16) * int64(1000+r.IntN(40)) / 1000
		items = append(items,
			along.Item{Length: model.Length(n) * grid, Face: model.Face(r.IntN(faces)), Dual: dual,
				Demand: 1 + r.Int64N(6)})
	}
	return board, items
}

// A list of more patterns than the solver ever uses is far from the limit of steps, so that no plan
// of ours is refused for it: here there are 6,167.
func TestLongListsOfLinkedBoardsTakeFewSteps(t *testing.T) {
	board, items := longBoard(2, 3, true)
	var most along.Most
	var l along.Lister
	best := most.Of(&board, items, 2*grid, board.To)
	list, why := l.List(&board, items, 2*grid, best,
		big.NewInt(best-30_000<<10), along.MaxListed)
	if why != "" || len(list) < 5000 || l.Work() > 2_000_000 {
		t.Errorf("%d patterns in %d steps and cells: %s", len(list), l.Work(), why)
	}
}

func BenchmarkList(b *testing.B) {
	for _, c := range []struct {
		name  string
		spots int
		faces int
		knots bool
	}{{"clear", 0, 1, false}, {"2 spots, show", 2, 1, false}, {"2 knots", 2, 3, true},
		{"5 knots", 5, 3, true}} {
		b.Run(c.name, func(b *testing.B) {
			board, items := longBoard(c.spots, c.faces, c.knots)
			var most along.Most
			var l along.Lister
			best := most.Of(&board, items, 2*grid, board.To)
			need := big.NewInt(best - 10_000<<10) // 0.2 % of 500
			for b.Loop() {
				list, why := l.List(&board, items, 2*grid, best, need, along.MaxListed)
				if why != "" {
					b.Fatal(why)
				}
				b.ReportMetric(float64(len(list)), "patterns")
				b.ReportMetric(float64(l.Work()), "steps-and-cells")
			}
		})
	}
}

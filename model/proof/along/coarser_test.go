package along_test

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"rackwright/model"
	"rackwright/model/internal/handmade"
	"rackwright/model/proof/along"
	"rackwright/model/proof/internal/brute"
)

// No layout gives more than the bound of its board on a coarser grid, nor does the exact bound.
func TestOnGridIsNeverBelowTheBestLayout(t *testing.T) {
	r := rand.New(rand.NewPCG(91, 92))
	var most, coarse along.Most
	rounds, tried, worse, finer, refused := 20000, 0, 0, 0, 0
	for n := range rounds {
		b, items, kerf := brute.RandomBoard(r, 50, 1)
		step := handmade.Pick[model.Length](r, 1, 2, 3, 4, 5)
		if r.IntN(2) == 0 { // just what is still allowed
			b.Keep = step - 1
		}
		if r.IntN(2) == 0 { // offcuts are worth about as much as pieces
			b.Slope = 10 + r.Int64N(10)
			for k := range items {
				items[k].Dual = int64(items[k].Length)*b.Slope + r.Int64N(3)
			}
		}
		for k := range items { // exactly as well, any number of them
			items[k].Demand = 99
		}
		longest := b.To - b.From
		if !anyFits(&b, items, kerf) {
			continue
		}
		got, why := coarse.OnGrid(&b, items, kerf, longest, step)
		if why != "" {
			refused++
			continue
		}
		tried++
		best, exact := brute.MostOfAny(&b, items, kerf), most.Of(&b, items, kerf, longest)
		rough, _ := b.Rough(items, kerf)
		if got < best || got > rough || got < exact && best >= 0 {
			t.Fatalf("board %d on a grid of %d: %d, exact %d, the best layout %d, by length %d: %+v "+
				"items %v kerf %d", n, step, got, exact, best, rough, b, items, kerf)
		}
		if got > exact {
			worse++
		}
		if got < rough {
			finer++
		}
	}
	if tried < rounds/3 || worse < tried/3 || worse > tried*9/10 || finer < tried/3 {
		t.Errorf("of %d boards %d are tried; %d give more than exactly, %d less than by length: too "+
			"few to trust", rounds, tried, worse, finer)
	}
}

// anyFits says whether any blank may lie on a board: then a dear one makes it worth more.
func anyFits(b *along.Board, items []along.Item, kerf model.Length) bool {
	dear := slices.Clone(items)
	for k := range dear {
		dear[k].Dual = 1 << 54
	}
	return brute.MostOfAny(b, dear, kerf) > 1<<53
}

// By hand: in steps of 10 a kerf of 3 is 0, and a blank of 35 is [38] = 30 long. A board of 87 is
// [90] = 90 long, so three of them go into it; but by length only 90/38 do. One of 86 is [89] = 80
// long: two. A defect from 45 to 59 goes from [48] = 40 to 50, so one lies on either side. A board
// of 53 is [56] = 50 long: beside a blank 20 are left, and all of it counts where 9 would not.
func TestOnGridByHand(t *testing.T) {
	blank := []along.Item{{Length: 35, Dual: 380, Demand: 9}}
	for _, c := range []struct {
		what string
		b    along.Board
		want int64
		why  string
	}{
		{"by length", along.Board{To: 87, Keep: 9}, 900, ""},
		{"two", along.Board{To: 86, Keep: 9}, 760, ""},
		{"from a trim", along.Board{From: 7, To: 93, Keep: 9}, 760, ""},
		{"a defect", along.Board{To: 99, Keep: 9, Spots: []along.Spot{{Span: model.Span{From: 45,
			To: 59}}}}, 760, ""},
		{"an offcut", along.Board{To: 53, Slope: 2, Keep: 9}, 380 + 2*20, ""},
		{"less is kept", along.Board{To: 53, Slope: 2, Keep: 19}, 380 + 2*10, ""},
		{"none is kept", along.Board{To: 53, Slope: 2, Keep: 8}, 0, "what is worth keeping"},
		{"nothing", along.Board{From: 5, To: 5}, 0, ""},
	} {
		var most along.Most
		got, why := most.OnGrid(&c.b, blank, 3, c.b.To-c.b.From, 10)
		if got != c.want || !strings.Contains(why, c.why) || c.why == "" && why != "" {
			t.Errorf("%s: %d %q, want %d %q", c.what, got, why, c.want, c.why)
		}
	}
	blank[0].Length = 9
	var most along.Most
	if got, why := most.OnGrid(&along.Board{To: 90, Keep: 9}, blank, 0, 90, 10); why == "" {
		t.Errorf("a blank of 9 on a grid of 10 gives %d", got)
	}
}

package across

import (
	"math/big"
	"math/rand/v2"
	"testing"

	"rackwright/model"
	"rackwright/model/internal/handmade"
)

// No board gives more than its rough bound, whatever its defects, its margins, its faces and its
// rips. What a board gives is tried against all layouts elsewhere; here some are tried as well.
func TestRoughIsNeverBelowTheExactBest(t *testing.T) {
	r := rand.New(rand.NewPCG(83, 84))
	var one boardSearch
	rounds, near, none, weak := 20_000, 0, 0, 0
	if testing.Short() {
		rounds = 3000
	}
	for n := range rounds {
		unit := model.Length(1 + r.IntN(3))
		b, items, kc, kr := randomRipped(r, handmade.Pick(r, 8, 14, 40),
			handmade.Pick(r, 4, 8, 16), unit)
		if r.IntN(2) == 0 {
			setRips(r, b)
		}
		exact, why := one.one(b, items, kc, kr)
		rough, refused := b.Rough(items, kc, kr)
		if why+refused != "" || rough < exact {
			t.Fatalf("%d: %+v, items %+v, kerfs %d and %d: rough %d %s, exact %d %s", n, *b, items,
				kc, kr, rough, refused, exact, why)
		}
		if n%20 == 0 && b.to-b.from <= 14 && b.width <= 8 {
			e := newEveryLayout(b, items, kc, kr)
			if best := e.best(); rough < best {
				t.Fatalf("%d: %+v, items %+v, kerfs %d and %d: rough %d, a layout %d", n, *b, items,
					kc, kr, rough, best)
			}
		}
		want, fits := roughByWords(b, items, kc, kr)
		if want.Cmp(big.NewInt(rough)) != 0 {
			t.Fatalf("%d: %+v, items %+v, kerfs %d and %d: rough %d, by its words %v", n, *b, items,
				kc, kr, rough, want)
		}
		if exact > 0 && exact*10 > rough*8 {
			near++
		}
		if !fits {
			none++
		}
		if len(b.patches) > 0 && b.patches[0].weak {
			weak++
		}
	}
	if near < rounds/100 || weak < rounds/20 || none > rounds/10 {
		t.Errorf("of %d rough bounds %d come near, %d are of boards with weak defects, %d of "+
			"boards on which nothing fits: too few to trust", rounds, near, weak, none)
	}
}

// roughByWords is the best rate of all over the room, rounded down, and whether any blank fits.
func roughByWords(b *Board, items []Item, kc, kr model.Length) (*big.Int, bool) {
	best := big.NewRat(max(b.slope.Whole, b.slope.Strip), 1)
	long, wide, fits := b.to-b.from, b.width, false
	for _, i := range items {
		if i.length > long {
			continue
		}
		w := i.width
		if i.whole || w < b.narrowest || w > b.width-2*b.inset {
			w = b.width
		}
		fits = true
		if rate := big.NewRat(i.dual, int64((i.length+kc)*(w+kr))); rate.Cmp(best) > 0 {
			best = rate
		}
	}
	if fits {
		long, wide = long+kc, wide+kr
	}
	best.Mul(best, big.NewRat(int64(long*wide), 1))
	return new(big.Int).Quo(best.Num(), best.Denom()), fits
}

// By hand: a board of 20 x 7 with kerfs of 1 has room for 21 x 8 = 168. A slat of 20 x 3 takes 21 x
// 4 = 84, and two come to all. One as wide as the board takes 168, and so does one that may not be
// sawn to its width: as it is too narrow, or as the insets leave too little.
func TestRoughAcrossByHand(t *testing.T) {
	board := func(change func(b *Board)) *Board {
		b := &Board{unit: 4, from: 5, to: 25, width: 7, keepWidth: 2, narrowest: 1, shortest: 5}
		if change != nil {
			change(b)
		}
		return b
	}
	slat := func(dual int64) Item { return Item{length: 20, width: 3, dual: dual} }
	for _, c := range []struct {
		what   string
		change func(b *Board)
		items  []Item
		want   int64
	}{
		{"two slats", nil, []Item{slat(700)}, 1400},
		{"a whole blank", nil, []Item{{length: 20, width: 7, whole: true, dual: 700}}, 700},
		{"four short ones", nil, []Item{{length: 9, width: 3, dual: 7}}, 29}, // 168/40 of them
		{"too narrow", func(b *Board) { b.narrowest = 4 }, []Item{slat(700)}, 700},
		{"too wide", func(b *Board) { b.inset = 2 }, []Item{{length: 20, width: 4, dual: 700}},
			700},
		{"just wide enough", func(b *Board) { b.inset = 2 }, []Item{slat(700)}, 1400},
		{"too long", nil, []Item{{length: 21, width: 3, dual: 700}}, 0},
		{"too long, the board", func(b *Board) { b.slope.Whole = 5 },
			[]Item{{length: 21, width: 3, dual: 700}}, 700},
		{"offcuts", func(b *Board) { b.slope = model.Slope{Whole: 5, Strip: 3} },
			[]Item{slat(1)}, 840},
		{"strips worth more", func(b *Board) { b.slope = model.Slope{Whole: 5, Strip: 6} },
			[]Item{slat(1)}, 1008},
		{"no blank", func(b *Board) { b.slope = model.Slope{Whole: 5, Strip: 3} }, nil, 700},
		{"of no length", func(b *Board) { b.to, b.slope.Whole = 5, 5 }, []Item{slat(1)}, 0},
		{"2^62 - 2", nil, []Item{slat(1<<61 - 1)}, 1<<62 - 2},
	} {
		if got, why := board(c.change).Rough(c.items, 4, 4); got != c.want || why != "" {
			t.Errorf("%s: %d %s, want %d", c.what, got, why, c.want)
		}
	}
	if got, why := board(nil).Rough([]Item{slat(1 << 61)}, 4, 4); why != tooLarge {
		t.Errorf("2^62 is reckoned with as %d %s", got, why)
	}
}

// A board is bounded by area whatever its measure, where the exact way is refused.
func TestRoughNeedsNoGrid(t *testing.T) {
	var one boardSearch
	b := &Board{unit: 1, to: maxAlong + 1, width: maxAcross + 1, trimming: true}
	items := []Item{{length: 1, width: 1, dual: 1}}
	if _, why := one.one(b, items, 1, 1); why == "" {
		t.Error("a board of too many positions is worked out")
	}
	const want = (maxAlong + 2) * (maxAcross + 2) / 4
	if got, why := b.Rough(items, 1, 1); got != want || why != "" {
		t.Errorf("%d %s, want %d", got, why, want)
	}
}

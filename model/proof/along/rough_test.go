package along_test

import (
	"math/big"
	"math/rand/v2"
	"testing"

	"rackwright/model"
	"rackwright/model/internal/handmade"
	"rackwright/model/proof/along"
	"rackwright/model/proof/internal/brute"
)

// No layout gives more than the rough bound of its board, nor does the exact bound. The rough bound
// is the best rate of all, over the length and a kerf.
func TestRoughIsNeverBelowTheBestLayout(t *testing.T) {
	r := rand.New(rand.NewPCG(81, 82))
	var most along.Most
	near, none, pieces := 0, 0, 0
	for n := range 8000 {
		unit := model.Length(handmade.Pick(r, 1, 2, 3))
		b, items, kerf := brute.RandomBoard(r, 60/int(unit), unit)
		rough, why := b.Rough(items, kerf)
		best := brute.MostOfAny(&b, items, kerf)
		exact := most.Of(&b, items, kerf, b.To-b.From)
		if why != "" || rough < best || rough < exact {
			t.Fatalf("board %d: rough %d %s, exact %d, the best layout %d: %+v items %v kerf %d", n,
				rough, why, exact, best, b, items, kerf)
		}
		usable := b.To - b.From
		want, fits := big.NewRat(b.Slope, 1), false
		for _, i := range items {
			if i.Length > usable {
				continue
			}
			if rate := big.NewRat(i.Dual, int64(i.Length+kerf)); rate.Cmp(want) > 0 {
				want = rate
			}
			fits = true
		}
		room := usable
		if fits {
			room += kerf
		}
		want.Mul(want, big.NewRat(int64(room), 1))
		if floor := new(big.Int).Quo(want.Num(), want.Denom()); floor.Int64() != rough {
			t.Fatalf("board %d: rough %d, by its words %v: %+v items %v kerf %d", n, rough, want, b,
				items, kerf)
		}
		switch {
		case !fits:
			none++
		case want.Cmp(big.NewRat(b.Slope*int64(room), 1)) > 0:
			pieces++
		}
		if best > 0 && best*10 > rough*9 {
			near++
		}
	}
	if near < 500 || none < 500 || pieces < 2000 {
		t.Errorf("%d rough bounds come near, %d are of boards on which nothing fits, %d of pieces",
			near, none, pieces)
	}
}

// By hand: a board of 100 with a kerf of 2 has room for 102. A piece of 49 takes 51, so two come to
// 14; one of 33 takes 35, at 5 it comes to 14.57; an offcut at 0 to nothing. One of 101 is not
// there.
func TestRoughByHand(t *testing.T) {
	b := along.Board{From: 10, To: 110, Slope: 0, Keep: 30,
		Spots: []along.Spot{{Span: model.Span{From: 20, To: 90}}}}
	of := func(pieces ...int64) (items []along.Item) {
		for k := 0; k < len(pieces); k += 2 {
			items = append(items, along.Item{Length: model.Length(pieces[k]), Dual: pieces[k+1]})
		}
		return items
	}
	for _, c := range []struct {
		items []along.Item
		slope int64
		want  int64
	}{
		{of(49, 7), 0, 14}, {of(49, 7, 33, 5), 0, 14}, {of(33, 50, 49, 70), 0, 145},
		{of(101, 1000, 49, 7), 0, 14}, {of(101, 1000), 0, 0}, {of(101, 1000), 3, 300},
		{of(100, 1, 101, 1000), 3, 306}, {of(100, 307), 3, 307}, {nil, 3, 300},
		{of(49, 1<<60), 0, 1 << 61}, {of(49, 1<<61-1), 0, 1<<62 - 2},
	} {
		b.Slope = c.slope
		if got, why := b.Rough(c.items, 2); got != c.want || why != "" {
			t.Errorf("%v at a slope of %d: %d %s, want %d", c.items, c.slope, got, why, c.want)
		}
	}
	b.Slope = 0
	if got, why := b.Rough(of(49, 1<<61), 2); why == "" {
		t.Errorf("2^62 is reckoned with as %d", got)
	}
	b.To = b.From
	b.Slope = 3
	if got, why := b.Rough(of(1, 5), 2); got != 0 || why != "" {
		t.Errorf("a board of no length gives %d %s", got, why)
	}
}

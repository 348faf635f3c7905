package model

import (
	"math"
	"math/big"
	"math/rand/v2"
	"testing"
)

func offer(section Section, length, price string) Offer {
	m, err := ParseMoney(price)
	if err != nil {
		panic(err)
	}
	return Offer{Wood: *longWood(section, "", length), Price: m}
}

func rackBoard(section Section, length string, value *Money, defects ...Defect) Board {
	return Board{ID: "R1", Wood: *longWood(section, "", length), Value: value, Defects: defects}
}

// TestWorthByTheYardsPrice: 2x6 is cheapest at 9.60 for 96 in, so half of it is 0.05 an inch beyond
// the first 12.
func TestWorthByTheYardsPrice(t *testing.T) {
	none := int64(0)
	j := shop(nil)
	j.Yard = []Offer{offer("2x6", "120", "14.40"), offer("2x6", "96", "9.60"),
		offer("2x6", "144", "1"), offer("2x4", "96", "2")}
	j.Yard[2].Available = &none // sold out: sets no rate
	knot := Defect{From: inch("39 3/4"), To: inch("40 1/4"), Right: inch("5 1/2"),
		Kind: "loose knot"}
	end := Defect{From: inch("89 3/4"), To: inch("96"), Right: inch("5 1/2"), Kind: "split"}
	for _, c := range []struct {
		what  string
		board Board
		want  Money
	}{
		{"clear: 84 x 0.05", rackBoard("2x6", "96", nil), 42000},
		{"a keep length is worth nothing", rackBoard("2x6", "12", nil), 0},
		{"an inch more", rackBoard("2x6", "13", nil), 500},
		{"39-1/2 and 55-1/2: 27-1/2 x 0.05 + 43-1/2 x 0.05", rackBoard("2x6", "96", nil, knot),
			35500},
		{"89-1/2 to the split, less the knot: 27-1/2 x 0.05 + 37 x 0.05",
			rackBoard("2x6", "96", nil, knot, end), 32250},
		{"its own value", rackBoard("2x6", "96", new(Money(70000)), knot), 70000},
	} {
		if got := j.Valuation().WorthOfBoard(&c.board); got != c.want {
			t.Errorf("%s: %s, want %s", c.what, got, c.want)
		}
	}
	v := j.Valuation()
	own := rackBoard("2x6", "96", new(Money(70000)), knot) // 71 in beyond the keep lengths
	if got, want := v.WorthOfRect(v.RateOfBoard(&own), &own.Wood,
		Rect{inch("45"), inch("96"), 0, own.Width}, j.WidenedRects(&own, nil)),
		Money(70000*39/71); got != want {
		t.Errorf("51 in off a board of value 7.00 is worth %s, want %s", got, want)
	}
	short := rackBoard("2x6", "12", new(Money(70000)))
	if r := v.RateOfBoard(&short); r.Num != 0 {
		t.Errorf("a board with no run above keep_length has rate %v, want 0", r)
	}
	if got, want := v.RateOfOffer(&j.Yard[0]), NewRate(96000, 2*96*UnitsPerInch); got != want {
		t.Errorf("the rate of any 2x6 is %v, want that of the cheapest, %v", got, want)
	}
}

func TestWorthOfWoodThatTheYardDoesNotSell(t *testing.T) {
	j := shop(nil)
	j.Rack = []Board{
		rackBoard("8/4", "60", new(Money(96000))), // 48 in beyond keep_length
		rackBoard("8/4", "36", new(Money(24000))), // 24 in
		rackBoard("8/4", "52", nil),
		rackBoard("6/4", "52", nil),
		rackBoard("6/4", "20", nil),
	}
	for i := range j.Rack {
		j.Rack[i].Width = inch("6")
	}
	v := j.Valuation()
	if got, want := v.WorthOfBoard(&j.Rack[2]), Money(40*120000/72); got != want {
		t.Errorf("40 in at 12.00 for 72 in is %s, want %s", got, want)
	}
	// one unit a foot
	if got, want := v.WorthOfBoard(&j.Rack[3]), Money(40*10000/12); got != want {
		t.Errorf("40 in of wood with no price is %s, want %s", got, want)
	}
	// in a metric shop one unit a metre; 40 in is 1.016 m
	j.Settings.Units = Millimetre
	if got, want := j.Valuation().WorthOfBoard(&j.Rack[3]), Money(10160); got != want {
		t.Errorf("1.016 m of wood with no price is %s, want %s", got, want)
	}
	if len(v.Guessed) != 1 || v.Guessed[0].Section != "6/4" {
		t.Errorf("guessed kinds of wood: %v, want 6/4 alone, once", v.Guessed)
	}
}

func TestSectionWinsOverMaterial(t *testing.T) {
	keep8, keep24 := inch("8"), inch("24")
	j := shop(func(s *Settings) {
		s.Materials = map[string]Override{"fir": {KeepLength: &keep24, Value: &Fraction{1, 4}}}
		s.Sections = map[Section]Override{"2x6": {KeepLength: &keep8}}
	})
	j.Yard = []Offer{offer("2x6", "96", "9.60"), offer("2x4", "96", "9.60")}
	for section, want := range map[Section]Money{"2x6": 88 * 250, "2x4": 72 * 250} {
		b := rackBoard(section, "96", nil)
		if got := j.Valuation().WorthOfBoard(&b); got != want {
			t.Errorf("96 in of %s is worth %s, want %s", section, got, want)
		}
	}
}

// TestSplittingNeverPays: no two pieces are worth more than the whole.
func TestSplittingNeverPays(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 20000 {
		r := NewRate(rng.Int64N(1e6)+1, rng.Int64N(1e6)+1)
		a, b, keep := Length(rng.Int64N(3e5)), Length(rng.Int64N(3e5)), Length(rng.Int64N(1e5))
		if r.Worth(a, keep)+r.Worth(b, keep) > r.Worth(a+b, keep) {
			t.Fatalf("at %v, keep %d: %d and %d are worth %s and %s, the whole %s", r, keep, a, b,
				r.Worth(a, keep), r.Worth(b, keep), r.Worth(a+b, keep))
		}
	}
}

// TestRatesNeverOverflow: for any accepted price, length and share the rate is at most the true
// one, by less than a millionth where it is not capped, and the longest board is worth at most the
// largest amount.
func TestRatesNeverOverflow(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	prices := []int64{1, 9973, int64(MaxMoney) - 1, int64(MaxMoney)}
	lengths := []int64{1, 7919, 32_000_000, int64(MaxLength) - 1, int64(MaxLength)}
	dens := []int64{1, 999_983, 1_000_000}
	for range 20000 {
		price, length, den := prices[rng.IntN(len(prices))], lengths[rng.IntN(len(lengths))],
			dens[rng.IntN(len(dens))]
		if rng.IntN(2) == 0 {
			price, length = rng.Int64N(int64(MaxMoney))+1, rng.Int64N(int64(MaxLength))+1
		}
		num := rng.Int64N(den + 1)
		j := shop(func(s *Settings) { s.Offcut = OffcutRule{Value: Fraction{num, den}} })
		j.Yard = []Offer{{Wood: Wood{Length: Length(length), Width: 1}, Price: Money(price)}}
		v := j.Valuation()
		r := v.RateOfOffer(&j.Yard[0])
		exact := new(big.Rat).Mul(big.NewRat(price, length), big.NewRat(num, den))
		if num == 0 || r.Num <= 0 || r.Den <= 0 {
			if num != 0 || r != (Rate{0, 1}) {
				t.Fatalf("price %d, length %d, share %d/%d: rate %v", price, length, num, den, r)
			}
			continue
		}
		got, top := big.NewRat(r.Num, r.Den), big.NewRat(maxRate, 1)
		least := new(big.Rat).Mul(exact, big.NewRat(999_999, 1_000_000))
		if least.Cmp(top) > 0 {
			least = top
		}
		if got.Cmp(exact) > 0 || got.Cmp(least) < 0 || got.Cmp(top) > 0 {
			t.Fatalf("price %d, length %d, share %d/%d: rate %v, want %v, %d at most", price,
				length, num, den, r, exact, maxRate)
		}
		b := Board{Wood: Wood{Length: MaxLength, Width: 1}}
		if worth := v.WorthOfBoard(&b); worth < 0 || worth > MaxMoney {
			t.Fatalf("price %d, length %d, share %d/%d: the longest board is worth %d", price,
				length, num, den, worth)
		}
	}
}

func TestGivenValuesNeverOverflow(t *testing.T) {
	j := shop(func(s *Settings) { s.Offcut.KeepLength = 100 })
	for range 200 {
		j.Rack = append(j.Rack,
			Board{Wood: Wood{Section: "2x4", Length: 101, Width: 1}, Value: new(Money(MaxMoney))})
	}
	j.Rack = append(j.Rack, Board{Wood: Wood{Section: "2x4", Length: MaxLength, Width: 1}})
	v := j.Valuation()
	if got := v.WorthOfBoard(&j.Rack[200]); got < 0 || got > MaxMoney {
		t.Errorf("the longest board is worth %d beside short ones of the highest value", got)
	}
	whole := v.WorthOfRect(v.RateOfBoard(&j.Rack[0]), &j.Rack[0].Wood, Rect{0, 101, 0, 1}, nil)
	if whole != MaxMoney {
		t.Errorf("the whole of a board of value %s is worth %s, want the same", MaxMoney, whole)
	}
}

func TestCheaperPerArea(t *testing.T) {
	j := &Job{}
	a, b := offer("2x6", "96", "9.60"), offer("2x6", "120", "12")
	if j.cheaperPerArea(&a, &b) || j.cheaperPerArea(&b, &a) {
		t.Error("9.60 for 96 in and 12.00 for 120 in: neither is cheaper")
	}
	b.Price--
	if !j.cheaperPerArea(&b, &a) || j.cheaperPerArea(&a, &b) {
		t.Error("11.9999 for 120 in is cheaper than 9.60 for 96 in")
	}
	a.Price, b.Price, a.Length, b.Length = math.MaxInt64, math.MaxInt64, 2, 1
	if !j.cheaperPerArea(&a, &b) {
		t.Error("the largest amounts are compared without overflow")
	}
}

// TestWorthByWidth: at 0.05 an inch of a whole 2x6 (5 1/2 in) beyond the first 12: half of the
// width half of that; a knot that takes the left 1 1/4 in with its margin breaks the lines there
// only; nothing narrower than 1 1/2 in is worth anything.
func TestWorthByWidth(t *testing.T) {
	j := shop(nil)
	j.Yard = []Offer{offer("2x6", "96", "9.60")}
	v := j.Valuation()
	b := rackBoard("2x6", "96", nil,
		Defect{From: inch("39 3/4"), To: inch("40 1/4"), Right: inch("1"), Kind: "loose knot"})
	bad := j.WidenedRects(&b, nil)
	for _, c := range []struct {
		what string
		of   Rect
		want Money
	}{
		{"half the width, clear: 84 x 0.05 / 2", Rect{0, inch("96"), inch("2 3/4"), inch("5 1/2")},
			21000},
		{"with the knot: 1 1/4 of 2 3/4 in have 71 - 12 - ... = 27 1/2 + 43 1/2, the others 84",
			Rect{0, inch("96"), 0, inch("2 3/4")},
			(35500*5 + 42000*6) / 22},
		{"the whole", Rect{0, inch("96"), 0, inch("5 1/2")}, (35500*5 + 42000*17) / 22},
		{"1 3/8 in is too narrow", Rect{0, inch("96"), inch("4 1/8"), inch("5 1/2")}, 0},
		{"1 1/2 in is not: 42000 x 3/11", Rect{0, inch("96"), inch("4"), inch("5 1/2")}, 11454},
		{"a keep length is worth nothing", Rect{0, inch("12"), inch("2"), inch("5 1/2")}, 0},
	} {
		if got := v.WorthOfRect(v.RateOfBoard(&b), &b.Wood, c.of, bad); got != c.want {
			t.Errorf("%s: %s, want %s", c.what, got, c.want)
		}
	}
	if got := v.WorthOfBoard(&b); got != (35500*5+42000*17)/22 {
		t.Errorf("the board is worth %s", got)
	}
	strip := rackBoard("2x6", "96", nil) // what is left of a rip, next month
	strip.Width = inch("2 3/4")
	if got := v.WorthOfBoard(&strip); got != 21000 {
		t.Errorf("a strip of half the width is worth %s on the rack, want 2.10", got)
	}
	j.Yard = []Offer{offer("4/4", "96", "9.60"), offer("4/4", "96", "12")}
	j.Yard[0].Width, j.Yard[1].Width = inch("4"), inch("8")
	if got, want := j.Valuation().RateOfOffer(&j.Yard[0]),
		NewRate(12*UnitsOfMoney, 2*2*96*UnitsPerInch); got != want {
		t.Errorf("random widths: the rate of 4 in is %v, want half of that of the cheapest "+
			"per area, %v",
			got, want)
	}
}

// TestCuttingUpNeverPays: rectangles cut off a rectangle, by whatever cuts, are together worth no
// more; two strips with no kerf between lose no more than the rounding.
func TestCuttingUpNeverPays(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for range 20000 {
		j := shop(func(s *Settings) {
			s.Margin = Length(rng.IntN(2))
			s.Offcut = OffcutRule{KeepLength: Length(rng.IntN(6)), KeepWidth: Length(rng.IntN(4)),
				Value: Fraction{1, 1}}
			s.Safety.NarrowestRip = 0
		})
		b := Board{Wood: Wood{Section: "4/4", Length: Length(4 + rng.IntN(20)),
			Width: Length(2 + rng.IntN(9))}}
		for range rng.IntN(4) {
			x, y := Length(rng.IntN(int(b.Length))), Length(rng.IntN(int(b.Width)))
			b.Defects = append(b.Defects,
				Defect{From: x, To: min(b.Length, x+Length(1+rng.IntN(4))), Left: y,
					Right: min(b.Width, y+Length(1+rng.IntN(4)))})
		}
		v, bad, rate := j.Valuation(), j.WidenedRects(&b, nil),
			NewRate(int64(1+rng.IntN(40)), int64(1+rng.IntN(7)))
		worth := func(r Rect) Money { return v.WorthOfRect(rate, &b.Wood, r, bad) }
		whole := Rect{0, b.Length, 0, b.Width}
		var cut func(r Rect, depth int) Money
		cut = func(r Rect, depth int) Money {
			if depth == 0 || r.To-r.From < 2 || r.Right-r.Left < 2 {
				return worth(r)
			}
			a, c := r, r
			if rng.IntN(2) == 0 {
				a.To = r.From + 1 + Length(rng.IntN(int(r.To-r.From-1)))
				c.From = a.To
			} else {
				a.Right = r.Left + 1 + Length(rng.IntN(int(r.Right-r.Left-1)))
				c.Left = a.Right
			}
			return cut(a, depth-1) + cut(c, depth-1)
		}
		if parts := cut(whole, 3); parts > worth(whole) {
			t.Fatalf("%+v: the parts are worth %s, the whole %s", b, parts, worth(whole))
		}
		y := Length(rng.IntN(int(b.Width + 1)))
		j.Settings.Offcut.KeepWidth = 0
		left, right := Rect{0, b.Length, 0, y}, Rect{0, b.Length, y, b.Width}
		if lost := worth(whole) - worth(left) - worth(right); lost < 0 || lost > 1 {
			t.Fatalf("%+v: a rip at %d without kerf loses %d", b, y, lost)
		}
	}
}

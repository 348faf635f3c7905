package model

import (
	"math"
	"math/big"
	"math/rand/v2"
	"reflect"
	"slices"
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
		j.Rack = []Board{c.board}
		v := j.Valuation()
		if got := v.ShownTicks(v.WorthOfBoard(&c.board)); got != c.want {
			t.Errorf("%s: %s, want %s", c.what, got, c.want)
		}
	}
	own := rackBoard("2x6", "96", new(Money(70000)), knot) // 71 in beyond the keep lengths
	short := rackBoard("2x6", "12", new(Money(70000)))
	j.Rack = []Board{own, short}
	v := j.Valuation()
	if got, want := v.ShownTicks(v.WorthOfRect(v.SlopeOfBoard(&own), &own.Wood,
		Rect{inch("45"), inch("96"), 0, own.Width}, j.WidenedRects(&own, nil))),
		Money(38451); got != want { // 7.00 x 39 / 71 = 3.84507
		t.Errorf("51 in off a board of value 7.00 is worth %s, want %s", got, want)
	}
	if s := v.SlopeOfBoard(&short); s != (Slope{}) {
		t.Errorf("a board with no run above keep_length has slope %v, want 0", s)
	}
	// half of 9.60 for 96 x 5 1/2 in of cells of 1/16 in
	rate := new(big.Rat).SetFrac64(96000/2, 96*16*88)
	if got, want := v.SlopeOfOffer(&j.Yard[0]), slopeOfRate(v, rate, Fraction{3, 5}); got != want {
		t.Errorf("the slope of any 2x6 is %v, want that of the cheapest, %v", got, want)
	}
}

// slopeOfRate is the slope by its definition, of a rate in 1/10000 of the currency for a cell.
func slopeOfRate(v *Valuation, rate *big.Rat, strip Fraction) Slope {
	floor := func(r *big.Rat) int64 { return new(big.Int).Quo(r.Num(), r.Denom()).Int64() }
	parts := new(big.Rat).SetInt(new(big.Int).Lsh(big.NewInt(1), v.Bits))
	whole := floor(parts.Mul(parts, rate))
	share := big.NewRat(strip.Num, strip.Den)
	return Slope{whole, floor(share.Mul(share, new(big.Rat).SetInt64(whole)))}
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
	// 6.66667
	if got, want := v.ShownTicks(v.WorthOfBoard(&j.Rack[2])), Money(66667); got != want {
		t.Errorf("40 in at 12.00 for 72 in is %s, want %s", got, want)
	}
	// one unit a foot
	if got, want := v.ShownTicks(v.WorthOfBoard(&j.Rack[3])), Money(33333); got != want {
		t.Errorf("40 in of wood with no price is %s, want %s", got, want)
	}
	// in a metric shop one unit a metre; 40 in is 1.016 m
	j.Settings.Units = Millimetre
	v = j.Valuation()
	if got, want := v.ShownTicks(v.WorthOfBoard(&j.Rack[3])), Money(10160); got != want {
		t.Errorf("1.016 m of wood with no price is %s, want %s", got, want)
	}
	if len(v.Guessed) != 1 || v.Guessed[0].Section != "6/4" {
		t.Errorf("guessed kinds of wood: %v, want 6/4 alone, once", v.Guessed)
	}
}

// Where no board of a kind is left at the yard, what it cost is better than a guess: 84 x 0.05, as
// above. Given values come first.
func TestWorthOfWoodThatIsSoldOut(t *testing.T) {
	j := shop(nil)
	j.Yard = []Offer{offer("2x6", "120", "14.40"), offer("2x6", "96", "9.60")}
	j.Yard[0].Available, j.Yard[1].Available = new(int64), new(int64)
	board := rackBoard("2x6", "96", nil)
	j.Rack = []Board{board}
	v := j.Valuation()
	if got := v.ShownTicks(v.WorthOfBoard(&board)); got != 42000 || len(v.Guessed) > 0 {
		t.Errorf("it is worth %s, and guessed are %v", got, v.Guessed)
	}
	if b := v.BasisOfBoard(&board); b.From != ByYard || b.Offer != &j.Yard[1] {
		t.Errorf("its basis is %+v", b)
	}
	valued := rackBoard("2x6", "96", new(Money(84_0000)))
	j.Rack = append(j.Rack, valued)
	v = j.Valuation()
	if b := v.BasisOfBoard(&board); b.From != ByValues {
		t.Errorf("beside a board with a value its basis is %+v", b)
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
		v := j.Valuation()
		if got := v.ShownTicks(v.WorthOfBoard(&b)); got != want {
			t.Errorf("96 in of %s is worth %s, want %s", section, got, want)
		}
	}
}

// TestStripValueOfMaterialAndSection: a strip keeps the share of the shop, of its material, or of
// its section, the last of them that is given.
func TestStripValueOfMaterialAndSection(t *testing.T) {
	j := shop(func(s *Settings) {
		s.Materials = map[string]Override{"fir": {StripValue: &Fraction{1, 4}}}
		s.Sections = map[Section]Override{"2x6": {StripValue: &Fraction{0, 1}}}
	})
	j.Yard = []Offer{offer("2x6", "96", "9.60"), offer("2x4", "96", "9.60"),
		offer("4/4", "96", "9.60")}
	j.Yard[2].Material, j.Yard[2].Width = "oak", inch("6")
	v := j.Valuation()
	for i, share := range []Fraction{{0, 1}, {1, 4}, {3, 5}} {
		s := v.SlopeOfOffer(&j.Yard[i])
		if want := s.Whole * share.Num / share.Den; s.Whole < 1e6 || s.Strip != want {
			t.Errorf("%s of %s: slope %v, want %d of a strip", j.Yard[i].Section,
				j.Yard[i].Material, s, want)
		}
	}
}

// tinyJob is a job all of whose lengths are small multiples of a unit: its yard, a rack of boards
// with defects, and parts. Some boards have a value of their own.
func tinyJob(rng *rand.Rand) (*Job, Length) {
	unit := Length(1 + rng.IntN(4))
	in := func(lo, hi int) Length { return Length(lo+rng.IntN(hi-lo+1)) * unit }
	j := shop(func(s *Settings) {
		for _, l := range s.Lengths() {
			*l.Value = in(0, 5)
		}
		s.Offcut.Value = Fraction{rng.Int64N(3), 2}
		s.Offcut.StripValue = []Fraction{{0, 1}, {3, 5}, {1, 1}, {1, 3}}[rng.IntN(4)]
		s.Handling = Money(rng.Int64N(5000))
		if rng.IntN(3) == 0 {
			s.Sections = map[Section]Override{"4/4": {KeepLength: new(in(0, 5))}}
		}
	})
	if j.Settings.Offcut.Value.Num == 2 {
		j.Settings.Offcut.Value = Fraction{1, 1}
	}
	section := func() Section { return []Section{"4/4", "6/4"}[rng.IntN(2)] }
	for range rng.IntN(4) {
		j.Yard = append(j.Yard, Offer{Wood: Wood{Section: section(), Length: in(4, 24),
			Width: in(2, 10)}, Price: Money(1 + rng.Int64N(1e6)), Per: PerPiece})
	}
	for range 1 + rng.IntN(4) {
		b := Board{Wood: Wood{Section: section(), Length: in(4, 24), Width: in(2, 10)}}
		n, w := int(b.Length/unit), int(b.Width/unit)
		for range rng.IntN(4) {
			d := Defect{From: in(0, n-1), Left: in(0, w-1)}
			d.To, d.Right = min(b.Length, d.From+in(1, 4)), min(b.Width, d.Left+in(1, 4))
			b.Defects = append(b.Defects, d)
		}
		if rng.IntN(3) == 0 {
			b.Value = new(Money(rng.Int64N(1e6)))
		}
		j.Rack = append(j.Rack, b)
	}
	for range rng.IntN(3) {
		j.Parts = append(j.Parts, Part{Qty: 1 + rng.Int64N(9), Length: in(2, 9), Width: in(1, 6)})
	}
	return j, unit
}

// cellsAt counts the cells of a rectangle by walking all of its squares of one unit: in each line,
// what its clear runs have beyond keep. keep is a multiple of the unit.
func cellsAt(of Rect, bad []Rect, keep, unit Length) (cells int64) {
	for y := of.Left; y < of.Right; y += unit {
		run := Length(0)
		for x := of.From; x <= of.To; x += unit {
			blocked := x == of.To
			for _, r := range bad {
				blocked = blocked || r.From <= x && x < r.To && r.Left <= y && y < r.Right
			}
			if !blocked {
				run += unit
				continue
			}
			cells += int64(max(0, run-keep) / unit)
			run = 0
		}
	}
	return cells
}

// TestWorthIsSlopeTimesCells: of any rectangle on the job's unit, to the last tick; and the slope
// is the rate for a cell, rounded down.
func TestWorthIsSlopeTimesCells(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	var strips, narrow, wholes, own int
	for range 3000 {
		j, _ := tinyJob(rng)
		v := j.Valuation()
		u := v.Unit
		for i := range j.Rack {
			b := &j.Rack[i]
			bad, keep := j.WidenedRects(b, nil), v.Keep(&b.Wood)
			slope, whole := v.SlopeOfBoard(b), Rect{0, b.Length, 0, b.Width}
			if b.Value != nil {
				own++
				cells := cellsAt(whole, bad, keep, u)
				want := Slope{}
				if cells > 0 {
					want = slopeOfRate(v, big.NewRat(int64(*b.Value), cells),
						j.Settings.Offcut.StripValue)
				}
				if slope != want {
					t.Fatalf("value %s on %d cells: slope %v, want %v", *b.Value, cells, slope,
						want)
				}
				if got, most := v.WorthOfRect(slope, &b.Wood, whole, bad),
					v.Ticks(*b.Value); got > most ||
					got <= most-cells && cells > 0 {
					t.Fatalf("a board of value %d on %d cells is worth %d as an offcut", most,
						cells, got)
				}
				if got := v.WorthOfBoard(b); got != v.Ticks(*b.Value) {
					t.Fatalf("a board of value %s costs %d parts", *b.Value, got)
				}
			} else if got := v.WorthOfBoard(b); got != slope.Whole*cellsAt(whole, bad, keep, u) {
				t.Fatalf("%+v costs %d, slope %d", b, got, slope.Whole)
			}
			for range 10 {
				at := func(n Length) (lo, hi Length) {
					steps := int(n / u)
					lo = Length(rng.IntN(steps))
					return lo * u, (lo + 1 + Length(rng.IntN(steps-int(lo)))) * u
				}
				var of Rect
				of.From, of.To = at(b.Length)
				of.Left, of.Right = at(b.Width)
				if rng.IntN(3) == 0 {
					of.Left, of.Right = 0, b.Width
				}
				want := slope.Strip * cellsAt(of, bad, keep, u)
				switch {
				case of.Right-of.Left == b.Width:
					wholes++
					want = slope.Whole * cellsAt(of, bad, keep, u)
				case of.Right-of.Left < max(j.Settings.Offcut.KeepWidth,
					j.Settings.Safety.NarrowestRip):
					narrow++
					want = 0
				default:
					strips++
				}
				if got := v.WorthOfRect(slope, &b.Wood, of, bad); got != want {
					t.Fatalf("%+v of %+v: %d parts, want %d", of, b, got, want)
				}
			}
		}
	}
	if strips < 1000 || narrow < 1000 || wholes < 1000 || own < 1000 {
		t.Errorf("%d strips, %d too narrow, %d as wide as the board, %d own values: too few",
			strips, narrow, wholes, own)
	}
}

// TestWorthOffTheUnit: what is less than a cell counts nothing, and never more than it is.
func TestWorthOffTheUnit(t *testing.T) {
	j := shop(nil) // cells of 1/16 in
	b := rackBoard("2x6", "96", new(Money(84*16*88)))
	j.Rack = []Board{b}
	v := j.Valuation() // 84 in x 16 x 88 cells at 1/10000
	s, u := v.SlopeOfBoard(&b), v.Unit
	if s.Whole != v.Ticks(1) || u != UnitsPerInch/16 {
		t.Fatalf("the slope is %v at a unit of %s, want %d", s, u.Shop(Inch), v.Ticks(1))
	}
	for length, want := range map[Length]int64{inch("12") + u: 88, inch("12") + u - 1: 87,
		inch("12") + (u+87)/88: 1, inch("12") + u/88: 0, inch("12"): 0, -5: 0} {
		of := Rect{0, length, 0, b.Width}
		if got := v.WorthOfRect(s, &b.Wood, of, nil); got != want*v.Ticks(1) {
			t.Errorf("%d units are worth %d parts, want %d cells", length, got, want)
		}
	}
}

// lengthsIn gives every length that is kept behind a pointer, or in a slice, found by its type.
func lengthsIn(v reflect.Value) (out []*Length) {
	switch {
	case v.Type() == reflect.TypeFor[Length]():
		return []*Length{v.Addr().Interface().(*Length)}
	case v.Kind() == reflect.Pointer && !v.IsNil():
		return lengthsIn(v.Elem())
	case v.Kind() == reflect.Struct:
		for i := range v.NumField() {
			out = append(out, lengthsIn(v.Field(i))...)
		}
	case v.Kind() == reflect.Slice:
		for i := range v.Len() {
			out = append(out, lengthsIn(v.Index(i))...)
		}
	case v.Kind() == reflect.Map:
		for _, k := range v.MapKeys() {
			out = append(out, lengthsIn(v.MapIndex(k))...)
		}
	}
	return out
}

// cutLengths are all lengths of a job that a place on a board may hang on: not how thick wood is,
// nor what only says whether a piece is long enough, nor how parts are made up.
func cutLengths(j *Job) []*Length {
	all := lengthsIn(reflect.ValueOf(&j.Settings))
	var free []*Length
	s := &j.Settings
	free = append(free, &s.Allowance.Thickness, &s.Allowance.ThicknessS2S, &s.Allowance.PlaneLimit,
		&s.Safety.ShortestBlank, &s.Safety.ShortestRip, &s.CountTolerance)
	for _, l := range s.Labels.Lengths() {
		free = append(free, l.Value)
	}
	free = append(free, lengthsIn(reflect.ValueOf(&s.GlueUp))...)
	free = append(free, &s.Gang.Longest)
	free = append(free, lengthsIn(reflect.ValueOf(&s.Machine))...)
	for _, o := range s.Materials {
		free = append(free, o.Joint, o.FaceJoint, o.Panel, o.Narrowest, o.Widest, o.Step,
			o.ExtraLength, o.LongestGang)
		free = append(free, o.Thickness, o.ThicknessS2S, o.PlaneLimit, o.ShortestBlank,
			o.ShortestRip)
	}
	for _, o := range s.Sections {
		free = append(free, o.ShortestBlank, o.ShortestRip)
	}
	all = slices.DeleteFunc(all, func(l *Length) bool { return slices.Contains(free, l) })
	for i := range j.Yard {
		all = append(all, &j.Yard[i].Length, &j.Yard[i].Width)
	}
	for i := range j.Parts {
		all = append(all, &j.Parts[i].Length, &j.Parts[i].Width)
	}
	for i := range j.Rack {
		b := &j.Rack[i]
		all = append(all, &b.Length, &b.Width)
		all = append(all, lengthsIn(reflect.ValueOf(b.Defects))...)
	}
	return all
}

// TestUnitIsWhatAllLengthsShare: every length that a cut may hang on counts, and no other; sizes
// worked out from them are multiples of the unit, too.
func TestUnitIsWhatAllLengthsShare(t *testing.T) {
	own := Override{}
	for _, l := range own.Lengths() {
		*l.Value = new(Length)
	}
	section := Override{KeepLength: new(Length), KeepWidth: new(Length),
		ShortestBlank: new(Length), ShortestRip: new(Length), NarrowestRip: new(Length)}
	j := shop(func(s *Settings) {
		s.Materials = map[string]Override{"fir": own}
		s.Sections = map[Section]Override{"4/4": section}
	})
	j.Yard = []Offer{{Wood: Wood{Material: "fir", Section: "4/4", Thickness: 7}}, {}}
	j.Rack = []Board{{Wood: Wood{Material: "fir", Section: "4/4", Thickness: 7}, Longest: 5},
		{Defects: make([]Defect, 2)}}
	j.Parts = []Part{{Thickness: 5}, {}}
	all := cutLengths(j)
	if want := 24 - 13 + 19 - 13 + 5 - 2 + 4 + 4 + 8 + 4; len(all) != want {
		t.Fatalf("%d lengths are found, want %d", len(all), want)
	}
	for k, l := range all {
		for _, l := range all {
			*l = 12
		}
		if u := j.Valuation().Unit; u != 12 {
			t.Fatalf("all lengths are 12, the unit is %d", u)
		}
		if *l = 40; j.Valuation().Unit != 4 {
			t.Errorf("all lengths are 12 but length %d, which is 40: unit %d, want 4", k,
				j.Valuation().Unit)
		}
		if *l = 0; j.Valuation().Unit != 12 {
			t.Errorf("all lengths are 12 but length %d, which is 0: unit %d, want 12", k,
				j.Valuation().Unit)
		}
	}
	if u := (&Job{}).Valuation().Unit; u != 1 {
		t.Errorf("a job of no lengths has a unit of %d, want 1", u)
	}

	rng := rand.New(rand.NewPCG(9, 10))
	above := 0
	for range 2000 {
		j, unit := tinyJob(rng)
		v := j.Valuation()
		if v.Unit%unit != 0 {
			t.Fatalf("all lengths are multiples of %d, the unit is %d", unit, v.Unit)
		}
		if v.Unit > 1 {
			above++
		}
		for i := range j.Rack {
			b := &j.Rack[i]
			made := []Length{v.Keep(&b.Wood), j.KeepWidth(&b.Wood), j.Inset(&b.Wood),
				j.Settings.TrimFor(&Board{}, FromRack), j.Settings.TrimFor(nil, FromYard)}
			for _, l := range lengthsIn(reflect.ValueOf(j.WidenedRects(b, nil))) {
				made = append(made, *l)
			}
			for k := range j.Parts {
				blank := j.BlankIn(&j.Parts[k], &b.Wood)
				made = append(made, blank.Length, blank.Width)
			}
			for _, l := range made {
				if l%v.Unit != 0 {
					t.Fatalf("%d is made of lengths that share %d", l, v.Unit)
				}
			}
		}
	}
	if above < 1000 {
		t.Errorf("only %d jobs have a unit above 1", above)
	}

	// A shop that sets whole and half millimetres only, and a board of 40 in, 1016 mm.
	j = &Job{Settings: DefaultSettingsIn(Millimetre)}
	j.Rack = []Board{{Wood: Wood{Length: 40 * UnitsPerInch, Width: 100 * UnitsPerMillimetre}}}
	if u := j.Valuation().Unit; u != UnitsPerMillimetre/2 {
		t.Errorf("the unit is %d, want half a millimetre", u)
	}
	j.Parts = []Part{{Length: UnitsPerInch, Width: UnitsPerMillimetre}} // 25.4 mm
	if u := j.Valuation().Unit; u != UnitsPerMillimetre/10 {
		t.Errorf("with a part of one inch the unit is %d, want 1/10 mm", u)
	}
}

// TestBitsLeaveRoomForAllBoards: a plan of as many boards as copies are wanted, each as dear as
// any, costs less than 2^60 parts, and with one bit more it might not.
func TestBitsLeaveRoomForAllBoards(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 12))
	room := func(j *Job) {
		t.Helper()
		v := j.Valuation()
		boards := int64(1 << 14)
		var copies int64
		for i := range j.Parts {
			copies += j.Parts[i].Qty
		}
		boards = max(boards, copies)
		most := new(big.Int)
		take := func(parts int64) {
			if cost := big.NewInt(parts); cost.Cmp(most) > 0 {
				most = cost
			}
		}
		handling := j.Settings.Handling
		for i := range j.Yard {
			take(v.Ticks(j.PaidFor(&j.Yard[i]) + handling))
		}
		for i := range j.Rack {
			take(v.WorthOfBoard(&j.Rack[i]) + v.Ticks(handling))
		}
		if all := most.Mul(most, big.NewInt(boards)); all.BitLen() > 60 {
			t.Fatalf("%d boards cost %v parts at %d bits, more than 2^60", boards, all, v.Bits)
		}
	}
	for range 2000 {
		j, _ := tinyJob(rng)
		room(j)
	}
	j := shop(func(s *Settings) { s.Handling = DearestBoard })
	j.Parts = []Part{{Qty: MostCopies, Length: 1, Width: 1}}
	j.Yard = []Offer{{Wood: Wood{Length: 1, Width: 1}, Price: DearestBoard, Per: PerPiece}}
	j.Rack = []Board{{Wood: Wood{Length: LongestBoard, Width: WidestBoard}}}
	room(j)
	// 2^14 x 2 x 10^10 = 2^48.2
	if bits := j.Valuation().Bits; bits != 11 {
		t.Errorf("the dearest job has %d bits, want 11", bits)
	}
	j = shop(nil)
	j.Parts = []Part{{Qty: 3, Length: inch("30"), Width: inch("3")}}
	j.Yard = []Offer{offer("2x6", "96", "10.23")} // 2^14 x 102300 = 2^30.64
	if bits := j.Valuation().Bits; bits != 29 {
		t.Errorf("boards of 10.23 have %d bits, want 29", bits)
	}
	j.Settings.Handling = 50000 // 2^14 x 152300 = 2^31.22
	if bits := j.Valuation().Bits; bits != 28 {
		t.Errorf("boards of 10.23 and 5.00 of handling have %d bits, want 28", bits)
	}
	j.Parts[0].Qty = 1 << 16 // 2^33.22
	if bits := j.Valuation().Bits; bits != 26 {
		t.Errorf("for 65536 copies there are %d bits, want 26", bits)
	}
	none := int64(0)
	dear := offer("2x6", "96", "999999")
	dear.Available = &none
	j.Yard = append(j.Yard, dear)
	if bits := j.Valuation().Bits; bits != 26 {
		t.Errorf("a dear board that cannot be had changes the bits to %d", bits)
	}
	j.Rack = []Board{rackBoard("2x6", "96", new(Money(100*102300)))} // 2^16 x 10280000 = 2^39.29
	if bits := j.Valuation().Bits; bits != 20 {
		t.Errorf("with a rack board of 1023.00 there are %d bits, want 20", bits)
	}
}

// TestSlopesNeverOverflow: for any accepted price, sizes and share the slope is the true one
// rounded down, or the one at which the board, or the largest on the rack, is worth [DearestBoard];
// so is no board worth more, and no offcut of a bought board more than its share of the price.
func TestSlopesNeverOverflow(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	prices := []int64{1, 9973, int64(DearestBoard) - 1, int64(DearestBoard)}
	lengths := []int64{1, 7919, 64_000, int64(LongestBoard) - 1, int64(LongestBoard)}
	widths := []int64{1, 97, int64(WidestBoard)}
	dens := []int64{1, 999_983, 1_000_000}
	pick := func(of []int64, most int64) int64 {
		if rng.IntN(2) == 0 {
			return 1 + rng.Int64N(most)
		}
		return of[rng.IntN(len(of))]
	}
	var capped, exact int
	for range 5000 {
		den := dens[rng.IntN(len(dens))]
		share, strip := Fraction{rng.Int64N(den + 1), den}, Fraction{rng.Int64N(den + 1), den}
		j := shop(func(s *Settings) {
			for _, l := range s.Lengths() {
				*l.Value = 0
			}
			s.Offcut.Value, s.Offcut.StripValue = share, strip
		})
		price := Money(pick(prices, int64(DearestBoard)))
		o := Offer{Wood: Wood{Length: Length(pick(lengths, int64(LongestBoard))),
			Width: Length(pick(widths, int64(WidestBoard)))}, Price: price, Per: PerPiece}
		b := Board{Wood: Wood{Length: Length(pick(lengths, int64(LongestBoard))),
			Width: Length(pick(widths, int64(WidestBoard)))}}
		if rng.IntN(2) == 0 { // a large unit
			o.Length = b.Length
		}
		j.Yard, j.Rack = []Offer{o}, []Board{b}
		if rng.IntN(3) == 0 {
			j.Parts = []Part{{Qty: MostCopies, Length: b.Length, Width: b.Width}}
		}
		v := j.Valuation()
		cells := func(w *Wood) *big.Rat {
			n := big.NewRat(int64(w.Length), int64(v.Unit))
			return n.Mul(n, big.NewRat(int64(w.Width), int64(v.Unit)))
		}
		rate := new(big.Rat).SetInt64(int64(price))
		rate.Mul(rate, big.NewRat(share.Num, share.Den)).Quo(rate, cells(&o.Wood))
		if got, want := v.SlopeOfOffer(&o), slopeOfRate(v, rate, strip); got != want {
			t.Fatalf("%s for %d x %d, share %v: slope %v, want %v", price, o.Length, o.Width,
				share, got, want)
		}
		most := new(big.Rat).SetInt64(int64(DearestBoard))
		if most.Quo(most, cells(&b.Wood)); rate.Cmp(most) > 0 {
			rate = most
			capped++
		} else {
			exact++
		}
		if got, want := v.SlopeOfBoard(&b), slopeOfRate(v, rate, strip); got != want {
			t.Fatalf("%s for %d x %d, share %v: a board of %d x %d has slope %v, want %v", price,
				o.Length, o.Width, share, b.Length, b.Width, got, want)
		}
		whole := Rect{0, o.Length, 0, o.Width}
		if got := v.WorthOfRect(v.SlopeOfOffer(&o), &o.Wood, whole, nil); got < 0 ||
			big.NewRat(got, 1).Cmp(new(big.Rat).Mul(big.NewRat(v.Ticks(price), 1),
				big.NewRat(share.Num, share.Den))) > 0 {
			t.Fatalf("a bought board of %s, share %v, is worth %d of %d parts", price, share, got,
				v.Ticks(price))
		}
		cost, cap := big.NewInt(v.WorthOfBoard(&b)), big.NewInt(int64(DearestBoard))
		if cap.Lsh(cap, v.Bits); cost.Sign() < 0 || cost.Cmp(cap) > 0 {
			t.Fatalf("a board of %d x %d is worth %v parts at %d bits", b.Length, b.Width, cost,
				v.Bits)
		}
	}
	if capped < 500 || exact < 500 {
		t.Errorf("%d slopes are capped and %d are not: too few", capped, exact)
	}
}

func TestGivenValuesNeverOverflow(t *testing.T) {
	j := shop(func(s *Settings) {
		for _, l := range s.Lengths() {
			*l.Value = 0
		}
		s.Offcut.KeepLength = 100
	})
	for range 200 {
		j.Rack = append(j.Rack,
			Board{Wood: Wood{Section: "2x4", Length: 101, Width: 1}, Value: new(DearestBoard)})
	}
	j.Rack = append(j.Rack,
		Board{Wood: Wood{Section: "2x4", Length: LongestBoard, Width: WidestBoard}})
	v := j.Valuation()
	if got := v.WorthOfBoard(&j.Rack[200]); got < 0 || got > v.Ticks(DearestBoard) {
		t.Errorf("the largest board is worth %d beside short ones of the highest value", got)
	}
	whole := v.WorthOfRect(v.SlopeOfBoard(&j.Rack[0]), &j.Rack[0].Wood, Rect{0, 101, 0, 1}, nil)
	if whole != v.Ticks(DearestBoard) {
		t.Errorf("the whole of a board of value %s is worth %d parts, want the same", DearestBoard,
			whole)
	}
}

// TestSlopesOfDearBoardsCanBeReckonedWith: of a board of 60.00 hardly anything is kept, half a
// millimetre beyond keep_length in one millimetre of its width. At a slope by that alone all of its
// area would come to 60.00 x 2400 x 140 / (1/2), and to more than 2^61 ticks. It comes to 2^59, and
// the whole of it is still worth its own value.
func TestSlopesOfDearBoardsCanBeReckonedWith(t *testing.T) {
	const mm = UnitsPerMillimetre
	j := shop(func(s *Settings) {
		for _, l := range s.Lengths() {
			*l.Value = 0
		}
		s.Units, s.Offcut.KeepLength = Millimetre, 300*mm
	})
	b := Board{ID: "B", Wood: Wood{Material: "fir", Section: "38x140mm", Length: 2400 * mm,
		Width: 140 * mm, Thickness: 38 * mm}, Value: new(Money(60 * UnitsOfMoney)),
		Defects: []Defect{{From: 0, To: 1300 * mm, Right: 140 * mm, Kind: "shake"},
			{From: 1300 * mm, To: 3201 * mm / 2, Right: 139 * mm, Kind: "shake"},
			{From: 3201 * mm / 2, To: 2400 * mm, Right: 140 * mm, Kind: "shake"}}}
	j.Rack = []Board{b}
	v := j.Valuation()
	cells := new(big.Int).Quo(areaOf(&b.Wood), big.NewInt(int64(v.Unit*v.Unit)))
	all := cells.Mul(cells, big.NewInt(v.SlopeOfBoard(&b).Whole))
	if limit := big.NewInt(1 << 59); all.Cmp(limit) > 0 || all.BitLen() < 59 {
		t.Errorf("all of the board comes to %d ticks, want close to %d", all, limit)
	}
	if got := v.WorthOfBoard(&b); got != v.Ticks(*b.Value) {
		t.Errorf("the board is worth %d, want its own value", got)
	}
}

// TestShown: to the nearest 1/10000, halves up, below 0 too.
func TestShown(t *testing.T) {
	v := &Valuation{Bits: 3} // parts are eighths
	for parts, want := range map[int64]Money{0: 0, 3: 0, 4: 1, 8: 1, 11: 1, 12: 2, -3: 0, -4: 0,
		-5: -1, -8: -1, -12: -1, -13: -2, -20: -2, -21: -3} {
		if got := v.ShownTicks(parts); got != want {
			t.Errorf("%d/8 is shown as %d, want %d", parts, got, want)
		}
	}
	for _, bits := range []uint{0, 1, 31, 43} {
		v := &Valuation{Bits: bits}
		for _, money := range []int64{0, 1, -1, 1 << 18, -1 << 18, 1<<40 + 1} {
			whole := new(big.Int).Lsh(big.NewInt(money), bits)
			half := new(big.Int).Rsh(new(big.Int).Lsh(big.NewInt(1), bits), 1)
			if bits == 0 {
				half.SetInt64(0)
			}
			below := new(big.Int).Sub(whole, half)
			for _, parts := range []*big.Int{whole, below,
				new(big.Int).Add(whole, new(big.Int).Sub(half, big.NewInt(int64(min(1, bits)))))} {
				if got := v.Shown(parts); got != Money(money) {
					t.Errorf("%v parts of %d bits are shown as %d, want %d", parts, bits, got,
						money)
				}
			}
			if next := new(big.Int).Sub(below, big.NewInt(1)); v.Shown(next) != Money(money-1) {
				t.Errorf("%v parts of %d bits are shown as %d, want %d", next, bits, v.Shown(next),
					money-1)
			}
		}
		if got := v.Ticks(-7); got != -7<<bits {
			t.Errorf("-7 are %d parts of %d bits", got, bits)
		}
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
// only; nothing narrower than 1 1/2 in is worth anything. A strip has its share of all that.
func TestWorthByWidth(t *testing.T) {
	for _, share := range []Fraction{{1, 1}, {3, 5}, {0, 1}} {
		j := shop(func(s *Settings) { s.Offcut.StripValue = share })
		j.Yard = []Offer{offer("2x6", "96", "9.60")}
		v := j.Valuation()
		b := rackBoard("2x6", "96", nil,
			Defect{From: inch("39 3/4"), To: inch("40 1/4"), Right: inch("1"), Kind: "loose knot"})
		bad := j.WidenedRects(&b, nil)
		for _, c := range []struct {
			what  string
			of    Rect
			strip bool
			want  *big.Rat
		}{
			{"half the width, clear: 84 x 0.05 / 2",
				Rect{0, inch("96"), inch("2 3/4"), inch("5 1/2")}, true, big.NewRat(21000, 1)},
			{"with the knot: 1 1/4 of 2 3/4 in have 27 1/2 + 43 1/2, the others 84",
				Rect{0, inch("96"), 0, inch("2 3/4")}, true, big.NewRat(35500*5+42000*6, 22)},
			{"the whole", Rect{0, inch("96"), 0, inch("5 1/2")}, false,
				big.NewRat(35500*5+42000*17, 22)},
			{"a part as wide as the board: 28 x 0.05",
				Rect{inch("56"), inch("96"), 0, inch("5 1/2")}, false, big.NewRat(14000, 1)},
			{"1 3/8 in is too narrow", Rect{0, inch("96"), inch("4 1/8"), inch("5 1/2")}, true,
				new(big.Rat)},
			{"1 1/2 in is not: 42000 x 3/11", Rect{0, inch("96"), inch("4"), inch("5 1/2")}, true,
				big.NewRat(126000, 11)},
			{"a keep length is worth nothing", Rect{0, inch("12"), inch("2"), inch("5 1/2")}, true,
				new(big.Rat)},
		} {
			if c.strip {
				c.want.Mul(c.want, big.NewRat(share.Num, share.Den))
			}
			got := v.WorthOfRect(v.SlopeOfBoard(&b), &b.Wood, c.of, bad)
			exact := new(big.Rat).Mul(c.want, big.NewRat(v.Ticks(1), 1))
			lost := new(big.Rat).Sub(exact, big.NewRat(got, 1)) // by the slope, rounded down
			if lost.Sign() < 0 || lost.Cmp(big.NewRat(96*16*88, 1)) > 0 {
				t.Errorf("%s, strips at %v: %d parts, want %v", c.what, share, got, exact)
			}
		}
		if got := v.ShownTicks(v.WorthOfBoard(&b)); got != 40523 { // (35500 x 5 + 42000 x 17) / 22
			t.Errorf("the board is worth %s, want 4.0523", got)
		}
		strip := rackBoard("2x6", "96", nil) // a board of half the width, whole as it is
		strip.Width = inch("2 3/4")
		if got := v.ShownTicks(v.WorthOfBoard(&strip)); got != 21000 {
			t.Errorf("a board of half the width is worth %s on the rack, want 2.10", got)
		}
	}
	j := shop(nil)
	j.Yard = []Offer{offer("4/4", "96", "9.60"), offer("4/4", "96", "12")}
	j.Yard[0].Width, j.Yard[1].Width = inch("4"), inch("8")
	v := j.Valuation()
	// half of 12.00 for 96 x 8 in of cells of 1/16 in
	want := slopeOfRate(v, new(big.Rat).SetFrac64(120000/2, 96*16*8*16), Fraction{3, 5})
	if got := v.SlopeOfOffer(&j.Yard[0]); got != want {
		t.Errorf("random widths: the slope of 4 in is %v, want that of the cheapest per area, %v",
			got, want)
	}
}

// TestCuttingUpNeverPays: rectangles cut off a rectangle, by whatever cuts and kerfs, are together
// worth no more, to the last tick. A rip between strips of one slope loses what its kerf took, and
// nothing else.
func TestCuttingUpNeverPays(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	var rips, less int
	for range 5000 {
		j, _ := tinyJob(rng)
		v := j.Valuation()
		b, u := &j.Rack[0], v.Unit
		bad, slope := j.WidenedRects(b, nil), v.SlopeOfBoard(b)
		worth := func(r Rect) int64 { return v.WorthOfRect(slope, &b.Wood, r, bad) }
		whole := Rect{0, b.Length, 0, b.Width}
		kerf := Length(rng.IntN(3)) * u
		var cut func(r Rect, depth int) int64
		cut = func(r Rect, depth int) int64 {
			if depth == 0 || r.To-r.From < 2*u || r.Right-r.Left < 2*u {
				return worth(r)
			}
			a, c := r, r
			if rng.IntN(2) == 0 {
				a.To = r.From + u*(1+Length(rng.IntN(int((r.To-r.From)/u-1))))
				c.From = min(r.To, a.To+kerf)
			} else {
				a.Right = r.Left + u*(1+Length(rng.IntN(int((r.Right-r.Left)/u-1))))
				c.Left = min(r.Right, a.Right+kerf)
			}
			sum := cut(a, depth-1) + cut(c, depth-1)
			if sum > worth(r) {
				t.Fatalf("%+v of %+v: cut up it is worth %d, whole %d", r, b, sum, worth(r))
			}
			return sum
		}
		if cut(whole, 3) < worth(whole) {
			less++
		}
		// a strip that is ripped into two, both wide enough to be kept
		least := max(u, j.KeepWidth(&b.Wood))
		steps := int((b.Width-u-2*least-kerf)/u) + 1
		if steps < 1 {
			continue
		}
		y := u + least + Length(rng.IntN(steps))*u
		strip := Rect{0, b.Length, u, b.Width}
		left, right := Rect{0, b.Length, u, y}, Rect{0, b.Length, y + kerf, b.Width}
		dust := slope.Strip * cellsAt(Rect{0, b.Length, y, y + kerf}, bad, v.Keep(&b.Wood), u)
		if lost := worth(strip) - worth(left) - worth(right); lost != dust {
			t.Fatalf("%+v: a rip of %+v at %d, kerf %d, loses %d parts, its dust is worth %d", b,
				strip, y, kerf, lost, dust)
		}
		rips++
	}
	if rips < 1000 || less < 1000 {
		t.Errorf("%d rips, %d boards worth less cut up: too few", rips, less)
	}
}

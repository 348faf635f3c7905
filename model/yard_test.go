package model

import (
	"math/big"
	"math/rand/v2"
	"testing"
)

// yardJob has one board for sale.
func yardJob(u Unit, section Section, length, width string, per Per, price string) (*Job, *Offer) {
	j := &Job{Settings: DefaultSettings()}
	j.Settings.Units = u
	w := Wood{Material: "wood", Section: section}
	w.Length, _, _ = ParseLength(length, u)
	if w.Thickness, w.Width = section.Actual(Condition{}); width != "" {
		w.Width, _, _ = ParseLength(width, u)
	}
	p, err := ParseMoney(price)
	if err != nil {
		panic(err)
	}
	j.Yard = []Offer{{Wood: w, Price: p, Per: per, Yard: "north"}}
	return j, &j.Yard[0]
}

// What one board costs. Quantities by the published examples of tally_test.go; the products worked
// out by hand.
func TestPriceOfABoard(t *testing.T) {
	for _, c := range []struct {
		unit          Unit
		section       Section
		length, width string
		per           Per
		price, want   string
	}{
		{Inch, "2x4", "14'", "", PerPiece, "8.99", "8.99"},
		{Inch, "2x4", "14'", "", PerLength, "0.75", "10.50"},
		// 9 1/3 board feet (nominal size, as in NAVEDTRA's example)
		{Inch, "2x4", "14'", "", PerBoardFoot, "0.75", "7.00"},
		// 9 1/3, of EN5155's four boards of 37 1/3
		{Inch, "1x8", "14'", "", PerBoardFoot, "3", "28.00"},
		{Inch, "2x4", "7'", "", PerBoardFoot, "0.0001", "0.0005"},    // 4 2/3 of 1/10000
		{Inch, "4/4", "8'", "6.5", PerBoardFoot, "12.35", "49.40"},   // measures 4 (AHEC)
		{Inch, "4/4", "12'", "8", PerBoardFoot, "12.35", "98.80"},    // 8 (AHEC)
		{Inch, "4/4", "13'", "10", PerBoardFoot, "12.35", "135.85"},  // 11 (AHEC)
		{Inch, "8/4", "10'9\"", "6 7/16", PerBoardFoot, "10", "100"}, // 5 (NHLA example), two thick
		{Inch, "8/4", "6'3\"", "9", PerBoardFoot, "9.80", "98.00"},   // 4 1/2, up to 5
		{Inch, "38x140mm", "12'", "", PerLength, "1.1", "13.20"},
		{Inch, "2x4", "6", "", PerLength, "0.0001", "0.0001"}, // exactly half of 1/10000: up
		{Inch, "2x4", "5.9", "", PerLength, "0.0001", "0.00"}, // less than half
		{Millimetre, "38x140mm", "5400", "", PerLength, "3.90", "21.06"},
		// 0.028728 m3: 21.100716
		{Millimetre, "38x140mm", "5400", "", PerCubicMetre, "734.5", "21.1007"},
		// 50.8 mm thick as measured
		{Millimetre, "8/4", "2000", "200", PerCubicMetre, "1000", "20.32"},
	} {
		j, o := yardJob(c.unit, c.section, c.length, c.width, c.per, c.price)
		if want, _ := ParseMoney(c.want); j.PriceOf(o) != want {
			t.Errorf("%s of %s at %s per %q: %v, want %v", c.section, c.length, c.price, c.per,
				j.PriceOf(o), want)
		}
	}
	j, o := yardJob(Inch, "8/4", "6'3\"", "9", PerBoardFoot, "9.80")
	j.Settings.Tally.Half = HalfAlternate // a price counts each board by itself
	if j.PriceOf(o) != 98*UnitsOfMoney {
		t.Errorf("with halves in turn: %v", j.PriceOf(o))
	}
	j.Settings.Tally.Hardwood = ExactVolume // 9 x 75 x 2 / 144 = 9.375
	if j.PriceOf(o) != 918750 {
		t.Errorf("by volume: %v, want 91.875", j.PriceOf(o))
	}
}

// Tax to the last 1/10000: exactly half of one goes up, anything less down.
func TestTaxOfABoard(t *testing.T) {
	for _, c := range []struct {
		price, want string
		num, den    int64 // of the percentage
	}{
		{"9.99", "0.8242", 33, 4},      // 8.25 % is 0.824175
		{"47.40", "4.2068", 71, 8},     // 8.875 % is 4.20675: half, up
		{"47.3998", "4.2067", 71, 8},   // 4.20673...
		{"0.0001", "0.0001", 50, 1},    // half of the least amount
		{"0.0001", "0", 499999, 10000}, // 49.9999 %
		{"12.3456", "0.0012", 1, 100},  // 0.01 % is 0.00123456
		{"12.50", "0.00", 0, 1},
		{"12.50", "12.50", 100, 1},
	} {
		j, o := yardJob(Inch, "2x6", "10'", "", PerPiece, c.price)
		j.Settings.Yards = map[string]YardFacts{"north": {TaxPercent: &Fraction{c.num, c.den}},
			"south": {TaxPercent: &Fraction{99, 1}}}
		want, _ := ParseMoney(c.want)
		if j.TaxOf(o) != want || j.PaidFor(o) != o.Price+want {
			t.Errorf("%d/%d %% of %s: %v, want %v", c.num, c.den, c.price, j.TaxOf(o), want)
		}
		if o.Yard = ""; j.TaxOf(o) != 0 {
			t.Errorf("a row of no yard is taxed %v", j.TaxOf(o))
		}
	}
}

// Whatever the numbers: price and tax are nowhere more than half a unit off the exact product, and
// never half a unit below it.
func TestPriceAndTaxAreRoundedHalfUp(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	half := func(what string, got Money, exact *big.Rat) {
		off := new(big.Rat).Sub(new(big.Rat).SetInt64(int64(got)), exact)
		if off.Cmp(big.NewRat(-1, 2)) <= 0 || off.Cmp(big.NewRat(1, 2)) > 0 {
			t.Fatalf("%s: %d for %v", what, got, exact)
		}
	}
	for range 3000 {
		j, o := yardJob(Inch, "2x6", "1'", "", PerLength, "1")
		o.Price, o.Length = 1+Money(r.Int64N(100_000)), 1+Length(r.Int64N(int64(LongestBoard)))
		tax := NewRate(r.Int64N(1_000_001), 10_000)
		j.Settings.Yards = map[string]YardFacts{"north": {TaxPercent: &Fraction{tax.Num, tax.Den}}}
		half("price", j.PriceOf(o),
			new(big.Rat).Mul(big.NewRat(int64(o.Price), 1),
				big.NewRat(int64(o.Length), 12*UnitsPerInch)))
		half("tax", j.TaxOf(o),
			new(big.Rat).Mul(big.NewRat(int64(j.PriceOf(o)), 100), big.NewRat(tax.Num, tax.Den)))
	}
}

// A board longer than the load is not for sale and sets no rate; one just as long is and does.
func TestLongestLoad(t *testing.T) {
	j, o := yardJob(Inch, "2x6", "10'", "", PerPiece, "12")
	j.Yard = append(j.Yard, *o)
	o, short := &j.Yard[0], &j.Yard[1]
	short.Length, short.Price = 48*UnitsPerInch, 6*UnitsOfMoney
	slope := func(half, inches int64) Slope { // cells of 1/16 in, boards 5 1/2 in wide
		return slopeOfRate(j.Valuation(), new(big.Rat).SetFrac64(half*UnitsOfMoney, inches*16*88),
			Fraction{3, 5})
	}
	load := 120 * Length(UnitsPerInch)
	j.Settings.Yards = map[string]YardFacts{"north": {LongestLoad: &load}}
	if n := j.ForSale(o); n != nil || !j.Carried(o) ||
		j.Valuation().SlopeOfOffer(o) != slope(6, 120) {
		t.Error("a board as long as the load is not taken")
	}
	load--
	if n := j.ForSale(o); n == nil || *n != 0 || j.Carried(o) ||
		j.Valuation().SlopeOfOffer(o) != slope(3, 48) {
		t.Error("a board longer than the load is taken")
	}
}

// e is the least length with (bought + e) usable >= bought.
func TestReserveIsTheLeastThatSuffices(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	for n := range 3000 {
		den := []int64{1, 10, 1_000_000}[r.IntN(3)]
		rate := NewRate((den+99)/100+r.Int64N(den-(den+99)/100+1), den)
		s, bought := DefaultSettings(), Length(r.Int64N(int64(LongestBoard)))
		if s.Usable = Fraction(rate); n == 0 {
			bought = MostCopies * LongestBoard
		}
		suffices := func(e Length) bool {
			all := new(big.Int).Mul(big.NewInt(int64(bought+e)), big.NewInt(rate.Num))
			return all.Cmp(new(big.Int).Mul(big.NewInt(int64(bought)), big.NewInt(rate.Den))) >= 0
		}
		if e := s.ReserveFor("oak", bought); !suffices(e) || e > 0 && suffices(e-1) {
			t.Fatalf("usable %v, bought %d: %d", s.Usable, bought, e)
		}
	}
	s := DefaultSettings()
	if s.Materials = map[string]Override{"oak": {Usable: &Fraction{1, 2}}}; s.ReserveFor("oak",
		10) != 10 || s.ReserveFor("ash", 10) != 0 {
		t.Error("a material's own share")
	}
}

// Each fact of a yard that cannot be is refused where it stands.
func TestYardFactsAreJudged(t *testing.T) {
	length := func(l Length) *Length { return &l }
	facts := func(y YardFacts) func(*Job) {
		return func(j *Job) {
			y.Where = Where{"shop.toml", 3}
			j.Yard[0].Yard, j.Settings.Yards = "north", map[string]YardFacts{"north": y}
		}
	}
	for _, c := range []struct {
		name, column, code string
		change             func(j *Job)
	}{
		{"tax below 0", `yards."north".tax_percent`, CodeSetting,
			facts(YardFacts{TaxPercent: &Fraction{-1, 1}})},
		{"tax above 100", `yards."north".tax_percent`, CodeSetting,
			facts(YardFacts{TaxPercent: &Fraction{1001, 10}})},
		{"tax of five decimals", `yards."north".tax_percent`, CodeSetting,
			facts(YardFacts{TaxPercent: &Fraction{1, 100_000}})},
		{"tax not in lowest terms", `yards."north".tax_percent`, CodeSetting,
			facts(YardFacts{TaxPercent: &Fraction{2, 4}})},
		{"load of 0", `yards."north".longest_load`, CodeSetting,
			facts(YardFacts{LongestLoad: length(0)})},
		{"load above 100 m", `yards."north".longest_load`, CodeSetting,
			facts(YardFacts{LongestLoad: length(LongestLength + 1)})},
		{"yard that sells nothing", `yards."south"`, CodeUnknownYard, func(j *Job) {
			j.Settings.Yards = map[string]YardFacts{"south": {}}
		}},
		{"yard without a name", `yards.""`, CodeUnknownYard, func(j *Job) {
			j.Settings.Yards = map[string]YardFacts{"": {}}
		}},
		{"yard by case", `yards."North"`, CodeSpelling, func(j *Job) {
			j.Yard[0].Yard, j.Settings.Yards = "north", map[string]YardFacts{"North": {}}
		}},
		{"yard by blanks", "yard", CodeSpelling, func(j *Job) {
			j.Yard = append(j.Yard, j.Yard[0])
			j.Yard[0].Yard, j.Yard[1].Yard, j.Yard[1].Where.Line = "north yard", "northyard", 3
		}},
		{"control character in a grade", "grade", CodeControl, func(j *Job) {
			j.Yard[0].Grade = "A\x07"
		}},
		{"per unknown", "per", CodeWord, func(j *Job) { j.Yard[0].Per = "lift" }},
		{"per cubic metre in inches", "per", CodeWord, func(j *Job) {
			j.Yard[0].Per = PerCubicMetre
		}},
		{"per board foot in millimetres", "per", CodeWord, func(j *Job) {
			j.Yard[0].Per, j.Settings.Units = PerBoardFoot, Millimetre
		}},
		{"a board that costs nothing", "price", CodeRange, func(j *Job) {
			j.Yard[0].Per, j.Yard[0].Length = PerLength, 10
		}},
		{"a board too dear by its length", "price", CodeRange, func(j *Job) {
			j.Yard[0].Per, j.Yard[0].Price = PerLength, DearestBoard/8+1
		}},
		{"a board too dear by its tax", "price", CodeRange, func(j *Job) {
			j.Yard[0].Price = DearestBoard
			facts(YardFacts{TaxPercent: &Fraction{1, 1}})(j)
		}},
		{"usable of 0", "reserve.usable", CodeSetting, func(j *Job) {
			j.Settings.Usable = Fraction{0, 1}
		}},
		{"usable above 1", "reserve.usable", CodeSetting, func(j *Job) {
			j.Settings.Usable = Fraction{11, 10}
		}},
		{"usable below 0.01", "reserve.usable", CodeSetting, func(j *Job) {
			j.Settings.Usable = Fraction{9999, 1_000_000}
		}},
		{"usable of a material", `material."oak".reserve.usable`, CodeSetting, func(j *Job) {
			j.Settings.Materials = map[string]Override{"oak": {Usable: &Fraction{3, 2}}}
		}},
		{"usable of a section", `section."2x6".reserve.usable`, CodeSetting, func(j *Job) {
			j.Settings.Sections = map[Section]Override{"2x6": {Usable: &Fraction{1, 2}}}
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			j := soundJob()
			c.change(j)
			var m Mistakes
			j.Validate(&m)
			all, _ := m.Err().(InputErrors)
			if len(all) != 1 || all[0].Column != c.column || all[0].Code != c.code ||
				all[0].Remedy == "" {
				t.Errorf("want one mistake in %s, code %s; got %v", c.column, c.code, m.Err())
			}
		})
	}
	for _, good := range []func(*Job){
		facts(YardFacts{TaxPercent: &Fraction{100, 1}, LongestLoad: length(1)}), facts(YardFacts{}),
		func(j *Job) { j.Settings.Usable = Fraction{1, 100} }, func(j *Job) {
			j.Yard[0].Per, j.Yard[0].Price = PerLength, DearestBoard/8
		},
	} {
		j := soundJob()
		good(j)
		var m Mistakes
		if j.Validate(&m); m.Err() != nil {
			t.Error(m.Err())
		}
	}
}

// What must be bought so that a share of it is what is needed (trade-facts: woodweb.com on waste
// and yield, the first two; the third is its converse, computed).
func TestReserveByShare(t *testing.T) {
	for _, c := range []struct {
		usable Fraction
		whole  float64 // times what is needed
	}{
		{Fraction{7, 10}, 142.857 / 100}, // net 100 at 30 % waste
		{Fraction{10, 13}, 1.3},          // 30 % more covers a waste of 23.08 % only
		{Fraction{2, 3}, 1.5},            // 1.5 times the need is a waste of 33 1/3 %
	} {
		s := DefaultSettings()
		s.Materials = map[string]Override{"oak": {Usable: &c.usable}}
		need := Length(100 * UnitsPerInch)
		e := s.ReserveFor("oak", need)
		if got := float64(need+e) / float64(need); got < c.whole-1e-5 || got > c.whole+1e-5 {
			t.Errorf("usable %d/%d: %v times what is needed, want %v", c.usable.Num, c.usable.Den,
				got, c.whole)
		}
	}
}

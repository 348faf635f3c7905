package model

import (
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"
)

func wood(section Section, width string) Wood {
	w := Wood{Material: "fir", Section: section}
	w.Thickness, w.Width = section.Actual(Condition{})
	if width != "" {
		w.Width = inch(width)
	}
	return w
}

func TestTallyInBoardFeet(t *testing.T) {
	for _, c := range []struct {
		section      Section
		width, run   string
		pieces, want int64
		source       string
	}{
		{"4/4", "9", "96", 1, 6_000_000, "woodworkingtips etip04: 1 x 9 x 96 in"},
		{"6/4", "9", "96", 1, 9_000_000, "woodworkingtips etip04: 1-1/2 x 9 x 96 in"},
		{"5/4x6", "", "72", 1, 3_750_000, "mikestools: 5/4 x 6 x 72 in"},
		{"5/4", "6", "72", 1, 3_750_000, "mikestools: 5/4 x 6 x 72 in"},
		{"2x4", "", "168", 1, 9_333_333, "NAVEDTRA problem, 2x4x14 ft; 9-1/3 computed"},
		{"1x8", "", "168", 4, 37_333_333, "U.S. Army EN5155 para 1-5: 4 pcs 1x8x14 ft, 37-1/3"},
		{"3/4", "12", "12", 1, 1_000_000, "NAVEDTRA: under 1 in thick counts as 1 in"},
		{"2x8", "", "72", 1, 8_000_000, "published example, 2 x 8 x 72 in"},
		{"2x6", "", "120", 3, 30_000_000, "U.S. Army EN0069 para 4-7: three 2x6x10 ft"},
		{"4x6", "", "120", 1, 20_000_000, "elmwood: 4x6x10 ft"},
		{"2x6", "", "120", 1, 10_000_000, "U.S. Army EN0069 para 4-7: 2x6x10 ft"},
		{"2x4", "", "120", 5, 33_333_333, "U.S. Army EN0069: scrub table, 33-1/3"},
		{"2x4", "", "12", 1, 666_667, "King, Elements of Woodwork: 2/3 a lineal foot"},
		{"2x6", "", "12", 1, 1_000_000, "King: 1 a lineal foot"},
		{"2x8", "", "12", 1, 1_333_333, "King: 1-1/3 a lineal foot"},
		{"2x12", "", "12", 1, 2_000_000, "King: 2 a lineal foot"},
	} {
		w := wood(c.section, c.width)
		if got := w.Volume(Length(c.pieces)*inch(c.run), Inch).Millionths(Inch); got != c.want {
			t.Errorf("%d x %s, %s in: %d millionths of a board foot, want %d (%s)", c.pieces,
				c.section, c.run, got, c.want, c.source)
		}
	}
	// 38 x 140 x 1000 mm is 0.00532 m3; a board foot is 144 x 0.0254^3 m3.
	metric := wood("38x140mm", "")
	if got, want := metric.Volume(1000*UnitsPerMillimetre, Inch).Millionths(Inch),
		int64(math.Round(0.00532/(144*math.Pow(0.0254, 3))*1e6)); got != want {
		t.Errorf("1 m of 38x140mm is %d millionths of a board foot, want %d", got, want)
	}
}

// TestTallyInCubicMetres: sizes multiplied by hand.
func TestTallyInCubicMetres(t *testing.T) {
	w := wood("38x140mm", "")
	if got := w.Volume(3000*UnitsPerMillimetre, Millimetre).Millionths(Millimetre); got != 15_960 {
		t.Errorf("3 m of 38x140mm is %d millionths of a cubic metre, want 15960", got)
	}
	w = wood("2x4", "") // 38.1 x 88.9 mm
	if got := w.Volume(1000*UnitsPerMillimetre, Millimetre).Millionths(Millimetre); got != 3_387 {
		t.Errorf("1 m of 2x4 is %d millionths of a cubic metre, want 3387 (38.1 x 88.9 mm)", got)
	}
	w = Wood{Thickness: 1000 * UnitsPerMillimetre, Width: 1000 * UnitsPerMillimetre}
	if got := w.Volume(MaxLength, Millimetre).Millionths(Millimetre); got != 1_000_000_000 {
		t.Errorf("1 m x 1 m x 1000 m is %d millionths of a cubic metre, want 1000000000", got)
	}
}

// board is one whole board of hardwood quarters.
func board(section Section, width, length string) *Wood {
	w := wood(section, width)
	w.Length = inch(length)
	return &w
}

func tallyOf(s *Settings, w *Wood, n int64) int64 {
	return NewTallier(s).Boards(w, n).Millionths(s.Units)
}

func TestTallyOfBoardsBySurfaceMeasure(t *testing.T) {
	for _, c := range []struct {
		section       Section
		width, length string
		boards, want  int64
		source        string
	}{
		{"4/4", "6 1/2", "96", 1, 4_000_000, "AHEC guide: 6-1/2 in x 8 ft is 4.33, so 4"},
		{"4/4", "8", "144", 1, 8_000_000, "AHEC guide: 8 in x 12 ft is 8"},
		{"4/4", "10", "156", 1, 11_000_000, "AHEC guide: 10 in x 13 ft is 10.83, so 11"},
		{"4/4", "6 7/16", "129", 1, 5_000_000,
			"goodwoodcorp grading: 6-7/16 in x 10 ft 9 in is 5.36 of 10 ft, so 5"},
		{"4/4", "6", "96", 1, 4_000_000, "portablesawmill.info: 6 in x 8 ft is 4"},
		{"8/4", "10", "156", 1, 22_000_000,
			"goodwoodcorp terminology: board feet are surface measure x nominal thickness"},
		{"5/4", "10", "156", 3, 41_250_000,
			"goodwoodcorp terminology: surface measures are rounded first, then multiplied: " +
				"3 x 11 x 5/4"},
		{"3/4", "8", "144", 1, 8_000_000,
			"goodwoodcorp terminology: under 1 in thick counts as 1 in"},
		{"4/4", "9", "72", 1, 5_000_000, "computed: 4.5, half up"},
		{"4/4", "9", "72", 4, 20_000_000, "computed: four of 4.5, each half up"},
		{"4/4", "12", "11 63/64", 1, 0, "computed: no whole foot"},
		{"2x6", "", "129", 1, 10_750_000, "computed: softwood by volume, 10.75 ft of 1"},
	} {
		s := DefaultSettings()
		if got := tallyOf(&s, board(c.section, c.width, c.length), c.boards); got != c.want {
			t.Errorf("%d boards of %s, %s x %s: %d millionths of a board foot, want %d (%s)",
				c.boards, c.section, c.width, c.length, got, c.want, c.source)
		}
	}
}

// The settings of the tally: exact board feet, halves in turn (King, Elements of Woodwork), and a
// shop in millimetres.
func TestTallyOfBoardsBySettings(t *testing.T) {
	w := board("8/4", "9", "75") // 4.5 of 6 ft, 4.6875 exactly
	s := DefaultSettings()
	if s.Tally.Hardwood = ExactVolume; tallyOf(&s, w, 2) != 18_750_000 {
		t.Errorf("exact: %d", tallyOf(&s, w, 2))
	}
	s = DefaultSettings()
	s.Tally.Half = HalfAlternate
	for n, want := range []int64{0, 5, 9, 14, 18} {
		if got := tallyOf(&s, w, int64(n)); got != 2e6*want {
			t.Errorf("%d boards of 4.5, halves in turn: %d, want 2 x %d", n, got, want)
		}
	}
	turn := NewTallier(&s)
	ash := board("8/4", "9", "75")
	ash.Material = "ash"
	for _, c := range []struct {
		wood   *Wood
		n, sum int64
	}{
		{w, 1, 5}, {w, 2, 9}, {board("8/4", "10", "72"), 1, 5}, {ash, 1, 5},
		{board("4/4", "9", "72"), 1, 5}, {w, 1, 4}, {w, 1, 5}, {ash, 3, 13},
	} {
		thick, _ := c.wood.Section.Nominal()
		if got, want := turn.Boards(c.wood, c.n).Millionths(Inch),
			c.sum*int64(thick/UnitsPerInch)*1e6; got != want {
			t.Errorf("%d of %v: %d, want %d", c.n, *c.wood, got, want)
		}
	}
	s.Units = Millimetre // 2 x 9 x 75 in as measured
	if got, want := tallyOf(&s, w, 1),
		int64(math.Round(2*9*75*math.Pow(0.0254, 3)*1e6)); got != want {
		t.Errorf("%d millionths of a cubic metre, want %d", got, want)
	}
}

// No tally is too great to be written and read again.
func TestTallyEndsAtItsLimit(t *testing.T) {
	w := Wood{Section: "38x140mm", Width: LongestLength, Thickness: LongestLength,
		Length: LongestBoard}
	s := DefaultSettings()
	if got := tallyOf(&s, &w, MostForSale); got != mostTally {
		t.Errorf("%d", got)
	}
}

func drawBoard(t *rapid.T) *Wood {
	w := wood(rapid.SampledFrom([]Section{"2x6", "1x8", "4/4", "3/4", "5/4", "38x140mm"}).Draw(t,
		"section"), "")
	w.Width = Length(rapid.Int64Range(1, 40*UnitsPerInch).Draw(t, "width"))
	if rapid.Bool().Draw(t, "round") { // where exact halves are
		w.Width = (w.Width/UnitsPerInch + 1) * UnitsPerInch
	}
	w.Length = Length(rapid.Int64Range(1, 240*UnitsPerInch).Draw(t, "length"))
	return &w
}

func drawTally(t *rapid.T) *Settings {
	s := DefaultSettings()
	s.Units = rapid.SampledFrom([]Unit{Inch, Millimetre}).Draw(t, "units")
	s.Tally.Hardwood = rapid.SampledFrom(HardwoodRules).Draw(t, "hardwood")
	s.Tally.Half = rapid.SampledFrom(HalfRules).Draw(t, "half")
	return &s
}

// A run in two is tallied as the run whole, and boards one by one as all at once: nothing is
// rounded before the end.
func TestTallyIsAdditive(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, s := drawBoard(t), drawTally(t)
		a := Length(rapid.Int64Range(0, int64(w.Length)).Draw(t, "cut"))
		sum, whole := w.Volume(a, s.Units), w.Volume(w.Length, s.Units)
		if sum.Add(w.Volume(w.Length-a, s.Units)); sum.units.Cmp(&whole.units) != 0 {
			t.Fatalf("%v in %d and %d is %v, whole %v", w, a, w.Length-a, &sum.units, &whole.units)
		}
		one, many := NewTallier(s), NewTallier(s)
		n := rapid.Int64Range(0, 9).Draw(t, "boards")
		var single Volume
		for range n {
			single.Add(one.Boards(w, 1))
		}
		if all := many.Boards(w, n); all.units.Cmp(&single.units) != 0 {
			t.Fatalf("%d of %v: %v at once, %v one by one", n, w, &all.units, &single.units)
		}
	})
}

// No board tallies less than one that is smaller, and no lot less than one with fewer boards; by
// surface measure a board is off by at most half a square foot and what its length has over whole
// feet.
func TestTallyIsMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, s := drawBoard(t), drawTally(t)
		larger, n := *w, rapid.Int64Range(0, 9).Draw(t, "boards")
		larger.Width += Length(rapid.Int64Range(0, UnitsPerInch).Draw(t, "wider"))
		larger.Length += Length(rapid.Int64Range(0, 20*UnitsPerInch).Draw(t, "longer"))
		few := tallyOf(s, w, n)
		if more := tallyOf(s, w, n+1); more < few {
			t.Fatalf("%d of %v is %d, one more %d", n, w, few, more)
		}
		if more := tallyOf(s, &larger, n); more < few {
			t.Fatalf("%d of %v is %d, of the larger %v %d", n, w, few, larger, more)
		}
		if size := w.Section.size(Condition{}); size.kind == quarters && s.Units == Inch &&
			s.Tally.Hardwood == SurfaceMeasure {
			measure := new(big.Rat).SetFrac(&NewTallier(s).Boards(w, 1).units,
				&volume(unitsPerFoot, unitsPerFoot, max(size.nominalThickness, UnitsPerInch)).units)
			exact := big.NewRat(int64(w.Width)*int64(w.Length/unitsPerFoot), unitsPerFoot)
			if off := new(big.Rat).Sub(measure, exact); !measure.IsInt() ||
				off.Abs(off).Cmp(big.NewRat(1, 2)) > 0 {
				t.Fatalf("%v measures %v, exactly %v", w, measure, exact)
			}
		}
	})
}

// The section's word on how its wood comes wins over the material's, and that over the shop's; the
// plain spelling only is kept.
func TestConditionsAndRulesAreSettings(t *testing.T) {
	s := DefaultSettings()
	green, dry, s2s, rough := Green, Dry, S2S, Rough
	s.Materials = map[string]Override{"fir": {Seasoning: &green},
		"ash": {Surface: &s2s, Seasoning: &green}}
	s.Sections = map[Section]Override{"6x8": {Seasoning: &dry}, "4/4": {Surface: &rough}, "2x6": {}}
	for _, c := range []struct {
		material string
		section  Section
		want     Condition
	}{
		{"oak", "8/4", Condition{Dry, Rough}}, {"fir", "2x6", Condition{Green, Rough}},
		{"fir", "6x8", Condition{Dry, Rough}},
		{"ash", "8/4", Condition{Green, S2S}}, {"ash", "4/4", Condition{Green, Rough}},
	} {
		if got := s.ConditionFor(c.material, c.section); got != c.want {
			t.Errorf("%s %s comes %v, want %v", c.material, c.section, got, c.want)
		}
	}
	wet, planed := Seasoning("Green"), Surface("s4s")
	for key, spoil := range map[string]func(s *Settings){
		"seasoning":      func(s *Settings) { s.Condition.Seasoning = "" },
		"surface":        func(s *Settings) { s.Condition.Surface = "s2s" },
		"tally.hardwood": func(s *Settings) { s.Tally.Hardwood = "by eye" },
		"tally.half":     func(s *Settings) { s.Tally.Half = "Up" },
		`material."oak".seasoning`: func(s *Settings) {
			s.Materials = map[string]Override{"oak": {Seasoning: &wet}}
		},
		`section."8/4".surface`: func(s *Settings) {
			s.Sections = map[Section]Override{"8/4": {Surface: &planed}}
		},
	} {
		s, m := DefaultSettings(), Mistakes{}
		spoil(&s)
		s.Validate(&m)
		if all, _ := m.Err().(InputErrors); len(all) != 1 || all[0].Column != key ||
			all[0].Code != CodeSetting || all[0].Remedy == "" {
			t.Errorf("%s: %v", key, m.Err())
		}
	}
}

// What is ripped off a softwood board counts its share of the nominal width, from the rack as from
// a board, and nine tenths of the actual width all of it. Other wood counts what it measures.
func TestVolumeAcross(t *testing.T) {
	const in, foot = UnitsPerInch, 12 * UnitsPerInch
	for _, c := range []struct {
		section   Section
		thickness Length
		width     Length // of the board
		cut       Length // across it
		unit      Unit
		want      *Volume // of a foot
	}{
		{"2x6", 3 * in / 2, 11 * in / 2, 11 * in / 2, Inch, volume(2*in, 6*in, foot)},
		{"2x6", 3 * in / 2, 11 * in / 2, 11 * in / 4, Inch, volume(2*in, 3*in, foot)},
		// 18626 x 12/11 = 20319.3 units
		{"2x6", 3 * in / 2, 11 * in / 2, 55 * in / 24, Inch, volume(2*in, 20319, foot)},
		{"2x6", 3 * in / 2, 11 * in / 4, 11 * in / 4, Inch, volume(2*in, 3*in, foot)},
		{"2x6", 3 * in / 2, 11 * in / 4, 11 * in / 8, Inch, volume(2*in, 3*in/2, foot)},
		// shrunk, or measured so
		{"2x6", 3 * in / 2, 5 * in, 5 * in, Inch, volume(2*in, 6*in, foot)},
		{"2x6", 3 * in / 2, 11 * in / 2, 11*in/2 - 11*in/20, Inch, volume(2*in, 6*in, foot)},
		// 40229 x 12/11 = 43886.2
		{"2x6", 3 * in / 2, 11 * in / 2, 11*in/2 - 11*in/20 - 5, Inch, volume(2*in, 43886, foot)},
		{"1x4", 3 * in / 4, 7 * in / 2, 7 * in / 4, Inch, volume(in, 2*in, foot)},
		{"2x6", 3 * in / 2, 11 * in / 2, 11 * in / 4, Millimetre, volume(3*in/2, 11*in/4, foot)},
		{"8/4", 2 * in, 9 * in, 4 * in, Inch, volume(2*in, 4*in, foot)},
		{"38x140mm", 38 * 320, 140 * 320, 70 * 320, Millimetre, volume(38*320, 70*320, foot)},
	} {
		w := &Wood{Material: "oak", Section: c.section, Length: 10 * foot, Width: c.width,
			Thickness: c.thickness}
		if got := w.VolumeAcross(foot, c.cut, c.unit); got.units.Cmp(&c.want.units) != 0 {
			t.Errorf("%s, %v of %v: %v, want %v", c.section, c.cut, c.width, &got.units,
				&c.want.units)
		}
		back := *w
		back.Width = c.cut
		if got := back.Volume(foot, c.unit); got.units.Cmp(&c.want.units) != 0 {
			t.Errorf("%s, %v from the rack: %v, want %v", c.section, c.cut, &got.units,
				&c.want.units)
		}
	}
}

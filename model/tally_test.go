package model

import (
	"math"
	"testing"
)

func wood(section Section, width string) Wood {
	w := Wood{Material: "fir", Section: section}
	w.Thickness, w.Width = section.Actual()
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
		{"2x4", "", "120", 5, 33_333_333, "U.S. Army EN0069: scrub table, 33-1/3"},
		{"2x4", "", "12", 1, 666_667, "King, Elements of Woodwork: 2/3 a lineal foot"},
		{"2x6", "", "12", 1, 1_000_000, "King: 1 a lineal foot"},
		{"2x8", "", "12", 1, 1_333_333, "King: 1-1/3 a lineal foot"},
		{"2x12", "", "12", 1, 2_000_000, "King: 2 a lineal foot"},
	} {
		w := wood(c.section, c.width)
		if got := w.Tally(Length(c.pieces)*inch(c.run), Inch); got != c.want {
			t.Errorf("%d x %s, %s in: %d millionths of a board foot, want %d (%s)", c.pieces, c.section, c.run, got, c.want, c.source)
		}
	}
	// 38 x 140 x 1000 mm is 0.00532 m3; a board foot is 144 x 0.0254^3 m3.
	metric := wood("38x140mm", "")
	if got, want := metric.Tally(1000*UnitsPerMillimetre, Inch), int64(math.Round(0.00532/(144*math.Pow(0.0254, 3))*1e6)); got != want {
		t.Errorf("1 m of 38x140mm is %d millionths of a board foot, want %d", got, want)
	}
}

// TestTallyInCubicMetres: sizes multiplied by hand.
func TestTallyInCubicMetres(t *testing.T) {
	w := wood("38x140mm", "")
	if got := w.Tally(3000*UnitsPerMillimetre, Millimetre); got != 15_960 {
		t.Errorf("3 m of 38x140mm is %d millionths of a cubic metre, want 15960", got)
	}
	w = wood("2x4", "") // 38.1 x 88.9 mm
	if got := w.Tally(1000*UnitsPerMillimetre, Millimetre); got != 3_387 {
		t.Errorf("1 m of 2x4 is %d millionths of a cubic metre, want 3387 (38.1 x 88.9 mm)", got)
	}
	w = Wood{Thickness: 1000 * UnitsPerMillimetre, Width: 1000 * UnitsPerMillimetre}
	if got := w.Tally(MaxLength, Millimetre); got != 1_000_000_000 {
		t.Errorf("1 m x 1 m x 1000 m is %d millionths of a cubic metre, want 1000000000", got)
	}
}

package model

import (
	"strings"
	"testing"
)

func inch(s string) Length {
	l, _, err := ParseLength(s, Inch)
	if err != nil {
		panic(err)
	}
	return l
}

// TestActualSizesOfSoftwood: PS 20-20, table of nominal and minimum dressed sizes, dry, and its common sections, as given
// by engineeringtoolbox.com d_1270 and d_1452. The metric sizes of the source are rounded to whole millimetres.
func TestActualSizesOfSoftwood(t *testing.T) {
	for _, c := range []struct {
		section          Section
		thickness, width string
		mmT, mmW         int64
	}{
		{"2x4", "1 1/2", "3 1/2", 38, 89},
		{"1x8", "3/4", "7 1/4", 19, 184},
		{"6x6", "5 1/2", "5 1/2", 140, 140},
		{"8x8", "7 1/4", "7 1/4", 0, 0},
		{"5/4x6", "1", "5 1/2", 25, 140},
		{"6/4x6", "1 1/4", "5 1/2", 32, 140},
		{"1x2", "3/4", "1 1/2", 19, 38},
		{"1x3", "3/4", "2 1/2", 19, 64},
		{"1x4", "3/4", "3 1/2", 19, 89},
		{"1x6", "3/4", "5 1/2", 19, 140},
		{"1x10", "3/4", "9 1/4", 19, 235},
		{"1x12", "3/4", "11 1/4", 19, 286},
		{"2x2", "1 1/2", "1 1/2", 38, 38},
		{"2x3", "1 1/2", "2 1/2", 38, 64},
		{"2x5", "1 1/2", "4 1/2", 38, 114},
		{"2x6", "1 1/2", "5 1/2", 38, 140},
		{"2x7", "1 1/2", "6 1/2", 38, 165},
		{"2x8", "1 1/2", "7 1/4", 38, 184},
		{"2x10", "1 1/2", "9 1/4", 38, 235},
		{"2x12", "1 1/2", "11 1/4", 38, 286},
		{"2x14", "1 1/2", "13 1/4", 38, 337},
		{"2x16", "1 1/2", "15 1/4", 38, 387},
		{"2-1/2x4", "2", "3 1/2", 51, 89},
		{"3x4", "2 1/2", "3 1/2", 64, 89},
		{"4x4", "3 1/2", "3 1/2", 89, 89},
		{"4x6", "3 1/2", "5 1/2", 89, 140},
		{"5x5", "4 1/2", "4 1/2", 114, 114},
		{"7x7", "6 1/4", "6 1/4", 0, 0}, // timbers 7 to 15: 3/4 off, unlike the width of a 2x7
		{"16x16", "15", "15", 0, 0},
	} {
		thickness, width := c.section.Actual()
		if thickness != inch(c.thickness) || width != inch(c.width) {
			t.Errorf("%s is %s x %s, want %s x %s", c.section, thickness.Shop(Inch), width.Shop(Inch), c.thickness, c.width)
		}
		if c.mmT != 0 && (roundMillimetres(thickness) != c.mmT || roundMillimetres(width) != c.mmW) {
			t.Errorf("%s is %s x %s, want %d x %d mm", c.section, thickness.Shop(Millimetre), width.Shop(Millimetre), c.mmT, c.mmW)
		}
	}
}

func roundMillimetres(l Length) int64 {
	return (2*int64(l) + UnitsPerMillimetre) / (2 * UnitsPerMillimetre)
}

// TestActualSizesOfHardwood: rough thicknesses of engineeringtoolbox.com d_1462; 7/4 and up the same rule, n/4 in.
func TestActualSizesOfHardwood(t *testing.T) {
	for section, want := range map[Section]string{
		"3/4": "3/4", "4/4": "1", "5/4": "1 1/4", "6/4": "1 1/2", "7/4": "1 3/4", "8/4": "2", "10/4": "2 1/2", "12/4": "3", "16/4": "4",
	} {
		thickness, width := section.Actual()
		nominal, nominalWidth := section.Nominal()
		if thickness != inch(want) || width != 0 || nominal != thickness || nominalWidth != 0 || section.Eased() {
			t.Errorf("%s is %s x %d (nominal %s x %d, eased %t), want %s rough, random width, square edges",
				section, thickness.Shop(Inch), width, nominal.Shop(Inch), nominalWidth, section.Eased(), want)
		}
	}
}

func TestParseSectionGivesTheCanonicalSpelling(t *testing.T) {
	for s, want := range map[string]Section{
		"2x6": "2x6", "2 x 6": "2x6", " 2X6 ": "2x6", "2×6": "2x6", `2" x 6"`: "2x6", "2″×6″": "2x6", "2 by 6": "2x6", "2in x 6in": "2x6", "6x2": "2x6",
		"5/4x6": "5/4x6", "5/4 X 6": "5/4x6", "1-1/4x6": "5/4x6", "1¼ x 6": "5/4x6", "6/4x6": "6/4x6", "2-1/2x4": "2-1/2x4", "2 1/2 x 4": "2-1/2x4",
		"4/4": "4/4", " 8/4 ": "8/4", "8⁄4": "8/4", "16/4": "16/4", "¾": "3/4",
		"6x8": "6x8", "24x24": "24x24",
		"38x140mm": "38x140mm", "38 x 140 mm": "38x140mm", "38mm x 140mm": "38x140mm", "38×140MM": "38x140mm", "140x38mm": "38x140mm", "19.5x140.0mm": "19.5x140mm",
	} {
		got, err := ParseSection(s)
		if got != want || err != nil {
			t.Errorf("ParseSection(%q) = %q, %v; want %q", s, got, err, want)
		}
		if again, err := ParseSection(string(got)); again != got || err != nil {
			t.Errorf("ParseSection(%q) = %q, %v; want the same", got, again, err)
		}
	}
}

func TestParseSectionRefusesWithARemedy(t *testing.T) {
	for s, say := range map[string]string{
		"":                        "is missing; write",
		"2x9":                     "the nearest is 2x8; write",
		"1-1/2x3-1/2":             "the nearest is 6/4x3; write",
		"4/4x6":                   "the nearest is 1x6; write",
		"1x1":                     "the nearest is 1x2; write",
		"38x140":                  "write 38x140mm if it is in millimetres",
		"9/4":                     "hardwood 3/4 4/4 5/4 6/4 7/4 8/4 10/4 12/4 16/4",
		"0x6":                     "is not known",
		"2x06":                    "is not known",
		"2x-6":                    "is not known",
		"25x25":                   "is no nominal size in inches; write 25x25mm",
		"0x140mm":                 "is not known",
		"38x140x2mm":              "is not known",
		"oak":                     "is not known; write softwood 1, 5/4, 6/4, 2, 2-1/2, 3 or 4 by 2, 3, 4",
		"x":                       "is not known",
		"2x":                      "is not known",
		strings.Repeat("2x6", 30): "more than 64 characters; write",
	} {
		if got, err := ParseSection(s); err == nil || !strings.Contains(err.Error(), say) {
			t.Errorf("ParseSection(%q) = %q, %v; want an error that says %q", s, got, err, say)
		}
	}
}

// TestNominalAndEased: lumber of up to 4 in nominal thickness comes with rounded edges (general trade pages on PS 20).
func TestNominalAndEased(t *testing.T) {
	for _, c := range []struct {
		section          Section
		thickness, width Length
		eased            bool
	}{
		{"2x6", inch("2"), inch("6"), true},
		{"5/4x6", inch("5/4"), inch("6"), true},
		{"1x8", inch("1"), inch("8"), true},
		{"4x4", inch("4"), inch("4"), true},
		{"5x5", inch("5"), inch("5"), false},
		{"6x8", inch("6"), inch("8"), false},
		{"8/4", inch("2"), 0, false},
		{"38x140mm", 38 * UnitsPerMillimetre, 140 * UnitsPerMillimetre, false},
		{"2 x 6", 0, 0, false}, // not canonical: known to no one
	} {
		thickness, width := c.section.Nominal()
		if thickness != c.thickness || width != c.width || c.section.Eased() != c.eased {
			t.Errorf("%s is nominally %d x %d, eased %t; want %d x %d, %t", c.section, thickness, width, c.section.Eased(), c.thickness, c.width, c.eased)
		}
	}
	if thickness, width := Section("38x140mm").Actual(); thickness != 38*UnitsPerMillimetre || width != 140*UnitsPerMillimetre {
		t.Errorf("38x140mm is %d x %d, want its own size", thickness, width)
	}
}

func FuzzParseSection(f *testing.F) {
	for _, s := range []string{"2 x 6", "4/4", "38 x 140 mm", "1¼x6", "2x9"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		section, err := ParseSection(s)
		if err != nil {
			return
		}
		again, err := ParseSection(string(section))
		if thickness, _ := section.Actual(); again != section || err != nil || thickness <= 0 {
			t.Errorf("%q is read as %q, and that as %q, %v, %d thick", s, section, again, err, thickness)
		}
	})
}

package model

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// as is a wood that comes in some way.
func as(surface Surface, section Section, thickness, width string) *Wood {
	w := wood(section, width)
	w.Length, w.Thickness, w.Surface = inch("96"), inch(thickness), surface
	return &w
}

// Hardwood as it is. Thicknesses of quarters are those of the trade's table (engineeringtoolbox.com
// d_1462): 4/4 is 1 in rough and 13/16 S2S, 5/4 is 1 1/16 S2S, 8/4 is 1 3/4. What a surface means
// is common practice; 3/4 out of 4/4, rough or S2S, is the usual finish of a shop.
func TestBlankBySurface(t *testing.T) {
	j := shop(nil)
	for _, c := range []struct {
		what                     string
		width, thickness         string // of the part
		w                        *Wood
		wantWidth, wantThickness string
		why                      string
	}{
		{"3/4 from 4/4 S2S", "4", "3/4", as(S2S, "4/4", "13/16", "6"), "4 1/8", "13/16", ""},
		{"3/4 from 4/4 rough", "4", "3/4", as(Rough, "4/4", "1", "6"), "4 1/8", "15/16", ""},
		{"13/16 from 4/4 S2S", "4", "13/16", as(S2S, "4/4", "13/16", "6"), "4 1/8", "13/16", ""},
		{"13/16 from 4/4 rough", "4", "13/16", as(Rough, "4/4", "1", "6"), "4 1/8", "1", ""},
		{"a hair thinner than S2S", "4", "51/64", as(S2S, "4/4", "13/16", "6"), "4 1/8", "55/64",
			TooThin},
		{"as thick as rough", "4", "1", as(Rough, "4/4", "1", "6"), "4 1/8", "1 3/16", TooThin},
		{"as wide as S2S", "6", "3/4", as(S2S, "4/4", "13/16", "6"), "6 1/8", "13/16", TooNarrow},
		{"as wide as rough", "6", "3/4", as(Rough, "4/4", "1", "6"), "6 1/8", "15/16", TooNarrow},
		{"nearly as wide", "5 7/8", "3/4", as(S2S, "4/4", "13/16", "6"), "6", "13/16", ""},
		{"1 from 5/4 S2S", "4", "1", as(S2S, "5/4", "1 1/16", "6"), "4 1/8", "1 1/16", ""},
		{"1 1/2 from 8/4 S2S", "4", "1 1/2", as(S2S, "8/4", "1 3/4", "6"), "4 1/8", "1 9/16", ""},
		{"softwood as ever", "5 1/2", "1 1/2", as("", "2x6", "1 1/2", "5 1/2"), "5 1/2", "1 1/2",
			""},
		{"softwood planed as ever", "5 1/4", "1 1/4", as("", "2x6", "1 1/2", "5 1/2"), "5 3/8",
			"1 7/16", ""},
		{"metric, finished", "4", "1", as("", "25.4x101.6mm", "1", "4"), "4", "1", ""},
		{"metric, rough", "4", "1", as(Rough, "25.4x101.6mm", "1", "4"), "4 1/8", "1 3/16",
			TooNarrow},
		{"metric, S2S", "3 1/2", "15/16", as(S2S, "25.4x101.6mm", "1", "4"), "3 5/8", "1", ""},
	} {
		p := part("30", c.width, c.thickness)
		if got, want := j.BlankIn(p, c.w),
			(Blank{inch("31"), inch(c.wantWidth), inch(c.wantThickness)}); got != want {
			t.Errorf("%s: the blank is %s x %s, want %s x %s", c.what, got.Thickness.Shop(Inch),
				got.Width.Shop(Inch), c.wantThickness, c.wantWidth)
		}
		if ok, why := j.Holds(p, &Board{Wood: *c.w}, FromRack); ok != (c.why == "") ||
			why != c.why {
			t.Errorf("%s: held %t, %q; want %q", c.what, ok, why, c.why)
		}
	}
	half := inch("1/2")
	j.Settings.Materials = map[string]Override{"fir": {ThicknessS2S: &half}}
	if got := j.BlankIn(part("30", "4", "1"), as(S2S, "8/4", "1 3/4", "6")).Thickness; got !=
		inch("1 1/2") {
		t.Errorf("with thickness_s2s of 1/2 in for fir the blank is %s thick", got.Shop(Inch))
	}
}

// Whatever the sizes: rough and S2S boards never lend their edges, rough ones never their faces,
// and what is sawn or planed has its allowance over the part.
func TestNeverAsItComes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := rapid.Map(rapid.IntRange(1, 64), func(n int) Length {
			return Length(n) * UnitsPerInch / 16
		})
		j := shop(func(s *Settings) {
			s.Allowance.Edge = size.Draw(t, "edge")
			s.Allowance.Thickness = size.Draw(t, "thickness")
			s.Allowance.ThicknessS2S = size.Draw(t, "thickness_s2s")
		})
		w := &Wood{Material: "fir", Section: "4/4", Length: inch("96"), Width: size.Draw(t, "w"),
			Thickness: size.Draw(t, "t"), Surface: rapid.SampledFrom(Surfaces).Draw(t, "surface")}
		p := &Part{Material: "fir", Length: inch("30"), Width: size.Draw(t, "pw"),
			Thickness: size.Draw(t, "pt")}
		planed := j.Settings.Allowance.Thickness
		if w.Surface == S2S {
			planed = j.Settings.Allowance.ThicknessS2S
			if p.Thickness == w.Thickness {
				planed = 0
			}
		}
		want := Blank{p.Length + UnitsPerInch, p.Width + 2*j.Settings.Allowance.Edge,
			p.Thickness + planed}
		if got := j.BlankIn(p, w); got != want {
			t.Fatalf("blank %+v, want %+v", got, want)
		}
		if p.Whole(w) {
			t.Fatal("the blank takes the edges of the board")
		}
		held, _ := j.Holds(p, &Board{Wood: *w}, FromRack)
		if fits := want.Width <= w.Width && want.Thickness <= w.Thickness &&
			w.Thickness-want.Thickness <= j.Settings.Allowance.PlaneLimit; held != fits {
			t.Fatalf("held %t, want %t", held, fits)
		}
	})
}

// How wood comes that no row speaks of: quarters as the shop has it, or their material or section;
// metric sections as their material or section has it; softwood is finished.
func TestSurfaceFor(t *testing.T) {
	s2s, rough := S2S, Rough
	s := DefaultSettings()
	s.Materials = map[string]Override{"ash": {Surface: &s2s}}
	s.Sections = map[Section]Override{"8/4": {Surface: &rough}, "27x180mm": {Surface: &rough}}
	for _, c := range []struct {
		material string
		section  Section
		want     Surface
	}{
		{"oak", "4/4", Rough}, {"ash", "4/4", S2S}, {"ash", "8/4", Rough}, {"oak", "2x6", ""},
		{"ash", "2x6", ""}, {"oak", "38x140mm", ""}, {"ash", "38x140mm", S2S},
		{"oak", "27x180mm", Rough}, {"ash", "27x180mm", Rough},
	} {
		if got := s.SurfaceFor(c.material, c.section); got != c.want {
			t.Errorf("%s %s comes %q, want %q", c.material, c.section, got, c.want)
		}
	}
	s.Condition.Surface = S2S
	if got := s.SurfaceFor("oak", "4/4"); got != S2S {
		t.Errorf("in a shop of S2S, oak 4/4 comes %q", got)
	}
	if got := s.SurfaceFor("oak", "38x140mm"); got != "" {
		t.Errorf("in a shop of S2S, oak 38x140mm comes %q", got)
	}
}

// A surface is judged by the section.
func TestValidateSurface(t *testing.T) {
	for _, c := range []struct {
		w    *Wood
		want string
	}{
		{as(Rough, "4/4", "1", "6"), ""}, {as(S2S, "38x140mm", "1 1/2", "5 1/2"), ""},
		{as("", "38x140mm", "1 1/2", "5 1/2"), ""}, {as("", "2x6", "1 1/2", "5 1/2"), ""},
		{as("", "4/4", "1", "6"), "hardwood quarters come rough or S2S"},
		{as(S2S, "2x6", "1 1/2", "5 1/2"), "softwood, which comes dressed on four sides"},
		{as("S4S", "4/4", "1", "6"), `"S4S" is not known here; write "rough" or "S2S"`},
	} {
		j := shop(nil)
		j.Rack = []Board{{ID: "B", Wood: *c.w, Where: Where{"rack.csv", 2}}}
		var m Mistakes
		j.Validate(&m)
		err := m.Err()
		if (err == nil) != (c.want == "") || err != nil &&
			(!strings.Contains(err.Error(), c.want) ||
				!strings.HasPrefix(err.Error(), "rack.csv:2: surface: ")) {
			t.Errorf("%q of %s: %v, want %q", c.w.Surface, c.w.Section, err, c.want)
		}
	}
}

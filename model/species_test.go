package model

import (
	"strings"
	"testing"
)

// Coefficients of five woods as read in Table 13-5, p. 13-16.
func TestCoefficients(t *testing.T) {
	for name, want := range map[string]int64{"red oak": 369, "black cherry": 248,
		"black walnut": 274, "american beech": 431, "white oak": 365} {
		if s, err := FindSpecies(name); err != nil || s.Tangential != want ||
			s.Radial >= s.Tangential {
			t.Errorf("%s: %+v %v, want %d", name, s, err, want)
		}
	}
}

func TestFindSpecies(t *testing.T) {
	for name, want := range map[string]string{
		"Red  Oak": "red oak", "poplar": "yellow-poplar", "Yellow Poplar": "yellow-poplar",
		"douglas fir": "douglas-fir, coast", "hard maple": "sugar maple",
		"douglas fir interior north": "douglas-fir, interior north",
		"western red cedar":          "western redcedar", "white pine": "eastern white pine",
	} {
		if s, err := FindSpecies(name); err != nil || s.Name != want {
			t.Errorf("%q is %+v, %v; want %s", name, s, err, want)
		}
	}
	for name, say := range map[string]string{
		"oak": "write red oak or white oak, or", "cedar": "write western redcedar, or",
		"red oka": "write red oak, or", "": "is missing; write", " -": "is missing; write",
		strings.Repeat("x", 1000): "write ",
	} {
		if s, err := FindSpecies(name); err == nil || !strings.Contains(err.Error(), say) ||
			len(err.Error()) > 200 {
			t.Errorf("%q: %+v %v, want an error that says %q", name, s, err, say)
		}
	}
}

// No name means two woods, and every name is found as it is listed.
func TestSpeciesNamesAreOne(t *testing.T) {
	seen := map[string]string{}
	for _, s := range speciesTable {
		for _, n := range append([]string{s.Name}, s.also...) {
			if other, twice := seen[foldSpecies(n)]; twice && other != s.Name {
				t.Errorf("%q is %s and %s", n, other, s.Name)
			}
			seen[foldSpecies(n)] = s.Name
		}
	}
	for _, n := range SpeciesNames() {
		if s, err := FindSpecies(n); err != nil || s.Name != n {
			t.Errorf("%q: %+v %v", n, s, err)
		}
	}
}

// What shop.toml names goes before the material's own name.
func TestSpeciesFor(t *testing.T) {
	s := DefaultSettings()
	s.Materials = map[string]Override{"poplar": {Species: new("quaking aspen")}, "oak": {}}
	for material, want := range map[string]string{"poplar": "quaking aspen",
		"white oak": "white oak"} {
		if got := s.SpeciesFor(material); got == nil || got.Name != want {
			t.Errorf("%s is %+v, want %s", material, got, want)
		}
	}
	if got := s.SpeciesFor("oak"); got != nil {
		t.Errorf("oak is %+v, want none", got)
	}
	s.Sections = map[Section]Override{"8/4": {Species: new("red oak")}}
	var m Mistakes
	s.Validate(&m)
	if err := m.Err(); err == nil ||
		!strings.Contains(err.Error(), `section."8/4".species: a section is of no species; `) {
		t.Errorf("a section of a species: %v", err)
	}
}

// A species is found again by its name. What is refused is refused with a remedy.
func FuzzFindSpecies(f *testing.F) {
	for _, s := range []string{"White-Oak", "redwood, old-growth", "oak", "6-10"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		species, err := FindSpecies(s)
		if err != nil {
			refused(t, s, err)
		} else if again, err := FindSpecies(species.Name); again != species || err != nil {
			t.Errorf("%q is %s, and that is %v, %v", s, species.Name, again, err)
		}
	})
}

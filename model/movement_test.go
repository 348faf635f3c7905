package model

import (
	"math"
	"math/big"
	"strings"
	"testing"
)

// alike says whether a number is the expected one to the last digit that its source prints.
func alike(got float64, want string) bool {
	w, ok := new(big.Rat).SetString(want)
	_, decimals, _ := strings.Cut(want, ".")
	f, _ := w.Float64()
	return ok && math.Abs(got-f) <= .5001*math.Pow10(-len(decimals))
}

func decimal(r *big.Rat, u Unit) float64 {
	f, _ := new(big.Rat).Quo(r, big.NewRat(u.size(), 1)).Float64()
	return f
}

// Changes of width against printed ones, in the unit of the row.
func TestChange(t *testing.T) {
	of := func(name string) *Species {
		s, err := FindSpecies(name)
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	for _, c := range []struct {
		species  *Species
		how      Sawn
		width    string
		from, to Moisture
		want     string
		source   string
	}{
		{of("white fir"), FlatSawn, "232mm", 80, 110, "1.7",
			"Wood Handbook, p. 13-17 (8 % and the coefficient recalled)"},
		{of("white fir"), FlatSawn, "232mm", 80, 110, "1.705",
			"the same, multiplied out by hand: 1.7052"},
		{of("white fir"), FlatSawn, "9.15", 80, 110, "0.067", "Wood Handbook, p. 13-17"},
		{&Species{Tangential: 260}, FlatSawn, "8", 60, 120, "0.1248",
			"WOOD magazine, September 2021: 8 in, 6 %, .0026"},
		{&Species{Tangential: 129}, FlatSawn, "5", 60, 90, "0.019",
			"flooringartists.com after NWFA A200: mesquite 5 in, .00129"},
		{of("red oak"), FlatSawn, "36", 70, 110, "0.531", "by hand: 36 x .00369 x 4"},
		{of("red oak"), QuarterSawn, "36", 70, 110, "0.228", "by hand: 36 x .00158 x 4"},
		{of("cherry"), FlatSawn, "900mm", 70, 110, "8.9", "by hand: 900 x .00248 x 4"},
		{of("cherry"), FlatSawn, "900mm", 110, 70, "-8.9", "the same, backwards"},
		{of("beech"), FlatSawn, "100mm", 60, 140, "3.448",
			"by hand, eq. 13-2 at both its limits: 100 x .00431 x 8"},
		{of("beech"), FlatSawn, "100mm", 50, 140, "3.964",
			"by hand, eq. 13-3 through C: 900 / (100000/431 - 10 + 5); with S 11.9 it is 3.963"},
		{of("beech"), FlatSawn, "100mm", 60, 150, "3.947",
			"by hand, likewise: 900 / (100000/431 - 10 + 6)"},
		{of("redwood"), FlatSawn, "100mm", 40, 80, "0.830",
			"by hand, eq. 13-3 with 22: 400 / (22 x 100/4.4 - 22 + 4) = 0.8299"},
	} {
		width, unit := inch(c.width), Inch
		if strings.HasSuffix(c.width, "mm") {
			unit = Millimetre
		}
		if got := decimal(c.species.Change(width, c.how, c.from, c.to), unit); !alike(got, c.want) {
			t.Errorf("%s %s from %v to %v: %.5f, want %s (%s)", c.width, c.species.Name, c.from,
				c.to, got, c.want, c.source)
		}
	}
}

// Beyond 6 to 14 % the change is that of eq. 13-3 as it is printed, with the shrinkage; the
// coefficient is that shrinkage rounded to five decimals, which for the smallest is seven parts in
// a thousand.
func TestChangeByShrinkage(t *testing.T) {
	printed := func(width, full, shrinkage, from, to float64) float64 {
		return width * (to - from) / (full*100/shrinkage - full + from)
	}
	if got := printed(232, 30, 7.0, 8, 11); !alike(got, "1.712") { // worked out by hand
		t.Fatalf("232 mm, S 7.0, 8 to 11 %%: %.4f mm, want 1.712", got)
	}
	for i := range speciesTable {
		s := &speciesTable[i]
		pair, ok := shrinkage[s.Name]
		if !ok {
			continue
		}
		for _, swing := range [][2]Moisture{{40, 80}, {50, 200}, {120, 180}, {200, 50}} {
			for way, how := range []Sawn{QuarterSawn, FlatSawn} {
				got := decimal(s.Change(1000*UnitsPerMillimetre, how, swing[0], swing[1]),
					Millimetre)
				want := printed(1000, swollen(s.Name), pair[way], float64(swing[0])/10,
					float64(swing[1])/10)
				if math.Abs(got/want-1) > .007 {
					t.Errorf("%s (%d) %v: %.3f mm, want %.3f", s.Name, way, swing, got, want)
				}
			}
		}
	}
}

// More swing never moves less, across the limits of the two formulas too.
func TestChangeGrowsWithTheSwing(t *testing.T) {
	for i := range speciesTable {
		s := &speciesTable[i]
		for low := Moisture(0); low < 250; low += 5 {
			before := new(big.Rat)
			for high := low + 1; high <= MostMoisture; high++ {
				change := s.Change(UnitsPerInch, FlatSawn, low, high)
				if change.Cmp(before) <= 0 || low > 0 &&
					s.Change(UnitsPerInch, FlatSawn, low-1, high).Cmp(change) <= 0 {
					t.Fatalf("%s, %v to %v: a greater swing moves it less", s.Name, low, high)
				}
				before = change
			}
		}
	}
}

// A slot holds the change, and no step more.
func TestSlot(t *testing.T) {
	for _, c := range []struct {
		change *big.Rat
		unit   Unit
		want   Length
	}{
		{big.NewRat(254, 1), Inch, 254}, {big.NewRat(509, 2), Inch, 508},
		{big.NewRat(1, 9), Inch, 254}, {big.NewRat(-255, 1), Inch, 508}, {new(big.Rat), Inch, 0},
		{big.NewRat(320, 1), Millimetre, 320}, {big.NewRat(3201, 10), Millimetre, 640},
		{big.NewRat(-1, 2), Millimetre, 320},
	} {
		if got := Slot(c.change, c.unit); got != c.want {
			t.Errorf("a change of %s asks for %d units, want %d", c.change.FloatString(2), got,
				c.want)
		}
	}
}

// Wide parts come by material, in input order, from exactly the width that is asked for.
func TestWideParts(t *testing.T) {
	j := &Job{Settings: DefaultSettings()}
	j.Settings.Materials = map[string]Override{"shelving": {Species: new("cherry")}}
	j.Parts = []Part{{Name: "a", Material: "mystery", Width: 10},
		{Name: "b", Material: "shelving", Width: 11}, {Name: "c", Material: "mystery", Width: 9},
		{Name: "d", Material: "mystery", Width: 12}}
	w := j.WideParts(10)
	if len(w) != 2 || w[0].Species != nil || len(w[0].Parts) != 2 || w[0].Parts[1].Name != "d" ||
		w[1].Species.Name != "black cherry" || w[1].Parts[0].Name != "b" {
		t.Errorf("%+v", w)
	}
	if len(j.WideParts(13)) != 0 {
		t.Error("parts wider than any")
	}
}

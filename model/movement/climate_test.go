package movement

import (
	"math"
	"strings"
	"testing"

	"rackwright/model"
)

// The equilibrium moisture against the Wood Handbook. At 70 °F the values are worked from eq. 4-5
// and are recalled to be those of its Table 4-2.
func TestEquilibriumMoisture(t *testing.T) {
	for _, c := range []struct {
		degrees, humidity float64
		want, source      string
	}{
		{70, .30, "6.17", "eq. 4-5"}, {70, .50, "9.25", "eq. 4-5"}, {70, .65, "11.96", "eq. 4-5"},
		{70, .80, "16.00", "eq. 4-5"},
		{70, .40, "7.7", "Table 4-2"}, {70, .60, "11.0", "Table 4-2"},
		{70, .70, "13.1", "Table 4-2"}, {70, .90, "20.5", "Table 4-2"},
		{140, .55, "8.4", "liquisearch.com on equilibrium moisture"}, {140, .55, "8.38", "eq. 4-5"},
	} {
		if got := equilibrium(c.degrees, c.humidity); !alike(got, c.want) {
			t.Errorf("%.0f °F and %.0f %%: %.3f, want %s (%s)", c.degrees, 100*c.humidity, got,
				c.want, c.source)
		}
	}
}

// The same equation as it is printed for degrees Celsius (recalled) gives the same moisture.
func TestEquilibriumMoistureInCelsius(t *testing.T) {
	celsius := func(t, h float64) float64 {
		w, k := 349+1.29*t+.0135*t*t, .805+7.36e-4*t-2.73e-6*t*t
		k1, k2 := 6.27-9.38e-3*t-3.03e-4*t*t, 1.91+.0407*t-2.93e-4*t*t
		return 1800 / w * (k*h/(1-k*h) + (k1*k*h+2*k1*k2*k*k*h*h)/(1+k1*k*h+k1*k2*k*k*h*h))
	}
	for degrees := int64(5); degrees <= 40; degrees++ {
		for humidity := int64(5); humidity <= 95; humidity++ {
			c := Climate{10 * degrees, true, 10 * humidity}
			if got, want := float64(c.Moisture())/10,
				celsius(float64(degrees), float64(humidity)/100); math.Abs(got-want) > .1 {
				t.Errorf("%v: %.1f, want %.3f", c, got, want)
			}
		}
	}
}

// No whole climate lies so near to where rounding turns that one processor's floats could differ
// from another's.
func TestMoistureRoundsAlikeEverywhere(t *testing.T) {
	for _, celsius := range []bool{false, true} {
		for degrees := int64(-1); degrees <= 210; degrees++ {
			for humidity := int64(50); humidity <= 950; humidity++ {
				c := Climate{10 * degrees, celsius, humidity}
				if f := c.fahrenheit(); f < 30 || f > 210 {
					continue
				}
				if m := 10 * equilibrium(c.fahrenheit(),
					float64(humidity)/1000); math.Abs(m-math.Floor(m)-.5) < 1e-9 {
					t.Errorf("%v is at a turn: %.12f", c, m)
				}
			}
		}
	}
}

func TestParseSeason(t *testing.T) {
	for text, want := range map[string][2]Moisture{"6-10": {60, 100}, "6.5 – 10 %": {65, 100},
		"6% to 10.0%": {60, 100}, "0-30": {0, 300}} {
		if s, err := ParseSeason(text); err != nil || s.Low != want[0] || s.High != want[1] ||
			s.Climates != nil {
			t.Errorf("%q: %v %v", text, s, err)
		}
	}
	for text, say := range map[string]string{"": "such as 6-10", "6": "such as 6-10",
		"10-6": "lower moisture first", "8-8": "lower moisture first", "6-31": "0 to 30",
		"6-10.55": "in tenths", "-6-10": "such as 6-10", "6-99999999999": "such as"} {
		if s, err := ParseSeason(text); err == nil || !strings.Contains(err.Error(), say) {
			t.Errorf("%q: %v %v, want an error that says %q", text, s, err, say)
		}
	}
}

func TestParseClimates(t *testing.T) {
	for text, want := range map[string][2]Moisture{
		"70F 30%, 70F 50%": {62, 92}, "70°F/65, 70 f 30": {62, 120},
		"21.1C 30%,21.1 °c 80 %": {62, 160},
	} {
		if s, err := ParseClimates(text); err != nil || s.Low != want[0] || s.High != want[1] ||
			len(s.Climates) != 2 || s.Climates[0].Moisture() != s.Low {
			t.Errorf("%q: %v %v", text, s, err)
		}
	}
	for text, say := range map[string]string{
		"":                 "two climates",
		"70F 30%":          "two climates",
		"70F 30%, 75F":     `"75F" is no climate; write`,
		"70 30, 75 60":     "such as 70F 30% or 21C 30%",
		"21,5C 30%":        "is no climate",
		"29F 30%, 75F 60%": "write 30F to 210F",
		"-2C 30%, 20C 60%": "-1C to 98C",
		"70F 4%, 75F 60%":  "5% to 95%",
		"70F 30%, 75F 96%": "5% to 95%",
		"70F 30%, 70F 30%": "does not move",
	} {
		if s, err := ParseClimates(text); err == nil || !strings.Contains(err.Error(), say) {
			t.Errorf("%q: %v %v, want an error that says %q", text, s, err, say)
		}
	}
	for _, text := range []string{"30F 5%, 210F 95%", "-1C 5%, 98C 95%"} {
		if _, err := ParseClimates(text); err != nil {
			t.Errorf("%q: %v", text, err)
		}
	}
}

// What is read as a season, by its moistures or by its climates, is one in which wood moves, and is
// read back from its moistures. What is refused is refused with a remedy.
func FuzzParseSeason(f *testing.F) {
	for _, s := range []string{"6-10", "6.5 to 10 %", "0-30", "10-6", "70F 30%, 75F 60%",
		"21C/30, -1 c 95", "999F 1%", "70F 30%", "oak"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		for _, parse := range []func(string) (Season, error){ParseSeason, ParseClimates} {
			season, err := parse(s)
			if err != nil {
				if cause, remedy := model.SplitRemedy(err); cause == "" || remedy == "" ||
					!strings.Contains(err.Error(), "; ") || len(err.Error()) > 1000 {
					t.Errorf("%q is refused without cause or remedy, or at length: %v", s, err)
				}
				continue
			}
			back, err := ParseSeason(season.Low.String() + "-" + season.High.String())
			if season.Low < 0 || season.Low >= season.High || season.High > MostMoisture ||
				err != nil || back.Low != season.Low || back.High != season.High {
				t.Errorf("%q gives %v to %v, read back as %v, %v", s, season.Low, season.High, back,
					err)
			}
		}
	})
}

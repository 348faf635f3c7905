package movement

import (
	"fmt"
	"math"
	"math/big"
	"regexp"
	"strings"

	"rackwright/model"
)

// Season is what wood goes through in a year.
type Season struct {
	Low, High Moisture
	Climates  []Climate // those of Low and High, where the moisture follows from them
}

// ParseSeason reads the least and the greatest moisture of the year in percent, as 6-10 or 6.5 to
// 10 %. The error says what is wrong; what to write.
func ParseSeason(text string) (Season, error) {
	m := seasonForm.FindStringSubmatch(model.PlainSigns(text))
	if m == nil {
		return Season{}, fmt.Errorf(
			"%.40q is not two percentages; write the lower and the higher, in tenths at most, "+
				"such as 6-10",
			text)
	}
	s := Season{Low: Moisture(readTenths(m[1])), High: Moisture(readTenths(m[2]))}
	switch {
	case s.Low >= s.High:
		return Season{}, fmt.Errorf(
			"%v is not below %v; write the lower moisture first, such as 6-10", s.Low, s.High)
	case s.High > MostMoisture:
		return Season{}, fmt.Errorf(
			"%v is above %v, where wood no longer moves; write a moisture of 0 to 30", s.High,
			MostMoisture)
	}
	return s, nil
}

// ParseClimates reads two climates, as 70F 30%, 75F 60%, and finds the moisture that wood takes on
// in each. The error says what is wrong; what to write.
func ParseClimates(text string) (Season, error) {
	pairs := strings.Split(text, ",")
	if len(pairs) != 2 {
		return Season{}, fmt.Errorf(
			"%.40q is not two climates; write the driest and the dampest with a comma between, "+
				"such as 70F 30%%, 75F 60%%",
			text)
	}
	var both [2]Climate
	for i, p := range pairs {
		c, err := parseClimate(p)
		if err != nil {
			return Season{}, err
		}
		both[i] = c
	}
	if both[0].Moisture() > both[1].Moisture() {
		both[0], both[1] = both[1], both[0]
	}
	s := Season{both[0].Moisture(), both[1].Moisture(), both[:]}
	if s.Low == s.High {
		return Season{}, fmt.Errorf(
			"wood has %v of moisture in both climates and does not move; write two that differ",
			s.Low)
	}
	return s, nil
}

// Climate is air that wood has stood in for long.
type Climate struct {
	Degrees  int64 // tenths
	Celsius  bool
	Humidity int64 // tenths of a percent, relative
}

func (c Climate) String() string {
	scale := "F"
	if c.Celsius {
		scale = "C"
	}
	return tenths(c.Degrees) + model.NoBreakSpace + "°" + scale + " and " + tenths(c.Humidity) +
		model.NoBreakSpace + "%"
}

var (
	seasonForm = regexp.MustCompile(
		`^ *(\d{1,3}(?:\.\d)?) *%? *(?:-|to) *(\d{1,3}(?:\.\d)?) *%? *$`)
	climateForm = regexp.MustCompile(
		`^ *(-?\d{1,3}(?:\.\d)?) *°? *([FfCc])[ /]+(\d{1,3}(?:\.\d)?) *%? *$`)
)

func parseClimate(text string) (Climate, error) {
	m := climateForm.FindStringSubmatch(model.PlainSigns(text))
	if m == nil {
		return Climate{}, fmt.Errorf(
			"%.40q is no climate; write temperature and relative humidity, in tenths at most, "+
				"such as 70F 30%% or 21C 30%%",
			strings.TrimSpace(text))
	}
	c := Climate{readTenths(m[1]), strings.EqualFold(m[2], "C"), readTenths(m[3])}
	switch f := c.fahrenheit(); {
	case f < 30 || f > 210:
		return Climate{}, fmt.Errorf(
			"%v: the temperature is beyond the formula; write 30F to 210F, or -1C to 98C", c)
	case c.Humidity < 50 || c.Humidity > 950:
		return Climate{}, fmt.Errorf("%v: the humidity is beyond the formula; write 5%% to 95%%", c)
	}
	return c, nil
}

// readTenths reads a number of at most one decimal.
func readTenths(s string) int64 {
	r, _ := new(big.Rat).SetString(s)
	return r.Mul(r, big.NewRat(10, 1)).Num().Int64()
}

func (c Climate) fahrenheit() float64 {
	if c.Celsius {
		return float64(18*c.Degrees+3200) / 100
	}
	return float64(c.Degrees) / 10
}

// Moisture is the equilibrium moisture content: what wood comes to in this climate. A float, as the
// formula is fitted to measurements; rounded to 0.1 %.
func (c Climate) Moisture() Moisture {
	return Moisture(math.Round(10 * equilibrium(c.fahrenheit(), float64(c.Humidity)/1000)))
}

// equilibrium is eq. 4-5 of the Wood Handbook (Simpson, FPL RP 190, 1973): temperature t in °F,
// relative humidity h as a fraction.
func equilibrium(t, h float64) float64 {
	w := 330 + .452*t + .00415*t*t
	k := .791 + 4.63e-4*t - 8.44e-7*t*t
	k1 := 6.34 + 7.75e-4*t - 9.35e-5*t*t
	k2 := 1.09 + .0284*t - 9.04e-5*t*t
	kh := k * h
	return 1800 / w * (kh/(1-kh) + (k1*kh+2*k1*k2*kh*kh)/(1+k1*kh+k1*k2*kh*kh))
}

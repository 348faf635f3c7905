package model

import (
	"fmt"
	"strings"
	"testing"
)

// A reserve that is not the one of the rule is refused, whichever way it differs; so is a board
// that cannot be carried.
func TestCheckJudgesYardAndReserve(t *testing.T) {
	// L is 106 + 206 = 312, so 35 more; the cheapest that covers it holds a shelf of 70: 106 for
	// 1000, of which 2 are for sale
	with := func() (*Job, *Plan) {
		j, p := tiny()
		j.Settings.Usable = Fraction{9, 10}
		r := p.Buy[0]
		r.Reserve = true
		p.Buy = append(p.Buy, r)
		return j, p
	}
	for _, f := range checked(with()) {
		t.Fatalf("%s: %s", f.Where, f.What)
	}
	load := Length(206)
	for _, c := range []spoilt{
		{"a reserve too little", func(j *Job, p *Plan) {
			p.Buy = p.Buy[:2]
		}, "buy.csv: line 4: is missing"},
		{"one too many", func(j *Job, p *Plan) {
			p.Buy[2].Qty, p.Buy[2].Total = 2, 2000
		}, "buy.csv: line 4: qty is 2, it should be 1"},
		{"a dearer one", func(j *Job, p *Plan) {
			p.Buy[2] = p.Buy[1]
			p.Buy[2].Reserve = true
		}, "buy.csv: line 4: length"},
		{"not said to be a reserve", func(j *Job, p *Plan) {
			p.Buy[2].Reserve = false
		}, `buy.csv: line 4: reserve is "", it should be "yes"`},
		{"said to be a reserve", func(j *Job, p *Plan) {
			p.Buy[0].Reserve = true
		}, `buy.csv: line 2: reserve is "yes", it should be ""`},
		{"all of it usable", func(j *Job, p *Plan) {
			j.Settings.Usable = Fraction{1, 1}
		}, "buy.csv: line 4: is one row too many"},
		// 312 more: 1 of 106, then the 206
		{"more is needed than one", func(j *Job, p *Plan) {
			j.Settings.Usable = Fraction{1, 2}
		}, "buy.csv: line 5: is missing"},
		{"none is left", func(j *Job, p *Plan) {
			*j.Yard[0].Available = 1
		}, "buy.csv: line 4: length"},
		{"too long for the load", func(j *Job, p *Plan) {
			short := load - 1
			j.Yard[1].Yard, j.Settings.Yards = "north",
				map[string]YardFacts{"north": {LongestLoad: &short}}
		}, "buy.csv: 1 boards are bought by line 3 of yard.csv, which are longer than the longest_load of north"},
		{"a yard", func(j *Job, p *Plan) {
			p.Buy[0].Yard = "north"
		}, `buy.csv: line 2: yard is "north", it should be ""`},
		{"a grade", func(j *Job, p *Plan) { p.Buy[0].Grade = "FAS" }, "buy.csv: line 2: grade"},
		{"a width", func(j *Job, p *Plan) { p.Buy[0].Width++ }, "buy.csv: line 2: width"},
		{"a tax", func(j *Job, p *Plan) {
			p.Buy[0].Tax = 1
		}, "buy.csv: line 2: tax is 0.0001, it should be 0.00"},
		{"a tax that is owed", func(j *Job, p *Plan) {
			j.Yard[0].Yard, p.Buy[0].Yard, p.Buy[2].Yard = "north", "north", "north"
			j.Settings.Yards = map[string]YardFacts{"north": {TaxPercent: &Fraction{1, 1}}}
		}, "buy.csv: line 2: tax is 0.00, it should be 0.001"},
	} {
		t.Run(c.what, func(t *testing.T) {
			j, p := with()
			c.spoil(j, p)
			found := ""
			for _, f := range checked(j, p) {
				found += fmt.Sprintf("%s: %s\n", f.Where, f.What)
			}
			if !strings.Contains(found, c.want) {
				t.Errorf("want %q, got %s", c.want, found)
			}
		})
	}
	j, p := with()
	j.Yard[1].Yard, j.Settings.Yards = "north", map[string]YardFacts{"north": {LongestLoad: &load}}
	p.Buy[1].Yard = "north"
	for _, f := range checked(j, p) {
		t.Errorf("a load just as long: %s: %s", f.Where, f.What)
	}
}
